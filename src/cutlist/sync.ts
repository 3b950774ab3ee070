/** Sync: which frame of a recording belongs to which frame of the log (contract, rules 5 and 12). */
import { convertFrames, type Count } from '../timecode/rate.js';
import { scale } from '../timecode/exact.js';
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
 * with `sync`, this + (log − is) + offset; in a timecode log, the log's own time + offset; in a log counted from the recording,
 * start + (log − start of the first take on this counter) + offset, or, with a list of starts, the take's own start +
 * (log − start of the take) + offset. May pass 24 h: labels wrap, frames do not. Before label zero lies the day before: whole
 * days are added, so that it is never negative.
 */
export function sourceFrame(source: Source, take: NumberedTake, logFrame: number, list: Count): number {
  const frame = plainSourceFrame(source, take, logFrame, list);
  if (frame >= 0) return frame;
  const day = framesPerDay(source.count);
  return frame + day * Math.ceil(-frame / day);
}

/** The same without whole days added: negative before label zero. */
export function plainSourceFrame(source: Source, take: NumberedTake, logFrame: number, list: Count): number {
  const { zero, base } = syncPoint(source, take);
  return base + convertFrames(logFrame - zero, list.rate, source.count.rate) + source.offset;
}

/** The first log frame whose plain source frame is `frame` or later: the other way round, for ends and bounds. */
export function logFrameOf(source: Source, take: NumberedTake, frame: number, list: Count): number {
  const { zero, base } = syncPoint(source, take);
  return zero + firstReaching(frame - base - source.offset, (at) => convertFrames(at, list.rate, source.count.rate), list.rate, source.count.rate);
}

/** Log frame `zero` shows source frame `base` (offset apart). */
function syncPoint(source: Source, take: NumberedTake): { readonly zero: number; readonly base: number } {
  if (source.sync !== undefined) return { zero: source.sync.is, base: source.sync.this };
  if (take.origin !== 'recording') return { zero: 0, base: 0 };
  const { starts } = source;
  if (starts.length > 1) return { zero: take.recordingIn ?? 0, base: starts[take.number - 1] ?? 0 };
  return { zero: take.counterIn ?? 0, base: starts[0] ?? source.files[0]?.start ?? 0 };
}

/** Length on the source side of `frames` (≥ 0) of the record side: equal for one nominal count, else real time, to the nearest frame. */
export const sourceLength = (frames: number, list: Count, source: Count): number =>
  list.rate.nominal === source.rate.nominal ? frames : convertFrames(frames, list.rate, source.rate);

/** What a stretch of record side plays: a shot, a piece of sound. */
export interface Played {
  readonly in: number;
  readonly out: number;
  readonly sourceIn: number;
  readonly sourceOut: number;
}

/** Which source frame a stretch shows on which record frame, also behind its end (handles). Both rise. */
export interface Run {
  readonly at: (recordFrame: number) => number;
  /** The first record frame that shows `sourceFrame` or a later one; Infinity where none does. */
  readonly reaching: (sourceFrame: number) => number;
}

/**
 * How a stretch runs through its source: evenly from `sourceIn` on, each record frame on a frame before `sourceOut`. Behind its
 * end it goes on at the rates' speed, or at its own where that is another (a list with a change of speed).
 */
export function runOf(stretch: Played, list: Count, source: Count): Run {
  const { in: into, out, sourceIn, sourceOut } = stretch;
  const [length, used] = [out - into, sourceOut - sourceIn];
  const isSteady = used === sourceLength(length, list, source);
  if (used === length && (!isSteady || list.rate.nominal === source.rate.nominal)) {
    return { at: (frame) => sourceIn + frame - into, reaching: (frame) => into + frame - sourceIn };
  }
  const beyond = isSteady
    ? { at: (frames: number) => convertFrames(frames, list.rate, source.rate, 'floor'), reaching: (frames: number) => convertFrames(frames, source.rate, list.rate, 'ceil') }
    : { at: (frames: number) => scale(frames, used, length, 'floor'), reaching: (frames: number) => (used === 0 ? Infinity : scale(frames, length, used, 'ceil')) };
  return {
    at: (frame) => (frame < out ? sourceIn + scale(frame - into, used, length, 'floor') : sourceOut + beyond.at(frame - out)),
    reaching: (frame) => {
      if (frame === Infinity) return Infinity;
      // The first whole frame x with ⌊x × used ÷ length⌋ ≥ frame is ⌈frame × length ÷ used⌉.
      return frame < sourceOut ? into + scale(frame - sourceIn, length, used, 'ceil') : out + beyond.reaching(frame - sourceOut);
    },
  };
}

function firstReaching(frame: number, at: (frame: number) => number, list: Count['rate'], source: Count['rate']): number {
  return settle(convertFrames(frame, source, list), frame, at);
}

/** From a near guess to the first place where the rising function `at` reaches `frame`. */
function settle(guess: number, frame: number, at: (place: number) => number): number {
  let place = guess;
  while (at(place) < frame) place += 1;
  while (at(place - 1) >= frame) place -= 1;
  return place;
}
