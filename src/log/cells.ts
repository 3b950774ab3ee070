/**
 * Where the rows and cells of a CSV text are (RFC 4180), as offsets: csv-parse says what a cell holds, this file says
 * where it stands. It also reads single rows, to find the header before anything else is known.
 */

/** A row of a log is a line; whatever is longer than this is not a log, or a quote in it is never closed. */
export const LONGEST_ROW = 1_000_000;

const QUOTE = 34;
const LF = 10;
const CR = 13;
const SPACE = 32;
const TAB = 9;

/** What RFC 4180 forbids, and the offset where. */
export interface CellFault {
  readonly message: string;
  readonly offset: number;
}

/** One cell: its text is text[from, to), without the quotes around it; `next` is where the walk goes on. */
interface CellSpan {
  from: number;
  to: number;
  quoted: boolean;
  /** Offset behind the delimiter or the line break. */
  next: number;
  /** True for the last cell of a row. */
  last: boolean;
}

/**
 * Walks over one cell that begins at `at`, and writes what it found into `span`. White space around a quoted cell is
 * allowed, as people write it; RFC 4180 section 2 rules 4 to 7 hold for the rest.
 */
function walkCell(text: string, at: number, end: number, delimiter: number, span: CellSpan): CellFault | undefined {
  let i = at;
  while (i < end && isBlank(text.charCodeAt(i), delimiter)) i += 1;
  if (text.charCodeAt(i) === QUOTE && i < end) return walkQuoted(text, i, end, delimiter, span);
  i = at;
  for (; i < end; i += 1) {
    const code = text.charCodeAt(i);
    if (code === delimiter || code === LF || code === CR) break;
    if (code === QUOTE) {
      return { offset: i, message: 'a quote stands inside a cell that is not quoted; put the whole cell in quotes, and double the quotes in it' };
    }
  }
  span.from = at;
  span.to = i;
  span.quoted = false;
  finish(text, i, end, delimiter, span);
  return undefined;
}

function walkQuoted(text: string, open: number, end: number, delimiter: number, span: CellSpan): CellFault | undefined {
  let close = text.indexOf('"', open + 1);
  while (close !== -1 && close + 1 < end && text.charCodeAt(close + 1) === QUOTE) close = text.indexOf('"', close + 2);
  if (close === -1 || close >= end) return { offset: open, message: 'a quote is opened here and never closed' };
  let i = close + 1;
  while (i < end && isBlank(text.charCodeAt(i), delimiter)) i += 1;
  const code = text.charCodeAt(i);
  if (i < end && code !== delimiter && code !== LF && code !== CR) {
    return { offset: i, message: `'${String.fromCodePoint(text.codePointAt(i) ?? code)}' follows a closing quote; a quote inside a quoted cell is doubled` };
  }
  span.from = open + 1;
  span.to = close;
  span.quoted = true;
  finish(text, i, end, delimiter, span);
  return undefined;
}

/** Sets where the walk goes on after a cell that is over at `i`. */
function finish(text: string, i: number, end: number, delimiter: number, span: CellSpan): void {
  span.last = i >= end || text.charCodeAt(i) !== delimiter;
  span.next = !span.last ? i + 1 : Math.min(behindBreak(text, i), end);
}

const isBlank = (code: number, delimiter: number): boolean => (code === SPACE || code === TAB) && code !== delimiter;

/** Offset behind the line break at `i`: CRLF, LF or CR. */
function behindBreak(text: string, i: number): number {
  return text.charCodeAt(i) === CR && text.charCodeAt(i + 1) === LF ? i + 2 : i + 1;
}

const newSpan = (): CellSpan => ({ from: 0, to: 0, quoted: false, next: 0, last: false });

/** A row's cells, trimmed, and `next`, the offset of the row after it. */
export interface Cells {
  readonly cells: readonly string[];
  readonly next: number;
}

/** Reads the row that begins at `from`, up to `end` at most. The delimiter is one character. */
export function readCells(text: string, from: number, end: number, delimiter: string): Cells | CellFault {
  const cells: string[] = [];
  const span = newSpan();
  const code = delimiter.charCodeAt(0);
  for (let at = from; ; at = span.next) {
    const found = walkCell(text, at, end, code, span);
    if (found !== undefined) return found;
    const cell = text.slice(span.from, span.to);
    cells.push((span.quoted ? cell.replaceAll('""', '"') : cell).trim());
    if (span.last) return { cells, next: span.next };
  }
}

/**
 * Offset of the first visible character of cell `index` (from 0) in the row text[from, end); undefined when the row has
 * no such cell, or an empty one.
 */
export function cellOffset(text: string, from: number, end: number, delimiter: string, index: number): number | undefined {
  const code = delimiter.charCodeAt(0);
  const first = text.charCodeAt(from);
  // The usual first cell, in ASCII: nothing to walk over. White space and a quote lie below, as ends of rows do.
  if (index === 0 && from < end && first > QUOTE && first < 127 && first !== code) return from;
  const span = newSpan();
  let at = from;
  for (let cell = 0; ; cell += 1, at = span.next) {
    if (walkCell(text, at, end, code, span) !== undefined) return undefined;
    if (cell === index) break;
    if (span.last) return undefined;
  }
  const visible = text.slice(span.from, span.to).search(/\S/);
  return visible === -1 ? undefined : span.from + visible;
}

/** Number of line breaks (LF, CRLF, CR) in text[from, to), and the offset behind the last one (`from` without any). */
export function breaksIn(text: string, from: number, to: number): { readonly count: number; readonly behind: number } {
  let count = 0;
  let behind = from;
  for (let i = from; i < to; i += 1) {
    const code = text.charCodeAt(i);
    if (code !== LF && code !== CR) continue;
    i = behindBreak(text, i) - 1;
    count += 1;
    behind = i + 1;
  }
  return { count, behind };
}

/** Line and column, from 1, of `offset`, where `from` begins line `line`. Columns count UTF-16 units, as editors do. */
export function placeFrom(text: string, from: number, line: number, offset: number): { readonly line: number; readonly column: number } {
  if (offset === from) return { line, column: 1 };
  const { count, behind } = breaksIn(text, from, offset);
  return { line: line + count, column: offset - behind + 1 };
}

/** Cuts a text into rows, in one pass: a line break inside quotes belongs to the row. */
export class RowCutter {
  /** Offset and line of the row that `next` gave last. */
  start = 0;
  line = 0;
  /** True when that row is a line break alone. */
  empty = false;
  /** Offset behind that row's line break: the start of the next one. */
  end: number;
  #nextLine: number;
  #quote: number;
  #lf: number;
  #cr: number;

  constructor(
    private readonly text: string,
    from: number,
    line: number,
  ) {
    this.end = from;
    this.#nextLine = line;
    this.#quote = find(text, '"', from);
    this.#lf = find(text, '\n', from);
    this.#cr = find(text, '\r', from);
  }

  /** Goes on to the next row: false at the end of the text, a fault where a quote is not closed or the row is too long. */
  next(): boolean | CellFault {
    const { text } = this;
    this.start = this.end;
    this.line = this.#nextLine;
    if (this.start >= text.length) return false;
    let at = this.start;
    let quoted = false;
    for (;;) {
      if (this.#lf < at) this.#lf = find(text, '\n', at);
      if (this.#cr < at) this.#cr = find(text, '\r', at);
      if (this.#quote < at) this.#quote = find(text, '"', at);
      const stop = Math.min(this.#lf, this.#cr);
      if (this.#quote >= stop) {
        this.end = stop >= text.length ? text.length : behindBreak(text, stop);
        break;
      }
      const close = text.indexOf('"', this.#quote + 1);
      if (close === -1) return this.#quote - this.start > LONGEST_ROW ? { offset: this.start, message: TOO_LONG } : { offset: this.#quote, message: 'a quote is opened here and never closed' };
      quoted = true;
      at = close + 1;
    }
    this.empty = !quoted && Math.min(this.#lf, this.#cr) === this.start;
    if (this.end - this.start > LONGEST_ROW) return { offset: this.start, message: TOO_LONG };
    this.#nextLine += quoted ? breaksIn(text, this.start, this.end).count : 1;
    return true;
  }
}

/** What is said of a row that is too long; told from other faults by identity. */
export const TOO_LONG = 'this row has more than 1,000,000 characters; a log has one short row an action';

/** As indexOf, but the length of the text where nothing is found, so that offsets can be compared. */
function find(text: string, what: string, from: number): number {
  const at = text.indexOf(what, from);
  return at === -1 ? text.length : at;
}
