/**
 * CSV logs → rows: RFC 4180 with a header row, or with columns by number. csv-parse reads what the cells hold, a slice of
 * whole rows at a time, so that a million rows are never in memory together; cells.ts knows where they stand.
 */
import { CsvError, parse, type Options } from 'csv-parse/sync';
import { withoutMark } from '../byte-order-mark.js';
import { nearest } from '../nearest.js';
import { problem, type Place, type Report } from '../problems.js';
import { ActionBook } from './actions.js';
import { cellOffset, LONGEST_ROW, placeFrom, readCells, RowCutter, TOO_LONG, type CellFault } from './cells.js';
import { unusedNames } from './columns.js';
import { hasColumns } from './csv-columns.js';
import { CsvRow } from './csv-row.js';
import { DELIMITER_NAMES } from './delimiter.js';
import { findLayout, type Layout } from './layout.js';
import { FIELDS, type Field } from './mapping.js';
import type { LogHead, RowOptions, RowSink } from './rows.js';

/** So many rows with quotes in a slice are read without csv-parse. */
const FEW = 64;

/** Characters of whole rows that are handed to csv-parse at once. */
const SLICE = 262_144;

/**
 * Reads a CSV log and pushes its head, then its rows in order; blank rows are left out. Nothing is pushed when the log
 * has no column for the time. Lines and columns count from 1. Reported: `no-events` (nothing there), `missing-column`,
 * `bad-map` (a mapped column that is not there), `malformed-csv` (and as a warning: cells beyond the header's),
 * `too-large` (rows, or the length of one), `found` (layout that was found by itself).
 */
export function readCsvRows(text: string, options: RowOptions, sink: RowSink, report: Report): void {
  const { file, map } = options;
  const body = withoutMark(text);
  const layout = findLayout(body, map);
  if (layout === undefined) {
    report(problem('no-events', map?.skipLines === undefined ? 'the log is empty' : `the log has nothing behind its first ${String(map.skipLines)} lines`, { file, line: 1, column: 1 }));
    return;
  }
  if (!hasColumns(body, layout, options, report)) return;
  noteLayout(layout, options, report);
  sink.head(headOf(layout));
  new CsvRows(body, layout, options, sink, report).read();
}

/** Says how the log is read where that is not what the contract's own columns say. */
function noteLayout(layout: Layout, { file, map }: RowOptions, report: Report): void {
  const { delimiter, names, width, columns, line, skipLines } = layout;
  const place: Place = { file, line, column: 1 };
  const said: string[] = [];
  if (map?.delimiter === undefined && delimiter !== ',' && width > 1) said.push(`cells are separated by ${DELIMITER_NAMES[delimiter] ?? `'${delimiter}'`}`);
  if (map?.skipLines === undefined && skipLines > 0) said.push(`${names.length === 0 ? 'the first row' : 'the header row'} is line ${String(line)}`);
  const synonyms = FIELDS.filter((field) => map?.fields?.[field] === undefined && nameOf(layout, field)?.toLowerCase() !== field && columns.found[field] !== undefined);
  if (synonyms.length > 0) said.push(synonyms.map((field) => `${field} is column '${nameOf(layout, field) ?? ''}'`).join(', '));
  const { blank } = new ActionBook(map?.actions);
  const meaning = blank === 'cut' ? 'a cut' : `'${blank}'`;
  if (columns.found.action === undefined && map?.fields?.action !== null) said.push(`there is no column for the action, so every row is ${meaning}`);
  if (said.length > 0) report(problem('found', said.join('; '), place));
  if (columns.found.action !== undefined || map?.fields?.action === null) return;
  const likely = unusedNames(names, columns).find((name) => name[0]?.toLowerCase() === 'a' && nearest(name, ['action']) !== undefined);
  if (likely !== undefined) report(problem('missing-column', `no column is called action; is '${likely}' meant? Every row is read as ${meaning}`, place, 'warning'));
}

/** A column as messages and mapping files call it: by its name, by its number where it has none. */
function nameOf({ names, columns }: Layout, field: Field): string | undefined {
  const index = columns.found[field];
  return index === undefined ? undefined : names[index] || String(index + 1);
}

/** What a layout says of a log. */
export function headOf(layout: Layout): LogHead {
  const found: Partial<Record<Field, string>> = {};
  for (const field of FIELDS) {
    const name = nameOf(layout, field);
    if (name !== undefined) found[field] = name;
  }
  return { form: 'csv', found, unused: unusedNames(layout.names, layout.columns), delimiter: layout.delimiter, skipLines: layout.skipLines, sources: [] };
}

/** Rows that follow one another: text[starts[i], ends[i]), on line lines[i]. Empty lines are left out. */
interface Rows {
  readonly starts: number[];
  readonly ends: number[];
  readonly lines: number[];
}

const noRows = (): Rows => ({ starts: [], ends: [], lines: [] });

function parsed(slice: string, options: Options): string[][] | undefined {
  try {
    return parse(slice, options) as string[][];
  } catch (cause) {
    if (cause instanceof CsvError) return undefined;
    throw cause;
  }
}

/** A row without its line end. */
function withoutEnd(text: string, start: number, end: number): string {
  let last = end;
  while (last > start && (text.charCodeAt(last - 1) === 10 || text.charCodeAt(last - 1) === 13)) last -= 1;
  return text.slice(start, last);
}

/** Reads the rows behind the header, slice by slice. */
class CsvRows {
  readonly #indexes: readonly (number | undefined)[];
  readonly #parse: Options;
  #rows = 0;

  constructor(
    private readonly text: string,
    private readonly layout: Layout,
    private readonly options: RowOptions,
    private readonly sink: RowSink,
    private readonly report: Report,
  ) {
    this.#indexes = FIELDS.map((field) => layout.columns.found[field]);
    this.#parse = { delimiter: layout.delimiter, record_delimiter: ['\r\n', '\n', '\r'], relax_column_count: true };
  }

  read(): void {
    const cutter = new RowCutter(this.text, this.layout.dataStart, this.layout.dataLine);
    let rows = noRows();
    for (;;) {
      const found = cutter.next();
      if (found !== true) {
        if (this.#push(rows) && found !== false) this.#refuse(cutter.start, cutter.line, found);
        return;
      }
      if (cutter.empty) continue;
      rows.starts.push(cutter.start);
      rows.ends.push(cutter.end);
      rows.lines.push(cutter.line);
      if (cutter.end - (rows.starts[0] ?? 0) < SLICE) continue;
      if (!this.#push(rows)) return;
      rows = noRows();
    }
  }

  /** Parses rows and pushes them. False when the log cannot be read on. */
  #push(rows: Rows): boolean {
    const records = this.#parsed(rows);
    if (records !== undefined) return this.#pushAll(records, rows);
    const { index, fault } = this.#firstFault(rows);
    const before = { ...rows, starts: rows.starts.slice(0, index), ends: rows.ends.slice(0, index) };
    if (this.#pushAll(this.#parsed(before) ?? [], before)) this.#refuse(rows.starts[index] ?? 0, rows.lines[index] ?? 0, fault);
    return false;
  }

  #pushAll(records: readonly (readonly string[])[], { starts, ends, lines }: Rows): boolean {
    for (let index = 0; index < records.length; index += 1) {
      if (!this.#row(records[index] ?? [], starts[index] ?? 0, ends[index] ?? 0, lines[index] ?? 0)) return false;
    }
    return true;
  }

  /**
   * The cells of rows; undefined when a row breaks RFC 4180. In a row without a quote there is nothing but delimiters. A few others
   * are read as the header was; many by csv-parse: strictly, else with blanks around quoted cells.
   */
  #parsed({ starts, ends }: Rows): string[][] | undefined {
    const records: string[][] = [];
    const quoted: number[] = [];
    const { delimiter } = this.layout;
    for (let index = 0; index < starts.length; index += 1) {
      const start = starts[index] as number;
      const row = withoutEnd(this.text, start, ends[index] ?? start);
      if (row.includes('"')) quoted.push(index);
      records.push(row.split(delimiter));
    }
    if (quoted.length <= FEW) return this.#readFew(records, quoted, starts, ends);
    const text = quoted.map((index) => this.text.slice(starts[index], ends[index])).join('');
    const read = parsed(text, this.#parse) ?? parsed(text, { ...this.#parse, trim: true });
    if (read === undefined) return undefined;
    for (const [index, row] of quoted.entries()) records[row] = read[index] ?? [];
    return records;
  }

  /** For fewer rows than are worth loading csv-parse: what readCells says is the same (a test holds them together). */
  #readFew(records: string[][], quoted: readonly number[], starts: readonly number[], ends: readonly number[]): string[][] | undefined {
    for (const row of quoted) {
      const read = readCells(this.text, starts[row] ?? 0, ends[row] ?? 0, this.layout.delimiter);
      if (!('cells' in read)) return undefined;
      records[row] = [...read.cells];
    }
    return records;
  }

  /** One row; false when there are too many. */
  #row(cells: readonly string[], start: number, end: number, line: number): boolean {
    if (cells.every((cell) => cell.trim() === '')) return true;
    this.#rows += 1;
    const { file, maxRows } = this.options;
    if (this.#rows > maxRows) {
      this.report(problem('too-large', `the log has more than ${String(maxRows)} rows; raise the limit with --max-rows`, { file, line, column: 1 }));
      return false;
    }
    const { names } = this.layout;
    if (names.length > 0 && cells.length > names.length) this.#warnOfSurplus(cells, start, end, line);
    const values = new Array<string | undefined>(this.#indexes.length);
    for (let field = 0; field < values.length; field += 1) {
      const index = this.#indexes[field];
      values[field] = index === undefined ? undefined : cells[index]?.trim() || undefined;
    }
    this.sink.row(new CsvRow(line, values, this.text, this.layout, start, end));
    return true;
  }

  /** A row with more cells than the header has probably holds a delimiter that should be in quotes. */
  #warnOfSurplus(cells: readonly string[], start: number, end: number, line: number): void {
    const { names, delimiter } = this.layout;
    const index = cells.findIndex((cell, at) => at >= names.length && cell.trim() !== '');
    if (index === -1) return;
    const offset = cellOffset(this.text, start, end, delimiter, index) ?? start;
    const said = `this row has ${String(cells.length)} cells and the header ${String(names.length)}; a cell that holds ${DELIMITER_NAMES[delimiter] ?? 'the delimiter'} needs quotes around it`;
    this.report(problem('malformed-csv', said, { file: this.options.file, ...placeFrom(this.text, start, line, offset) }, 'warning'));
  }

  /** The first of the rows that breaks RFC 4180, and how. */
  #firstFault({ starts, ends }: Rows): { readonly index: number; readonly fault: CellFault } {
    for (const [index, start] of starts.entries()) {
      const read = readCells(this.text, start, ends[index] ?? start, this.layout.delimiter);
      if (!('cells' in read)) return { index, fault: read };
    }
    return { index: 0, fault: { offset: starts[0] ?? 0, message: 'the rows from here on cannot be read as CSV' } };
  }

  /** Reports the fault that ends the reading, in the row that begins at `start`: the first one that the row has. */
  #refuse(start: number, line: number, found: CellFault): void {
    const { file } = this.options;
    const read = readCells(this.text, start, Math.min(this.text.length, start + LONGEST_ROW), this.layout.delimiter);
    const fault = 'cells' in read ? found : read;
    const code = fault.message === TOO_LONG ? 'too-large' : 'malformed-csv';
    this.report(problem(code, fault.message, { file, ...placeFrom(this.text, start, line, fault.offset) }));
  }
}
