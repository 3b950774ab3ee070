/** Chapters from a source that a log does not have: an error of the log, as any other. */
import { describe, expect, it } from 'vitest';
import { CHAPTER_FORMS } from '../../src/formats/chapters/forms.js';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';
import { convertInto, listsIn, log, takes } from '../support/shows.js';

const UNKNOWN = ['--chapters-from', 'source:Desk'];
const SAID = "--chapters-from: error: there is no source 'Desk'; expected one of 1, 2, 3, black [unknown-source]\n";

describe('--chapters-from a source that the log does not have', () => {
  it('writes nothing in any format, and nothing on standard output', async () => {
    for (const form of CHAPTER_FORMS) {
      const cwd = folderWith({ 'show.csv': log(4) });
      expect(await convertInto(cwd, 'show.csv', '-q', ...UNKNOWN, '--chapters-as', form)).toEqual({ status: 2, out: '', err: SAID });
      expect(await cli(['convert', 'show.csv', '--rate', '25', '-q', '-o', '-', '--to', 'chapters', '--chapters-as', form, ...UNKNOWN], { cwd })).toEqual({ status: 2, out: '', err: SAID });
      expect(filesIn(cwd)).toEqual(['show.csv']);
    }
  });

  it.each(['--force', '--resume'])('leaves the lists that are there as they are, with %s', async (how) => {
    const cwd = folderWith({ 'show.csv': log(4) });
    await convertInto(cwd, 'show.csv', how);
    const before = listsIn(cwd).map((name) => [name, textOf(cwd, `out/${name}`)]);
    expect(before).toHaveLength(3);
    for (const more of [UNKNOWN, [...UNKNOWN, '--title', 'Another']]) {
      expect(await convertInto(cwd, 'show.csv', '-q', how, ...more)).toMatchObject({ status: 2, err: SAID });
      expect(listsIn(cwd).map((name) => [name, textOf(cwd, `out/${name}`)])).toEqual(before);
    }
  });

  it('is said once of a log whose takes are a list each', async () => {
    const cwd = folderWith({ 'show.csv': takes(3) });
    expect(await convertInto(cwd, 'show.csv', '-q', '--takes', 'separate', ...UNKNOWN)).toMatchObject({ status: 2, err: SAID });
    expect(filesIn(cwd)).toEqual(['show.csv']);
  });

  it('does not stop the other logs of the call', async () => {
    const cwd = folderWith({ 'a.csv': log(4), 'b.csv': log(4).replace(/,3$/gm, ',Desk') });
    const { status, err } = await convertInto(cwd, 'a.csv', 'b.csv', ...UNKNOWN);
    expect([status, err]).toEqual([2, expect.stringContaining('2 logs: 1 converted, 1 failed')]);
    expect(listsIn(cwd)).toEqual(['b.chapters.txt', 'b.edl', 'b.otio']);
    expect(textOf(cwd, 'out/b.chapters.txt')).toBe('00:00 b\n00:02 Desk\n');
  });

  it('is nothing to a call that writes no chapters', async () => {
    const cwd = folderWith({ 'show.csv': log(4) });
    expect(await convertInto(cwd, 'show.csv', '-q', '--to', 'edl', ...UNKNOWN)).toMatchObject({ status: 0, err: '' });
  });
});
