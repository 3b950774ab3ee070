/** The record side: the labels of a list's frames, and which shot is on air. */
import { formatTimecode } from '../timecode/timecode.js';
import type { CutList, Shot } from './model.js';

/** The record timecode of a frame of the list. */
export const recordLabel = (list: Pick<CutList, 'recordStart' | 'count'>, frame: number): string => formatTimecode(list.recordStart + frame, list.count);

/** Index of the shot on air at `frame`; the last one for frames at or past the end. */
export function shotIndexAt(shots: readonly Pick<Shot, 'in'>[], frame: number): number {
  let low = 0;
  let high = shots.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((shots[middle]?.in ?? Infinity) <= frame) low = middle;
    else high = middle - 1;
  }
  return low;
}
