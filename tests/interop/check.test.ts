/**
 * What check says of lists that opentimelineio 0.18.1 and otio-cmx3600-adapter 1.0.0 wrote is true: held against facts that the timecode
 * library 1.5.1 finds in the columns of these lists.
 */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkFile, type Checked } from '../../src/check/check.js';
import { checkTogether } from '../../src/check/together.js';
import { isFault, problemLine, type Code } from '../../src/problems.js';
import { parseRate, type RateSpec } from '../../src/timecode/rate.js';
import { python, workFolder } from './support.js';

interface Written {
  readonly edl: string;
  readonly otio: string;
  readonly rate: string;
  readonly spoilt: 'gone' | 'moved' | null;
  readonly lines: readonly { readonly line: number; readonly number: number; readonly mix: boolean; readonly source: number; readonly record: number; readonly gap: number }[];
}

const linesOf = ({ findings }: Checked, code: Code): number[] => findings.sorted.filter((found) => found.code === code).map(({ place }) => place?.line ?? 0);

describe('lists that the reference libraries wrote', () => {
  let written: readonly Written[] = [];
  const checked: { readonly edl: Checked; readonly otio: Checked }[] = [];

  beforeAll(async () => {
    written = python('check_written.py', { folder: workFolder('check'), seeds: Array.from({ length: 120 }, (_, index) => index) }) as Written[];
    for (const { edl, otio, rate } of written) {
      const spec = parseRate(rate);
      if (isFault(spec)) throw new Error(spec.message);
      const load: { rate: RateSpec } = { rate: spec };
      const files = { edl: await checkFile({ name: 'x.edl', bytes: readFileSync(edl) }, { load }), otio: await checkFile({ name: 'x.otio', bytes: readFileSync(otio) }, { load }) };
      checkTogether([files.edl, files.otio]);
      checked.push(files);
    }
  });

  const each = (use: (files: (typeof checked)[number], facts: Written) => void): void => { written.forEach((facts, index) => { use(checked[index] as (typeof checked)[number], facts); }); };

  it('are many, some of them spoilt', () => {
    expect(written.length).toBe(120);
    expect(written.filter(({ spoilt }) => spoilt === 'gone').length).toBeGreaterThan(8);
    expect(written.filter(({ spoilt }) => spoilt === 'moved').length).toBeGreaterThan(8);
    expect(written.flatMap(({ lines }) => lines.filter(({ mix }) => mix)).length).toBeGreaterThan(30);
  });

  it('have source and record sides of other lengths where check says so, and nowhere else', () => {
    each(({ edl }, { lines }) => { expect(linesOf(edl, 'length-differs')).toEqual(lines.filter(({ source, record }) => source !== record).map(({ line }) => line)); });
  });

  it('have holes where check says so, and nowhere else', () => {
    // Said where the event behind the hole begins; of an event of two lines that is the second.
    each(({ edl }, { lines }) => {
      const holes = lines.flatMap(({ gap, source, record }, index) => (gap === 0 ? [] : [source === 0 && record === 0 ? (lines[index + 1]?.line ?? 0) : (lines[index]?.line ?? 0)]));
      expect(linesOf(edl, 'hole')).toEqual(holes);
    });
  });

  it('have event numbers that do not follow where check says so', () => {
    each(({ edl }, { lines }) => {
      const numbers = lines.filter(({ number }, index) => number !== lines[index - 1]?.number);
      expect(linesOf(edl, 'event-number')).toEqual(numbers.filter(({ number }, index) => number !== (numbers[index - 1]?.number ?? 0) + 1).map(({ line }) => line));
    });
  });

  it('have the length of a mix in another column than the format: the adapter writes "D 004" in the column of the kind', () => {
    each(({ edl }, { lines }) => { expect(linesOf(edl, 'outside-format')).toEqual(lines.filter(({ mix }) => mix).map(({ line }) => line)); });
  });

  it('say the same as EDL and as OTIO but for the record start, which the adapter loses; a list that was spoilt says more', () => {
    each(({ otio }, { spoilt }) => {
      const said = otio.findings.sorted.map(problemLine);
      expect(said).toContain('x.otio: error: unlike x.edl: record start 00:00:00:00 became 01:00:00:00 [lists-differ]');
      if (spoilt === null) expect(said.length).toBe(1);
      else expect(said.length).toBeGreaterThan(1);
    });
  });
});
