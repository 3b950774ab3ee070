/**
 * Mutated real logs: whatever comes in, nothing crashes or hangs, and a list that comes out agrees with its log. 2,000 logs in
 * `npm test`; `LINECUT_FUZZ=100000 npx vitest run tests/log/fuzz` for more.
 */
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import SmpteTimecode from 'smpte-timecode';
import { beforeAll, describe, expect, it } from 'vitest';
import { DIALECTS, type Dialect } from '../../fixtures/logs/dialects.js';
import { buildCutLists } from '../../src/cutlist/build.js';
import { ACTIONS, type LogEvent } from '../../src/cutlist/event.js';
import { BLACK, type CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import type { Mapping } from '../../src/log/mapping.js';
import type { LogReading } from '../../src/log/reading.js';
import { plainSources } from '../../src/show/sources.js';
import { CATALOGUE, type Problem } from '../../src/problems.js';
import { loadClock } from '../../src/timecode/luxon.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { read } from '../support/logs.js';

beforeAll(async () => {
  await loadClock({ zone: 'UTC' });
});

const RUNS = Number(process.env['LINECUT_FUZZ'] ?? 2000);
const TIMEOUT = 60_000 + RUNS * 50;

interface Base {
  readonly name: string;
  readonly head: string;
  readonly rows: readonly string[];
  readonly foot: string;
  readonly encoding: 'utf8' | 'utf16le' | 'latin1';
  readonly map: Mapping | undefined;
}

function baseOf({ name, log, map }: Dialect): Base {
  const encoding = name.includes('utf16') ? 'utf16le' : name === 'decimal-comma.csv' ? 'latin1' : 'utf8';
  const text = typeof log === 'string' ? log : Buffer.from(log).toString(encoding);
  const rows = name.endsWith('.xml') ? (text.match(/ *<(s:item|event)\b[\s\S]*?<\/\1>\n?|<event\b[^>]*\/>\n?/g) ?? []) : text.split(/(?<=\n)/);
  const [first = ''] = rows;
  const start = text.indexOf(first);
  const skip = name.endsWith('.xml') ? 0 : rows.findIndex((row) => /^(?:\d|.*\bstart\b)/i.test(row));
  const last = rows.at(-1) ?? '';
  return {
    name,
    head: name.endsWith('.xml') ? text.slice(0, start) : rows.slice(0, skip).join(''),
    rows: rows.slice(skip),
    foot: name.endsWith('.xml') ? text.slice(text.lastIndexOf(last) + last.length) : '',
    encoding,
    map: map as Mapping | undefined,
  };
}

const demo = readFileSync(new URL('../../fixtures/demo/harbour-kitchen-14.csv', import.meta.url)).toString();
const BASES = [...DIALECTS, { name: 'demo.csv', about: '', log: demo }].map(baseOf);
const DEMO = BASES.length - 1;

/** What is put into a log: signs that readers trip over, and pieces of other logs. */
const PIECES = [
  ',', ';', '|', '\t', '"', '""', '\n', '\r\n', '\r', "'", '<', '>', '&', '&amp;', '&x;', '<!DOCTYPE a [<!ENTITY x "y">]>', ']]>', '<!--', '-->', '<![CDATA[', '</event>', '<event/>', '<?x?>',
  ' ', '\u0000', '\uFEFF', '\uFFFE', '\uD800', '🐟', 'é', '-', '+', '0', '9', '99', '00:00:00;00', '10:01:00;00', '23:59:59:29', '24:00:00:00', '10:00:00.5', '1e309', 'NaN', 'Infinity', '-1', '1.5', '1,5',
  'cut', 'dissolve', 'dissolve-end', 'wipe', 'cue', 'start', 'stop', 'marker', 'audio', 'black', 'program', 'none', 'time', 'action', '=1+1', '30', '30f', '1s', '500ms', '999', '1000',
];

/** A place from 0 to below 1, everywhere alike: left to itself, fast-check likes the ends, and a log's start breaks it at once. */
const somewhere = fc.noBias(fc.nat(999_999)).map((part) => part / 1_000_000);

const edit = fc.record({
  kind: fc.constantFrom('insert', 'insert', 'delete', 'replace', 'repeat', 'swapLines', 'dropLine', 'doubleLine', 'flip', 'truncate', 'digit', 'digit', 'digit'),
  place: somewhere,
  other: somewhere,
  length: fc.integer({ min: 1, max: 12 }),
  piece: fc.constantFrom(...PIECES),
});
type Edit = typeof edit extends fc.Arbitrary<infer Value> ? Value : never;

function edited(text: string, { kind, place, other, length, piece }: Edit): string {
  const at = Math.floor(place * (text.length + 1));
  const lines = (): string[] => text.split('\n');
  switch (kind) {
    case 'insert':
      return text.slice(0, at) + piece + text.slice(at);
    case 'delete':
      return text.slice(0, at) + text.slice(at + length);
    case 'replace':
      return text.slice(0, at) + piece + text.slice(at + piece.length);
    case 'repeat':
      return text.slice(0, at) + text.slice(at, at + length).repeat(3) + text.slice(at + length);
    case 'digit': {
      const near = text.slice(at).search(/\d/);
      return near === -1 ? text : text.slice(0, at + near) + String(length % 10) + text.slice(at + near + 1);
    }
    case 'truncate':
      return place > 0.3 ? text.slice(0, at) : text;
    case 'flip':
      return text.slice(0, at) + String.fromCharCode((text.charCodeAt(at) || 0) ^ (1 << (length % 7))) + text.slice(at + 1);
    default: {
      const all = lines();
      const [one, two] = [Math.floor(place * all.length), Math.floor(other * all.length)];
      if (kind === 'dropLine') all.splice(one, 1);
      else if (kind === 'doubleLine') all.splice(one, 0, all[two] ?? '');
      else [all[one], all[two]] = [all[two] ?? '', all[one] ?? ''];
      return all.join('\n');
    }
  }
}

const mutation = fc.record({
  base: fc.nat(BASES.length - 1),
  from: somewhere,
  rows: fc.integer({ min: 2, max: 40 }),
  edits: fc.array(edit, { minLength: 1, maxLength: 3 }),
  bytes: fc.array(fc.tuple(somewhere, fc.nat(255)), { maxLength: 2 }),
  byteEdit: fc.nat(9).map((dice) => dice === 0),
});
type Mutation = typeof mutation extends fc.Arbitrary<infer Value> ? Value : never;

interface Mutated {
  readonly base: Base;
  readonly text: string;
  readonly bytes: Uint8Array;
}

function mutate({ base: index, from, rows, edits, bytes, byteEdit }: Mutation): Mutated {
  const base = BASES[index] as Base;
  const start = Math.floor(from * Math.max(1, base.rows.length - rows));
  // The first two rows start the recording and say what is on air.
  const kept = [...base.rows.slice(0, start > 2 ? 2 : 0), ...base.rows.slice(start, start + rows)];
  const text = edits.reduce(edited, base.head + kept.join('') + base.foot);
  const raw = Buffer.from(text, base.encoding);
  if (byteEdit) for (const [place, value] of bytes) if (raw.length > 0) raw[Math.floor(place * raw.length)] = value;
  return { base, text, bytes: raw };
}

/** What must be true of every event, whatever the log. */
function eventFaults(events: readonly LogEvent[]): string[] {
  return events.flatMap((event) => {
    const { at, duration, end, wipe, action, line, column, note, source } = event;
    const whole = [at, duration ?? 0, end ?? 0, line, column].every(Number.isSafeInteger);
    const sound = whole && ACTIONS.includes(action) && (duration ?? 0) >= 0 && (end === undefined || end >= at) && (duration === undefined || end === undefined)
      && (wipe === undefined || (wipe >= 0 && wipe <= 999)) && line > 0 && column > 0 && note !== '' && source !== '' && !/[\r\n]/.test(note ?? '');
    return sound ? [] : [JSON.stringify(event)];
  });
}

/** A list's source on each frame where something happens is the log's last switch there. Independent of how the list was built. */
function disagreements(list: CutList, { events, restarts }: LogReading): string[] {
  const ordered = [...events].sort((a, b) => a.at - b.at);
  const again = restarts && events.some((event, index) => event.action === 'start' && event.at < (events[index - 1]?.at ?? 0));
  // Counters that begin again have no one order.
  if (again) return [];
  const switches = ordered.filter(({ action }) => action === 'cut' || action === 'dissolve' || action === 'wipe');
  const wrong: string[] = [];
  for (const shot of list.shots) {
    const take = list.takes[shot.take];
    if (take === undefined) continue;
    for (const frame of [shot.in, shot.out - 1]) {
      const logFrame = take.logIn + frame - take.in;
      const last = switches.findLast(({ at }) => at <= logFrame);
      if (last === undefined ? shot.source !== BLACK : last.source !== undefined && last.source !== shot.source) {
        wrong.push(`frame ${String(frame)} shows ${shot.source}, and the log says ${String(last?.source)} in line ${String(last?.line)}`);
      }
    }
  }
  return wrong;
}

describe('mutated logs', () => {
  it(`${String(RUNS)} of them: no crash, no hang, no list that silently disagrees with its log`, () => {
    const outcome = { refused: 0, read: 0, listed: 0 };
    fc.assert(fc.property(mutation, (given) => {
      const { base, bytes } = mutate(given);
      const got = read(bytes, { rate: '29.97', ...(base.map === undefined ? {} : { map: base.map }) });
      for (const { code, message } of got.problems) expect([code in CATALOGUE, message.length > 0 && message.length < 3000]).toEqual([true, true]);
      if (got.reading === undefined) {
        outcome.refused += 1;
        expect(got.problems.some(({ severity }) => severity === 'error')).toBe(true);
        return;
      }
      outcome.read += 1;
      expect(got.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(eventFaults(got.reading.events)).toEqual([]);
      const { count, origin, restarts, sources, events } = got.reading;
      const problems: Problem[] = [];
      const lists = buildCutLists(events, plainSources(sources, count), { title: 'x', count, recordStart: 0, origin, restarts, file: 'log', endAt: Math.max(...events.map(({ at }) => at)) + 100 }, (found) => problems.push(found));
      if (lists.length === 0) {
        expect(problems.some(({ severity }) => severity === 'error')).toBe(true);
        return;
      }
      outcome.listed += 1;
      for (const list of lists) {
        expect(listFaults(list)).toEqual([]);
        expect(disagreements(list, got.reading)).toEqual([]);
      }
    }), { numRuns: RUNS, endOnFailure: RUNS > 5000 });
    // Both are there in numbers: logs that a mutation breaks, and logs that can still be read.
    expect(outcome.refused).toBeGreaterThan(RUNS / 5);
    expect(outcome.listed).toBeGreaterThan(RUNS / 10);
    if (RUNS > 5000) process.stderr.write(`fuzz: ${JSON.stringify(outcome)}\n`);
  }, TIMEOUT);

  // The events of a CSV without quotes against its own text: cells by their commas, labels by smpte-timecode 1.3.6 (npm).
  it('give no event that its own line does not say', () => {
    let compared = 0;
    fc.assert(fc.property(mutation, (given) => {
      const text = Buffer.from(mutate({ ...given, base: DEMO, byteEdit: false }).text).toString();
      const got = read(text, { rate: '29.97df' });
      if (got.reading === undefined || text.includes('"')) return;
      const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
      if (lines[0] !== 'time,action,source,duration,end,wipe,note') return;
      const day = framesPerDay(got.reading.count);
      const said = lines.filter((line, index) => index > 0 && /[^,\s]/.test(line) && line.split(',')[1]?.trim() !== 'ignore').length;
      expect(got.reading.events.length).toBe(said);
      for (const { line, at, action, source, duration } of got.reading.events) {
        const [time = '', word = '', id = '', length = ''] = (lines[line - 1] ?? '').split(',').map((cell) => cell.trim());
        // What no XML can hold becomes a blank in an id.
        if (!/^\d\d:\d\d:\d\d[:;]\d\d$/.test(time) || /[\p{Cc}\ufffe\uffff]/u.test(id)) continue;
        expect([line, at % day]).toEqual([line, new SmpteTimecode(time, [30_000, 1001], true).frameCount]);
        const takesSource = action !== 'start' && action !== 'stop' && action !== 'marker' && action !== 'dissolve-end';
        if (takesSource) expect([line, (source ?? '').toLowerCase()]).toEqual([line, action === 'audio' && id === 'black' ? 'none' : id.toLowerCase()]);
        if (word !== '' && ACTIONS.some((one) => one === word)) expect(action).toBe(word);
        if (/^\d+$/.test(length) && action === 'dissolve') expect(duration).toBe(Number(length));
        compared += 1;
      }
    }), { numRuns: RUNS / 4 });
    expect(compared).toBeGreaterThan(RUNS / 4);
  }, TIMEOUT);
});
