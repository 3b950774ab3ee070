/** What is said of the lists that a log's takes became. */
import type { CutList } from './cutlist/model.js';
import type { Report } from './problems.js';

/** Names the take in what is said of one of `lists`, where there are several: the same may be said of each, and all begin on one label. */
export function ofTake(list: CutList, lists: readonly CutList[], report: Report): Report {
  if (lists.length < 2) return report;
  const number = list.takes[0]?.number ?? lists.indexOf(list) + 1;
  return (found) => { report({ ...found, message: `take ${String(number)}: ${found.message}` }); };
}
