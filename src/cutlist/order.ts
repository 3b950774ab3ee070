/** The order of rows (contract, rule 1), and counters that start again (rule 8). */
import { problem, type Report } from '../problems.js';
import type { LogEvent } from './event.js';
import { framesText } from '../frames-text.js';

export interface OrderOptions {
  /** In a log counted from the recording, a `start` lower than the row before begins a new count. */
  readonly restarts: boolean;
  /** Name of the log, for messages. */
  readonly file: string;
}

/**
 * The events in order of time, a list for each counter. The order is stable; on one frame `start` comes first and `stop`
 * last. Each row that lies before an earlier one is reported (`out-of-order`). A log in order is handed back as it is.
 */
export function inOrder(events: readonly LogEvent[], options: OrderOptions, report: Report): (readonly LogEvent[])[] {
  const counters: (readonly LogEvent[])[] = [];
  let first = 0;
  for (let index = 1; index < events.length; index += 1) {
    const event = events[index] as LogEvent;
    if (!options.restarts || event.action !== 'start' || event.at >= (events[index - 1] as LogEvent).at) continue;
    counters.push(sorted(events.slice(first, index), options.file, report));
    first = index;
  }
  if (events.length > 0) counters.push(sorted(first === 0 ? events : events.slice(first), options.file, report));
  return counters;
}

function sorted(events: readonly LogEvent[], file: string, report: Report): readonly LogEvent[] {
  let inOrder = true;
  let latest: LogEvent | undefined;
  let before: LogEvent | undefined;
  for (const event of events) {
    if (latest !== undefined && event.at < latest.at) {
      report(problem(
        'out-of-order',
        `this row lies ${framesText(latest.at - event.at)} before line ${String(latest.line)}; rows are taken in order of time`,
        { file, line: event.line, column: event.column },
      ));
    }
    if (before !== undefined && compare(before, event) > 0) inOrder = false;
    if (latest === undefined || event.at > latest.at) latest = event;
    before = event;
  }
  return inOrder ? events : [...events].sort(compare);
}

const compare = (a: LogEvent, b: LogEvent): number => a.at - b.at || rank(a) - rank(b);

const rank = ({ action }: LogEvent): number => (action === 'start' ? 0 : action === 'stop' ? 2 : 1);
