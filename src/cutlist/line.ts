/**
 * Somebody's text on one line: line breaks, tabs and other control characters, and what no XML can hold, become blanks.
 * A log's notes and names are taken so, since CSV keeps a line break in a cell and XML does not: both must give the same list.
 */
export function oneLine(text: string): string {
  return !PRINTABLE.test(text) && NOT_PLAIN.test(text) ? text.replaceAll(RUNS, ' ').trim() : text;
}

const PRINTABLE = /^[\x20-\x7e]*$/;

/** Controls (Unicode's Cc), lone surrogates (Cs), what ends lines, and no characters. Ranges: classes by name are slow to compile. */
const NOT_PLAIN = /[\x00-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029\ufffe\uffff]/u;
const RUNS = /\s*[\x00-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029\ufffe\uffff]+\s*/gu;
