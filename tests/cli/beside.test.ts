/** Logs of one call whose lists would have one name only because one of them is divided into parts or takes. */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesIn, folderWith, textOf, type CliResult } from '../support/cli.js';
import { convertInto, edlsIn, log, takes } from '../support/shows.js';
import { namesBeside } from '../../src/cli/names.js';

const convert = (cwd: string, ...args: string[]): Promise<CliResult> => convertInto(cwd, ...args, '-q');

describe('a log that needs several EDLs beside a log that is called like one of them', () => {
  it.each([[['show.csv', 'show-1.csv']], [['show-1.csv', 'show.csv']]])('is refused in one call, with --force and with --resume too: %j', async (logs) => {
    for (const how of [[], ['--force'], ['--resume'], ['--resume', '--force']]) {
      const cwd = folderWith({ 'show.csv': log(1001), 'show-1.csv': log(4) });
      const { status, err } = await convert(cwd, ...logs, ...how);
      expect([status, err]).toEqual([2, expect.stringContaining('show.csv: error: out/show-1.edl would be written over the lists of show-1.csv; convert them in two calls, into different folders [same-output]')]);
      expect(filesIn(cwd).filter((name) => name.startsWith('out/show'))).toEqual(['out/show-1.chapters.txt', 'out/show-1.edl', 'out/show-1.otio']);
      expect(textOf(cwd, 'out/show-1.edl')).toContain('TITLE: show-1\r\n');
    }
  });

  it('is converted where it needs no second EDL', async () => {
    const cwd = folderWith({ 'show.csv': log(5), 'show-1.csv': log(4) });
    expect(await convert(cwd, 'show.csv', 'show-1.csv', '--force')).toMatchObject({ status: 0, err: '' });
    expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show.edl']);
  });

  it('keeps lists of the same title that are no parts of it', async () => {
    for (const how of ['--force', '--resume']) {
      const cwd = folderWith({ 'show.csv': log(5), 'show-1.csv': log(4) });
      expect((await convert(cwd, 'show-1.csv', 'show.csv', '--title', 'Kitchen', how)).status).toBe(0);
      expect(filesIn(cwd)).toContain('out/show-1.edl');
      expect((await convert(cwd, 'show.csv', '--title', 'Kitchen', '--newline', 'lf', how)).status).toBe(0);
      expect(filesIn(cwd)).toContain('out/show-1.edl');
    }
  });

  it('still clears away its own parts when it has become shorter', async () => {
    for (const how of ['--force', '--resume']) {
      const cwd = folderWith({ 'show.csv': log(1001) });
      await convert(cwd, 'show.csv', how);
      expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl']);
      writeFileSync(join(cwd, 'show.csv'), log(3));
      expect((await convert(cwd, 'show.csv', how)).status).toBe(0);
      expect(edlsIn(cwd)).toEqual(['show.edl']);
    }
  });

  it('never takes the place of a part that an earlier run wrote of another log, nor the other way round', async () => {
    for (const how of [['--resume'], ['--resume', '--force'], ['--force'], []]) {
      const cwd = folderWith({ 'show.csv': log(1001), 'show-1.csv': log(4) });
      await convert(cwd, 'show.csv', '--resume');
      const { status, err } = await convert(cwd, 'show-1.csv', ...how);
      expect([status, err]).toEqual([2, expect.stringContaining('show-1.csv: error: out/show-1.edl is one of the lists of show.csv; convert this log into another folder [same-output]')]);
      // Beside its log, which is current by now, as well.
      expect((await convert(cwd, 'show.csv', 'show-1.csv', '--resume', ...how)).status).toBe(2);
      expect(textOf(cwd, 'out/show-1.edl')).toContain('TITLE: show\r\n');
      const other = folderWith({ 'show.csv': log(1001), 'show-1.csv': log(4) });
      await convert(other, 'show-1.csv', '--resume');
      const second = await convert(other, 'show.csv', ...how);
      expect([second.status, second.err]).toEqual([2, expect.stringContaining('show.csv: error: out/show-1.edl is one of the lists of show-1.csv')]);
      expect(edlsIn(other)).toEqual(['show-1.edl']);
    }
  });

  it('may have its place when the part is not of the other log any more', async () => {
    const cwd = folderWith({ 'show.csv': log(1001), 'show-1.csv': log(4) });
    await convert(cwd, 'show.csv', '--resume');
    writeFileSync(join(cwd, 'show.csv'), log(3));
    // The longer list's parts go, whatever other logs are called.
    await convert(cwd, 'show.csv', 'show-1.csv', '--resume');
    expect((await convert(cwd, 'show.csv', 'show-1.csv', '--resume')).status).toBe(0);
    expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show.edl']);
    expect(textOf(cwd, 'out/show-1.edl')).toContain('TITLE: show-1\r\n');
    const gone = folderWith({ 'show.csv': log(1001), 'show-1.csv': log(4) });
    await convert(gone, 'show.csv', '--resume');
    rmSync(join(gone, 'show.csv'));
    expect((await convert(gone, 'show-1.csv', '--force')).status).toBe(0);
  });

  it('is refused for takes of their own as well', async () => {
    const cwd = folderWith({ 'show.csv': takes(2), 'show.take2.csv': log(4) });
    const { status, err } = await convert(cwd, 'show.csv', 'show.take2.csv', '--takes', 'separate', '--to', 'chapters', '--force');
    expect([status, err]).toEqual([2, expect.stringContaining('out/show.take2.chapters.txt would be written over the lists of show.take2.csv')]);
  });
});

describe('names beside', () => {
  it('are those of takes and parts, in any case, in the same folder', () => {
    const of = (...names: string[]): unknown => [...namesBeside(names.map((path) => ({ path, folder: path.split('/').slice(0, -1).join('/') })))].map(([owner, all]) => [owner, [...all.values()]]);
    expect(of('a.csv', 'A-2.csv', 'a-b.csv', 'b-1.csv', 'x/a-1.csv')).toEqual([['a.csv', ['A-2.csv']]]);
    expect(of('a.csv', 'a.take1.csv', 'a.take1-2.csv')).toEqual([['a.csv', ['a.take1.csv', 'a.take1-2.csv']], ['a.take1.csv', ['a.take1-2.csv']]]);
  });
});
