import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Source } from '../../../src/cutlist/model.js';
import { asciiPath, asciiText, readPath } from '../../../src/formats/edl/ascii.js';
import { reelNames } from '../../../src/formats/edl/reels.js';
import type { Problem } from '../../../src/problems.js';
import { count, source } from './small.js';
import { TEXTS } from './lists.js';

const PAL = count('25');
const given = (name: string, reel?: string, id = name): Source => source(id, name, PAL, reel === undefined ? {} : { reel });

function reels(sources: readonly Source[], length = 8): { names: string[] | undefined; problems: Problem[] } {
  const problems: Problem[] = [];
  const names = reelNames(sources, length, (problem) => problems.push(problem));
  return { names: names === undefined ? undefined : sources.map(({ id }) => names.get(id) ?? '-'), problems };
}

describe('reels', () => {
  it.each<[string, Source[], string[]]>([
    ['the reel, else the name, else the id', [given('Stage wide', 'Cam-1'), given('Close-up'), given('???', undefined, '4')], ['CAM1', 'CLOSEUP', '4']],
    ['letters of other alphabets made readable', [given('Küche'), given('Großer Topf'), given('Кухня')], ['KUCHE', 'GROSSERT', 'KUKHNYA']],
    ['eight characters, unique where cutting makes two alike', [given('Stage wide left'), given('Stage wide right'), given('Stage wide')], ['STAGEWID', 'STAGEWI2', 'STAGEWI3']],
    ['reels that were given before names', [given('Wide'), given('Other', 'WIDE')], ['WIDE2', 'WIDE']],
    ['reels that fit before those that are cut', [given('a', 'LONGREEL12'), given('b', 'LONGREEL')], ['LONGREE2', 'LONGREEL']],
    ['reels that are legal before those that are made so', [given('a', 'A 1'), given('b', 'a1'), given('c', 'A-1')], ['A12', 'A1', 'A13']],
    ['never what cutting leaves of another\'s', [given('a', 'A001C001_0101'), given('b', 'A001C001_0102'), given('c', 'A001C002_0102'), given('d', 'A001C003_0102')], ['A001C001', 'A001C004', 'A001C002', 'A001C003']],
    ['BL, AX and BLACK for nobody', [given('BL', undefined, '1'), given('ax', undefined, '2'), given('Black', undefined, '3')], ['1', '2', '3']],
    ['AX where nothing is left', [given('???', undefined, '!'), given('§§', '', '-'), given('', undefined, '')], ['AX', 'SS', 'AX2']],
  ])('are %s', (_, sources, expected) => {
    expect(reels(sources).names).toEqual(expected);
  });

  it('may have 32 characters', () => {
    expect(reels([given('Stage wide left of the big hot plate'), given('Stage wide left of the big hot plate', undefined, '2')], 32).names).toEqual(['STAGEWIDELEFTOFTHEBIGHOTPLATE', 'STAGEWIDELEFTOFTHEBIGHOTPLATE2']);
  });

  it('given to two sources are an error that names both', () => {
    const { names, problems } = reels([given('Wide', 'cam 1'), given('Close', 'CAM 1')]);
    expect(names).toBeUndefined();
    expect(problems).toEqual([{ code: 'reel-taken', severity: 'error', message: `reel 'CAM 1' is given to both Wide and Close` }]);
  });

  it('given that cannot be kept are a warning', () => {
    const { names, problems } = reels([given('Wide', 'CAM 1'), given('Close', 'CAM-1'), given('Slides', 'BL')]);
    expect(names).toEqual(['CAM1', 'CAM12', 'SLIDES']);
    expect(problems.map(({ severity, message }) => `${severity}: ${message}`)).toEqual([
      `warning: reel 'CAM-1' of Close becomes CAM12: CAM1 is another source's`,
      `warning: reel 'BL' of Slides becomes SLIDES: BL is reserved`,
    ]);
  });

  it('are legal, unique, and the same whatever else is asked of the list', () => {
    fc.assert(
      fc.property(fc.array(fc.record({ name: fc.oneof(fc.constantFrom(...TEXTS), fc.string({ unit: 'grapheme' })), reel: fc.option(fc.string({ minLength: 1, maxLength: 12 })) }), { maxLength: 40 }), fc.constantFrom(8, 32), (rows, length) => {
        const seen = new Set<string>();
        const sources = rows.map(({ name, reel }, index) => {
          const twice = reel !== null && seen.has(reel.trim().toUpperCase());
          seen.add((reel ?? '').trim().toUpperCase());
          return given(name, reel === null || twice ? undefined : reel, String(index));
        });
        const { names } = reels(sources, length);
        expect(new Set(names).size).toBe(sources.length);
        for (const name of names ?? []) expect(name).toMatch(length === 8 ? /^(?!BL$|BLACK$)[A-Z0-9]{1,8}$/ : /^(?!BL$|BLACK$)[A-Z0-9]{1,32}$/);
        expect(reels(sources, length).names).toEqual(names);
      }),
    );
  });

  it('of ten thousand sources with one name differ', () => {
    const sources = Array.from({ length: 10_000 }, (_, index) => given('Stage wide camera', undefined, String(index)));
    expect(new Set(reels(sources).names).size).toBe(10_000);
  });
});

describe('text', () => {
  it.each([['Crème brûlée', 'Creme brulee'], ['Straße', 'Strasse'], ['a\r\n\tb', 'a b'], ['“x” – y…', '"x" - y...'], ['e\u0301', 'e'], ['\u0000', ''], ['\ud800', '?'], [' a ', 'a'], ['a\u2028b', 'a b']])('%j becomes %j', (text, expected) => {
    expect(asciiText(text)).toBe(expected);
  });

  it('is one line of printable ASCII, whatever it was', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(asciiText(text)).toMatch(/^[\x20-\x7e]*$/);
    }));
  });

  it.each([['media/Küche.mov', 'media/K%C3%BCche.mov'], ['100% done.mov', '100% done.mov'], ['a%20b', 'a%2520b'], [' x', '%20x'], ['file:///a%20b.mov', 'file:///a%20b.mov']])('the path %j is written %j', (path, expected) => {
    expect(asciiPath(path)).toBe(expected);
  });

  it('with a million spaces is read back as it was', () => {
    const path = `a${' '.repeat(1_000_000)}b${' '.repeat(1000)}`;
    expect(readPath(asciiPath(path))).toBe(path);
    expect(asciiText(path)).toHaveLength(1_000_002);
  });

  it('paths are read back as they were', () => {
    fc.assert(fc.property(fc.oneof(fc.string(), fc.string({ unit: 'grapheme' }), fc.stringMatching(/^[%0-9a-fA-F ]*$/)), (path) => {
      fc.pre(!/^[a-z][a-z0-9+.-]+:\/\//i.test(path));
      expect(asciiPath(path)).toMatch(/^[\x20-\x7e]*$/);
      expect(readPath(asciiPath(path))).toBe(path);
    }));
  });
});
