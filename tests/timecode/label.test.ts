import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withinDay } from '../../src/timecode/day.js';
import { digits, relabel, unmarked } from '../../src/timecode/label.js';
import { formatTimecode, framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryCount } from '../support/lists.js';

describe('a label in another count', () => {
  it('has the same digits, on the same day, and leads back', () => {
    let [same, other] = [0, 0];
    fc.assert(fc.property(arbitraryCount, arbitraryCount, fc.integer({ min: -6_000_000, max: 12_000_000 }), (from, to, frame) => {
      const there = relabel(frame, from, to);
      // A count that skips the label, or has fewer frames a second, has the one beside it.
      if (digits(there, to) !== digits(frame, from)) {
        expect(digits(there, to).slice(0, 8)).toBe(digits(frame, from).slice(0, 8));
        other += 1;
        return;
      }
      same += 1;
      expect(Math.floor(there / framesPerDay(to))).toBe(Math.floor(frame / framesPerDay(from)));
      expect(relabel(there, to, from)).toBe(frame);
    }));
    expect(Math.min(same, other)).toBeGreaterThan(0);
  });

  it('is written without the mark of drop-frame', () => {
    expect(unmarked('01:00:00;02')).toBe('01:00:00:02');
    expect(unmarked('01:00:00:02')).toBe('01:00:00:02');
  });
});

describe('a frame within the day', () => {
  it('is written as the same label', () => {
    fc.assert(fc.property(arbitraryCount, fc.integer({ min: -12_000_000, max: 12_000_000 }), (count, frame) => {
      const day = framesPerDay(count);
      const within = withinDay(frame, day);
      expect(within >= 0 && within < day && (frame - within) % day === 0).toBe(true);
      expect(formatTimecode(within, count)).toBe(formatTimecode(frame, count));
    }));
  });
});
