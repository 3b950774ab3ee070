import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isFault } from '../../src/problems.js';
import { convertFrames, countName, noRate, parseRate, rateNear, rateOf, RATES, rateText, secondsOf, unitsOf, type Rate } from '../../src/timecode/rate.js';

const rate = (name: string): Rate => RATES.find((one) => one.name === name) ?? (RATES[0] as Rate);

const said = (text: string): string => {
  const spec = parseRate(text);
  if (isFault(spec)) return spec.message;
  return `${String(spec.rate.num)}/${String(spec.rate.den)} ${spec.dropFrame === undefined ? 'bare' : spec.dropFrame ? 'df' : 'ndf'}`;
};

describe('parseRate', () => {
  // SMPTE ST 12-1: the rates, whose exact values are 24000/1001 and so on.
  it.each([
    ['23.976', '24000/1001 bare'],
    ['23.98', '24000/1001 bare'],
    ['24', '24/1 bare'],
    ['24.0', '24/1 bare'],
    ['25', '25/1 bare'],
    ['25.000', '25/1 bare'],
    ['25fps', undefined],
    ['29.97', '30000/1001 bare'],
    ['29.97df', '30000/1001 df'],
    ['29.97DF', '30000/1001 df'],
    ['29.97 df', '30000/1001 df'],
    ['29.97ndf', '30000/1001 ndf'],
    ['30000/1001', '30000/1001 bare'],
    ['60000/2002', '30000/1001 bare'],
    ['30000/1001df', '30000/1001 df'],
    ['30', '30/1 bare'],
    ['30ndf', '30/1 ndf'],
    ['47.952', '48000/1001 bare'],
    ['47.95', '48000/1001 bare'],
    ['48', '48/1 bare'],
    ['50', '50/1 bare'],
    ['59.94', '60000/1001 bare'],
    ['59.94df', '60000/1001 df'],
    ['60', '60/1 bare'],
    ['60/1', '60/1 bare'],
  ] as const)('reads %s', (text, expected) => {
    if (expected === undefined) expect(isFault(parseRate(text))).toBe(true);
    else expect(said(text)).toBe(expected);
  });

  it('names every rate it knows, and reads its own names', () => {
    for (const one of RATES) expect(parseRate(one.name)).toEqual({ rate: one, dropFrame: undefined });
    for (const one of RATES) expect(parseRate(`${String(one.num)}/${String(one.den)}`)).toEqual({ rate: one, dropFrame: undefined });
  });

  it.each([
    ['25df', 'there is no drop-frame at 25; it exists for 29.97 and 59.94 only'],
    ['30df', 'there is no drop-frame at 30; it exists for 29.97 and 59.94 only'],
    ['23.976df', 'there is no drop-frame at 23.976; it exists for 29.97 and 59.94 only'],
    ['60df', 'there is no drop-frame at 60; it exists for 29.97 and 59.94 only'],
    ['50i', "'50i' counts fields; the frame rate is 25"],
    ['59.94i', "'59.94i' counts fields; the frame rate is 29.97"],
  ])('refuses %s in words', (text, message) => {
    expect(said(text)).toBe(message);
  });

  it.each(['', '0', '-25', '29.9', '120', 'NaN', '1e3', '25/0', '0/0', '25/', 'df', '29.97dfdf', '29,97'])('refuses %j with the rates that there are', (text) => {
    expect(said(text)).toContain('23.976, 24, 25, 29.97, 29.97df, 30, 47.952, 48, 50, 59.94, 59.94df, 60');
  });

  it('says how to give one where there is none', () => {
    expect(noRate().message).toContain('--rate');
  });
});

describe('rates by value', () => {
  it('finds a rate by its exact fraction and by its nearest number', () => {
    expect(rateOf(30000, 1001)?.name).toBe('29.97');
    expect(rateOf(2997, 100)).toBeUndefined();
    expect(rateNear(29.97)?.name).toBe('29.97');
    expect(rateNear(30)?.name).toBe('30');
    expect(rateNear(23.98)?.name).toBe('23.976');
    expect(rateNear(12)).toBeUndefined();
    for (const one of RATES) expect(rateNear(one.num / one.den)).toBe(one);
  });

  it('names counts', () => {
    expect(countName({ rate: rate('29.97'), dropFrame: true })).toBe('29.97df');
    expect(countName({ rate: rate('29.97'), dropFrame: false })).toBe('29.97');
  });

  it('writes a rate so that it is read back as it was', () => {
    for (const { name, dropped } of RATES) {
      for (const text of dropped === 0 ? [name] : [name, `${name}df`, `${name}ndf`]) {
        const spec = parseRate(text);
        expect('fault' in spec ? spec : rateText(spec)).toBe(text);
      }
    }
    expect(rateText({ rate: rate('25'), dropFrame: false })).toBe('25');
  });
});

describe('real time', () => {
  // Arithmetic from ST 12-1: a frame lasts den / num seconds.
  it('is exact', () => {
    const ndfHour = secondsOf(108_000, rate('29.97'));
    expect(ndfHour.num / ndfHour.den).toBe(3603.6);
    const dfHour = secondsOf(107_892, rate('29.97'));
    expect(dfHour.num / dfHour.den).toBe(3599.9964);
    expect(unitsOf(107_892, rate('29.97'), 1e9)).toBe(3_599_996_400_000);
    expect(unitsOf(1, rate('23.976'), 1e9)).toBe(41_708_333);
    expect(unitsOf(1, rate('23.976'), 1e9, 'ceil')).toBe(41_708_334);
    expect(unitsOf(3, rate('29.97'), 1000)).toBe(100);
  });

  it('shows the drift of 30.00 beside 29.97: 107.892 frames an hour, one each 33.37 s', () => {
    const hour30 = 30 * 3600;
    const hour2997 = (30_000 * 3600) / 1001;
    expect(hour30 - hour2997).toBeCloseTo(107.892, 3);
    expect(3600 / (hour30 - hour2997)).toBeCloseTo(33.37, 2);
    // An hour of the one is exactly so many frames of the other.
    expect(convertFrames(hour30, rate('30'), rate('29.97'))).toBe(107_892);
    expect(convertFrames(107_892, rate('29.97'), rate('30'))).toBe(108_000);
  });

  const arbitraryRate = fc.constantFrom(...RATES);

  it('keeps frames that are converted there and back within half a frame of the slower rate', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 10_000_000 }), arbitraryRate, arbitraryRate, (frame, from, to) => {
      const back = convertFrames(convertFrames(frame, from, to), to, from);
      const most = Math.ceil(from.num / from.den / (to.num / to.den) / 2);
      return Math.abs(back - frame) <= (from === to ? 0 : most);
    }));
  });

  it('never puts a converted frame further than half a frame from its real time', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 100_000_000 }), arbitraryRate, arbitraryRate, (frame, from, to) => {
      const got = BigInt(convertFrames(frame, from, to));
      const exact = BigInt(frame) * BigInt(from.den) * BigInt(to.num);
      const div = BigInt(from.num) * BigInt(to.den);
      const off = 2n * (got * div - exact);
      return off <= div && off > -div;
    }));
  });
});
