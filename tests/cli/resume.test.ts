/** What `--resume` may replace and remove: what an earlier run of the same log wrote, and nobody changed. */
import { appendFileSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, folderWith, textOf, type CliResult } from '../support/cli.js';
import { convertInto, edlsIn, log } from '../support/shows.js';

const resume = (cwd: string, ...args: string[]): Promise<CliResult> => convertInto(cwd, ...args, '--resume');

describe('--resume', () => {
  it.each([[3, 1001, 'show.edl', ['show-1.edl', 'show-2.edl']], [1001, 3, 'show-2.edl', ['show.edl']]])('keeps an EDL that somebody changed, when a list of %i shots has %i', async (before, after, kept, made) => {
    const cwd = folderWith({ 'show.csv': log(before) });
    expect((await resume(cwd, 'show.csv')).status).toBe(0);
    appendFileSync(join(cwd, 'out', kept), '* MINE\r\n');
    writeFileSync(join(cwd, 'show.csv'), log(after));
    const { status, err } = await resume(cwd, 'show.csv');
    expect([status, err]).toEqual([0, expect.stringContaining(`out/${kept}: warning: stays beside the new lists`)]);
    expect(edlsIn(cwd)).toEqual([...made, kept].sort());
    expect(textOf(cwd, `out/${kept}`)).toContain('* MINE');
    // The parts that nobody changed go with --force as without it.
    expect((await resume(cwd, 'show.csv', '--force')).status).toBe(0);
  });

  it('says in the object of a log that was passed over that it was', async () => {
    const cwd = folderWith({ 'show.csv': log(3) });
    const told = async (): Promise<unknown> => JSON.parse((await resume(cwd, 'show.csv', '--json')).out);
    expect(await told()).not.toHaveProperty('current');
    expect(await told()).toMatchObject({ current: true, shots: null, outputs: [{ path: 'out/show.edl' }, { path: 'out/show.otio' }, { path: 'out/show.chapters.txt' }] });
  });

  it('keeps an EDL of which no run is known', async () => {
    const cwd = folderWith({ 'show.csv': log(1001), 'out/show.edl': 'TITLE: show\r\n' });
    const { status, err } = await resume(cwd, 'show.csv');
    expect([status, err]).toEqual([0, expect.stringContaining('--force removes it [file-exists]')]);
    expect(edlsIn(cwd)).toEqual(['show-1.edl', 'show-2.edl', 'show.edl']);
  });

  it('refuses the lists of another log of that name, as long as that is there', async () => {
    const cwd = folderWith({ 'mon/show.csv': log(3), 'tue/show.csv': log(4) });
    expect((await resume(cwd, 'mon/show.csv')).status).toBe(0);
    const first = textOf(cwd, 'out/show.edl');
    const { status, err } = await resume(cwd, 'tue/show.csv');
    expect([status, err]).toEqual([2, expect.stringContaining('tue/show.csv: error: its lists would be written over those of mon/show.csv; convert it into another folder [same-output]')]);
    expect(textOf(cwd, 'out/show.edl')).toBe(first);
    // The same log by another way of naming it is not another.
    expect((await resume(cwd, './tue/../mon/show.csv')).err).toContain('current');
    renameSync(join(cwd, 'mon'), join(cwd, 'wed'));
    expect((await resume(cwd, 'tue/show.csv')).status).toBe(0);
    expect(textOf(cwd, 'out/show.edl')).not.toBe(first);
  });

  it('knows its own lists again after a run that wrote fewer formats', async () => {
    const cwd = folderWith({ 'show.csv': log(3) });
    await resume(cwd, 'show.csv');
    writeFileSync(join(cwd, 'show.csv'), log(4));
    expect((await resume(cwd, 'show.csv', '--to', 'edl')).status).toBe(0);
    expect(await resume(cwd, 'show.csv')).toMatchObject({ status: 0, err: expect.not.stringContaining('is there already') as string });
    // One that was changed meanwhile is not.
    await resume(cwd, 'show.csv', '--to', 'edl');
    appendFileSync(join(cwd, 'out/show.otio'), ' ');
    expect(await resume(cwd, 'show.csv')).toMatchObject({ status: 2, err: expect.stringContaining('out/show.otio: error: was changed since an earlier run wrote it; --force replaces it') as string });
  });

  it.each([[['a.csv']], [['a.csv', 'b.csv']]])('says again that a list could not be written in its format: %j', async (logs) => {
    const late = (frames: number): string => log(3).replace('source\n', 'source,duration\n').replace(/(\d),cut,3/, `$1,dissolve,3,${String(frames)}`).replace(/^.*,stop,/m, '00:02:00:00,stop,');
    const cwd = folderWith({ 'a.csv': late(15), 'b.csv': log(3) });
    expect((await resume(cwd, ...logs)).status).toBe(0);
    writeFileSync(join(cwd, 'a.csv'), late(1500));
    const first = await resume(cwd, ...logs);
    expect([first.status, first.err]).toEqual([1, expect.stringMatching(/a\.csv: error: .*\[long-transition\][^]*a\.edl: warning: is of an earlier run/)]);
    const told = ({ err }: { readonly err: string }): string => err.replace(/^b\.csv: .*\n/m, '').replaceAll(/\d+ (?:converted|current), |, in .* s$/gm, '');
    const again = await resume(cwd, ...logs);
    expect([again.status, told(again)]).toEqual([1, told(first)]);
    // Nothing of what was written is taken for somebody else's, and once it is mended all is as ever.
    writeFileSync(join(cwd, 'a.csv'), late(20));
    expect((await resume(cwd, ...logs)).status).toBe(0);
    expect((await resume(cwd, ...logs)).err).toContain('a.csv: current');
  });

  it('takes what a killed run left for its own, and what was changed since for somebody else\'s', async () => {
    const cwd = folderWith({ 'show.csv': log(3) });
    await resume(cwd, 'show.csv');
    const [record, old] = ['out/.linecut/show.json', textOf(cwd, 'out/show.edl')];
    writeFileSync(join(cwd, 'show.csv'), log(4));
    // As a run leaves it that is killed once its record has its name, and its lists have not.
    renameSync(join(cwd, 'out/show.edl'), join(cwd, 'kept.edl'));
    await resume(cwd, 'show.csv');
    renameSync(join(cwd, 'kept.edl'), join(cwd, 'out/show.edl'));
    expect(JSON.parse(textOf(cwd, record))).toMatchObject({ log: '../show.csv', earlier: [{ name: 'show.otio' }, { name: 'show.chapters.txt' }] });
    expect(textOf(cwd, 'out/show.edl')).toBe(old);
    appendFileSync(join(cwd, 'out/show.edl'), '* MINE\r\n');
    expect((await resume(cwd, 'show.csv')).status).toBe(2);
    expect(textOf(cwd, 'out/show.edl')).toBe(`${old}* MINE\r\n`);
  });

  it.each([['absolute', 'current', 'file:///'], ['relative', '3 shots', '../../media/w.mov']])('of lists that were moved, with %s paths in them, says %s', async (paths, said, url) => {
    const show = { rate: '25', sources: [{ id: '1', files: [{ path: 'media/w.mov', start: '00:00:00:00', frames: 9999 }] }, { id: '2' }, { id: '3' }] };
    const cwd = folderWith({ 'show.csv': log(3), 'show.show.json': JSON.stringify(show), 'deep/.keep': '' });
    const convert = (out: string): Promise<{ status: number; err: string }> => cli(['convert', 'show.csv', '-o', out, '--paths', paths, '--resume'], { cwd });
    expect((await convert('lists')).status).toBe(0);
    renameSync(join(cwd, 'lists'), join(cwd, 'deep/lists'));
    const { status, err } = await convert('deep/lists');
    expect([status, err]).toEqual([0, expect.stringContaining(said)]);
    expect(textOf(cwd, 'deep/lists/show.otio')).toContain(`"target_url":"${url}`);
  });

  it.each(['{"key":"x","files":[null],"earlier":[]}', '{"key":"x","files":[{"name":1}],"earlier":[]}', '{"key":"x","files":[]}', '[]', 'null', '{'])('takes %s for no record', async (record) => {
    const cwd = folderWith({ 'show.csv': log(3), 'out/.linecut/show.json': record });
    expect((await resume(cwd, 'show.csv')).status).toBe(0);
    expect((await resume(cwd, 'show.csv')).err).toContain('current');
  });
});

describe('a folder where a list is to lie', () => {
  it('is named, and nothing is written', async () => {
    const cwd = folderWith({ 'show.csv': log(3) });
    mkdirSync(join(cwd, 'out/show.otio'), { recursive: true });
    for (const how of ['--force', '--resume']) {
      const { status, err } = await convertInto(cwd, 'show.csv', how);
      expect([status, err]).toEqual([2, expect.stringContaining('out/show.otio: error: cannot be written: it is a folder [unreadable]')]);
      expect(edlsIn(cwd)).toEqual([]);
    }
  });
});

describe('what a call reads', () => {
  it.each([
    [['picture', 'show.csv', '--as', 'svg', '-o', 'show.show.json'], 'show.show.json'],
    [['picture', 'show.csv', '--as', 'svg', '-o', 'm.json', '--map', 'm.json'], 'm.json'],
    [['compare', 'show.csv', 'other.csv', '--write-corrections', 'other.csv'], 'other.csv'],
  ])('is not written over: %j', async (args, file) => {
    const cwd = folderWith({ 'show.csv': log(3), 'other.csv': log(4), 'm.json': '{}', 'show.show.json': '{"rate":"25","sources":[]}' });
    const before = textOf(cwd, file);
    const { status, err } = await cli([...args, '--rate', '25', '--force'], { cwd });
    expect([status, err]).toEqual([2, expect.stringContaining(`${file}: error: is read by the same call and is not written over`)]);
    expect(textOf(cwd, file)).toBe(before);
  });
});

describe('a log in a folder', () => {
  it('may be called .chapters.csv: only linecut\'s own XML is passed over', async () => {
    const cwd = folderWith({ 'in/friday.chapters.csv': log(3), 'in/a.chapters.xml': '<Chapters/>', 'in/b.csv': log(3) });
    expect((await convertInto(cwd, 'in')).err).toContain('2 logs: 2 converted');
  });
});

describe('a fault of ours in one log', () => {
  it('does not end the batch', async () => {
    const cwd = folderWith({ 'a.csv': log(3), 'b.csv': log(3) });
    mkdirSync(join(cwd, 'out/.linecut/a.json'), { recursive: true });
    const { status, err } = await resume(cwd, 'a.csv', 'b.csv');
    expect(status).toBe(2);
    expect(err).toContain('2 logs: 1 converted, 1 failed');
    expect(edlsIn(cwd)).toEqual(['b.edl']);
  });
});
