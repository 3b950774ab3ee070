/** One row a shot → events: a cut to black where nothing follows, and a stop where the last one ends. */
import type { LogEvent } from '../cutlist/event.js';
import { BLACK } from '../cutlist/model.js';
import { problem, type Report } from '../problems.js';
import type { Draft, ShotEnds } from './events.js';

interface OpenShot {
  readonly event: LogEvent;
  readonly end: number;
}

/**
 * Turns shots into switches. `ends` has, by index, the frame on which each shot ends (exclusive); other events (markers,
 * sound, start, stop) have none and stay. What comes back is in order of time. Reports shots that overlap (the later
 * one counts) and those of no length (dropped).
 */
export function shotsToEvents(events: readonly Draft[], ends: ShotEnds, file: string, report: Report): LogEvent[] {
  const order = events.map((event, index) => ({ event, end: ends[index] })).sort((a, b) => a.event.at - b.event.at);
  const last = order.findLastIndex(({ event, end }) => end !== undefined && end > event.at);
  const stopIsThere = order.some(({ event }, index) => index > last && event.action === 'stop');
  const out: LogEvent[] = [];
  let open: OpenShot | undefined;
  order.forEach(({ event, end }, index) => {
    if (end === event.at) {
      report(problem('stray-row', 'this shot has no length; it is left out', { file, line: event.line, column: event.column }));
      return;
    }
    if (open !== undefined && open.end < event.at) {
      // Nothing begins between the shot's end and here, or it would have come before.
      out.push(index > last && !stopIsThere ? stopAfter(open) : blackAfter(open));
      open = undefined;
    }
    if (end !== undefined || event.action === 'stop') {
      if (open !== undefined && end !== undefined && open.end > event.at) reportOverlap(open, event, file, report);
      open = end === undefined ? undefined : { event, end };
    }
    out.push(event);
  });
  if (open !== undefined) out.push(stopAfter(open));
  return out;
}

function reportOverlap({ event, end }: OpenShot, next: LogEvent, file: string, report: Report): void {
  const count = end - next.at;
  const frames = count === 1 ? '1 frame' : `${String(count)} frames`;
  report(problem('overlap', `this shot ends ${frames} after the next one begins; the next one counts`, { file, line: event.line, column: event.column }, 'warning'));
}

const blackAfter = ({ event: { number, line, column }, end }: OpenShot): LogEvent => ({ number, action: 'cut', at: end, source: BLACK, line, column });

const stopAfter = ({ event: { number, line, column }, end }: OpenShot): LogEvent => ({ number, action: 'stop', at: end, line, column });
