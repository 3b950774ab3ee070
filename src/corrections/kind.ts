/** Telling a corrections file from a log: both are tables, and may lie side by side. */
import { ACTIONS } from '../cutlist/event.js';
import { problem, type Report } from '../problems.js';
import { OPERATIONS } from './model.js';

/** So many characters (or bytes) from the start of a file tell what it is. */
export const KIND_HEAD = 4096;

/**
 * True of the text of a CSV corrections file, or its first `KIND_HEAD` characters: it has a column `do`, and a column `expect` beside it or
 * in its first row an operation that is no action of a log. Corrections in JSON are not asked about here.
 */
export function isCorrectionsTable(text: string): boolean {
  const [header = '', first = ''] = text.slice(0, KIND_HEAD).split(/\r\n|\r|\n/).filter((line) => line.trim() !== '');
  // Every log is asked: most say no by this.
  if (!/\bdo\b/i.test(header)) return false;
  const columns = cellsOf(header);
  const at = columns.indexOf('do');
  const word = cellsOf(first)[at] ?? '';
  return at >= 0 && (columns.includes('expect') || (Object.hasOwn(OPERATIONS, word) && !ACTIONS.some((action) => action === word)));
}

const cellsOf = (line: string): string[] => line.split(/[,;\t|]/).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1').trim().toLowerCase());

/** Reports a corrections file that was given as a log: read as one, its `at` and `source` would make a list of the corrections themselves. */
export function correctionsAsLog(file: string, report: Report): undefined {
  report(problem('no-events', 'is a corrections file, not a log; give it with --corrections, beside the log whose list it corrects', { file }));
  return undefined;
}
