/** Which character separates the cells of a CSV log, where no header row says so. */
import { readCells } from './cells.js';

/** The four that logs use. Where two fit equally, the first counts: a comma is the likeliest to stand inside a number. */
export const DELIMITERS: readonly string[] = ['\t', ';', '|', ','];

/** The same in words, for messages. */
export const DELIMITER_NAMES: Readonly<Record<string, string>> = { ',': 'commas', ';': 'semicolons', '\t': 'tabs', '|': 'vertical bars' };

/** Timecode labels hold semicolons and commas that separate nothing: `10:00:00;00`, `10;00;00;00`, `10:00:00,00`. */
const LABELS = /\b\d\d([:;,])\d\d\1\d\d[:;,.]\d\d\b/g;

const ROWS = 50;

/**
 * The delimiter that cuts most of the first rows of `sample` into the same number of cells, at least two; of several the
 * one that makes more cells. Undefined when none does.
 */
export function guessDelimiter(sample: string): string | undefined {
  const text = sample.replace(LABELS, '00:00:00:00');
  let best: { readonly delimiter: string; readonly rows: number; readonly cells: number } | undefined;
  for (const delimiter of DELIMITERS) {
    const { rows, cells } = commonWidth(text, delimiter);
    if (cells > 1 && (best === undefined || rows > best.rows || (rows === best.rows && cells > best.cells))) best = { delimiter, rows, cells };
  }
  return best?.delimiter;
}

/** The commonest number of cells in a row, and how many of the first rows have it. */
function commonWidth(text: string, delimiter: string): { readonly rows: number; readonly cells: number } {
  const widths = new Map<number, number>();
  let at = 0;
  for (let row = 0; row < ROWS && at < text.length; row += 1) {
    const read = readCells(text, at, text.length, delimiter);
    if (!('cells' in read)) break;
    if (read.cells.some((cell) => cell !== '')) widths.set(read.cells.length, (widths.get(read.cells.length) ?? 0) + 1);
    at = read.next;
  }
  let common = { rows: 0, cells: 1 };
  for (const [cells, rows] of widths) if (rows > common.rows || (rows === common.rows && cells > common.cells)) common = { rows, cells };
  return common;
}
