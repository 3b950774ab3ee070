/** Labels without the mark that says how they are counted, and what a label is in another count. */
import { isFault } from '../problems.js';
import type { Count } from './rate.js';
import { formatTimecode, framesPerDay, parseTimecode } from './timecode.js';

/** `01:00:00;02` as `01:00:00:02`. */
export const unmarked = (label: string): string => label.replace(';', ':');

/** The label of a frame without the mark that says how it is counted. */
export const digits = (frame: number, count: Count): string => unmarked(formatTimecode(frame, count));

/**
 * The frame with the same label in another count, on the same day. Where that count has no such label, the nearest one beside it: the
 * first that drop-frame has behind it, the last one of a second that has fewer frames.
 */
export function relabel(frame: number, from: Count, to: Count): number {
  const label = digits(frame, from);
  const [second, frames] = [label.slice(0, -2), Number(label.slice(-2))];
  const fits = Math.min(frames, to.rate.nominal - 1);
  const found = [fits, to.rate.dropped].map((one) => parseTimecode(`${second}${String(one).padStart(2, '0')}`, to)).find((one) => !isFault(one));
  return (found as number) + Math.floor(frame / framesPerDay(from)) * framesPerDay(to);
}
