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

  it.each([['plain lists', arbitraryList({ otherRates: true })], ['lists with everything', richList()]])('%s, over all rates and options', (_, lists) => {
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
      fc.property(richList({ maxShots: 60, maxShotFrames: 40 }), fc.array(fc.nat(2000), { minLength: 1300, maxLength: 1300 }), (list, lengths) => {
        const long = lengthen(list, lengths);
        const texts = files(long);
        expect(texts.length).toBeGreaterThan(1);
        for (const text of texts) expect(text.match(/^\d+(?=  )/gm)?.map(Number).at(-1)).toBeLessThanOrEqual(999);
        expect(comparable(back(texts))).toEqual(comparable(long));
        expect(files(back(texts))).toEqual(texts);
      }),
      { numRuns: Math.ceil(runs / 25) },
    );
  });
});

/** The list's shots over and over, with other lengths; sound is left alone but for its end. */
function lengthen(list: CutList, lengths: readonly number[]): CutList {
  let at = 0;
  const shots = lengths.map((more, index) => {
    const given = list.shots[index % list.shots.length] as CutList['shots'][number];
    const length = given.out - given.in + (given.sourceOut - given.sourceIn === given.out - given.in ? more : 0);
    const shot = { ...given, in: at, out: at + length, sourceOut: given.sourceIn + (given.sourceOut - given.sourceIn === given.out - given.in ? length : given.sourceOut - given.sourceIn) };
    at += length;
    return shot;
  });
  const audio = list.audio.filter(({ withPicture }) => !withPicture);
  return { ...list, shots, frames: at, takes: [{ in: 0, out: at, logIn: 0 }], audio, markers: list.markers.filter((marker) => marker.at < list.frames) };
}

describe('a list read alone', () => {
  it('needs no rate where linecut wrote it', () => {
    const [list] = fc.sample(arbitraryList({ maxShots: 4 }), { numRuns: 1, seed: 5 });
    const found: Problem[] = [];
    readEdl(files(list as CutList).join(''), { file: 'show.edl' }, (problem) => found.push(problem));
    expect(found.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['note found']);
  });
});
