import { describe, expect, it } from 'vitest';
import { isFault } from '../../src/problems.js';
import { parseDuration } from '../../src/timecode/duration.js';
import { RATES, type Count, type Rate } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';

const count = (name: string, drop = false): Count => countOf(RATES.find((one) => one.name === name) as Rate, drop);

const read = (text: string, as: Count, rounding?: 'floor' | 'ceil'): number | string => {
  const frames = parseDuration(text, as, rounding);
  return isFault(frames) ? `${frames.fault}: ${frames.message}` : frames;
};

describe('parseDuration', () => {
  it.each([
    ['30', '29.97', 30],
    ['030', '29.97', 30],
    ['0', '25', 0],
    ['30f', '25', 30],
    ['30 F', '25', 30],
    ['1s', '25', 25],
    ['1s', '29.97', 30],
    ['0.5s', '25', 13],
    ['500ms', '25', 13],
    ['500MS', '24', 12],
    ['1.001s', '29.97', 30],
    ['33.366666ms', '29.97', 1],
    ['00:00:01:00', '25', 25],
    ['00:00:01;00', '29.97', 30],
    ['30.0', '25', 30],
  ])('reads %s at %s as %s frames', (text, name, frames) => {
    expect(read(text, count(name))).toBe(frames);
  });

  it('rounds as it is told, halves up', () => {
    expect(read('500ms', count('25'))).toBe(13);
    expect(read('500ms', count('25'), 'floor')).toBe(12);
    expect(read('501ms', count('25'), 'floor')).toBe(12);
    expect(read('480.001ms', count('25'), 'ceil')).toBe(13);
  });

  it.each(['-5', '-1s', '-0.1s'])('refuses the negative %s', (text) => {
    expect(read(text, count('25'))).toBe(`bad-duration: '${text}' is negative; a duration is zero frames or more`);
  });

  it.each(['', 'soon', '1m', '1e309', 'NaN', '1.5', '1h', '1e3ms', '00:00:99:00', '10000000000000', '00:01:00;00', '--5', '5 5'])('refuses %j', (text) => {
    expect(read(text, count('29.97'))).toMatch(/^bad-duration: /);
  });
});
