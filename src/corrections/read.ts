/** Reading a corrections file: CSV (RFC 4180, a header row) or JSON (a list, or an object with `corrections`). */
import { CsvError, parse } from 'csv-parse/sync';
import { withoutMark } from '../byte-order-mark.js';
import { readJson } from '../json.js';
import { didYouMean } from '../nearest.js';
import { fault, isFault, problem, type Fault, type Place, type Report } from '../problems.js';
import { OPERATIONS, type Correction, type CorrectionKey, type Operation, type OperationEntry } from './model.js';

/** How a value is written: text, a whole number from a least one, or a list of whole numbers from 1. */
type Kind = 'text' | 'list' | readonly [least: number, most: number];

const MOST = 1_000_000_000;

/** Every key and column, in the order in which they are written. `remark` is for people. */
export const KEYS: Readonly<Record<CorrectionKey | 'remark', Kind>> = {
  do: 'text',
  shot: [1, MOST],
  at: 'text',
  expect: 'text',
  was: [1, MOST],
  to: 'text',
  source: 'text',
  sourceIn: 'text',
  sourceFrames: [0, MOST],
  frames: [0, MOST],
  mix: [1, MOST],
  wipe: [0, 999],
  note: 'text',
  color: 'text',
  tracks: 'list',
  channels: 'list',
  name: 'text',
  reel: 'text',
  rate: 'text',
  file: 'text',
  remark: 'text',
};

type Key = keyof typeof KEYS;

/** A correction as its file has it: values by key, and where each stands. */
interface Raw {
  readonly values: ReadonlyMap<Key, unknown>;
  /** Keys whose cell is there and empty: for most that is as if they were not there. */
  readonly blank: ReadonlySet<Key>;
  readonly place: Place;
  readonly placeOf: (key: Key) => Place;
}

/**
 * Reads a corrections file. Undefined when anything in it is wrong; all is reported with its place: `bad-corrections`,
 * `malformed-csv`. Whether the corrections fit a list is found out by `applyCorrections`.
 */
export function readCorrections(text: string, file: string, report: Report): Correction[] | undefined {
  const body = withoutMark(text);
  const rows = /^\s*[[{]/.test(body) ? jsonRows(body, file, report) : csvRows(body, file, report);
  if (rows === undefined) return undefined;
  const out: Correction[] = [];
  for (const row of rows) {
    const correction = correctionOf(row, report);
    if (correction !== undefined) out.push(correction);
  }
  return out.length === rows.length ? out : undefined;
}

function correctionOf({ values, blank, place, placeOf }: Raw, report: Report): Correction | undefined {
  const bad = (key: Key | undefined, message: string): undefined => {
    report(problem('bad-corrections', message, key === undefined ? place : placeOf(key)));
    return undefined;
  };
  const word = String(values.get('do') ?? '').trim().toLowerCase();
  const known = Object.keys(OPERATIONS);
  if (word === '') return bad(undefined, `a correction has to say what to do; expected ${known.join(', ')}`);
  if (!isOperation(word)) return bad('do', `'${word}' is no correction${didYouMean(word, known) || `; expected ${known.join(', ')}`}`);
  const { needs, takes, empty = [] }: OperationEntry = OPERATIONS[word];
  const allowed: readonly string[] = ['do', 'remark', ...needs, ...takes];
  const fields: Record<string, unknown> = {};
  let sound = true;
  for (const [key, value] of values) {
    if (key === 'do' || key === 'remark') continue;
    const read = allowed.includes(key) ? readValue(value, KEYS[key]) : fault('bad-corrections', `it takes no ${key}; it takes ${allowed.slice(2).join(', ')}`);
    if (isFault(read)) {
      sound = false;
      bad(key, `${word}: ${read.message.replace('%', key)}`);
    } else {
      fields[key] = read;
    }
  }
  for (const key of needs) {
    if (fields[key] !== undefined || values.has(key)) continue;
    if (empty.includes(key) && blank.has(key)) {
      fields[key] = '';
      continue;
    }
    sound = false;
    bad(undefined, `${word}: it needs ${key}`);
  }
  return sound ? { ...fields, do: word, place } : undefined;
}

const isOperation = (word: string): word is Operation => Object.hasOwn(OPERATIONS, word);

function readValue(value: unknown, kind: Kind): string | number | readonly number[] | Fault {
  const text = typeof value === 'string' || typeof value === 'number' ? String(value) : undefined;
  if (kind === 'text') return text ?? fault('bad-corrections', '% is not a text');
  if (kind === 'list') {
    const parts: unknown[] = Array.isArray(value) ? value : (text?.split(/[\s,+]+/).filter((part) => part !== '') ?? []);
    const numbers = parts.map(Number);
    const good = numbers.length > 0 && numbers.every((one) => Number.isInteger(one) && one >= 1 && one <= 64);
    return good ? numbers : fault('bad-corrections', `% is '${text ?? JSON.stringify(value)}'; expected channel numbers: 1 2`);
  }
  const [least, most] = kind;
  const number = text !== undefined && /^\s*\d{1,10}\s*$/.test(text) ? Number(text) : Number.NaN;
  if (number >= least && number <= most) return number;
  return fault('bad-corrections', `% is '${text ?? JSON.stringify(value)}'; expected a whole number ${most === MOST ? `from ${String(least)}` : `from ${String(least)} to ${String(most)}`}`);
}

function jsonRows(text: string, file: string, report: Report): Raw[] | undefined {
  const json = readJson(text, file, 'bad-corrections', report);
  if (json === undefined) return undefined;
  const top = json.value;
  const list = Array.isArray(top) ? top : (top as Readonly<Record<string, unknown>>)['corrections'];
  const path = Array.isArray(top) ? [] : ['corrections'];
  let sound = true;
  const bad = (message: string, at: readonly (string | number)[]): void => {
    sound = false;
    report(problem('bad-corrections', message, json.placeOf(at)));
  };
  if (!Array.isArray(list)) bad('expected a list of corrections, or {"corrections": [ … ]}', []);
  if (!Array.isArray(top)) {
    for (const key of Object.keys(top as object)) if (key !== 'corrections') bad(`unknown key '${key}'; expected corrections`, [key]);
  }
  if (!sound) return undefined;
  const rows: Raw[] = [];
  (list as unknown[]).forEach((item, index) => {
    if (typeof item !== 'object' || item === null || Array.isArray(item)) {
      bad('expected a correction, {"do": …}', [...path, index]);
      return;
    }
    const values = new Map<Key, unknown>();
    for (const [name, value] of Object.entries(item)) {
      if (isKey(name)) values.set(name, value);
      else bad(`unknown key '${name}'${didYouMean(name, Object.keys(KEYS)) || `; expected ${Object.keys(KEYS).join(', ')}`}`, [...path, index, name]);
    }
    rows.push({ values, blank: new Set(), place: json.placeOf([...path, index]), placeOf: (key) => json.placeOf([...path, index, key]) });
  });
  return sound ? rows : undefined;
}

const isKey = (name: string): name is Key => Object.hasOwn(KEYS, name);

const plain = (name: string): string => name.toLowerCase().replace(/[^a-z]/g, '');

const BY_PLAIN = new Map(Object.keys(KEYS).filter(isKey).map((key) => [plain(key), key]));

/** The delimiter that cuts the header row into most columns that are known. */
function delimiterOf(text: string): string {
  const [header = ''] = text.split(/\r\n|\r|\n/, 1);
  const known = (delimiter: string): number => header.split(delimiter).filter((cell) => BY_PLAIN.has(plain(cell))).length;
  return [',', ';', '\t', '|'].reduce((best, one) => (known(one) > known(best) ? one : best));
}

interface CsvRecord {
  readonly record: readonly string[];
  readonly raw: string;
  readonly info: { readonly lines: number };
}

function csvRows(text: string, file: string, report: Report): Raw[] | undefined {
  let records: readonly CsvRecord[];
  const delimiter = delimiterOf(text);
  try {
    records = parse(text, { delimiter, relax_column_count: true, skip_empty_lines: true, record_delimiter: ['\r\n', '\n', '\r'], raw: true, info: true }) as unknown as readonly CsvRecord[];
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause;
    const line = typeof cause['lines'] === 'number' ? cause['lines'] : 1;
    report(problem('malformed-csv', cause.message.replace(/[.\s]*$/, ''), { file, line }));
    return undefined;
  }
  const [head, ...rest] = records;
  if (head === undefined) {
    report(problem('bad-corrections', 'the file is empty; expected a header row: do, at, expect, …', { file, line: 1 }));
    return undefined;
  }
  let sound = true;
  const bad = (message: string, line: number): void => {
    sound = false;
    report(problem('bad-corrections', message, { file, line }));
  };
  const keys = head.record.map((name) => {
    const key = BY_PLAIN.get(plain(name));
    if (key === undefined && name.trim() !== '') bad(`unknown column '${name}'${didYouMean(name, Object.keys(KEYS)) || `; expected ${Object.keys(KEYS).join(', ')}`}`, startOf(head));
    return key;
  });
  const twice = keys.find((key, index) => key !== undefined && keys.indexOf(key) !== index);
  if (twice !== undefined) bad(`the column '${twice}' is there twice`, startOf(head));
  if (sound && !keys.includes('do')) bad("no column is called 'do'", startOf(head));
  if (!sound) return undefined;
  const rows: Raw[] = [];
  for (const record of rest) {
    const values = new Map<Key, unknown>();
    const blank = new Set<Key>();
    const line = startOf(record);
    const cut = cutLabel(record.record, keys);
    if (cut !== undefined) {
      const label = cut.join(delimiter);
      bad(`'${cut[0]}' and '${cut[1]}' look like one label, ${label}, that is cut at its ${delimiter}; write it in quotes: "${label}"`, line);
      continue;
    }
    record.record.forEach((cell, index) => {
      const key = keys[index];
      if (cell.trim() === '') {
        if (key !== undefined) blank.add(key);
      } else if (key === undefined) bad(`'${cell.slice(0, 40)}' stands in a column without a name`, line);
      else values.set(key, cell);
    });
    if (values.size === 0) continue;
    const place = { file, line };
    rows.push({ values, blank, place, placeOf: () => place });
  }
  return sound ? rows : undefined;
}

/** The two cells of a label without quotes whose mark is the delimiter: a time without frames where a label should be, and two digits behind it. */
function cutLabel(cells: readonly string[], keys: readonly (Key | undefined)[]): [string, string] | undefined {
  const what = cells[keys.indexOf('do')]?.trim().toLowerCase() ?? '';
  for (const [index, cell] of cells.entries()) {
    const [time, frames = ''] = [cell.trim(), cells[index + 1]?.trim()];
    if (isLabel(keys[index], what) && /^\d\d?:\d\d:\d\d$/.test(time) && /^\d\d$/.test(frames)) return [time, frames];
  }
  return undefined;
}

/** Operations whose `to` can be a label: elsewhere it is a title, a rate or a length, or not taken at all. */
const TO_LABEL: readonly string[] = ['start', 'move-marker', 'record-start'] satisfies Operation[];

/** Whether a column holds labels, in a row that does `what`: what is expected may be any text. */
const isLabel = (key: Key | undefined, what: string): boolean =>
  key === 'at' || key === 'sourceIn' || (key === 'to' && TO_LABEL.includes(what)) || (key === 'expect' && what === 'record-start');

/** The line on which a record begins; csv-parse tells the one on which it ends. */
function startOf({ raw, info }: CsvRecord): number {
  const within = raw.replace(/^[\r\n]+/, '').replace(/(?:\r\n|\r|\n)$/, '');
  return info.lines - (within.match(/\r\n|\r|\n/g)?.length ?? 0);
}
