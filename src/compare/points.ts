/** When two pieces, one of each list, show or sound the same. */
import { BLACK, type CutList, type Shot, type Transition } from '../cutlist/model.js';
import { sourceStep } from '../cutlist/shift.js';
import { sourceCounts } from '../cutlist/stretches.js';
import type { Count } from '../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';
import type { Matching } from './sources.js';

export type Piece = Pick<Shot, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>;

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
export function apart(from: number, to: number, day: number): number {
  const frames = (((to - from) % day) + day) % day;
  return 2 * frames > day ? frames - day : frames;
}

/** The label without the mark that says how it is counted. */
export const digits = (frame: number, count: Count): string => formatTimecode(frame, count).replace(';', ':');

/**
 * By how many source frames B's in-point lies later than A's; zero when they are the same, modulo 24 h. Where the lists
 * count a source differently (an EDL does not say how), labels are compared, and the frames are B's.
 */
export function slip(pair: Pair, a: Piece, b: Piece): number {
  if (a.source === BLACK || b.source === BLACK) return 0;
  const [from, to] = [pair.countA(a.source), pair.countB(b.source)];
  if (sameCount(from, to)) return apart(a.sourceIn, b.sourceIn, framesPerDay(to));
  if (digits(a.sourceIn, from) === digits(b.sourceIn, to)) return 0;
  return apart(a.sourceIn, b.sourceIn, framesPerDay(to)) || 1;
}

/** By how many source frames B uses more than A. */
export function useDiffers(pair: Pair, a: Piece, b: Piece): number {
  if (a.source === BLACK || b.source === BLACK) return 0;
  const [from, to] = [pair.countA(a.source), pair.countB(b.source)];
  const more = b.sourceOut - b.sourceIn - (a.sourceOut - a.sourceIn);
  if (sameCount(from, to)) return more;
  if (from.rate.nominal === to.rate.nominal && more === 0) return 0;
  return digits(a.sourceOut, from) === digits(b.sourceOut, to) && digits(a.sourceIn, from) === digits(b.sourceIn, to) ? 0 : more || 1;
}

/** Source frames that belong to a move of so many record frames, at the piece's own speed. */
export function following(pair: Pair, a: Piece, frames: number): number {
  const count = pair.countA(a.source);
  const length = a.out - a.in;
  const used = a.sourceOut - a.sourceIn;
  if (used === sourceStep(length, pair.a.count, count)) return sourceStep(frames, pair.a.count, count);
  return Math.round((frames * used) / length);
}

/** The same mix; where a format keeps the boundary in it does not count. */
export const sameMix = (a: Transition | undefined, b: Transition | undefined): boolean =>
  a?.kind === b?.kind && a?.frames === b?.frames && (a?.wipe ?? 0) === (b?.wipe ?? 0);

/** The same source, range, points and mix. */
export function samePiece(pair: Pair, a: Shot, b: Shot): boolean {
  return a.in === b.in && a.out === b.out && pair.key.a(a.source) === pair.key.b(b.source)
    && slip(pair, a, b) === 0 && useDiffers(pair, a, b) === 0 && sameMix(a.transition, b.transition);
}
