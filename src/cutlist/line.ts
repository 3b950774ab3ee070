/**
 * Somebody's text on one line: line breaks, tabs and other control characters, and what no XML can hold, become blanks.
 * A log's notes and names are taken so, since CSV keeps a line break in a cell and XML does not: both must give the same list.
 */
export function oneLine(text: string): string {
  return NOT_PLAIN.test(text) ? text.replaceAll(RUNS, ' ').trim() : text;
}

const NOT_PLAIN = /[\p{Cc}\p{Cs}\u2028\u2029\ufffe\uffff]/u;
const RUNS = /\s*[\p{Cc}\p{Cs}\u2028\u2029\ufffe\uffff]+\s*/gu;
