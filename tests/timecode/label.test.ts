import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withinDay } from '../../src/timecode/day.js';
import { digits, labelNumber, relabel, unmarked } from '../../src/timecode/label.js';
import type { Count } from '../../src/timecode/rate.js';
import { formatTimecode, framesPerDay, parseCount } from '../../src/timecode/timecode.js';
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

  it.each([
    // SMPTE ST 12-1: drop-frame skips ;00 and ;01, at 59.94 ;00 to ;03, of each minute that is no tenth.
    ['29.97ndf', 1800, '29.97df', '00:01:00;02'], ['29.97ndf', 1801, '29.97df', '00:01:00;02'], ['29.97ndf', 1802, '29.97df', '00:01:00;02'],
    ['29.97ndf', 18_000, '29.97df', '00:10:00;00'], ['59.94ndf', 3603, '59.94df', '00:01:00;04'], ['25', 1500, '29.97df', '00:01:00;02'],
    // A second of fewer frames has a last one.
    ['60', 3659, '25', '00:01:00:24'], ['59.94df', 3_599, '24', '00:00:59:23'],
  ])('where it does not exist, is the one beside it: frame %s %i at %s', (from, frame, to, expected) => {
    const [was, is] = [parseCount(from) as Count, parseCount(to) as Count];
    expect(formatTimecode(relabel(frame, was, is), is)).toBe(expected);
  });

  it('is written without the mark of drop-frame', () => {
    expect(unmarked('01:00:00;02')).toBe('01:00:00:02');
    expect(unmarked('01:00:00:02')).toBe('01:00:00:02');
  });
});

describe('the number of a label', () => {
  it('is what its digits say', () => {
    fc.assert(fc.property(arbitraryCount, fc.integer({ min: -6_000_000, max: 12_000_000 }), (count, frame) => {
      const [hours = 0, minutes = 0, seconds = 0, frames = 0] = digits(frame, count).split(':').map(Number);
      expect(labelNumber(frame, count)).toBe(((hours * 60 + minutes) * 60 + seconds) * count.rate.nominal + frames);
    }));
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
