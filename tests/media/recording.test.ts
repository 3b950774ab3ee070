import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { between, placed, type Placed } from '../../src/media/order.js';
import { extentIn, type Recording } from '../../src/media/recording.js';
import { RATES } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';
import { count } from './support.js';

const bwf = (timeReference: number | undefined, samples: number, sampleRate = 48_000): Recording => ({
  path: 'desk.wav', bytes: 1, container: 'BWF', sound: { channels: 2, sampleRate, samples, ...(timeReference === undefined ? {} : { timeReference }) },
});

describe('sound on frames', () => {
  test('recordings of 20.01 s that follow one another to the sample leave no frame between them', () => {
    const files = Array.from({ length: 4 }, (_, index): Placed => placed(bwf(1_728_000_000 + index * 960_480, 960_480), `desk_00${String(index)}.wav`, count('29.97df')));
    expect(between(files)).toEqual([]);
    expect(files.map(({ extent }) => extent?.frames)).toEqual([600, 599, 600, 600]);
  });

  test('so do any recordings, at any rate; each holds every frame that its samples fill, and one more at most', () => {
    const cases = fc.record({
      rate: fc.constantFrom(...RATES),
      sampleRate: fc.constantFrom(32_000, 44_100, 47_952, 48_000, 48_048, 88_200, 96_000, 192_000),
      first: fc.integer({ min: 1, max: 12 * 3600 * 32_000 }),
      lengths: fc.array(fc.integer({ min: 1, max: 30 * 60 * 48_000 }), { minLength: 1, maxLength: 8 }),
    });
    fc.assert(fc.property(cases, ({ rate, sampleRate, first, lengths }) => {
      let at = first;
      let end: number | undefined;
      for (const samples of lengths) {
        const extent = extentIn(bwf(at, samples, sampleRate), countOf(rate, false));
        expect(end ?? extent?.start).toBe(extent?.start);
        end = (extent?.start ?? 0) + (extent?.frames ?? 0);
        const whole = Math.floor((samples * rate.num) / (rate.den * sampleRate));
        expect([whole, whole + 1]).toContain(extent?.frames);
        at += samples;
      }
    }));
  });

  test('without a time reference it is the whole frames that count', () => {
    expect(extentIn(bwf(undefined, 960_480), count('29.97'))).toEqual({ count: count('29.97'), frames: 599 });
  });
});
