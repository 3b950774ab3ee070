/** Random shows, and random ways of logging them: what a machine calls its columns, how it counts, and how it writes it down. */
import fc from 'fast-check';
import type { Mapping } from '../../src/log/mapping.js';
import { unitsOf, type Count } from '../../src/timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../src/timecode/timecode.js';
import { COUNTS } from './lists.js';

export interface ShowRow {
  /** Frames from the first row. */
  readonly at: number;
  readonly action: string;
  readonly source?: string;
  readonly duration?: number;
  readonly end?: number;
  readonly wipe?: number;
  readonly note?: string;
}

export interface RandomShow {
  readonly count: Count;
  /** Frames of the first row since label zero. */
  readonly start: number;
  readonly rows: readonly ShowRow[];
}

const SOURCES = ['1', '2', 'Slides', 'cam 4', 'black'];
const NOTES = ['The stock comes to the boil', 'Salt & <pepper>', 'a "hot" pan', 'one, two; three | four', 'Crème fraîche, langsam', '魚 🐟'];

const row = fc.record({
  gap: fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 50 }), fc.integer({ min: 1, max: 100_000 })),
  action: fc.constantFrom('cut', 'cut', 'cut', 'dissolve', 'wipe', 'cue', 'marker', 'audio', 'start', 'stop'),
  source: fc.constantFrom(...SOURCES),
  blank: fc.boolean(),
  frames: fc.integer({ min: 0, max: 300 }),
  byHand: fc.boolean(),
  wipe: fc.integer({ min: 0, max: 999 }),
  note: fc.option(fc.constantFrom(...NOTES), { nil: undefined, freq: 3 }),
});

export const arbitraryShow: fc.Arbitrary<RandomShow> = fc
  .record({ count: fc.constantFrom(...COUNTS), start: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), rows: fc.array(row, { minLength: 1, maxLength: 25 }) })
  .map(({ count, start, rows }) => {
    let at = 0;
    const made: ShowRow[] = [{ at: 0, action: 'start' }, { at: 0, action: 'cut', source: '1' }];
    for (const { gap, action, source, blank, frames, byHand, wipe, note } of rows) {
      // A recording has a frame at least.
      at += action === 'stop' ? gap + 1 : gap;
      const isMix = action === 'dissolve' || action === 'wipe';
      const noted = action === 'marker' ? (note ?? 'Opening') : note;
      made.push({
        at,
        action,
        ...(action === 'audio' ? { source: source === 'black' ? '2' : source } : action === 'cue' || ((action === 'cut' || isMix) && !blank) ? { source } : {}),
        ...(isMix ? (byHand ? { end: at + frames } : { duration: frames }) : {}),
        ...(action === 'wipe' ? { wipe } : {}),
        ...(noted === undefined ? {} : { note: noted }),
      });
    }
    return { count, start: Math.floor(start * framesPerDay(count)), rows: made };
  });

type FieldName = 'time' | 'action' | 'source' | 'duration' | 'end' | 'wipe' | 'note';
const ORDER: readonly FieldName[] = ['time', 'action', 'source', 'duration', 'end', 'wipe', 'note'];

/** Names that a column may have: its own and synonyms, or words that only a mapping knows. */
const KNOWN: Readonly<Record<FieldName, readonly string[]>> = {
  time: ['time', 'Timestamp', 'AT', 'tc'],
  action: ['action', 'EVENT', 'type', 'Operation'],
  source: ['source', 'Input', 'CAM', 'angle'],
  duration: ['duration', 'Len', 'length'],
  end: ['end', 'OUT', 'until'],
  wipe: ['wipe', 'pattern'],
  note: ['note', 'Remark', 'comment'],
};
const STRANGE: Readonly<Record<FieldName, string>> = { time: 'Wann', action: 'Was', source: 'Wer', duration: 'Wie lang', end: 'Bis', wipe: 'Muster', note: 'Wozu' };

export const TIME_FORMS = ['timecode', 'frames', 'seconds', 'comma', 'milliseconds', 'iso', 'offset', 'timeOfDay', 'format'] as const;
type TimeForm = (typeof TIME_FORMS)[number];

export interface DialectChoice {
  readonly time: TimeForm;
  readonly form: 'csv' | 'own' | 'ownChildren' | 'foreign';
  readonly delimiter: ',' | ';' | '\t' | '|';
  readonly newline: '\n' | '\r\n';
  readonly mark: boolean;
  readonly utf16: boolean;
  readonly preamble: number;
  readonly strange: boolean;
  /** Ranks of the columns: their order. */
  readonly ranks: readonly number[];
  readonly extra: boolean;
  /** The machine's own words for actions and sources. */
  readonly words: boolean;
  readonly name: number;
}

export const arbitraryDialect: fc.Arbitrary<DialectChoice> = fc.record({
  time: fc.constantFrom(...TIME_FORMS),
  form: fc.constantFrom('csv', 'csv', 'csv', 'own', 'ownChildren', 'foreign'),
  delimiter: fc.constantFrom(',', ';', '\t', '|'),
  newline: fc.constantFrom('\n', '\r\n'),
  mark: fc.boolean(),
  utf16: fc.boolean(),
  preamble: fc.nat(3),
  strange: fc.boolean(),
  ranks: fc.array(fc.nat(1000), { minLength: 7, maxLength: 7 }),
  extra: fc.boolean(),
  words: fc.boolean(),
  name: fc.nat(3),
});

export interface WrittenLog {
  readonly log: Uint8Array;
  readonly map: Mapping;
}

/** 1 January 2026, 20:00:00 UTC: clocks go over midnight in longer shows. */
const CLOCK_START = Date.UTC(2026, 0, 1, 20);

function timeWriter({ time }: DialectChoice, { count, start }: RandomShow): (frame: number) => string {
  const ms = (frame: number): number => unitsOf(frame, count.rate, 1000);
  const iso = (frame: number, east = 0): string => new Date(CLOCK_START + ms(frame) + east * 3_600_000).toISOString().replace('Z', '');
  switch (time) {
    case 'timecode':
      return (frame) => formatTimecode(start + frame, count);
    case 'frames':
      return String;
    case 'seconds':
      return (frame) => (ms(frame) / 1000).toFixed(3);
    case 'comma':
      return (frame) => (ms(frame) / 1000).toFixed(4).replace('.', ',');
    case 'milliseconds':
      return (frame) => String(ms(frame));
    case 'iso':
      return (frame) => `${iso(frame)}Z`;
    case 'offset':
      return (frame) => `${iso(frame, 9)}+09:00`;
    case 'timeOfDay':
      return (frame) => iso(frame).slice(11);
    case 'format':
      return (frame) => iso(frame, 9).replace(/^(\d+)-(\d+)-(\d+)T(.*)$/, '$3.$2.$1 $4');
  }
}

const ACTION_WORDS: Readonly<Record<string, string>> = { cut: 'T1', dissolve: 'T2', wipe: 'T3', cue: 'P', marker: '!', audio: 'SND', start: 'GO', stop: 'HALT' };

/** Writes a show as a dialect, with the mapping that reads it. */
export function writeDialect(choice: DialectChoice, show: RandomShow): WrittenLog {
  const time = timeWriter(choice, show);
  const wordOf = (text: string): string => (choice.words ? `Key ${text.toUpperCase()} on` : text);
  const rows = show.rows.map(({ at, action, source, duration, end, wipe, note }): Readonly<Record<FieldName, string>> => ({
    time: time(at),
    action: choice.words ? (ACTION_WORDS[action] ?? action) : action,
    source: source === undefined ? '' : wordOf(source),
    duration: duration === undefined ? '' : String(duration),
    end: end === undefined ? '' : time(end),
    wipe: wipe === undefined ? '' : String(wipe),
    note: note ?? '',
  }));
  const map: { -readonly [Key in keyof Mapping]: Mapping[Key] } = {};
  if (choice.words) {
    map.actions = Object.fromEntries(Object.entries(ACTION_WORDS).map(([action, word]) => [word, action as 'cut']));
    map.sources = Object.fromEntries(SOURCES.map((id) => [wordOf(id), id]));
  }
  // Whole seconds, or whole milliseconds, look like frames: the mapping says what they are.
  if (choice.time === 'seconds' || choice.time === 'milliseconds' || choice.time === 'comma') map.timeAs = choice.time === 'milliseconds' ? 'milliseconds' : 'seconds';
  if (choice.time === 'comma') map.decimal = ',';
  if (choice.time === 'format') Object.assign(map, { clockFormat: 'dd.MM.yyyy HH:mm:ss.SSS', zone: 'Asia/Tokyo' });
  const text = choice.form === 'csv' ? csv(rows, choice, map) : xml(rows, choice, map, show);
  return { log: encode(text, choice), map };
}

function csv(rows: readonly Readonly<Record<FieldName, string>>[], choice: DialectChoice, map: { fields?: Mapping['fields'] }): string {
  const { delimiter, newline, strange, ranks, extra, preamble, name } = choice;
  const order = ORDER.map((field, index) => ({ field, rank: ranks[index] ?? 0 })).sort((a, b) => a.rank - b.rank).map(({ field }) => field);
  const names = order.map((field) => (strange ? STRANGE[field] : (KNOWN[field][name % KNOWN[field].length] ?? field)));
  if (strange) map.fields = { ...STRANGE };
  const quoted = (cell: string): string => (cell.includes(delimiter) || /["\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  const lines = rows.map((cells, index) => [...(extra ? [`row ${String(index)}`] : []), ...order.map((field) => cells[field])].map(quoted).join(delimiter));
  const before = ['Log of the night', '', 'Studio 2 made this'].slice(0, preamble);
  return [...before, [...(extra ? ['serial'] : []), ...names].join(delimiter), ...lines, ''].join(newline);
}

function xml(rows: readonly Readonly<Record<FieldName, string>>[], { form, newline }: DialectChoice, map: { rows?: string; fields?: Mapping['fields'] }, { count }: RandomShow): string {
  const safe = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
  const filled = (cells: Readonly<Record<FieldName, string>>): [FieldName, string][] => ORDER.map((field): [FieldName, string] => [field, cells[field]]).filter(([, text]) => text !== '');
  const rate = `${count.rate.name}${count.dropFrame ? 'df' : ''}`;
  if (form === 'own') return ['<?xml version="1.0"?>', `<cutlog version="1" rate="${rate}">`, ...rows.map((cells) => `<event ${filled(cells).map(([field, text]) => `${field}="${safe(text)}"`).join(' ')}/>`), '</cutlog>'].join(newline);
  if (form === 'ownChildren') return ['<cutlog version="1">', ...rows.map((cells) => `<event>${filled(cells).map(([field, text]) => `<${field}>${safe(text)}</${field}>`).join('')}</event>`), '</cutlog>'].join(newline);
  Object.assign(map, { rows: '/night/list/item', fields: { time: '@when', action: 'what/@kind', source: 'what/bus', duration: 'mix/@len', end: 'mix/until', wipe: 'mix/@shape', note: 'text' } });
  const items = rows.map((cells) => {
    const has = (text: string, made: (safeText: string) => string): string => (text === '' ? '' : made(safe(text)));
    const mix = `<n:mix${has(cells.duration, (text) => ` len="${text}"`)}${has(cells.wipe, (text) => ` shape="${text}"`)}>${has(cells.end, (text) => `<n:until>${text}</n:until>`)}</n:mix>`;
    return `<n:item when="${safe(cells.time)}"><n:what kind="${safe(cells.action)}">${has(cells.source, (text) => `<n:bus>${text}</n:bus>`)}</n:what>${mix}${has(cells.note, (text) => `<n:text>${text}</n:text>`)}</n:item>`;
  });
  return ['<n:night xmlns:n="urn:example:night"><n:list>', ...items, '</n:list></n:night>'].join(newline);
}

function encode(text: string, { mark, utf16 }: DialectChoice): Uint8Array {
  if (utf16) return Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]);
  return Buffer.from(mark ? `\uFEFF${text}` : text);
}
