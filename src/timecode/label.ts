/** Labels without the mark that says how they are counted, and what a label is in another count. */
import { isFault } from '../problems.js';
import { convertFrames, type Count } from './rate.js';
import { formatTimecode, framesPerDay, parseTimecode } from './timecode.js';

/** `01:00:00;02` as `01:00:00:02`. */
export const unmarked = (label: string): string => label.replace(';', ':');

/** The label of a frame without the mark that says how it is counted. */
export const digits = (frame: number, count: Count): string => unmarked(formatTimecode(frame, count));

/** The frame with the same label in another count, on the same day; at the same real time where that count has no such label. */
export function relabel(frame: number, from: Count, to: Count): number {
  const days = Math.floor(frame / framesPerDay(from));
  const found = parseTimecode(digits(frame, from), to);
  return isFault(found) ? convertFrames(frame, from.rate, to.rate) : found + days * framesPerDay(to);
}
