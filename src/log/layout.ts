/** The layout of a CSV log, found by itself: delimiter, preamble, header row, and which column is which field. */
import { readCells, breaksIn } from './cells.js';
import { countFound, findColumns, type Columns } from './columns.js';
import { guessDelimiter, DELIMITERS } from './delimiter.js';
import { FIELDS, type Mapping } from './mapping.js';

/** How far a header row is looked for: the lines of a preamble are few and short. */
const HEADER_LINES = 100;
const HEADER_LENGTH = 65_536;

/** How many rows behind a header row are looked at, and how far each of them. */
const SAMPLE_ROWS = 20;
const SAMPLE_LENGTH = 65_536;

const NO_DELIMITER = '\t';

export interface Layout {
  readonly delimiter: string;
  /** The columns' names as written; empty when the log has no header row. */
  readonly names: readonly string[];
  /** How many columns there are. */
  readonly width: number;
  readonly columns: Columns;
  /** Lines before the header row, or before the first row without one. */
  readonly skipLines: number;
  /** Offset and line of the header row, or of the first row. */
  readonly start: number;
  readonly line: number;
  /** Offset and line of the row after the header. */
  readonly dataStart: number;
  readonly dataLine: number;
  /** False when nothing there looks like a header row: then `names` are the best that there is to list. */
  readonly sure: boolean;
}

interface Line {
  readonly start: number;
  readonly line: number;
}

/** Looks at the first lines of a log. Undefined when it has no visible character behind `skipLines`. */
export function findLayout(text: string, map: Mapping = {}): Layout | undefined {
  const lines = firstLines(text, map.skipLines ?? 0, map.skipLines === undefined ? HEADER_LINES : 1);
  const [first] = lines;
  if (first === undefined) return undefined;
  const delimiters = map.delimiter === undefined ? DELIMITERS : [map.delimiter];
  return bestHeader(text, lines, delimiters, map) ?? withoutHeader(text, [first, ...lines.slice(1)], map);
}

/** The first lines with something on them, behind `skip` physical lines. */
function firstLines(text: string, skip: number, most: number): Line[] {
  const lines: Line[] = [];
  const breaks = /\r\n|\n|\r/g;
  let start = 0;
  for (let line = 1; lines.length < most && start < text.length; line += 1) {
    const found = breaks.exec(text);
    const end = found === null ? text.length : breaks.lastIndex;
    if (line > skip && !isBlank(text, start, Math.min(end, start + HEADER_LENGTH))) lines.push({ start, line });
    if (found === null) break;
    start = end;
  }
  return lines;
}

/** Cells of delimiters alone are a blank row too. Most rows begin with a digit or a letter, and need no second look. */
function isBlank(text: string, from: number, to: number): boolean {
  const first = text.charCodeAt(from);
  return !(first >= DIGIT && first < VERTICAL_BAR && first !== SEMICOLON) && !/[^\s,;|]/.test(text.slice(from, to));
}

const isDigit = (code: number): boolean => code >= DIGIT && code < DIGIT + 10;

const DIGIT = 48;
const SEMICOLON = 59;
const VERTICAL_BAR = 124;

interface Candidate {
  readonly rank: number;
  readonly at: Line;
  readonly delimiter: string;
  readonly names: readonly string[];
  readonly next: number;
  readonly columns: Columns;
}

/** The row with most known columns, the first of several; of two delimiters that find as many, the one with more cells. */
function bestHeader(text: string, lines: readonly Line[], delimiters: readonly string[], map: Mapping): Layout | undefined {
  let best: Candidate | undefined;
  // What headerRank says of a row that begins with a digit is known before its cells are: most lines are such rows.
  const digits = map.skipLines === undefined && !FIELDS.some((field) => typeof map.fields?.[field] === 'string');
  for (const at of lines) {
    if (digits && isDigit(text.charCodeAt(at.start))) continue;
    for (const delimiter of delimiters) {
      const row = readCells(text, at.start, Math.min(text.length, at.start + HEADER_LENGTH), delimiter);
      if (!('cells' in row)) continue;
      const columns = findColumns(row.cells, map.fields);
      const rank = headerRank(row.cells, columns, map);
      if (rank === 0) continue;
      const better = best === undefined || rank > best.rank || (rank === best.rank && at.start === best.at.start && row.cells.length > best.names.length);
      if (better) best = { rank, at, delimiter, names: row.cells, next: row.next, columns };
    }
  }
  if (best === undefined) return undefined;
  const { at, names, columns } = best;
  // A log with one column has no delimiter, and commas in its times separate nothing; tabs will not be in the way.
  const delimiter = names.length > 1 || map.delimiter !== undefined ? best.delimiter : NO_DELIMITER;
  const dataLine = at.line + breaksIn(text, at.start, best.next).count;
  return { delimiter, names, width: names.length, columns, skipLines: at.line - 1, start: at.start, line: at.line, dataStart: best.next, dataLine, sure: true };
}

/**
 * How much a row looks like a header; 0: not at all. Where the mapping names columns, these count most and one of them
 * must be there. Otherwise a column for the time must be, and no cell may begin with a digit, as a row's time does
 * (unless `skipLines` says that this is the header).
 * Columns by number need no header row: one is believed only when it names the time and another field.
 */
function headerRank(cells: readonly string[], columns: Columns, { fields = {}, skipLines }: Mapping): number {
  const given = placesGiven(fields);
  const named = FIELDS.filter((field) => typeof fields[field] === 'string');
  if (named.length > 0) {
    const namesFound = named.filter((field) => columns.found[field] !== undefined).length;
    return namesFound === 0 ? 0 : namesFound * 10 + countFound(columns);
  }
  const known = given.length === 0 ? columns : findColumns(cells);
  if (known.found.time === undefined || (skipLines === undefined && cells.some((cell) => /^\d/.test(cell)))) return 0;
  return given.length > 0 && countFound(known) < 2 ? 0 : countFound(known);
}

const placesGiven = (fields: NonNullable<Mapping['fields']>): (string | number)[] => Object.values(fields).filter((place) => place !== null);

/** A log without a header row that was recognised: the mapping numbers its columns, or it cannot be read. */
function withoutHeader(text: string, lines: readonly [Line, ...Line[]], map: Mapping): Layout {
  const fields = placesGiven(map.fields ?? {});
  const numbered = fields.length > 0 && fields.every((place) => typeof place === 'number');
  const from = lines[0].start;
  const delimiter = map.delimiter ?? guessDelimiter(text.slice(from, from + HEADER_LENGTH)) ?? NO_DELIMITER;
  const { start, line } = numbered ? lines[0] : behindPreamble(text, lines, delimiter);
  const row = readCells(text, start, Math.min(text.length, start + HEADER_LENGTH), delimiter);
  const cells = 'cells' in row ? row.cells : [];
  const width = widest(text, start, delimiter);
  const columns = numbered ? byNumber(map, width) : findColumns(cells, map.fields);
  // Every time has a digit; a first row without one in its place is a header in a language that nobody told us.
  const time = columns.found.time;
  const isHeader = numbered && time !== undefined && !/\d/.test(cells[time] ?? '');
  const next = 'cells' in row ? row.next : start;
  const [dataStart, dataLine] = isHeader ? [next, line + breaksIn(text, start, next).count] : [start, line];
  const names = numbered && !isHeader ? [] : cells;
  return { delimiter, names, width, columns, skipLines: line - 1, start, line, dataStart, dataLine, sure: numbered };
}

/** The first line with as many cells as most of them have, of two equally common numbers the larger: what has fewer before it is a preamble. */
function behindPreamble(text: string, lines: readonly [Line, ...Line[]], delimiter: string): Line {
  const widths = lines.map(({ start }) => {
    const row = readCells(text, start, Math.min(text.length, start + HEADER_LENGTH), delimiter);
    return 'cells' in row ? row.cells.length : 0;
  });
  const counts = new Map<number, number>();
  for (const width of widths) counts.set(width, (counts.get(width) ?? 0) + 1);
  const [[common] = [0]] = [...counts].sort(([one, many], [other, more]) => more - many || other - one);
  const at = widths.indexOf(common);
  return (widths.slice(0, at).every((width) => width < common) ? lines[at] : undefined) ?? lines[0];
}

function byNumber(map: Mapping, width: number): Columns {
  return findColumns(Array.from({ length: width }, () => ''), map.fields);
}

/** Number of cells of the widest of the first rows. */
function widest(text: string, from: number, delimiter: string): number {
  let width = 0;
  let at = from;
  for (let row = 0; row < HEADER_LINES && at < text.length; row += 1) {
    const read = readCells(text, at, Math.min(text.length, at + HEADER_LENGTH), delimiter);
    if (!('cells' in read)) break;
    width = Math.max(width, read.cells.length);
    at = read.next;
  }
  return width;
}

/** Cells of the first rows behind the line that is the header row, or looks like one. */
export function rowsBehind(text: string, { start, delimiter }: Layout): (readonly string[])[] {
  const rows: (readonly string[])[] = [];
  for (let at = start; at < text.length && rows.length <= SAMPLE_ROWS;) {
    const row = readCells(text, at, Math.min(text.length, at + SAMPLE_LENGTH), delimiter);
    if (!('cells' in row)) break;
    rows.push(row.cells);
    at = row.next;
  }
  return rows.slice(1).filter((cells) => cells.some((cell) => cell.trim() !== ''));
}
