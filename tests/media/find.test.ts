import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { MediaFile, Source } from '../../src/cutlist/model.js';
import { relocateSources, type FindOptions, type FoundMedia } from '../../src/media/find.js';
import { inFolder, pathTo } from '../../src/media/paths.js';
import type { Problem } from '../../src/problems.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { count } from './support.js';

const COUNT = count('29.97df');

const source = (...files: MediaFile[]): Source => ({ id: '1', name: 'Stage wide', aliases: [], picture: true, recorded: true, count: COUNT, starts: [], offset: 0, files });

interface Case {
  readonly files: readonly MediaFile[];
  readonly listing: readonly FoundMedia[];
  readonly there?: readonly string[];
  readonly paths?: FindOptions['paths'];
}

/** Show file in /show, media root /edit. */
function find({ files, listing, there = [], paths }: Case): { paths: string[]; problems: Problem[]; said: string[] } {
  const problems: Problem[] = [];
  const [found] = relocateSources([source(...files)], listing, {
    root: '/edit', rootName: 'edit', base: '/show', isThere: (path) => there.includes(path), ...(paths === undefined ? {} : { paths }),
  }, (one) => void problems.push(one));
  return { paths: found?.files.map(({ path }) => path) ?? [], problems, said: problems.map(({ code, severity, place }) => `${place?.file ?? ''}: ${severity} ${code}`) };
}

const at = (path: string, start = 0, frames = 100, bytes = 10): FoundMedia => ({ path, bytes, extentOf: () => ({ start, frames }) });
const file = (path: string, start = 0, frames = 100, size = 10): MediaFile => ({ path, start, frames, size });

describe('recordings that were moved', () => {
  test('are found by name; a path comes back as it was given, relative or absolute', () => {
    const listing = [at('/edit/day1/wide-1.mov')];
    expect(find({ files: [file('card/wide-1.mov')], listing })).toMatchObject({ paths: ['../edit/day1/wide-1.mov'], said: [] });
    expect(find({ files: [file('/card/wide-1.mov')], listing })).toMatchObject({ paths: ['/edit/day1/wide-1.mov'], said: [] });
    expect(find({ files: [file('file:///card/wide-1.mov')], listing })).toMatchObject({ paths: ['/edit/day1/wide-1.mov'], said: [] });
  });

  test('paths are written as asked', () => {
    const listing = [at('/edit/wide-1.mov')];
    for (const path of ['card/wide-1.mov', '/card/wide-1.mov']) {
      expect(find({ files: [file(path)], listing, paths: 'absolute' }).paths).toEqual(['/edit/wide-1.mov']);
      expect(find({ files: [file(path)], listing, paths: 'relative' }).paths).toEqual(['../edit/wide-1.mov']);
    }
  });

  test('a network share stays one, with slashes too', () => {
    const files = [file('//desk/card/wide.mov')];
    expect(find({ files, listing: [], paths: 'absolute' })).toMatchObject({ paths: ['//desk/card/wide.mov'] });
    expect(find({ files, listing: [], paths: 'relative' })).toMatchObject({ paths: ['//desk/card/wide.mov'] });
    expect(pathTo('//wide.mov', '/show')).toBe('/wide.mov');
  });

  test('names are the same in any case and in either form of an accent, on paths of any system', () => {
    const listing = [at('/edit/K\u00FCche #1 50%.MOV')];
    for (const path of ['E:\\card\\Ku\u0308che #1 50%.mov', '\\\\desk\\card\\K\u00FCche #1 50%.mov', 'file:///card/K%C3%BCche%20%231%2050%25.mov', 'card/k\u00FCche #1 50%.mov']) {
      expect(find({ files: [file(path)], listing, paths: 'absolute' }), path).toMatchObject({ paths: ['/edit/K\u00FCche #1 50%.MOV'], said: [] });
    }
  });

  test('one that did not move stays, although there is a copy', () => {
    expect(find({ files: [file('../edit/a/wide.mov')], listing: [at('/edit/a/wide.mov'), at('/edit/b/wide.mov')] })).toMatchObject({ paths: ['../edit/a/wide.mov'], said: [] });
  });

  test('size, timecode and length tell equal names apart, as far as they are known', () => {
    const listing = [at('/edit/a/clip.mov', 0, 100, 10), at('/edit/b/clip.mov', 500, 100, 10), at('/edit/c/clip.mov', 500, 90, 10), at('/edit/d/clip.mov', 500, 90, 11)];
    const where = (one: MediaFile): unknown => find({ files: [one], listing, paths: 'absolute' });
    expect(where(file('clip.mov', 0))).toMatchObject({ paths: ['/edit/a/clip.mov'], said: [] });
    expect(where(file('clip.mov', 500))).toMatchObject({ paths: ['/edit/b/clip.mov'], said: [] });
    expect(where(file('clip.mov', 500, 90))).toMatchObject({ paths: ['/edit/c/clip.mov'], said: [] });
    expect(where({ path: 'clip.mov', size: 11 })).toMatchObject({ paths: ['/edit/d/clip.mov'], said: [] });
    // A start that runs on past midnight is the same label.
    expect(where(file('clip.mov', framesPerDay(COUNT) + 500))).toMatchObject({ paths: ['/edit/b/clip.mov'], said: [] });
    // What was not measured decides nothing.
    expect(find({ files: [file('x.mov', 7, 7)], listing: [{ path: '/edit/x.mov', bytes: 10 }] })).toMatchObject({ paths: ['../edit/x.mov'], said: [] });
  });

  test('two candidates: the one in folders most like the old ones, and both are named', () => {
    const listing = [at('/edit/backup/wide.mov'), at('/edit/cam1/wide.mov')];
    const { paths, problems, said } = find({ files: [file('/card/cam1/wide.mov')], listing });
    expect(paths).toEqual(['/edit/cam1/wide.mov']);
    expect(said).toEqual(['/card/cam1/wide.mov: warning two-candidates']);
    expect(problems[0]?.message).toBe('it is 2 times below edit: /edit/backup/wide.mov, /edit/cam1/wide.mov; /edit/cam1/wide.mov was taken');
  });

  test('still on the card: outside the root', () => {
    const { paths, said } = find({ files: [file('/card/wide.mov')], listing: [], there: ['/card/wide.mov'] });
    expect(paths).toEqual(['/card/wide.mov']);
    expect(said).toEqual(['/card/wide.mov: warning outside-root']);
  });

  test('nowhere: missing; a file of its name that is another is named with what differs', () => {
    const { paths, problems, said } = find({ files: [file('/card/wide.mov')], listing: [at('/edit/wide.mov', 4, 90, 11)] });
    expect(paths).toEqual(['/card/wide.mov']);
    expect(said).toEqual(['/card/wide.mov: warning missing-file']);
    expect(problems[0]?.message).toContain('/edit/wide.mov has its name, but 11 bytes instead of 10, another start timecode, 90 frames instead of 100');
  });

  test('random trees: every recording gets its own copy, or is reported; none gets another one', () => {
    const content = fc.record({ name: fc.constantFrom('a.mov', 'b.mov', 'c.mov'), start: fc.integer({ min: 0, max: 3 }), frames: fc.integer({ min: 1, max: 2 }), bytes: fc.integer({ min: 1, max: 2 }) });
    fc.assert(fc.property(
      fc.array(content, { minLength: 1, maxLength: 8 }), fc.array(content, { maxLength: 12 }), fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }), fc.constantFrom<FindOptions['paths'][]>(undefined, 'relative', 'absolute'),
      (wanted, present, there, paths) => {
        const files = wanted.map(({ name, start, frames, bytes }, index) => file(`/card${String(index)}/${name}`, start, frames, bytes));
        const listing = present.map(({ name, start, frames, bytes }, index) => at(`/edit/${String(index)}/${name}`, start, frames, bytes));
        const old = files.filter((_, index) => there[index]).map(({ path }) => path);
        const found = find({ files, listing, there: old, ...(paths === undefined ? {} : { paths }) });
        expect(found.paths.length).toBe(files.length);
        wanted.forEach((one, index) => {
          const before = files[index]?.path ?? '';
          const now = pathTo(found.paths[index] ?? '', '/show');
          const same = present.flatMap((other, place) => (JSON.stringify(other) === JSON.stringify(one) ? [`/edit/${String(place)}/${other.name}`] : []));
          const mine = found.problems.filter(({ place }) => place?.file === before).map(({ code }) => code);
          if (same.length > 0) expect(same).toContain(now);
          else expect(now).toBe(before);
          const expected = same.length === 1 ? [] : same.length > 1 ? ['two-candidates'] : [old.includes(before) ? 'outside-root' : 'missing-file'];
          expect(mine).toEqual(expected);
        });
      },
    ), { numRuns: 500 });
  });

  test('a path there and back', () => {
    for (const path of ['/edit/a.mov', '/show/media/a b.mov', '/a']) {
      expect(pathTo(inFolder(path, '/show', 'relative'), '/show')).toBe(path);
      expect(inFolder(path, '/show', 'absolute')).toBe(path);
    }
  });
});
