/** Lists that an earlier run left: parts of a longer EDL, and lists of takes that are no more. */
import { appendFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CHAPTER_FORMS } from '../../src/formats/chapters/forms.js';
import { folderWith, textOf, type CliResult } from '../support/cli.js';
import { convertInto, edlsIn, listsIn, log, takes } from '../support/shows.js';

const convert = (cwd: string, ...args: string[]): Promise<CliResult> => convertInto(cwd, 'show.csv', ...args);

describe('parts that are left from an EDL with another title', () => {
  it.each([
    ['--force', 2500, 1500, ['show-1.edl', 'show-2.edl']], ['--resume', 2500, 1500, ['show-1.edl', 'show-2.edl']],
    ['--force', 1500, 50, ['show.edl']], ['--resume', 1500, 50, ['show.edl']],
    // A whole list of another title may be anybody's, unless a record says whose.
    ['--force', 50, 1500, ['show-1.edl', 'show-2.edl', 'show.edl']], ['--resume', 50, 1500, ['show-1.edl', 'show-2.edl']],
  ])('go with %s, when a list of %i shots has %i', async (how, before, after, left) => {
    const cwd = folderWith({ 'show.csv': log(before) });
    await convert(cwd, how, '--title', 'One');
    const old = edlsIn(cwd);
    writeFileSync(join(cwd, 'show.csv'), log(after));
    const { status, err } = await convert(cwd, how, '--title', 'Two');
    expect(status).toBe(0);
    expect(edlsIn(cwd)).toEqual(left);
    for (const name of old.filter((one) => !left.includes(one))) expect(err).toContain(`out/${name}: note: was removed: it was left from an older list of this log [removed]`);
    expect(err.includes('show.edl: warning: stays beside')).toBe(left.length > 2);
  });

  it('go with --force by the record of an earlier run, too', async () => {
    const cwd = folderWith({ 'show.csv': log(2500) });
    await convert(cwd, '--resume', '--title', 'One');
    // Nothing says any more which title the old list had.
    for (const part of ['1', '2']) writeFileSync(join(cwd, 'out', `show-${part}.edl`), '');
    writeFileSync(join(cwd, 'show.csv'), log(1500));
    expect(await convert(cwd, '--force', '--title', 'Two')).toMatchObject({ status: 0, err: expect.not.stringContaining('warning') as string });
    expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl']);
  });

  it('stay with a warning, where nothing says that they are ours', async () => {
    for (const how of ['--force', '--resume']) {
      const cwd = folderWith({ 'show.csv': log(50), 'out/show-1.edl': 'TITLE: One\r\n' });
      const { status, err } = await convert(cwd, how);
      expect([status, err]).toEqual([0, expect.stringContaining('out/show-1.edl: warning: stays beside the new lists, although it looks like a part of an older one')]);
      expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show.edl']);
    }
  });

  it('are neither lists of other logs with one title, nor a list that somebody made', async () => {
    const cwd = folderWith({ 'show.csv': log(50), 'show-1.csv': log(4), 'show-2.csv': log(5) });
    for (const name of ['show-1', 'show-2']) await convertInto(cwd, `${name}.csv`, '--to', 'edl', '--title', 'Gala');
    for (const title of ['show', 'Gala']) expect(await convert(cwd, '--force', '--to', 'edl', '--title', title)).toMatchObject({ status: 0 });
    expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl', 'show.edl']);
    const hand = folderWith({ 'show.csv': log(1200), 'out/show.edl': 'TITLE: HAND GRADE\r\n' });
    expect((await convert(hand, '--force', '--to', 'edl')).err).toContain('out/show.edl: warning: stays beside the new lists');
    expect(edlsIn(hand)).toEqual(['show-1.edl', 'show-2.edl', 'show.edl']);
  });

  it.each(['--force', '--resume'])('are not what is read: an EDL of another maker, of more events than a list of ours has, stays with %s', async (how) => {
    const cwd = folderWith({ 'show.csv': log(1300) });
    await convert(cwd, '--to', 'edl');
    const lines = ['show-1', 'show-2'].map((name) => textOf(cwd, `out/${name}.edl`).split('\r\n'));
    const whole = [...lines[0] ?? [], ...(lines[1] ?? []).slice(2)].join('\r\n');
    const [list, otio] = [folderWith({ 'out/show.edl': whole }), folderWith({ 'out/show.edl': whole, 'show.otio': '' })];
    const read = await convertInto(list, 'out/show.edl', '--rate', '25', how);
    expect([read.status, read.err]).toEqual([0, expect.not.stringMatching(/removed|stays/)]);
    expect(edlsIn(list)).toEqual(['show-1.edl', 'show-2.edl', 'show.edl']);
    expect(textOf(list, 'out/show.edl')).toBe(whole);
    writeFileSync(join(otio, 'show.otio'), textOf(list, 'out/show.otio'));
    const beside = await convertInto(otio, 'show.otio', '--to', 'edl', how);
    expect([beside.status, edlsIn(otio)]).toEqual([0, how === '--force' ? ['show-1.edl', 'show-2.edl'] : ['show-1.edl', 'show-2.edl', 'show.edl']]);
  });

  it.each(['--force', '--resume'])('are not a list of another log with the title of the show: %s', async (how) => {
    const title = ['--title', 'Gala', '--to', 'edl'];
    const cwd = folderWith({ 'show.csv': log(1500), 'show-3.csv': log(4) });
    await convertInto(cwd, 'show-3.csv', ...title);
    const other = textOf(cwd, 'out/show-3.edl');
    // The second time, the parts that run on are the ones in whose places the new ones lie.
    for (const newline of ['crlf', 'lf']) {
      const { status, err } = await convert(cwd, how, ...title, '--newline', newline);
      expect([status, err]).toEqual([0, expect.stringContaining('out/show-3.edl: warning: stays beside the new lists, although it looks like a part of an older one')]);
      expect(err).not.toContain('[removed]');
      expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl', 'show-3.edl']);
      expect(textOf(cwd, 'out/show-3.edl')).toBe(other);
    }
  });

  it('are not a list that has another format beside it, whichever that is', async () => {
    for (const more of [['--to', 'edl,otio'], ['--to', 'edl,cutlog'], ...CHAPTER_FORMS.map((form) => ['--to', 'edl,chapters', '--chapters-as', form])]) {
      const cwd = folderWith({ 'show.csv': log(50), 'show-1.csv': log(4) });
      await convertInto(cwd, 'show-1.csv', '--title', 'Gala', ...more);
      expect(await convert(cwd, '--force', '--title', 'Gala')).toMatchObject({ status: 0, err: expect.not.stringContaining('show-1.edl') as string });
      expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show.edl']);
    }
  });

  it('are not the takes of another log of the same name', async () => {
    const cwd = folderWith({ 'a/show.csv': takes(3), 'b/show.csv': log(20) });
    await convertInto(cwd, 'a/show.csv', '--takes', 'separate', '--resume');
    expect(await convertInto(cwd, 'b/show.csv', '--force')).toMatchObject({ status: 0 });
    expect(edlsIn(cwd)).toEqual(['show.edl', 'show.take1.edl', 'show.take2.edl', 'show.take3.edl']);
  });

  it('are not lists that other logs are called after', async () => {
    for (const how of ['--force', '--resume']) {
      const cwd = folderWith({ 'show.csv': log(50), 'show-1.csv': log(4) });
      await convertInto(cwd, 'show-1.csv', '--to', 'edl');
      expect(await convert(cwd, how)).toMatchObject({ status: 0, err: expect.not.stringContaining('warning') as string });
      expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show.edl']);
    }
  });
});

describe('lists of takes that a log has no more', () => {
  const separate = ['--takes', 'separate', '--resume'];
  const of = (...names: string[]): string[] => names.flatMap((name) => [`${name}.chapters.txt`, `${name}.edl`, `${name}.otio`]);

  it('go where the last run wrote them and nobody changed them', async () => {
    const cwd = folderWith({ 'show.csv': takes(4) });
    await convert(cwd, ...separate);
    expect(listsIn(cwd)).toEqual(of('show.take1', 'show.take2', 'show.take3', 'show.take4'));
    appendFileSync(join(cwd, 'out/show.take4.edl'), '* MINE\r\n');
    writeFileSync(join(cwd, 'show.csv'), takes(2));
    const { status, err } = await convert(cwd, ...separate);
    expect([status, err]).toEqual([0, expect.stringContaining('out/show.take4.edl: warning: stays beside the new lists, although it looks like one of this log with other takes')]);
    expect(err.match(/warning: stays/g)).toHaveLength(1);
    expect(listsIn(cwd)).toEqual([...of('show.take1', 'show.take2'), 'show.take4.edl']);
    expect(textOf(cwd, 'out/show.take4.edl')).toContain('* MINE');
  });

  it('go when takes are joined that were separate, and the other way round, with --force after --resume too', async () => {
    const cwd = folderWith({ 'show.csv': takes(2) });
    for (const more of [['--resume'], ['--force', '--resume'], ['--force']]) {
      await convert(cwd, ...separate, '--force');
      expect(listsIn(cwd)).toEqual(of('show.take1', 'show.take2'));
      expect(await convert(cwd, ...more)).toMatchObject({ status: 0, err: expect.not.stringContaining('stays') as string });
      expect(listsIn(cwd)).toEqual(of('show'));
      if (!more.includes('--resume')) await convert(cwd, '--force', '--resume');
    }
  });

  it('go with the parts of their EDLs', async () => {
    const cwd = folderWith({ 'show.csv': `${log(1001)}00:30:00:00,start,\n00:30:00:00,cut,1\n00:31:00:00,stop,\n` });
    await convert(cwd, ...separate, '--to', 'edl');
    expect(listsIn(cwd)).toEqual(['show.take1-1.edl', 'show.take1-2.edl', 'show.take2.edl']);
    await convert(cwd, '--resume', '--to', 'edl');
    expect(listsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl']);
  });

  it('stay in formats that are not asked for, and go when these are again', async () => {
    const cwd = folderWith({ 'show.csv': takes(3) });
    await convert(cwd, ...separate, '--to', 'edl,otio,cutlog');
    writeFileSync(join(cwd, 'show.csv'), takes(2));
    await convert(cwd, ...separate, '--to', 'edl');
    expect(listsIn(cwd)).toEqual(['show.cutlog.xml', 'show.take1.edl', 'show.take1.otio', 'show.take2.edl', 'show.take2.otio', 'show.take3.otio']);
    await convert(cwd, ...separate, '--to', 'otio');
    expect(listsIn(cwd)).toEqual(['show.cutlog.xml', 'show.take1.edl', 'show.take1.otio', 'show.take2.edl', 'show.take2.otio']);
  });

  it.each([[3, ['--takes', 'separate'], 'show.take3'], [1, [], 'show.take1'], [2, ['--takes', 'separate'], 'show']])('stay with a warning each where no record has them: %i takes, %j', async (count, how, left) => {
    const cwd = folderWith({ 'show.csv': takes(3) });
    await convert(cwd, ...(left === 'show' ? [] : ['--takes', 'separate']));
    writeFileSync(join(cwd, 'show.csv'), takes(count === 3 ? 2 : count));
    const { status, err } = await convert(cwd, ...how, '--force');
    expect(status).toBe(0);
    for (const name of of(left)) expect(err).toContain(`out/${name}: warning: stays beside the new lists, although it looks like one of this log with other takes`);
    expect(listsIn(cwd)).toEqual(expect.arrayContaining(of(left)));
  });

  it('are not those of a log that has such a name', async () => {
    const cwd = folderWith({ 'show.csv': takes(2), 'show.take3.csv': log(4) });
    await convertInto(cwd, 'show.take3.csv', '--resume');
    for (const how of ['--resume', '--force']) {
      expect(await convert(cwd, '--takes', 'separate', how)).toMatchObject({ status: 0, err: expect.not.stringContaining('stays') as string });
      expect(listsIn(cwd)).toEqual(of('show.take1', 'show.take2', 'show.take3'));
    }
  });
});
