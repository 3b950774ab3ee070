import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { listFaults } from '../../../src/cutlist/validate.js';
import type { CutList } from '../../../src/cutlist/model.js';
import { readEdl, readEdlParts } from '../../../src/formats/edl/read.js';
import { writeEdl, type EdlOptions } from '../../../src/formats/edl/write.js';
import type { Problem } from '../../../src/problems.js';
import { arbitraryList } from '../../support/lists.js';
import { comparable } from './comparable.js';
import { richList } from './lists.js';

const runs = Number(process.env['LINECUT_RUNS'] ?? 250);

/** All files of a list; a problem that is no warning fails the test. */
function files(list: CutList, options: EdlOptions = {}): string[] {
  const problems: Problem[] = [];
  const outputs = writeEdl(list, options, (problem) => problems.push(problem));
  expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  expect(outputs.map(({ suffix }) => suffix)).toEqual(outputs.length === 1 ? ['.edl'] : outputs.map((_, index) => `-${String(index + 1)}.edl`));
  return outputs.map(({ chunks }) => [...chunks].join(''));
}

/** Reads what linecut wrote: nothing but the rate may be worth a word. */
function back(texts: readonly string[]): CutList {
  const problems: Problem[] = [];
  const list = readEdlParts(texts.map((text, index) => ({ text, file: `show-${String(index + 1)}.edl` })), {}, (problem) => problems.push(problem));
  expect(problems.filter(({ code }) => code !== 'found')).toEqual([]);
  expect(list).toBeDefined();
  return list as CutList;
}

describe('what linecut writes it reads back to the same cut list', () => {
  const options = fc.record({ reelLength: fc.constantFrom(8, 32) as fc.Arbitrary<8 | 32>, newline: fc.constantFrom('crlf', 'lf') as fc.Arbitrary<'crlf' | 'lf'>, order: fc.constantFrom('record', 'source') as fc.Arbitrary<'record' | 'source'> });

  it.each([['plain lists', arbitraryList({ otherRates: true })], ['lists with everything', richList()], ['lists whose sound leaves shots early', arbitraryList({ audio: ['early'] })]])('%s, over all rates and options', (_, lists) => {
    fc.assert(
      fc.property(lists, options, (list, chosen) => {
        const read = back(files(list, chosen));
        expect(comparable(read, chosen.reelLength)).toEqual(comparable(list, chosen.reelLength));
        expect(listFaults(read)).toEqual([]);
      }),
      { numRuns: runs },
    );
  });

  it('and writes that again byte for byte', () => {
    fc.assert(
      fc.property(richList(), options, (list, chosen) => {
        const texts = files(list, chosen);
        expect(files(back(texts), chosen)).toEqual(texts);
      }),
      { numRuns: runs },
    );
  });

  it('in as many lines as it wrote, of printable ASCII, whatever names and notes hold', () => {
    fc.assert(
      fc.property(richList(), (list) => {
        for (const text of files(list)) {
          expect(text).toMatch(/^[\x20-\x7e\r\n]*$/);
          for (const line of text.split('\r\n').slice(0, -1)) expect(line).toMatch(/^(TITLE: |FCM: (NON-)?DROP FRAME$|\d{3}  .{71}$|AUD  |AUD     4$|M2   |\* )/);
        }
      }),
      { numRuns: runs },
    );
  });
});

describe('parts', () => {
  it('are read back to the one list they were, wherever it was divided', () => {
    fc.assert(
      fc.property(richList({ maxShots: 60, maxShotFrames: 40 }), fc.integer({ min: 7, max: 20 }), (list, maxEvents) => {
        const texts = files(list, { maxEvents });
        for (const text of texts) expect(Math.max(...(text.match(/^\d+(?=  )/gm) ?? []).map(Number))).toBeLessThanOrEqual(maxEvents);
        const read = back(texts);
        expect(comparable(read)).toEqual(comparable(list));
        expect(files(read, { maxEvents })).toEqual(texts);
      }),
      { numRuns: runs },
    );
  });
});

describe('a list read alone', () => {
  it('needs no rate where linecut wrote it', () => {
    const [list] = fc.sample(arbitraryList({ maxShots: 4 }), { numRuns: 1, seed: 5 });
    const found: Problem[] = [];
    readEdl(files(list as CutList).join(''), { file: 'show.edl' }, (problem) => found.push(problem));
    expect(found.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['note found']);
  });
});
