/** How a log was read, in words: what `--explain` prints. */
import type { LogEvent } from '../cutlist/event.js';
import { countName } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import { listOf } from '../visible.js';
import { DELIMITER_NAMES } from './delimiter.js';
import { KIND_NAMES } from './kinds.js';
import { FIELDS, FILL_IN } from './mapping.js';
import type { Outline } from './outline.js';
import type { LogReading } from './reading.js';

/** How many events are shown. */
const SHOWN = 10;

/** The reading of a log as lines of text: form, columns, kind of time, rate, sources, and its first rows as events. */
export function explainLog(reading: LogReading): string[] {
  const { head, events, sources } = reading;
  const lines: string[] = [];
  const say = (what: string, text: string): void => {
    lines.push(`${what.padEnd(10)}${text}`);
  };
  say('form', formOf(reading));
  if (reading.title !== undefined) say('title', reading.title);
  say('fields', FIELDS.filter((field) => head.found[field] !== undefined).map((field) => `${field} = ${String(head.found[field])}`).join(', '));
  if (head.unused.length > 0) say('not used', listOf(head.unused));
  if (String(reading.map.fields?.source).startsWith(FILL_IN)) say('not known', 'source; say in a mapping file where it stands');
  say('times', timesOf(reading));
  say('rate', countName(reading.count));
  if (sources.length > 0) say('sources', listOf(sources.map(({ id, name }) => (id === name ? id : `${id} (${name})`))));
  const words = Object.entries(reading.map.actions ?? {});
  if (words.length > 0) say('actions', listOf(words.map(([word, action]) => `${word.trim() === '' ? '(blank)' : word} ${action === FILL_IN ? 'is not known' : `= ${action}`}`)));
  say('rows', `${plural(events.length, 'event')}${reading.ignored > 0 ? `, and ${plural(reading.ignored, 'row')} to ignore` : ''}`);
  if (events.length > 0) lines.push('', ...table(reading));
  if (events.length > SHOWN) lines.push(`… and ${String(events.length - SHOWN)} more`);
  return lines;
}

/** As much of it as can be said of a log that could not be read. */
export function explainOutline({ head, there, open, map, timeAs }: Outline): string[] {
  const say = (what: string, text: string): string => `${what.padEnd(10)}${text}`;
  const known = FIELDS.filter((field) => head.found[field] !== undefined).map((field) => `${field} = ${String(head.found[field])}`);
  return [
    say('form', formOf({ head, map })),
    say(head.form === 'csv' ? 'columns' : 'rows hold', listOf(there.filter((name) => name !== ''), 20)),
    say('fields', known.length === 0 ? 'none is known' : known.join(', ')),
    ...(open.length === 0 ? [] : [say('not known', `${open.join(', ')}; say in a mapping file where they stand`)]),
    say('times', timeAs === undefined ? 'not known' : KIND_NAMES[timeAs]),
  ];
}

function formOf({ head, map }: Pick<LogReading, 'head' | 'map'>): string {
  if (head.form === 'xml') return `XML${head.rows === undefined ? '' : `, a row is ${head.rows}`}`;
  const cells = head.delimiter === undefined ? '' : `, cells between ${DELIMITER_NAMES[head.delimiter] ?? `'${head.delimiter}'`}`;
  const skipped = head.skipLines ?? map.skipLines ?? 0;
  return `CSV${cells}${skipped > 0 ? `, after ${plural(skipped, 'line')}` : ''}`;
}

function timesOf({ timeAs, origin, map, moved }: LogReading): string {
  if (map.timeAs === undefined) return 'not known';
  const kind = timeAs === 'clock' ? `clock times${map.clockFormat === undefined ? '' : `, ${map.clockFormat}`}, ${map.zone ?? 'UTC'}` : timeAs;
  const from = timeAs === 'timecode' ? '' : origin === 'timecode' ? ', put on timecode by the anchor' : ', from the first frame of the recording';
  return `${kind}${from}${moved === undefined ? '' : `; moved to whole frames by at most ${moved.frames.toFixed(3)}`}`;
}

function table({ events, count }: LogReading): string[] {
  const cells = events.slice(0, SHOWN).map((event) => [
    String(event.line),
    String(event.at),
    formatTimecode(event.at, count),
    event.action,
    event.source ?? '',
    lengthOf(event),
    event.note ?? '',
  ]);
  const rows = [['line', 'frame', 'label', 'action', 'source', 'frames', 'note'], ...cells];
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows.map((row) => row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ').trimEnd());
}

function lengthOf({ at, duration, end }: LogEvent): string {
  if (duration !== undefined) return String(duration);
  return end === undefined ? '' : String(end - at);
}

const plural = (count: number, what: string): string => `${String(count)} ${what}${count === 1 ? '' : 's'}`;
