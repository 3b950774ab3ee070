import { describe, expect, it } from 'vitest';
import { problemLine, ProblemList, isFault } from '../../src/problems.js';
import { readShowFile } from '../../src/show/read.js';
import { plainSources, showSources } from '../../src/show/sources.js';
import type { Source } from '../../src/cutlist/model.js';
import { parseRate, type Count } from '../../src/timecode/rate.js';
import { countOf, framesPerDay, parseTimecode } from '../../src/timecode/timecode.js';

function countNamed(name: string): Count {
  const spec = parseRate(name);
  if (isFault(spec)) throw new Error(spec.message);
  return countOf(spec.rate, spec.dropFrame ?? false);
}

function sourcesOf(show: unknown, rate = '29.97df'): { sources: Source[]; lines: string[] } {
  const list = new ProblemList();
  const read = readShowFile(JSON.stringify(show, null, 1), 'show.json', list.add);
  if (read === undefined) throw new Error(list.problems.map(problemLine).join('\n'));
  return { sources: showSources(read, countNamed(rate), 'show.json', list.add), lines: list.problems.map(problemLine) };
}

const one = (source: object, rate?: string): Source => {
  const { sources, lines } = sourcesOf({ sources: [{ id: '1', ...source }] }, rate);
  expect(lines).toEqual([]);
  return sources[0] as Source;
};

/** Frames of a label at a count, for expectations: 1 h of 29.97df is 107,892 frames (SMPTE ST 12-1). */
const at = (label: string, rate: string): number => parseTimecode(label, countNamed(rate)) as number;

describe('the sources of a show', () => {
  it('have defaults for what is not said', () => {
    expect(one({})).toEqual({ id: '1', name: '1', aliases: [], picture: true, recorded: true, count: countNamed('29.97df'), starts: [], offset: 0, files: [] });
  });

  it('come in the order of the file, the program recording last', () => {
    const { sources } = sourcesOf({ program: { reel: 'PGM' }, sources: [{ id: 'b' }, { id: 'a' }] });
    expect(sources.map(({ id, name }) => [id, name])).toEqual([['b', 'b'], ['a', 'a'], ['program', 'Program']]);
  });

  it('keep paths as they were given', () => {
    const paths = ['media/a b#1.mov', '/mnt/x.mov', 'file:///c:/x.mov', '..\\y.mov'];
    expect(one({ files: paths.map((path) => ({ path })) }).files.map(({ path }) => path)).toEqual(paths);
  });

  it('without a show file are the names of the log', () => {
    expect(plainSources([{ id: '7', name: '' }, { id: '8', name: 'Close-up' }], countNamed('25')).map(({ id, name }) => [id, name])).toEqual([['7', '7'], ['8', 'Close-up']]);
  });
});

describe('labels of a source', () => {
  it('are read at the list rate where the source has none', () => {
    expect(one({ start: '01:00:00;00' }).starts).toEqual([107_892]);
    expect(one({ start: '01:00:00:00' }).starts).toEqual([107_892]);
    expect(one({ start: '01:00:00:00' }, '29.97').starts).toEqual([108_000]);
  });

  it('are read at the rate of its files', () => {
    const source = one({ start: '01:00:00:00', files: [{ path: 'a.mov', rate: '25', frames: 100 }] });
    expect(source.count).toEqual(countNamed('25'));
    expect(source.starts).toEqual([90_000]);
    expect(source.files).toEqual([{ path: 'a.mov', start: 90_000, frames: 100, count: countNamed('25') }]);
  });

  it('say themselves how a bare rate counts', () => {
    expect(one({ start: '01:00:00;00', files: [{ path: 'a', rate: '29.97' }] }, '25').count).toEqual(countNamed('29.97df'));
    expect(one({ start: '01:00:00:00', files: [{ path: 'a', rate: '29.97' }] }).count).toEqual(countNamed('29.97'));
    expect(one({ files: [{ path: 'a', rate: '29.97' }] }).count).toEqual(countNamed('29.97df'));
    expect(one({ start: '01:00:00;00' }, '29.97').count).toEqual(countNamed('29.97df'));
    expect(one({ start: '01:00:00:00', files: [{ path: 'a', rate: '59.94df' }] }).starts).toEqual([215_784]);
  });

  it('that cannot be read are reported with their place', () => {
    const { lines } = sourcesOf({ sources: [{ id: '1', start: '10:01:00;00' }, { id: '2', start: ['00:00:00;00', 'soon'], sync: { this: '1', is: '2' } }], program: { files: [{ path: 'p', start: '25:00:00:00' }] } });
    expect(lines).toEqual([
      'show.json:5:4: error: 10:01:00;00 does not exist in drop-frame; beside it are 10:00:59;29 and 10:01:00;02 [dropped-label]',
      "show.json:11:5: error: 'soon' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]",
      "show.json:14:5: error: '1' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]",
      "show.json:15:5: error: '2' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]",
      'show.json:23:5: error: 25:00:00:00 is not a time of day; labels go from 00:00:00 to 23:59:59 [bad-time]',
    ]);
  });

  it('of sync are read each at its own count', () => {
    expect(one({ sync: { this: '00:00:10:00', is: '10:00:00;00' }, files: [{ path: 'a', rate: '25' }] }).sync).toEqual({ this: 250, is: at('10:00:00;00', '29.97df') });
  });
});

describe('the files of a source', () => {
  it('are sorted by start', () => {
    const { files } = one({ files: [{ path: 'b', start: '10:30:00;00' }, { path: 'a', start: '10:00:00;00' }] });
    expect(files.map(({ path }) => path)).toEqual(['a', 'b']);
  });

  it('give the source its start', () => {
    expect(one({ files: [{ path: 'b', start: '10:30:00;00' }, { path: 'a', start: '10:00:00;00' }] }).starts).toEqual([at('10:00:00;00', '29.97df')]);
  });

  it('follow one another where only the source has a start', () => {
    const { files } = one({ start: '10:00:00:00', files: [{ path: 'a', frames: 1000 }, { path: 'b', frames: 500 }, { path: 'c' }] }, '25');
    expect(files.map(({ start }) => start)).toEqual([900_000, 901_000, 901_500]);
  });

  it('begin each with its take where there are as many starts', () => {
    const { files } = one({ start: ['10:00:00:00', '12:00:00:00'], files: [{ path: 'a', frames: 10 }, { path: 'b' }] }, '25');
    expect(files.map(({ start }) => start)).toEqual([900_000, 1_080_000]);
  });

  it('are left as they are where nothing says when they begin', () => {
    expect(one({ files: [{ path: 'z' }, { path: 'a' }] }).files).toEqual([{ path: 'z' }, { path: 'a' }]);
  });

  it('go on past midnight', () => {
    const { files, starts } = one({ files: [{ path: 'a', start: '23:30:00:00' }, { path: 'b', start: '00:30:00:00' }] }, '25');
    expect(files.map(({ start }) => start)).toEqual([at('23:30:00:00', '25'), at('00:30:00:00', '25') + framesPerDay(countNamed('25'))]);
    expect(starts).toEqual([at('23:30:00:00', '25')]);
  });
});
