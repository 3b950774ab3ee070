/** Takes (contract, rules 6 and 8): where recordings start and stop in a log. */
import { problem, type Place, type Report } from '../problems.js';
import { isSwitch, type LogEvent } from './event.js';

/** What becomes of several takes: one list without a hole, one in which they keep their distance, or a list each. */
export type TakesAs = (typeof TAKES_AS)[number];

export const TAKES_AS = ['joined', 'gaps', 'separate'] as const;

/** A stretch of a log: events[first, last) of one counter, inside a take or (`take` undefined) outside all of them. */
export interface LogStretch {
  readonly events: readonly LogEvent[];
  readonly first: number;
  readonly last: number;
  /** Index of the counter, from 0. */
  readonly counter: number;
  readonly take?: LogTake;
}

export interface LogTake {
  /** From 1, through all counters. */
  readonly number: number;
  /** Log frames [from, to); `to` is undefined when nothing says where the take stops. */
  readonly from: number;
  readonly to: number | undefined;
  /** Log frame on which the recording of this take, and of the first take on this counter, starts: the `start` row, else 0. */
  readonly recordingIn: number;
  readonly counterIn: number;
  /** The row that opened it: `start`, or the first switch. */
  readonly opened: LogEvent;
}

/**
 * Divides a log into takes and what lies between them, in order.
 *
 * A take goes from `start` to `stop`. A second `start` ends the take before it (`missing-stop`), unless a `stop` lies on the
 * same frame. A `stop` that no `start` precedes closes a take that began at the first switch before it (`missing-start`), also
 * where the next take starts on its frame; with no switch before it, it changes nothing (`stray-row`). A log without any `start` is one take from its first switch on.
 * A take without frames is none (`stray-row`).
 */
export function stretchesOf(counters: readonly (readonly LogEvent[])[], file: string, report: Report): LogStretch[] {
  const hasStart = counters.some((events) => events.some(({ action }) => action === 'start'));
  const finder = new TakeFinder(file, report, hasStart);
  counters.forEach((events, counter) => {
    finder.read(events, counter);
  });
  return finder.stretches;
}

class TakeFinder {
  readonly stretches: LogStretch[] = [];
  #takes = 0;
  #counterIn: number | undefined;
  #events: readonly LogEvent[] = [];
  #counter = 0;
  /** The open take: the row that opened it, and the index of its first event. */
  #open: { readonly event: LogEvent; readonly first: number } | undefined;
  /** Index of the first event that no stretch has yet, and of the first switch from there on, while no take is open. */
  #outside = 0;
  #switch: number | undefined;
  /** A take that a `start` ended: a `stop` on the same frame is its own. */
  #unstopped: { readonly opened: LogEvent; readonly by: LogEvent } | undefined;

  constructor(
    readonly file: string,
    readonly report: Report,
    readonly hasStart: boolean,
  ) {}

  read(events: readonly LogEvent[], counter: number): void {
    this.#events = events;
    this.#counter = counter;
    this.#counterIn = undefined;
    this.#outside = 0;
    this.#switch = undefined;
    events.forEach((event, index) => {
      if (this.#unstopped !== undefined && event.at > this.#unstopped.by.at) this.#reportUnstopped();
      if (event.action === 'start') this.#start(event, index);
      else if (event.action === 'stop') this.#stop(event, index);
      else if (this.#open === undefined && this.#switch === undefined && isSwitch(event)) this.#switch = index;
    });
    if (this.#unstopped !== undefined) this.#reportUnstopped();
    if (this.#open !== undefined) this.#close(undefined, events.length);
    else if (!this.hasStart && this.#switch !== undefined && this.#counterIn === undefined) this.#implicit(undefined, events.length);
    else this.#pushOutside(events.length);
  }

  #start(event: LogEvent, index: number): void {
    if (this.#open === undefined) {
      const stop = this.#stopBefore(event, index);
      if (stop === undefined) this.#pushOutside(index);
      else {
        this.#unstopped = { opened: this.#events[this.#switch as number] as LogEvent, by: event };
        this.#stopImplicit(stop, index);
      }
    } else if (event.at === this.#open.event.at) {
      this.#say('stray-row', `a take started on this frame already, in line ${String(this.#open.event.line)}; this row changes nothing`, event);
      return;
    } else {
      this.#unstopped = { opened: this.#open.event, by: event };
      this.#close(event.at, index);
    }
    this.#open = { event, first: index + 1 };
  }

  #stop(event: LogEvent, index: number): void {
    if (this.#unstopped !== undefined) {
      // Sorted by frame: the stop of the take before lies on the frame of the next one's start.
      this.#unstopped = undefined;
      return;
    }
    if (this.#open !== undefined) {
      if (this.#open.event.at < event.at) this.#close(event.at, index);
      else if (event.number < this.#open.event.number) {
        this.#say('stray-row', 'nothing was started before this stop; it changes nothing', event);
        return;
      } else {
        this.#say('stray-row', `this take stops on the frame on which it started; it is no take`, event);
        this.#outside = this.#open.first;
        this.#open = undefined;
        return;
      }
    } else if (this.#hasImplicit(event)) {
      this.#stopImplicit(event, index);
    } else {
      this.#say('stray-row', 'nothing was started before this stop; it changes nothing', event);
      this.#pushOutside(index);
    }
    this.#outside = Math.max(this.#outside, index + 1);
    this.#switch = undefined;
  }

  /** True when a take without a `start` can have begun before this row. */
  #hasImplicit(event: LogEvent): boolean {
    return this.#switch !== undefined && (this.#events[this.#switch] as LogEvent).at < event.at;
  }

  /**
   * The `stop`, on the frame of this `start`, of a take without a `start` before it. Sorted by frame it comes behind the `start`. It may
   * also be the new take's own, which then has no frames: that it is where it was written behind the `start` and no later stop is
   * there for that take, up to the frame of the next `start`.
   */
  #stopBefore(start: LogEvent, index: number): LogEvent | undefined {
    if (!this.#hasImplicit(start)) return undefined;
    let stop: LogEvent | undefined;
    let until = Infinity;
    for (let next = index + 1; next < this.#events.length; next += 1) {
      const event = this.#events[next] as LogEvent;
      if ((stop === undefined && event.at > start.at) || event.at > until) return undefined;
      if (event.action === 'stop') {
        if (event.number < start.number && event.at === start.at) return event;
        if (stop !== undefined) return stop;
        stop = event;
      } else if (event.action === 'start' && event.at > start.at) until = event.at;
    }
    return undefined;
  }

  /** A `stop` closes a take without a `start`. */
  #stopImplicit(stop: LogEvent, last: number): void {
    if (this.hasStart || this.#takes > 0) {
      const { line } = this.#events[this.#switch as number] as LogEvent;
      this.#say('missing-start', `a take stops here that has no start; it begins at its first switch, in line ${String(line)}`, stop);
    }
    this.#implicit(stop.at, last);
  }

  /** A take without a `start`: from the first switch, with everything else on that frame. */
  #implicit(to: number | undefined, last: number): void {
    const index = this.#switch as number;
    const event = this.#events[index] as LogEvent;
    let first = index;
    while (first > this.#outside && this.#events[first - 1]?.at === event.at) first -= 1;
    if (!this.hasStart && this.#takes === 0) this.#say('found', 'the log has no start row: the list begins at its first switch', event);
    this.#pushOutside(first);
    this.#open = { event, first };
    this.#close(to, last);
  }

  #close(to: number | undefined, last: number): void {
    if (this.#open === undefined) return;
    const { event, first } = this.#open;
    const recordingIn = event.action === 'start' ? event.at : 0;
    this.#counterIn ??= recordingIn;
    this.#takes += 1;
    this.stretches.push({
      events: this.#events,
      first,
      last,
      counter: this.#counter,
      take: { number: this.#takes, from: event.at, to, recordingIn, counterIn: this.#counterIn, opened: event },
    });
    this.#open = undefined;
    this.#outside = last;
  }

  #pushOutside(last: number): void {
    if (last > this.#outside) this.stretches.push({ events: this.#events, first: this.#outside, last, counter: this.#counter });
    this.#outside = last;
    this.#switch = undefined;
  }

  #reportUnstopped(): void {
    if (this.#unstopped === undefined) return;
    const { opened, by } = this.#unstopped;
    this.#say('missing-stop', `a take starts here, and the one that started in line ${String(opened.line)} has not stopped; it ends here`, by);
    this.#unstopped = undefined;
  }

  #say(code: 'stray-row' | 'missing-start' | 'missing-stop' | 'found', message: string, { line, column }: LogEvent): void {
    const place: Place = { file: this.file, line, column };
    this.report(problem(code, message, place));
  }
}
