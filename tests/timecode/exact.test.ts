import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestRepeat } from '../../src/timecode/day.js';
import { parseDecimal, roundFraction, scale, type Rounding } from '../../src/timecode/exact.js';

const ROUNDINGS: readonly Rounding[] = ['nearest', 'floor', 'ceil'];

describe('parseDecimal', () => {
  it.each([
    ['251.43', 25143n, 100n],
    ['-0.5', -5n, 10n],
    ['+7', 7n, 1n],
    ['12.', 12n, 1n],
    ['.5', 5n, 10n],
    ['0.000000000000000000001', 1n, 10n ** 21n],
  ])('reads %s exactly', (text, num, den) => {
    expect(parseDecimal(text)).toEqual({ num, den });
  });

  it.each(['', '.', '-', '1e5', '1e309', 'NaN', 'Infinity', '1,5', '0x10', '1 000', '1.2.3', '٣'])('does not read %j', (text) => {
    expect(parseDecimal(text)).toBeUndefined();
  });
});

describe('rounding', () => {
  it('takes halves up, towards +∞', () => {
    expect([5n, -5n, 4n, -4n, 15n].map((num) => roundFraction({ num, den: 10n }))).toEqual([1n, 0n, 0n, 0n, 2n]);
    expect([5n, -5n].map((num) => roundFraction({ num, den: 10n }, 'floor'))).toEqual([0n, -1n]);
    expect([5n, -5n].map((num) => roundFraction({ num, den: 10n }, 'ceil'))).toEqual([1n, 0n]);
  });

  it('scales small and large numbers to the same as exact fractions do', () => {
    const whole = fc.oneof(fc.integer({ min: -1_000_000, max: 1_000_000 }), fc.maxSafeInteger());
    const positive = fc.oneof(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 1, max: 2 ** 40 }));
    fc.assert(fc.property(whole, positive, positive, fc.constantFrom(...ROUNDINGS), (value, mul, div, rounding) => {
      const exact = roundFraction({ num: BigInt(value) * BigInt(mul), den: BigInt(div) }, rounding);
      return BigInt(Math.abs(Number(exact))) > BigInt(Number.MAX_SAFE_INTEGER) || BigInt(scale(value, mul, div, rounding)) === exact;
    }), { numRuns: 3000 });
  });
});

describe('nearestRepeat', () => {
  it('is the nearest of all repeats, the later of two', () => {
    expect(nearestRepeat(5, 100, 3)).toBe(5);
    expect(nearestRepeat(5, 100, 95)).toBe(105);
    expect(nearestRepeat(95, 100, 3)).toBe(-5);
    expect(nearestRepeat(0, 100, 50)).toBe(100);
    expect(nearestRepeat(50, 100, 0)).toBe(50);
    expect(nearestRepeat(7, 100, 1000)).toBe(1007);
    fc.assert(fc.property(fc.integer(), fc.integer({ min: 1, max: 10_000 }), fc.integer(), (value, period, beside) => {
      const got = nearestRepeat(value, period, beside);
      const away = 2 * (got - beside);
      return (got - value) % period === 0 && away <= period && away > -period;
    }));
  });
});
