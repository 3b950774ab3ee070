/** An EDL that was divided is converted as the one list that it was. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { edlOf } from '../check/written.js';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';
import { listOf } from '../support/small.js';

const whole = listOf(Array.from({ length: 1200 }, (_, index) => `${String(1 + (index % 4))}:20`).join(' '));
const PARTS = Object.fromEntries(edlOf(whole).map(({ name, text }) => [name, text]));
const NOTE = 'show-1.edl: note: read with its other part, show-2.edl [found]';

/** A list of another system: lines of picture, `from-to` each on the record side; `A` before it is sound. */
const foreign = (title: string, ...spans: readonly string[]): string => [
  `TITLE: ${title}`, 'FCM: NON-DROP FRAME', '',
  ...spans.map((span, index) => {
    const [from = '', to = ''] = span.replace(/^A/, '').split('-');
    return `00${String(index + 1)}  CAM${String(1 + (index % 2))}     ${span.startsWith('A') ? 'A' : 'V'}     C        ${from} ${to} ${from} ${to}`;
  }), '',
].join('\r\n');

const shotsIn = (text: string): number => (JSON.parse(text) as { shots: number }).shots;

describe('convert NAME-1.edl', () => {
  it('reads the other parts beside it, as compare does, and says so', async () => {
    const folder = folderWith(PARTS);
    expect(Object.keys(PARTS)).toEqual(['show-1.edl', 'show-2.edl']);
    const { status, out, err } = await cli(['convert', 'show-1.edl', '-o', 'out', '--json'], { cwd: folder });
    expect([status, shotsIn(out), err]).toEqual([0, 1200, expect.stringContaining(NOTE)]);
    expect(filesIn(join(folder, 'out'))).toEqual(['show-1-1.edl', 'show-1-2.edl', 'show-1.chapters.txt', 'show-1.otio']);
    expect(await cli(['compare', 'show-1.edl', 'out/show-1.otio'], { cwd: folder })).toMatchObject({ status: 0, out: '' });
  });

  it('takes the corrections that compare writes for all of it', async () => {
    const b = { ...whole, shots: whole.shots.map((shot, index) => (index === 1100 ? { ...shot, sourceIn: shot.sourceIn + 3, sourceOut: shot.sourceOut + 3 } : shot)) };
    const folder = folderWith({ ...PARTS, ...Object.fromEntries(edlOf(b).map(({ name, text }) => [`b/${name}`, text])) });
    expect((await cli(['compare', 'show-1.edl', 'b/show-1.edl', '--write-corrections', 'fix.csv'], { cwd: folder })).status).toBe(1);
    expect((await cli(['convert', 'show-1.edl', '--corrections', 'fix.csv', '-o', 'out'], { cwd: folder })).status).toBe(0);
    expect((await cli(['compare', 'out/show-1-1.edl', 'b/show-1.edl'], { cwd: folder })).status).toBe(0);
  });

  it('converts the list once where its parts are named or found beside it, and writes over none of them', async () => {
    const folder = folderWith({ ...PARTS, 'other.edl': PARTS['show-1.edl'] ?? '' });
    for (const args of [['show-2.edl', 'show-1.edl'], ['show-*.edl']]) {
      const { status, out } = await cli(['convert', ...args, '-o', 'out', '--force', '--json'], { cwd: folder });
      expect([status, out.trim().split('\n').map(shotsIn)]).toEqual([0, [1200]]);
    }
    // A part alone, or one that is named without the first, is a list.
    expect(shotsIn((await cli(['convert', 'show-2.edl', '-o', 'two', '--json'], { cwd: folder })).out)).toBe(1200 - 999);
    await cli(['convert', 'show-1.edl', '--force'], { cwd: folder });
    for (const [name, text] of Object.entries(PARTS)) expect(textOf(folder, name)).toBe(text);
    // Nor does a log that has become shorter clear them away.
    writeFileSync(join(folder, 'show.csv'), 'time,action,source\n0,cut,1\n20,cut,2\n40,stop,\n');
    await cli(['convert', 'show.csv', 'show-1.edl', '--title', whole.title, '--rate', '25', '--force'], { cwd: folder });
    for (const [name, text] of Object.entries(PARTS)) expect(textOf(folder, name)).toBe(text);
  });

  it('is not current any more with --resume when another part changed, came or went', async () => {
    const folder = folderWith(PARTS);
    const isCurrent = async (): Promise<boolean> => (await cli(['convert', 'show-1.edl', '-o', 'out', '--resume', '--json'], { cwd: folder })).out.includes('"current":true');
    const found = [await isCurrent(), await isCurrent()];
    const second = join(folder, 'show-2.edl');
    writeFileSync(second, readFileSync(second, 'utf8').replace(/Camera 1/g, 'Camera one'));
    found.push(await isCurrent(), await isCurrent());
    expect(found).toEqual([false, true, false, true]);
  });

  it.each([
    ['another title', (text: string): string => text.replace(/^TITLE: .*/, 'TITLE: Day 2'), 'has another title'],
    ['the same first frame', (): string => PARTS['show-1.edl'] ?? '', 'begins at 01:00:00:00, and the part before it ends at 01:13:19:05'],
  ])('leaves out a list of its own: one with %s', async (_, change, why) => {
    const folder = folderWith({ ...PARTS, 'show-2.edl': change(PARTS['show-2.edl'] ?? '') });
    const { status, out, err } = await cli(['convert', 'show-1.edl', '-o', 'out', '--json'], { cwd: folder });
    expect([status, shotsIn(out), err]).toEqual([0, 999, expect.stringContaining(`show-1.edl: note: read without show-2.edl, which ${why}: a list of its own [bad-event]`)]);
    expect((await cli(['compare', 'show-1.edl', 'show-1.edl'], { cwd: folder })).err).toContain(why);
    const both = await cli(['convert', 'show-1.edl', 'show-2.edl', '-o', 'both', '--json', '--quiet'], { cwd: folder });
    expect(both.out.trim().split('\n')).toHaveLength(2);
  });

  it('refuses what is called like a part and is no EDL', async () => {
    const folder = folderWith({ ...PARTS, 'show-2.edl': 'a,b\n' });
    expect(await cli(['convert', 'show-1.edl', '-o', 'out'], { cwd: folder })).toMatchObject({ status: 1, err: expect.stringContaining('show-2.edl: error: is called like part 2 of show-1.edl, and is no EDL') as unknown });
  });
});

describe('parts of one list', () => {
  const AT25 = ['--rate', '25'];

  interface Ran {
    readonly status: number;
    /** Each list that was converted: its log and its frames. */
    readonly lists: readonly (readonly [string, number])[];
    /** What was said of each. */
    readonly said: readonly string[];
    readonly err: string;
  }

  async function converted(files: Readonly<Record<string, string>>, ...names: readonly string[]): Promise<Ran> {
    const { status, out, err } = await cli(['convert', ...names, '-o', 'out', '--json', ...AT25], { cwd: folderWith(files) });
    const results = out.trim().split('\n').map((line) => JSON.parse(line) as { log: string; frames: number; problems: { message: string }[] });
    return { status, lists: results.map(({ log, frames }) => [log, frames] as const), said: results.flatMap(({ log, problems }) => problems.map(({ message }) => `${log}: ${message}`)), err };
  }

  const own = (file: string, begin: string, end: string, of = 'reel-1.edl'): string => `${of}: read without ${file}, which begins at ${begin}, and the part before it ends at ${end}: a list of its own`;

  it('are read in source order, with one recording for the sound', async () => {
    const rows = Array.from({ length: 1500 }, (_, index) => `${String(index * 20)},cut,${String(1 + (index % 2))}`);
    const show = { title: 'Show', rate: '25', sources: [{ id: '1', reel: 'CAM1' }, { id: '2', reel: 'CAM2' }, { id: 'desk', reel: 'DESK', picture: false }], audio: { from: 'desk' } };
    const folder = folderWith({ 'show.csv': ['frames,action,source', '0,start,', ...rows, '30000,stop,', ''].join('\n'), 'show.show.json': JSON.stringify(show) });
    expect((await cli(['convert', 'show.csv', '-o', 'lists', '--edl-order', 'source', '--quiet'], { cwd: folder })).status).toBe(0);
    expect(filesIn(join(folder, 'lists'))).toContain('show-2.edl');
    expect(await cli(['compare', 'lists/show-1.edl', 'lists/show.otio'], { cwd: folder })).toMatchObject({ status: 0, out: '' });
    const { out } = await cli(['convert', 'lists/show-1.edl', '-o', 'out', '--json'], { cwd: folder });
    expect(shotsIn(out)).toBe(1500);
    // And are known when they are to be cleared away.
    writeFileSync(join(folder, 'show.csv'), ['frames,action,source', '0,start,', ...rows.slice(0, 10), '200,stop,', ''].join('\n'));
    await cli(['convert', 'show.csv', '-o', 'lists', '--force', '--quiet'], { cwd: folder });
    expect(filesIn(join(folder, 'lists')).filter((name) => name.endsWith('.edl'))).toEqual(['show.edl']);
  });

  it.each([
    ['hours later', '01:00:00:00-01:00:20:00', '02:00:00:00-02:00:20:00'],
    ['hours earlier', '10:00:00:00-10:00:20:00', '01:00:00:00-01:00:20:00'],
    ['before the first ends', '10:00:00:00-10:00:20:00', '10:00:05:00-10:00:25:00'],
  ])('do not begin %s: such a list is one of its own', async (_, first, second) => {
    const files = { 'reel-1.edl': foreign('Show', first), 'reel-2.edl': foreign('Show', second) };
    const { status, lists, said } = await converted(files, 'reel-1.edl', 'reel-2.edl');
    expect([status, lists]).toEqual([0, [['reel-1.edl', 500], ['reel-2.edl', 500]]]);
    expect(said).toContain(own('reel-2.edl', second.slice(0, 11), first.slice(12)));
  });

  it('run on over midnight, and with holes inside', async () => {
    const files = {
      'reel-1.edl': foreign('Show', '23:59:40:00-23:59:45:00', '23:59:50:00-23:59:55:00', 'A23:59:50:00-23:59:52:00'),
      'reel-2.edl': foreign('Show', '23:59:55:00-00:00:05:00', '00:00:06:00-00:00:10:00'),
      'reel-3.edl': foreign('Show', '00:00:10:00-00:00:20:00'),
    };
    expect(await converted(files, 'reel-*.edl')).toMatchObject({ status: 0, lists: [['reel-1.edl', 1000]] });
  });

  it('are the first ones, as many as run on; those behind them are lists', async () => {
    const files = {
      'reel-1.edl': foreign('Show', '01:00:00:00-01:00:10:00'), 'reel-2.edl': foreign('Show', '01:00:10:00-01:00:20:00'),
      'reel-3.edl': foreign('Show', '01:00:30:00-01:00:40:00'), 'reel-4.edl': foreign('Show', '01:00:40:00-01:00:50:00'),
    };
    const { status, lists, said } = await converted(files, 'reel-*.edl');
    expect([status, lists]).toEqual([0, [['reel-1.edl', 500], ['reel-3.edl', 250], ['reel-4.edl', 250]]]);
    expect(said).toContain(own('reel-3.edl', '01:00:30:00', '01:00:20:00'));
    expect(said).toContain('reel-1.edl: read with its other part, reel-2.edl');
  });

  it('may be none beside what is no EDL, behind a list of its own', async () => {
    const files = { 'reel-1.edl': foreign('Show', '01:00:00:00-01:00:10:00'), 'reel-2.edl': foreign('Show', '02:00:00:00-02:00:10:00'), 'reel-3.edl': 'a,b\n' };
    expect(await converted(files, 'reel-1.edl')).toMatchObject({ status: 0, lists: [['reel-1.edl', 250]] });
    // Where the first has holes, that may be what fills them.
    const holed = { ...files, 'reel-1.edl': foreign('Show', '01:00:00:00-01:00:10:00', '02:00:10:00-02:00:20:00') };
    expect(await converted(holed, 'reel-1.edl')).toMatchObject({ status: 1, err: expect.stringContaining('reel-3.edl: error: is called like part 3 of reel-1.edl, and is no EDL') as unknown });
  });
});
