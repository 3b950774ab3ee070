import { fault, isFault, type Fault } from '../problems.js';
import { shorten } from '../visible.js';
import { hasDropFrame, parseRate, type Count, type Rate } from './rate.js';

/**
 * Timecode labels (SMPTE ST 12-1): `HH:MM:SS:FF`, drop-frame `HH:MM:SS;FF`. A label is text for a frame's
 * number since label zero; frames are whole numbers everywhere else. Labels repeat every 24 h, frames do not.
 */

/** Frames of 24 h of labels: 2,589,408 at 29.97df, 5,178,816 at 59.94df, else 86,400 × nominal. */
export function framesPerDay({ rate, dropFrame }: Count): number {
  const labels = 86_400 * rate.nominal;
  return dropFrame ? labels - 1296 * rate.dropped : labels;
}

/** True when the label's own mark says drop-frame: `;` or `,` before the frames. */
export function hasDropMark(label: string): boolean {
  const mark = label.charCodeAt(label.length - 3);
  return mark === 59 || mark === 44;
}

/**
 * Reads a label as frames since label zero, 0 ≤ frame < 24 h. The label's own mark decides how it is read: `;` or
 * `,` before the frames (or in every place) is drop-frame, `:` takes `count.dropFrame`.
 * Faults: `bad-time` (not a label, past 23:59:59, too many frames, drop-frame mark at a rate without),
 * `dropped-label` (does not exist in drop-frame; names the two labels beside it).
 */
export function parseTimecode(label: string, count: Count): number | Fault {
  const nominal = count.rate.nominal;
  if (label.length === 11) {
    // Eight digits and three marks, straight from the character codes; anything odd goes the slow way. A code with
    // bits of '0' taken out is 0 to 9 for digits alone, so that six more stays below sixteen.
    const h1 = label.charCodeAt(0) ^ 48;
    const h2 = label.charCodeAt(1) ^ 48;
    const m1 = label.charCodeAt(3) ^ 48;
    const m2 = label.charCodeAt(4) ^ 48;
    const s1 = label.charCodeAt(6) ^ 48;
    const s2 = label.charCodeAt(7) ^ 48;
    const f1 = label.charCodeAt(9) ^ 48;
    const f2 = label.charCodeAt(10) ^ 48;
    const mark = label.charCodeAt(8);
    const odd = ((h1 + 6) | (h2 + 6) | (m1 + 6) | (m2 + 6) | (s1 + 6) | (s2 + 6) | (f1 + 6) | (f2 + 6)) & ~15;
    const colons = (label.charCodeAt(2) ^ 58) | (label.charCodeAt(5) ^ 58);
    const hours = h1 * 10 + h2;
    const frames = f1 * 10 + f2;
    if ((odd | colons) === 0 && hours < 24 && m1 < 6 && s1 < 6 && frames < nominal) {
      const minute = hours * 60 + m1 * 10 + m2;
      const seconds = s1 * 10 + s2;
      const labels = (minute * 60 + seconds) * nominal + frames;
      if (mark === 58 && !count.dropFrame) return labels;
      if (mark === 58 || (mark === 59 && count.rate.dropped !== 0)) {
        const drop = count.rate.dropped;
        if (frames >= drop || seconds !== 0 || m2 === 0) return labels - drop * (minute - hours * 6 - m1);
      }
    }
  }
  return parseSlowly(label, count);
}

const LABEL = /^(\d{1,2})([:;,])(\d{2})([:;,])(\d{2})([:;,])(\d{2})$/;

function parseSlowly(text: string, count: Count): number | Fault {
  const { rate } = count;
  const parts = LABEL.exec(text.trim());
  if (parts === null) return fault('bad-time', `'${shorten(text)}' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF`);
  const [, hh = '', , mm = '', , ss = '', mark = ':', ff = ''] = parts;
  const [hours, minutes, seconds, frames] = [Number(hh), Number(mm), Number(ss), Number(ff)];
  if (hours > 23 || minutes > 59 || seconds > 59) {
    return fault('bad-time', `${text.trim()} is not a time of day; labels go from 00:00:00 to 23:59:59`);
  }
  if (frames >= rate.nominal) {
    return fault('bad-time', `${text.trim()} has frame ${ff}; at ${rate.name} frames go from 00 to ${String(rate.nominal - 1)}`);
  }
  const marked = mark !== ':';
  if (marked && !hasDropFrame(rate)) {
    return fault('bad-time', `${text.trim()} is a drop-frame label, and there is no drop-frame at ${rate.name}; write ':' before the frames`);
  }
  const labels = ((hours * 60 + minutes) * 60 + seconds) * rate.nominal + frames;
  if (!marked && !count.dropFrame) return labels;
  const drop = rate.dropped;
  const minute = hours * 60 + minutes;
  const frame = labels - drop * (minute - Math.floor(minute / 10));
  if (frames < drop && seconds === 0 && minute % 10 !== 0) {
    const dropFrame: Count = { rate, dropFrame: true };
    const next = frame + drop - frames;
    return fault(
      'dropped-label',
      `${text.trim()} does not exist in drop-frame; beside it are ${formatTimecode(next - 1, dropFrame)} and ${formatTimecode(next, dropFrame)}`,
    );
  }
  return frame;
}

const two = (n: number): string => (n < 10 ? `0${String(n)}` : String(n));

/**
 * `HH:MM:` of each minute of the day, and `SS:FF` or `SS;FF` of each frame of a minute: a label is one joint of two. Each is made
 * when it is first wanted: most runs write a few hundred labels and should not wait for thousands.
 */
const heads = new Array<string | undefined>(1440);
const tails = new Map<number, (string | undefined)[]>();

const headOf = (minute: number): string => (heads[minute] = `${two(Math.floor(minute / 60))}:${two(minute % 60)}:`);

/** The tails of a nominal count; `key` is the count, negative for drop-frame. */
function tailsOf(key: number): (string | undefined)[] {
  const made = new Array<string | undefined>(60 * Math.abs(key));
  tails.set(key, made);
  return made;
}

function tailOf(made: (string | undefined)[], key: number, frame: number): string {
  const nominal = Math.abs(key);
  return (made[frame] = `${two(Math.floor(frame / nominal))}${key < 0 ? ';' : ':'}${two(frame % nominal)}`);
}

/** Writes the label of a frame since label zero. Any whole number: labels wrap at 24 h, also below zero. */
export function formatTimecode(frame: number, count: Count): string {
  const nominal = count.rate.nominal;
  const key = count.dropFrame ? -nominal : nominal;
  const ends = tails.get(key) ?? tailsOf(key);
  const day = framesPerDay(count);
  let labels = frame;
  if (labels < 0 || labels >= day) labels = ((labels % day) + day) % day;
  if (count.dropFrame) labels = withDropped(labels, count.rate);
  const minute = Math.floor(labels / (60 * nominal));
  const frameOfMinute = labels - minute * 60 * nominal;
  return (heads[minute] ?? headOf(minute)) + (ends[frameOfMinute] ?? tailOf(ends, key, frameOfMinute));
}

/** Adds back the labels that were skipped before this frame of the day (0 ≤ frame < 24 h): 9 minutes of every 10 skip `drop` labels each. */
export function withDropped(frame: number, { nominal, dropped: drop }: Rate): number {
  const tenMinutes = 600 * nominal - 9 * drop;
  const minute = 60 * nominal - drop;
  const tens = Math.floor(frame / tenMinutes);
  const rest = frame - tens * tenMinutes;
  // The first minute of ten is whole (60 × nominal); the others are `drop` shorter.
  const minutes = rest < 60 * nominal ? 0 : 1 + Math.floor((rest - 60 * nominal) / minute);
  return frame + drop * (9 * tens + minutes);
}

/** Reads a rate as a count: non-drop where neither `df` nor `ndf` is said. Faults: `bad-rate`. */
export function parseCount(text: string): Count | Fault {
  const spec = parseRate(text);
  return isFault(spec) ? spec : countOf(spec.rate, spec.dropFrame ?? false);
}

/** The count that a rate and a choice make; `dropFrame` is ignored where the rate has none. */
export const countOf = (rate: Rate, dropFrame: boolean): Count => ({ rate, dropFrame: dropFrame && hasDropFrame(rate) });
