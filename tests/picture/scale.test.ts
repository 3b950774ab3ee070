import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contrast, inkOn, INK, luminance, PALETTE, PAPER, SOFT } from '../../src/picture/palette.js';
import { placeLabels } from '../../src/picture/places.js';
import { AXIS_WIDTH, clockText, stripsOf, ticksOf, xOf } from '../../src/picture/scale.js';
import { RATES } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';
import { arbitraryList } from '../support/lists.js';
import { steadyList } from '../support/steady.js';

describe('strips', () => {
  it('cover the record side once', () => {
    fc.assert(
      fc.property(arbitraryList(), (list) => {
        const strips = stripsOf([list]);
        let at = 0;
        for (const strip of strips) {
          expect(strip.from).toBe(at);
          at = strip.to;
        }
        expect(at).toBe(list.frames);
      }),
    );
  });

  it('keep a shot of an hour of 600 some 10 units wide on the average', () => {
    const list = steadyList(600);
    const [strip] = stripsOf([list]);
    if (strip === undefined) throw new Error('no strip');
    const widths = list.shots.map((shot) => xOf(shot.out, strip) - xOf(shot.in, strip));
    expect(widths.reduce((sum, width) => sum + width, 0) / widths.length).toBeGreaterThan(10);
  });

  it('are few even for a day', () => {
    expect(stripsOf([steadyList(20_000)]).length).toBeLessThanOrEqual(60);
  });
});

describe('ticks', () => {
  it('keep their distance, lie on the axis and stand on the first frame at or after their time', () => {
    fc.assert(
      fc.property(arbitraryList(), (list) => {
        for (const strip of stripsOf([list])) {
          const { rate } = list.count;
          const ticks = ticksOf(strip, rate, 104);
          ticks.forEach((tick, index) => {
            const x = xOf(tick.frame, strip);
            expect(x).toBeGreaterThanOrEqual(0);
            expect(x).toBeLessThanOrEqual(AXIS_WIDTH + 1e-6);
            expect((tick.frame * rate.den) / rate.num).toBeGreaterThanOrEqual(tick.seconds - 1e-6);
            expect(((tick.frame - 1) * rate.den) / rate.num).toBeLessThan(tick.seconds);
            const before = ticks[index - 1];
            // Ticks move to whole frames: at most one frame nearer than asked.
            if (before !== undefined) expect(x - xOf(before.frame, strip)).toBeGreaterThan(103 - AXIS_WIDTH / strip.span);
          });
        }
      }),
    );
  });

  it('stand where a strip begins, also where no frame lies on the round time', () => {
    const list = steadyList(600);
    for (const name of ['23.976', '25', '29.97', '59.94']) {
      const rate = RATES.find((one) => one.name === name) ?? list.count.rate;
      const hour = { ...list, frames: Math.ceil((3600 * rate.num) / rate.den), count: countOf(rate, false) };
      const strips = stripsOf([hour]);
      expect(strips.length).toBeGreaterThan(5);
      for (const strip of strips) expect(ticksOf(strip, rate, 104)[0]?.frame).toBe(strip.from);
    }
  });

  it('say real time', () => {
    expect([clockText(0), clockText(59.96, true), clockText(3661)]).toEqual(['0:00:00', '0:01:00.0', '1:01:01']);
  });
});

describe('labels', () => {
  it('never overlap in one row', () => {
    const label = fc.record({ x: fc.integer({ min: 0, max: 1000 }), width: fc.integer({ min: 1, max: 200 }) });
    fc.assert(
      fc.property(fc.array(label, { maxLength: 60 }), (given) => {
        const labels = [...given].sort((a, b) => a.x - b.x);
        const rows = placeLabels(labels, 2, 1000);
        labels.forEach((one, i) => {
          labels.slice(i + 1).forEach((other, j) => {
            const row = rows[i];
            if (row === undefined || row !== rows[i + 1 + j]) return;
            expect(one.x + one.width).toBeLessThanOrEqual(other.x);
          });
        });
      }),
    );
  });
});

describe('colours', () => {
  it('have the luminance and contrast that WCAG 2.2 defines', () => {
    // WCAG 2.2: black on white is 21:1; white has luminance 1, black 0.
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect([luminance('#ffffff'), luminance('#000000')]).toEqual([1, 0]);
    // #777777 on white is 4.48:1: the best-known near miss of the 4.5:1 line (common figure, recomputed here).
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  it('carry text at 4.5:1 or more (WCAG 2.2, success criterion 1.4.3)', () => {
    for (const fill of PALETTE) expect(contrast(fill, inkOn(fill))).toBeGreaterThanOrEqual(4.5);
    expect(contrast(INK, PAPER)).toBeGreaterThanOrEqual(7);
    expect(contrast(SOFT, PAPER)).toBeGreaterThanOrEqual(4.5);
  });
});
