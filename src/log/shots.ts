/** One row a shot → events: a cut to black where nothing follows, and a stop where the last one ends. */
import type { LogEvent } from '../cutlist/event.js';
import { BLACK } from '../cutlist/model.js';
import { inOrder, type OrderOptions } from '../cutlist/order.js';
import { framesText } from '../frames-text.js';
import { problem, type Report } from '../problems.js';
import type { Draft, ShotEnds } from './events.js';

interface OpenShot {
  readonly event: LogEvent;
  readonly end: number;
  /** How many rows of `start` and `stop` came before it. */
  readonly bounds: number;
}

/**
 * Turns shots into switches. `ends` has, by index, the frame on which each shot ends (exclusive); other events (markers,
 * sound, start, stop) have none and stay. What comes back is in order of time, counter by counter where counters start again
 * (contract, rule 8). Reports shots that overlap (the later one counts; the earlier one comes back where it goes on behind it), those
 * of no length (dropped) and rows out of order.
 */
export function shotsToEvents(events: readonly Draft[], ends: ShotEnds, options: OrderOptions, report: Report): LogEvent[] {
  const endOf = new Map<LogEvent, number>();
  events.forEach((event, index) => {
    const end = ends[index];
    if (end !== undefined) endOf.set(event, end);
  });
  const writer = new ShotWriter(endOf, options.file, report);
  for (const counter of inOrder(events, options, report)) writer.counter(counter);
  return writer.out;
}

class ShotWriter {
  readonly out: LogEvent[] = [];
  /** The shot that runs, until the end that its row says. */
  #open: OpenShot | undefined;
  /** Shots that it lies in: they go on behind it. */
  #under: OpenShot[] = [];
  /** Program shows a shot, and not black. */
  #isShowing = false;
  /** The `start` of the take that runs, and how many starts and stops there were. */
  #start: LogEvent | undefined;
  #bounds = 0;
  /** A `start` on which no shot runs: black, unless one begins there. */
  #emptyStart: LogEvent | undefined;

  constructor(
    readonly endOf: ReadonlyMap<LogEvent, number>,
    readonly file: string,
    readonly report: Report,
  ) {}

  /** The events of one counter, in order. */
  counter(order: readonly LogEvent[]): void {
    const first = this.out.length;
    const last = order.findLastIndex((event) => (this.endOf.get(event) ?? -Infinity) > event.at);
    const stopIsThere = order.some(({ action }, index) => index > last && action === 'stop');
    const stops = stopsAhead(order);
    order.forEach((event, index) => {
      const end = this.endOf.get(event);
      if (end === event.at) {
        this.report(problem('stray-row', 'this shot has no length; it is left out', { file: this.file, line: event.line, column: event.column }));
        return;
      }
      if (this.#emptyStart !== undefined && this.#emptyStart.at < event.at) this.#black(this.#emptyStart, this.#emptyStart.at);
      this.#close(event, index > last && !stopIsThere, stops[index] === 1);
      if (end === undefined) this.#other(event);
      else this.#shot(event, end);
      this.out.push(event);
    });
    if (this.#emptyStart !== undefined) this.#black(this.#emptyStart, this.#emptyStart.at);
    if (!stopIsThere) {
      while (this.#open !== undefined && this.#comesBack(this.#open));
      if (this.#open !== undefined) this.#stop(this.#open);
    }
    this.#open = undefined;
    this.#under = [];
    this.#start = undefined;
    this.#bounds += 1;
    if (first > 0) startFirst(this.out, first);
  }

  /** Ends the shot that runs where it ends before `event`: nothing begins between, or it would have come before. */
  #close(event: LogEvent, isLast: boolean, stopComes: boolean): void {
    const open = this.#open;
    if (open === undefined || open.end > event.at || (open.end === event.at && event.action !== 'start')) return;
    if (this.#comesBack(open)) {
      this.#close(event, isLast, stopComes);
      return;
    }
    this.#open = undefined;
    if (isLast) this.#stop(open);
    // Outside takes nothing is seen; a take without a start has its own shots in it, up to its stop.
    else if (open.end < event.at && (this.#start !== undefined || (stopComes && open.bounds === this.#bounds))) this.#black(open.event, open.end);
  }

  /** Switches back, where a shot ends, to the one that it lies in, the latest of several. False where it lies in none. */
  #comesBack({ end: at }: OpenShot): boolean {
    const back = this.#under.pop();
    if (back === undefined) return false;
    if (back.end <= at) return this.#comesBack({ ...back, end: at });
    const { number, source, line, column } = back.event;
    this.out.push({ number, action: 'cut', at, ...(source === undefined ? {} : { source }), line, column });
    this.#open = { ...back, bounds: this.#bounds };
    return true;
  }

  #shot(event: LogEvent, end: number): void {
    if (this.#open !== undefined && this.#open.end > event.at) reportOverlap(this.#open, event, end, this.file, this.report);
    if (this.#open !== undefined && this.#open.end > end) this.#under.push(this.#open);
    this.#open = { event, end, bounds: this.#bounds };
    this.#isShowing = true;
    this.#emptyStart = undefined;
  }

  #other(event: LogEvent): void {
    if (event.action === 'start') {
      this.#start = event;
      this.#bounds += 1;
      // The shot of a take before that has ended is over.
      if (this.#open === undefined && this.#isShowing) this.#emptyStart = event;
    } else if (event.action === 'stop' && this.#start?.at !== event.at) {
      // On the frame of a start it is the stop of the take before.
      this.#start = undefined;
      this.#bounds += 1;
    }
  }

  #black({ number, line, column }: LogEvent, at: number): void {
    this.out.push({ number, action: 'cut', at, source: BLACK, line, column });
    this.#isShowing = false;
    this.#emptyStart = undefined;
  }

  #stop({ event: { number, line, column }, end }: OpenShot): void {
    this.out.push({ number, action: 'stop', at: end, line, column });
    this.#start = undefined;
    this.#bounds += 1;
  }
}

/** By index: 1 where of starts and stops a stop comes next, or none: then the last shot makes one. */
function stopsAhead(order: readonly LogEvent[]): Uint8Array {
  const ahead = new Uint8Array(order.length);
  let stops = 1;
  for (let index = order.length - 1; index >= 0; index -= 1) {
    const action = order[index]?.action;
    if (action === 'stop') stops = 1;
    else if (action === 'start') stops = 0;
    ahead[index] = stops;
  }
  return ahead;
}

/** A counter begins with its `start`, by which it is known for one; rows that lie before that come behind it, and are put in order later. */
function startFirst(out: LogEvent[], first: number): void {
  let index = first;
  while (index < out.length && out[index]?.action !== 'start') index += 1;
  if (index === first) return;
  const [start] = out.splice(index, 1);
  if (start !== undefined) out.splice(first, 0, start);
}

function reportOverlap({ event, end }: OpenShot, next: LogEvent, nextEnd: number, file: string, report: Report): void {
  const then = end > nextEnd ? `, and behind it this one again for ${framesText(end - nextEnd)}` : '';
  report(problem('overlap', `this shot ends ${framesText(end - next.at)} after the next one begins; the next one counts${then}`, { file, line: event.line, column: event.column }, 'warning'));
}
