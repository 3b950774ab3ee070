/** Labels without the mark that says how they are counted, as numbers, and what a label is in another count. */
import { withinDay } from './day.js';
import type { Count } from './rate.js';
import { formatTimecode, framesPerDay, withDropped } from './timecode.js';

/** `01:00:00;02` as `01:00:00:02`. */
export const unmarked = (label: string): string => label.replace(';', ':');

/** The label of a frame without the mark that says how it is counted. */
export const digits = (frame: number, count: Count): string => unmarked(formatTimecode(frame, count));

/**
 * How many labels of a day lie before that of a frame, those that drop-frame skips with them: `HH:MM:SS:FF` is
 * `((HH × 60 + MM) × 60 + SS) × nominal + FF`. Any whole frame: labels wrap at 24 h.
 */
export function labelNumber(frame: number, count: Count): number {
  const within = withinDay(frame, framesPerDay(count));
  return count.dropFrame ? withDropped(within, count.rate) : within;
}

/** The frame of the day that has the label of this number; the one behind it where drop-frame skips that. */
function frameOfNumber(number: number, { rate: { nominal, dropped }, dropFrame }: Count): number {
  if (!dropFrame) return number;
  const minute = Math.floor(number / (60 * nominal));
  const first = minute * 60 * nominal + (minute % 10 === 0 ? 0 : dropped);
  return Math.max(number, first) - dropped * (minute - Math.floor(minute / 10));
}

/**
 * The frame with the same label in another count, on the same day. Where that count has no such label, the nearest one beside it: the
 * first that drop-frame has behind it, the last one of a second that has fewer frames.
 */
export function relabel(frame: number, from: Count, to: Count): number {
  const number = labelNumber(frame, from);
  const second = Math.floor(number / from.rate.nominal);
  const fits = Math.min(number - second * from.rate.nominal, to.rate.nominal - 1);
  return frameOfNumber(second * to.rate.nominal + fits, to) + Math.floor(frame / framesPerDay(from)) * framesPerDay(to);
}
