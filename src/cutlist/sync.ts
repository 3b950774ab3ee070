/** Sync: which frame of a recording belongs to which frame of the log (contract, rules 5 and 12). */
import { convertFrames, type Count, type Rate } from '../timecode/rate.js';
import { scale } from '../timecode/exact.js';
import { nearestRepeat } from '../timecode/day.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { Source, Take } from './model.js';

/** A take with its number in the log, from 1. */
export type NumberedTake = Take & { readonly number: number };

/** The take at `index` of a list, with its number. */
export const numberedTake = (takes: readonly Take[], index: number): NumberedTake | undefined => {
  const take = takes[index];
  return take === undefined ? undefined : { ...take, number: take.number ?? index + 1 };
};

/**
 * The frame of `source` (since its label zero, at its own rate) that shows the moment of log frame `logFrame` (at the
 * list's rate, counted as `take.logIn` is). Exact real time, to the nearest source frame:
 * with `sync`, this + (log − is, on the day nearest the take) + offset; in a timecode log, the log's own time + offset; in a log counted from the recording,
 * start + (log − start of the first take on this counter) + offset, or, with a list of starts, the take's own start +
 * (log − start of the take) + offset. May pass 24 h: labels wrap, frames do not. Before label zero lies the day before: where nothing says
 * where the recording begins, whole days are added; else the frame stays negative, and may be one that the recording lacks.
 */
export function sourceFrame(source: Source, take: NumberedTake, logFrame: number, list: Count): number {
  const frame = plainSourceFrame(source, take, logFrame, list);
  return frame >= 0 || beginsSomewhere(source, take) ? frame : fromLabelZero(frame, source.count);
}

/** The same with whole days never added: negative before label zero. */
export function plainSourceFrame(source: Source, take: NumberedTake, logFrame: number, list: Count): number {
  const { zero, base } = syncPoint(source, take, list);
  return base + convertFrames(logFrame - zero, list.rate, source.count.rate) + source.offset;
}

/** The same label on label zero or later. */
export function fromLabelZero(frame: number, count: Count): number {
  const day = framesPerDay(count);
  return frame >= 0 ? frame : frame + day * Math.ceil(-frame / day);
}

/** The recording of a log that is counted from it begins with it. */
export const isCounted = ({ sync }: Source, take: Pick<Take, 'origin'>): boolean => take.origin === 'recording' && sync === undefined;

const beginsSomewhere = (source: Source, take: NumberedTake): boolean =>
  isCounted(source, take) || source.starts.length > 0 || source.files.some(({ start }) => start !== undefined);

/** The first frame of a recording, as a log that is counted from it has it. */
export const firstFrame = ({ starts, files }: Source): number => starts[0] ?? files[0]?.start ?? 0;

/** The first log frame whose plain source frame is `frame` or later: the other way round, for ends and bounds. */
export function logFrameOf(source: Source, take: NumberedTake, frame: number, list: Count): number {
  const { zero, base } = syncPoint(source, take, list);
  return zero + firstReaching(frame - base - source.offset, list.rate, source.count.rate);
}

/** Log frame `zero` shows source frame `base` (offset apart). */
function syncPoint(source: Source, take: NumberedTake, list: Count): { readonly zero: number; readonly base: number } {
  const { sync } = source;
  if (sync !== undefined) {
    // Where a list that was read lay in its log is not known.
    if (take.origin === undefined) return { zero: sync.is, base: sync.this };
    // A label says no day, and days of other rates are not equally long. Nearest the take's middle is nearest the take.
    const middle = take.logIn + Math.floor((take.out - take.in) / 2);
    return { zero: nearestRepeat(sync.is, framesPerDay(list), middle), base: sync.this };
  }
  if (take.origin !== 'recording') return { zero: 0, base: 0 };
  const { starts } = source;
  if (starts.length > 1) return { zero: take.recordingIn ?? 0, base: starts[take.number - 1] ?? 0 };
  return { zero: take.counterIn ?? 0, base: firstFrame(source) };
}

/** Length on the source side of `frames` (≥ 0) of the record side: equal for one nominal count, else real time, to the nearest frame. */
export const sourceLength = (frames: number, list: Count, source: Count): number =>
  list.rate.nominal === source.rate.nominal ? frames : convertFrames(frames, list.rate, source.rate);

/**
 * Whether a source is played frame for frame though it is the faster one (30 in 29.97): in real time its files end before as many record frames
 * have gone by.
 */
export const runsAhead = (source: Rate, list: Rate): boolean => source.nominal === list.nominal && source.num * list.den > list.num * source.den;

/** What a stretch of record side plays: a shot, a piece of sound. */
export interface Played {
  readonly in: number;
  readonly out: number;
  readonly sourceIn: number;
  readonly sourceOut: number;
}

/**
 * Which source frame a stretch shows on which record frame. It runs evenly through its source from `sourceIn` on, each record
 * frame on a frame before `sourceOut`; behind its end (handles) it goes on at the rates' speed, or at its own where that is
 * another (a list with a change of speed).
 */
export class Run {
  /** Record frames and source frames go one by one. */
  readonly #isEven: boolean;
  /** Files are left in real time, not where the frames that go one by one reach their ends (`runsAhead`). */
  readonly isAhead: boolean;
  /** The length on the source side is what the rates make of that on the record side. */
  readonly isSteady: boolean;

  constructor(
    readonly stretch: Played,
    readonly list: Count,
    readonly source: Count,
  ) {
    const [length, used] = [stretch.out - stretch.in, stretch.sourceOut - stretch.sourceIn];
    this.isSteady = used === sourceLength(length, list, source);
    this.#isEven = used === length && (!this.isSteady || list.rate.nominal === source.rate.nominal);
    this.isAhead = this.isSteady && runsAhead(source.rate, list.rate);
  }

  /** The source frame on a record frame ≥ `in`. */
  at(frame: number): number {
    const { in: into, out, sourceIn, sourceOut } = this.stretch;
    if (this.#isEven) return sourceIn + frame - into;
    if (frame < out) return sourceIn + scale(frame - into, sourceOut - sourceIn, out - into, 'floor');
    const more = frame - out;
    return sourceOut + (this.isSteady ? convertFrames(more, this.list.rate, this.source.rate, 'floor') : scale(more, sourceOut - sourceIn, out - into, 'floor'));
  }

  /** The same in real time where that is what files are left in. */
  moment(frame: number): number {
    return this.isAhead ? this.nearest(frame) : this.at(frame);
  }

  /** The source frame nearest to the moment of a record frame in [in, out): the one that a stretch begins on which begins there. */
  nearest(frame: number): number {
    const { in: into, sourceIn } = this.stretch;
    if (this.isAhead) return sourceIn + convertFrames(frame - into, this.list.rate, this.source.rate);
    return this.isSteady ? sourceIn + sourceLength(frame - into, this.list, this.source) : this.at(frame);
  }

  /** The same from a record frame on, which shows `sourceIn`. */
  from(frame: number, sourceIn: number): Run {
    const { out } = this.stretch;
    return new Run({ in: frame, out, sourceIn, sourceOut: sourceIn + this.lengthOf(frame, out) }, this.list, this.source);
  }

  /** The first record frame that shows `frame` or a later one, or whose `moment` that is; Infinity where none does. */
  reaching(frame: number): number {
    const { in: into, out, sourceIn, sourceOut } = this.stretch;
    if (frame === Infinity) return Infinity;
    if (this.isAhead) return into + firstReaching(frame - sourceIn, this.list.rate, this.source.rate);
    if (this.#isEven) return into + frame - sourceIn;
    const [length, used] = [out - into, sourceOut - sourceIn];
    // The first whole frame x with ⌊x × used ÷ length⌋ ≥ frame is ⌈frame × length ÷ used⌉.
    if (frame < sourceOut) return into + scale(frame - sourceIn, length, used, 'ceil');
    if (this.isSteady) return out + convertFrames(frame - sourceOut, this.source.rate, this.list.rate, 'ceil');
    return used === 0 ? Infinity : out + scale(frame - sourceOut, length, used, 'ceil');
  }

  /** The first record frame that begins behind the end of the source frames up to `frame`, in real time. */
  passing(frame: number): number {
    if (frame === Infinity) return Infinity;
    return this.stretch.in + convertFrames(frame - this.stretch.sourceIn, this.source.rate, this.list.rate, 'ceil');
  }

  /** Source frames of the record frames [from, to) of this stretch. */
  lengthOf(from: number, to: number): number {
    return this.isSteady ? sourceLength(to - from, this.list, this.source) : this.at(to) - this.at(from);
  }

  /** The same by the speed alone, a part of a frame counted as one. */
  atMost(from: number, to: number): number {
    const { in: into, out, sourceIn, sourceOut } = this.stretch;
    if (this.#isEven) return to - from;
    return this.isSteady ? convertFrames(to - from, this.list.rate, this.source.rate, 'ceil') : scale(to - from, sourceOut - sourceIn, out - into, 'ceil');
  }
}

/** The first frame of the list that becomes `frame` of the source, or a later one, when it is converted. */
function firstReaching(frame: number, list: Rate, source: Rate): number {
  let place = convertFrames(frame, source, list);
  while (convertFrames(place, list, source) < frame) place += 1;
  while (convertFrames(place - 1, list, source) >= frame) place -= 1;
  return place;
}
