import fc from 'fast-check';
import SmpteTimecode from 'smpte-timecode';
import { describe, expect, it } from 'vitest';
import { isFault } from '../../src/problems.js';
import { hasDropFrame, RATES, type Count } from '../../src/timecode/rate.js';
import { countOf, formatTimecode, framesPerDay, hasDropMark, parseTimecode } from '../../src/timecode/timecode.js';
import { arbitraryCount, COUNTS } from '../support/lists.js';

const nameOf = ({ rate, dropFrame }: Count): string => `${rate.name} ${dropFrame ? 'df' : 'ndf'}`;
const NAMED = COUNTS.map((count) => [nameOf(count), count] as const);

function count(name: string, dropFrame = false): Count {
  const rate = RATES.find((one) => one.name === name);
  if (rate === undefined) throw new Error(`no rate ${name}`);
  return countOf(rate, dropFrame);
}

function messageOf(label: string, as: Count): string {
  const read = parseTimecode(label, as);
  return isFault(read) ? `${read.message} [${read.fault}]` : String(read);
}

describe('labels', () => {
  it.each(NAMED)('every label of 24 h at %s goes frame → label → frame unchanged', (_, as) => {
    const day = framesPerDay(as);
    let wrong = 0;
    for (let frame = 0; frame < day; frame += 1) {
      if (parseTimecode(formatTimecode(frame, as), as) !== frame) wrong += 1;
    }
    expect(wrong).toBe(0);
  });

  // SMPTE ST 12-1 (drop-frame counting: numbers 00 and 01 are left out at the start of each minute that is not a tenth,
  // at 59.94 numbers 00 to 03); the totals are arithmetic from it, as the contract lists them.
  it.each([
    ['29.97', true, '00:10:00;00', 17_982],
    ['29.97', true, '01:00:00;00', 107_892],
    ['29.97', true, '00:01:00;02', 1_800],
    ['29.97', true, '00:00:59;29', 1_799],
    ['29.97', true, '23:59:59;29', 2_589_407],
    ['59.94', true, '01:00:00;00', 215_784],
    ['59.94', true, '00:01:00;04', 3_600],
    ['59.94', true, '23:59:59;59', 5_178_815],
    ['25', false, '01:00:00:00', 90_000],
    ['23.976', false, '01:00:00:00', 86_400],
    ['47.952', false, '00:00:01:00', 48],
    ['60', false, '24:00:00:00', undefined],
  ] as const)('at %s (drop-frame: %s) %s is frame %s', (name, drop, label, frame) => {
    const as = count(name, drop);
    if (frame === undefined) expect(isFault(parseTimecode(label, as))).toBe(true);
    else {
      expect(parseTimecode(label, as)).toBe(frame);
      expect(formatTimecode(frame, as)).toBe(label);
    }
  });

  it('counts the frames of a day (ST 12-1)', () => {
    expect(framesPerDay(count('29.97', true))).toBe(2_589_408);
    expect(framesPerDay(count('59.94', true))).toBe(5_178_816);
    expect(framesPerDay(count('29.97'))).toBe(2_592_000);
    expect(framesPerDay(count('25'))).toBe(2_160_000);
  });

  it('lets the mark of a label decide how it is read', () => {
    expect(parseTimecode('01:00:00;00', count('29.97'))).toBe(107_892);
    expect(parseTimecode('01:00:00,00', count('29.97'))).toBe(107_892);
    expect(parseTimecode('01;00;00;00', count('29.97'))).toBe(107_892);
    expect(parseTimecode('01:00:00:00', count('29.97'))).toBe(108_000);
    expect(parseTimecode('01:00:00:00', count('29.97', true))).toBe(107_892);
    expect(['1:00:00;00', '01:00:00,00', '01:00:00:00'].map(hasDropMark)).toEqual([true, true, false]);
  });

  it.each([
    ['10:01:00;00', '29.97', '10:01:00;00 does not exist in drop-frame; beside it are 10:00:59;29 and 10:01:00;02 [dropped-label]'],
    ['10:01:00;01', '29.97', '10:01:00;01 does not exist in drop-frame; beside it are 10:00:59;29 and 10:01:00;02 [dropped-label]'],
    ['00:09:00;03', '59.94', '00:09:00;03 does not exist in drop-frame; beside it are 00:08:59;59 and 00:09:00;04 [dropped-label]'],
    ['24:00:00:00', '25', '24:00:00:00 is not a time of day; labels go from 00:00:00 to 23:59:59 [bad-time]'],
    ['10:60:00:00', '25', '10:60:00:00 is not a time of day; labels go from 00:00:00 to 23:59:59 [bad-time]'],
    ['10:00:00:25', '25', '10:00:00:25 has frame 25; at 25 frames go from 00 to 24 [bad-time]'],
    ['10:00:00;00', '25', "10:00:00;00 is a drop-frame label, and there is no drop-frame at 25; write ':' before the frames [bad-time]"],
    ['10:00:00', '25', "'10:00:00' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
    ['', '25', "'' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
    ['10:00:00:0x', '25', "'10:00:00:0x' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
    ['-1:00:00:00', '25', "'-1:00:00:00' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
    ['１0:00:00:00', '25', "'１0:00:00:00' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
  ])('refuses %s at %s in words', (label, name, message) => {
    expect(messageOf(label, count(name))).toBe(message);
  });

  it('never reads a text as anything but a frame of the day, or a fault', () => {
    const text = fc.oneof(fc.string({ maxLength: 14 }), fc.stringMatching(/^[0-9:;,.]{9,12}$/));
    fc.assert(fc.property(text, arbitraryCount, (label, as) => {
      const read = parseTimecode(label, as);
      if (isFault(read)) return read.message !== '';
      return Number.isInteger(read) && read >= 0 && read < framesPerDay({ ...as, dropFrame: as.dropFrame || hasDropMark(label.trim()) });
    }), { numRuns: 3000 });
  });

  it('begins again at zero after 24 h, and counts back below zero', () => {
    fc.assert(fc.property(arbitraryCount, fc.integer({ min: 0, max: 6_000_000 }), fc.integer({ min: -3, max: 3 }), (as, frame, days) =>
      formatTimecode(frame + days * framesPerDay(as), as) === formatTimecode(frame, as)));
  });

  it('gives later frames later labels, each once', () => {
    fc.assert(fc.property(arbitraryCount, fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }), (as, place) => {
      const frame = Math.floor(place * (framesPerDay(as) - 1));
      return formatTimecode(frame, as) < formatTimecode(frame + 1, as);
    }));
  });
});

// smpte-timecode 1.3.6 (npm): every frame from 09:55 to 10:05, and ten frames around every minute of the day. It knows no
// 47.952 and 48; everything else that it takes is here.
describe('labels agree with smpte-timecode', () => {
  const known = NAMED.filter(([, { rate }]) => !['47.952', '48'].includes(rate.name));

  function* frames(as: Count): Generator<number> {
    const minute = as.rate.nominal * 60;
    const day = framesPerDay(as);
    const from = Math.floor((day * 595) / 1440);
    for (let frame = from; frame < from + 10 * minute; frame += 1) yield frame;
    for (let start = 0; start < 1440; start += 1) {
      const at = Math.round((start * day) / 1440);
      for (let frame = Math.max(0, at - 5); frame < at + 5 && frame < day; frame += 1) yield frame;
    }
  }

  it.each(known)('at %s', (_, as) => {
    const { rate, dropFrame } = as;
    let seen = 0;
    let wrong = 0;
    for (const frame of frames(as)) {
      const label = formatTimecode(frame, as);
      seen += 1;
      if (new SmpteTimecode(frame, [rate.num, rate.den], dropFrame).toString() !== label) wrong += 1;
      else if (new SmpteTimecode(label, [rate.num, rate.den], dropFrame).frameCount !== parseTimecode(label, as)) wrong += 1;
    }
    expect(wrong).toBe(0);
    expect(seen).toBeGreaterThan(28_000);
  });

  it('in what labels do not exist', () => {
    for (const as of [count('29.97', true), count('59.94', true)]) {
      for (let minute = 0; minute < 60; minute += 1) {
        for (let frame = 0; frame < 6; frame += 1) {
          const label = `10:${String(minute).padStart(2, '0')}:00;${String(frame).padStart(2, '0')}`;
          let theirs = true;
          try {
            new SmpteTimecode(label, [as.rate.num, as.rate.den], true);
          } catch {
            theirs = false;
          }
          expect([label, !isFault(parseTimecode(label, as))]).toEqual([label, theirs]);
        }
      }
    }
  });
});

describe('countOf', () => {
  it('ignores drop-frame where a rate has none', () => {
    for (const rate of RATES) expect(countOf(rate, true).dropFrame).toBe(hasDropFrame(rate));
    expect(RATES.filter(hasDropFrame).map(({ name }) => name)).toEqual(['29.97', '59.94']);
  });
});
