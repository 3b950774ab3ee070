import { fault, isFault, type Fault } from '../problems.js';
import { parseDecimal, roundFraction, type Fraction, type Rounding } from './exact.js';
import type { Count, Rate } from './rate.js';
import { parseTimecode } from './timecode.js';

const PLAIN = /^\d{1,9}f?$/i;
const UNIT = /^([+-]?[\d.]+)\s*(f|ms|s)?$/i;

/**
 * Reads a duration as frames: a bare number or `30f` is frames, `1s`, `0.5s`, `500ms` real time, a timecode is counted
 * from label zero. Rounded on its own, by exact arithmetic on the digits. Faults: `bad-duration`.
 */
export function parseDuration(text: string, count: Count, rounding: Rounding = 'nearest'): number | Fault {
  const given = text.trim();
  // Most durations are a few digits: no fractions are needed for them.
  if (PLAIN.test(given)) return parseInt(given, 10);
  const parts = UNIT.exec(given);
  if (parts !== null) {
    const value = parseDecimal(parts[1] ?? '');
    if (value === undefined) return badDuration(given);
    if (value.num < 0n) return fault('bad-duration', `'${given}' is negative; a duration is zero frames or more`);
    const unit = (parts[2] ?? 'f').toLowerCase();
    if (unit === 'f') {
      if (value.num % value.den !== 0n) return fault('bad-duration', `'${given}' is not a whole number of frames; write ${given}s for seconds`);
      return safe(Number(value.num / value.den), given);
    }
    return safe(Number(roundFraction(framesIn(value, unit === 's' ? 1 : 1000, count.rate), rounding)), given);
  }
  const frames = parseTimecode(given, count);
  return isFault(frames) ? (frames.fault === 'dropped-label' ? fault('bad-duration', frames.message) : badDuration(given)) : frames;
}

/** `value` in units of 1/`unitsPerSecond` seconds, as an exact number of frames. */
export const framesIn = ({ num, den }: Fraction, unitsPerSecond: number, rate: Rate): Fraction => ({
  num: num * BigInt(rate.num),
  den: den * BigInt(unitsPerSecond) * BigInt(rate.den),
});

const badDuration = (given: string): Fault =>
  fault('bad-duration', `'${given.slice(0, 40)}' is not a duration; expected frames (30, 30f), 1s, 500ms or a timecode`);

const safe = (frames: number, given: string): number | Fault =>
  Number.isSafeInteger(frames) && frames <= 1e12 ? frames : fault('bad-duration', `'${given.slice(0, 40)}' is too long`);
