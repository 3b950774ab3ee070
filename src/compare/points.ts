/** When two pieces, one of each list, show or sound the same. */
import { BLACK, type CutList, type Shot } from '../cutlist/model.js';
import { sourceStep } from '../cutlist/shift.js';
import { sourceCounts } from '../cutlist/source-counts.js';
import { sameMix } from '../cutlist/transitions.js';
import { withinDay } from '../timecode/day.js';
import { relabel } from '../timecode/label.js';
import type { Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { Matching } from './sources.js';

type Piece = Pick<Shot, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>;

/** The two lists, and what is the same source in both. */
export interface Pair {
  readonly a: CutList;
  readonly b: CutList;
  readonly key: Matching;
  /** How a source counts, by its id in its own list. */
  readonly countA: (id: string) => Count;
  readonly countB: (id: string) => Count;
}

/** Puts two lists side by side. */
export function pairOf(a: CutList, b: CutList, key: Matching): Pair {
  return { a, b, key, countA: sourceCounts(a), countB: sourceCounts(b) };
}

export const sameCount = (a: Count, b: Count): boolean => a.rate === b.rate && a.dropFrame === b.dropFrame;

/** The nearest way from one frame to another when labels wrap at 24 h: −day/2 < frames ≤ day/2. */
function apart(from: number, to: number, day: number): number {
  const frames = withinDay(to - from, day);
  return 2 * frames > day ? frames - day : frames;
}

/**
 * A frame of A's source as B counts that source. Where the lists count it differently (an EDL does not say how), labels are compared: the
 * frame with the same label. Where only the lists' own rates differ, and each counts the source as itself, frames are compared by number.
 */
function asB(pair: Pair, a: string, b: string, frame: number): number {
  const [from, to] = [pair.countA(a), pair.countB(b)];
  if (sameCount(from, to)) return frame;
  const ownRates = from.rate === pair.a.count.rate && to.rate === pair.b.count.rate && from.rate.nominal !== to.rate.nominal;
  return ownRates ? frame : relabel(frame, from, to);
}

/** By how many frames of B's count frame `to` of source `b` lies later than frame `from` of source `a`; zero when they are the same, modulo 24 h. */
export const framesApart = (pair: Pair, a: string, from: number, b: string, to: number): number =>
  apart(asB(pair, a, b, from), to, framesPerDay(pair.countB(b)));

/** By how many source frames, of B's count, B's in-point lies later than A's; zero when they are the same, modulo 24 h. */
export const slip = (pair: Pair, a: Piece, b: Piece): number =>
  a.source === BLACK || b.source === BLACK ? 0 : framesApart(pair, a.source, a.sourceIn, b.source, b.sourceIn);

/** By how many source frames, of B's count, B uses more than A. */
export function useDiffers(pair: Pair, a: Piece, b: Piece): number {
  if (a.source === BLACK || b.source === BLACK) return 0;
  const more = b.sourceOut - b.sourceIn - (a.sourceOut - a.sourceIn);
  if (more === 0 && pair.countA(a.source).rate.nominal === pair.countB(b.source).rate.nominal) return 0;
  return b.sourceOut - b.sourceIn - (asB(pair, a.source, b.source, a.sourceOut) - asB(pair, a.source, b.source, a.sourceIn));
}

/** Source frames that belong to a move of so many record frames, at the piece's own speed. */
export function following(pair: Pair, a: Piece, frames: number): number {
  const count = pair.countA(a.source);
  const length = a.out - a.in;
  const used = a.sourceOut - a.sourceIn;
  if (used === sourceStep(length, pair.a.count, count)) return sourceStep(frames, pair.a.count, count);
  return Math.round((frames * used) / length);
}

/** The same source, range, points and mix. */
export function samePiece(pair: Pair, a: Shot, b: Shot): boolean {
  return a.in === b.in && a.out === b.out && pair.key.a(a.source) === pair.key.b(b.source)
    && slip(pair, a, b) === 0 && useDiffers(pair, a, b) === 0 && sameMix(a.transition, b.transition);
}
