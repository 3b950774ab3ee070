import { describe, expect, it } from 'vitest';
import { rateOf, type Count } from '../../src/timecode/rate.js';
import { countOf, formatTimecode, framesPerDay, parseTimecode } from '../../src/timecode/timecode.js';
import { python } from './support.js';

/** Every frame of the first hour, then three frames on each side of every minute boundary of the day. */
function framesOfADay(count: Count): number[] {
  const frames: number[] = [];
  const hour = framesPerDay(count) / 24;
  for (let frame = 0; frame < hour; frame += 1) frames.push(frame);
  for (let minute = 60; minute <= 1440; minute += 1) {
    const hh = String(Math.floor(minute / 60) % 24).padStart(2, '0');
    const mm = String(minute % 60).padStart(2, '0');
    // The first label of a minute that exists in every count: second 1.
    const second = parseTimecode(`${hh}:${mm}:01:00`, count) as number;
    const boundary = (minute === 1440 ? framesPerDay(count) : 0) + second - (count.rate.nominal - skipped(minute, count));
    for (let frame = boundary - 3; frame < boundary + 3; frame += 1) if (frame < framesPerDay(count)) frames.push(frame);
  }
  return frames;
}

const skipped = (minute: number, { dropFrame, rate }: Count): number => (dropFrame && minute % 10 !== 0 ? rate.nominal / 15 : 0);

/**
 * Exception: opentimelineio 0.18.1 begins non-drop labels again after 24 h of real time instead of 24 h of labels:
 *   RationalTime(2589407, 30000/1001).to_timecode(30000/1001, False)  gives 23:58:33:17
 *   RationalTime(2589408, 30000/1001).to_timecode(30000/1001, False)  gives 00:00:00:00, where 23:58:33:18 is next
 * (SMPTE ST 12-1: non-drop labels count on to 23:59:59:29.) Its way back, label → frame, is right, and compared.
 */
const referenceWraps = (frame: number, { dropFrame, rate }: Count): boolean => !dropFrame && frame >= (86_400 * rate.num) / rate.den;

// PyPI timecode 1.5.1 and opentimelineio 0.18.1, neither of them ours.
describe.each([
  ['29.97', 30000, true],
  ['59.94', 60000, true],
  ['29.97', 30000, false],
  ['59.94', 60000, false],
] as const)('labels at %s (%d/1001), drop-frame %s', (rate, num, drop) => {
  const count = countOf(rateOf(num, 1001) as Count['rate'], drop);

  it('agree with timecode and opentimelineio for a day, both ways', () => {
    const frames = framesOfADay(count);
    const theirs = python('timecode_labels.py', { rate, num, den: 1001, drop, frames }) as [string, string, number, number][];
    expect(theirs).toHaveLength(frames.length);
    const wrong: unknown[] = [];
    for (const [index, frame] of frames.entries()) {
      const ours = formatTimecode(frame, count);
      const [label, reference, frameOfLabel, frameOfReference] = theirs[index] as [string, string, number, number];
      const back = parseTimecode(label, count);
      const referenceAgrees = reference === ours || referenceWraps(frame, count);
      if (label !== ours || !referenceAgrees || back !== frame || frameOfLabel !== frame || frameOfReference !== frame) {
        wrong.push({ frame, ours, back, theirs: theirs[index] });
      }
    }
    expect(wrong.slice(0, 5)).toEqual([]);
  });
});
