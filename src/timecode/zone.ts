/** Clock times on one line of time: zones, summer time, and which day a bare time of day belongs to. */
import { fault, isFault, type Fault } from '../problems.js';
import { DAY_NS, type ClockText } from './clock.js';
import { nearestRepeat } from './day.js';
import { elapsedText } from './elapsed.js';
import { luxon } from './luxon.js';

const DAY_MS = 86_400_000;

/** A time zone. `offsetAt`: nanoseconds east of UTC at `ms` milliseconds since 1970-01-01 UTC. */
export interface Zone {
  readonly name: string;
  readonly offsetAt: (ms: number) => number;
}

/** The zone of an IANA name (`Europe/Lisbon`) or `UTC`. Faults: `bad-map`. */
export function zoneOf(name: string): Zone | Fault {
  const { IANAZone } = luxon();
  if (!IANAZone.isValidZone(name)) return fault('bad-map', `'${name}' is not a time zone; expected a name such as Europe/Lisbon or UTC`);
  const zone = IANAZone.create(name);
  // Asking the platform is slow, and a show asks for the same quarter of an hour again and again. Where both its ends
  // agree, so does all between: no zone changes twice in 15 minutes.
  const known = new Map<number, number>();
  const ask = (ms: number): number => zone.offset(ms) * 60_000_000_000;
  const quarterOffset = (quarter: number): number => {
    const start = ask(quarter * 900_000);
    return start === ask(quarter * 900_000 + 899_999) ? start : NaN;
  };
  return {
    name,
    offsetAt: (ms) => {
      const quarter = Math.floor(ms / 900_000);
      let offset = known.get(quarter);
      if (offset === undefined) known.set(quarter, (offset = quarterOffset(quarter)));
      return Number.isNaN(offset) ? ask(ms) : offset;
    },
  };
}

/** What a local time can be: nothing (the clocks skip it), one moment, or two (the hour comes twice), earlier first. */
interface Moments {
  /** Offsets of the moments, nanoseconds east. */
  readonly offsets: readonly number[];
  /** Offsets before and after, for messages. */
  readonly around: readonly [number, number];
}

function momentsOf(day: number, ns: number, zone: Zone): Moments {
  const wall = day * DAY_MS + Math.floor(ns / 1e6);
  const before = zone.offsetAt(wall - DAY_MS);
  const after = zone.offsetAt(wall + DAY_MS);
  const fits = (offset: number): boolean => zone.offsetAt(wall - offset / 1e6) === offset;
  if (before === after) return { offsets: fits(before) ? [before] : [], around: [before, after] };
  // The larger offset is the earlier moment.
  const offsets = [Math.max(before, after), Math.min(before, after)].filter(fits);
  return { offsets, around: [before, after] };
}

/**
 * Which pass of an hour that comes twice is meant: the first, unless that lies before `from`, or the second does not lie after
 * `upTo`. Places on the line of time.
 */
export interface Pass {
  readonly from?: number;
  readonly upTo?: number;
}

/**
 * Lines up the clock times of a log, in its order, as whole nanoseconds since the first one's midnight (UTC). They are
 * moments: summer time moves nothing. A time without offset is in `zone`, else UTC. A local time in the hour that comes
 * twice which steps back is the second pass; one that the clocks skip is a fault. A bare time of day belongs to the
 * day that brings it nearest the row before.
 */
export class ClockLine {
  readonly #zone: Zone | undefined;
  #baseDay: number | undefined;
  #dated = false;
  #last: number | undefined;
  /** How many rows lie in an hour that comes twice, read as its first and as its second pass. */
  readonly passes = { first: 0, second: 0 };
  #pass: 'first' | 'second' | undefined;

  constructor(zone?: Zone) {
    this.#zone = zone;
  }

  /** True once a time without a date was read first: then every one is, and zones mean nothing. */
  get dateless(): boolean {
    return this.#baseDay !== undefined && !this.#dated;
  }

  /** The next row's time. Faults: `bad-time`, `mixed-times`. */
  next(text: ClockText): number | Fault {
    if (this.#baseDay === undefined) {
      this.#baseDay = text.day ?? 0;
      this.#dated = text.day !== undefined;
    }
    const at = this.#place(text, this.#last, this.#last);
    if (isFault(at)) return at;
    if (this.#pass !== undefined) this.passes[this.#pass] += 1;
    this.#last = at;
    return at;
  }

  /** The time of a row that is not used: the next one is beside it all the same. Before the first one that is, it says nothing. */
  passOver(text: ClockText): void {
    if (this.#baseDay === undefined) return;
    const at = this.#place(text, this.#last, this.#last);
    if (!isFault(at)) this.#last = at;
  }

  /** A time that belongs to the row, or the log, at `beside`: its `end`, or an anchor. Without `pass`, it does not lie before that. */
  near(text: ClockText, beside: number, pass: Pass = { from: beside }): number | Fault {
    // A date says nothing where no row has one.
    return this.#place(this.dateless && text.day !== undefined ? withoutDay(text) : text, beside, pass.from, pass.upTo);
  }

  /** `passFrom` and `passUpTo` are those of `Pass`. */
  #place(text: ClockText, beside: number | undefined, passFrom: number | undefined, passUpTo?: number): number | Fault {
    const { day, ns, offset } = text;
    this.#pass = undefined;
    const base = this.#baseDay ?? 0;
    if (day !== undefined && !this.#dated) return fault('mixed-times', 'this time has a date, and those before have none; give every row a date, or none');
    if (this.dateless) {
      const at = ns - (offset ?? 0);
      return beside === undefined ? at : nearestRepeat(at, DAY_NS, beside);
    }
    if (day !== undefined) return this.#onDay(day - base, ns, offset, passFrom, passUpTo);
    const from = beside ?? 0;
    const east = offset ?? this.#offsetAt(from);
    const today = Math.floor((from + east) / DAY_NS);
    let best: number | Fault = fault('bad-time', 'this time of day does not exist on that day');
    let least = Infinity;
    for (const candidate of [today - 1, today, today + 1]) {
      const at = this.#onDay(candidate, ns, offset, passFrom, passUpTo);
      // A day on which the clocks skip this time is as near as any: what is nearest is meant, and it does not exist.
      const distance = Math.abs((isFault(at) ? candidate * DAY_NS + ns - east : at) - from);
      if (distance <= least) [best, least] = [at, distance];
    }
    return best;
  }

  #offsetAt(at: number): number {
    return this.#zone?.offsetAt(Math.floor(at / 1e6) + (this.#baseDay ?? 0) * DAY_MS) ?? 0;
  }

  /** The moment of a local time `days` after the first row's day. */
  #onDay(days: number, ns: number, offset: number | undefined, passFrom: number | undefined, passUpTo: number | undefined): number | Fault {
    const local = days * DAY_NS + ns;
    if (!Number.isSafeInteger(local)) return fault('bad-time', 'this time lies more than 100 days from the first one');
    if (offset !== undefined || this.#zone === undefined) return local - (offset ?? 0);
    const { offsets, around } = momentsOf(days + (this.#baseDay ?? 0), ns, this.#zone);
    const [first, second] = offsets;
    if (first === undefined) return this.#skipped(ns, around, this.#zone);
    const early = local - first;
    if (second === undefined) return early;
    const late = local - second;
    this.#pass = (passFrom !== undefined && early < passFrom) || (passUpTo !== undefined && late <= passUpTo) ? 'second' : 'first';
    return this.#pass === 'first' ? early : late;
  }

  #skipped(ns: number, [before, after]: readonly [number, number], zone: Zone): Fault {
    const jump = Math.round((after - before) / 60e9);
    return fault('bad-time', `${elapsedText(Math.floor(ns / 1e9), 1, 2)} does not exist on that day in ${zone.name}: the clocks go forward by ${String(jump)} minutes over it`);
  }
}

const withoutDay = ({ ns, offset }: ClockText): ClockText => (offset === undefined ? { ns } : { ns, offset });
