import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matchSources } from '../../src/compare/sources.js';
import { PROGRAM, type CutList, type Source } from '../../src/cutlist/model.js';
import { legal, reelNames } from '../../src/formats/edl/reels.js';
import { camera, listOf } from '../support/small.js';

const withSources = (sources: readonly Source[]): CutList => listOf('1:100', 'none', { sources });

/** Names, reels and files of which many are alike, or become alike when an EDL is written. */
const anySources: fc.Arbitrary<readonly Source[]> = fc.uniqueArray(
  fc.record({
    id: fc.constantFrom('1', '2', '3', '4', '5', '6', PROGRAM),
    name: fc.constantFrom('Wide', 'wide', 'Wide2', 'Stage wide left', 'Stage wide right', 'STAGEWI2', 'Bühne', 'Buhne'),
    reel: fc.constantFrom(undefined, undefined, undefined, 'WIDE', 'wide', 'STAGEWID', 'STAGEWI2', 'BUHNE', 'STAGEWIDELEFT', 'STAGE-WID', 'wi.de', '--'),
    files: fc.array(fc.constantFrom('a/1.mov', 'b/1.mov', 'a/2.mov', 'file:///c/1%2emov', 'c\\2.mov').map((path) => ({ path })), { maxLength: 3 }),
  }),
  { selector: ({ id }) => id, maxLength: 7 },
).map((given) => given.map(({ id, name, reel, files }) => camera(id, { name, files, ...(reel === undefined ? {} : { reel }) })));

describe('which source is which', () => {
  it('is what asking every source of one for every source of the other finds', () => {
    fc.assert(fc.property(anySources, anySources, (a, b) => {
      const keys = matchSources(withSources(a), withSources(b));
      const plain = plainly(a, b);
      expect([a.map(({ id }) => keys.a(id)), b.map(({ id }) => keys.b(id))]).toEqual([a.map(({ id }) => plain.a(id)), b.map(({ id }) => plain.b(id))]);
    }), { numRuns: 1500 });
  });

  it('keeps tapes apart whose names an EDL would write alike', () => {
    const tapes = (...reels: string[]): readonly Source[] => reels.map((reel, index) => camera(String(index), { name: `Tape ${String(index)}`, reel }));
    const keys = (a: readonly Source[], b: readonly Source[]): string[] => b.map(({ id }) => matchSources(withSources(a), withSources(b)).b(id));
    expect(keys(tapes('1-12', '11-2'), tapes('11-2', '1-12'))).toEqual(['1', '0']);
    expect(keys(tapes('1-12', '11-2'), tapes('1-12'))).toEqual(['0']);
    expect(keys(tapes('CAM_1', 'CAM1'), tapes('CAM1', 'CAM_1'))).toEqual(['1', '0']);
    // As an EDL has them.
    expect(keys(tapes('CAM 1', 'cam 2'), tapes('CAM2', 'CAM1'))).toEqual(['1', '0']);
  });
});

/** The same in the plainest way: in each round, the first free source that fits. */
function plainly(a: readonly Source[], b: readonly Source[]): ReturnType<typeof matchSources> {
  const legalOf = ({ reel }: Source): string => legal(reel ?? '');
  const reelOf = (source: Source): string => (legalOf(source) === '' ? '' : (source.reel ?? '').toUpperCase());
  const written = (all: readonly Source[], { id }: Source): string[] => [8, 32].flatMap((length) => reelNames(all, length, () => undefined)?.get(id) ?? []);
  const ascii = ({ name }: Source): string => name.replace('ü', 'u').toLowerCase();
  const last = (path: string): string => path.replace('%2e', '.').replace(/^.*[/\\]/, '');
  const sharing = (one: Source, other: Source, of: (path: string) => string): boolean => one.files.some(({ path }) => other.files.some((file) => of(file.path) === of(path)));
  const likely = (one: Source, other: Source): boolean => written(a, other).includes(legalOf(one)) || written(b, one).includes(legalOf(other));
  const first = (source: Source): string => (reelOf(source) === '' ? source : (a.find((one) => reelOf(one) === reelOf(source)) ?? source)).id;
  const matched = new Map<string, string>();
  for (const one of b) {
    const other = a.find((source) => reelOf(one) !== '' && reelOf(source) === reelOf(one));
    if (other !== undefined) matched.set(one.id, other.id);
  }
  const rounds: ((one: Source, other: Source) => boolean)[] = [
    (one, other) => legalOf(one) !== '' && legalOf(one) === legalOf(other),
    (one, other) => likely(one, other) && ascii(one) === ascii(other),
    (one, other) => ascii(one) === ascii(other),
    likely,
    (one, other) => sharing(one, other, (path) => path),
    (one, other) => sharing(one, other, last),
    (one, other) => one.id === PROGRAM && other.id === PROGRAM,
  ];
  for (const fits of rounds) {
    for (const one of b) {
      if (matched.has(one.id)) continue;
      const free = a.filter((other) => ![...matched.values()].includes(first(other)) && fits(one, other));
      const other = free.find(({ id }) => id === one.id) ?? free[0];
      if (other !== undefined) matched.set(one.id, first(other));
    }
  }
  const left = b.filter(({ id }) => !matched.has(id));
  const twin = (one: Source): Source => left.find((other) => reelOf(one) !== '' && reelOf(other) === reelOf(one)) ?? one;
  return {
    a: (id) => first(a.find((source) => source.id === id) as Source),
    b: (id) => matched.get(id) ?? `b:${twin(b.find((source) => source.id === id) as Source).id}`,
  };
}
