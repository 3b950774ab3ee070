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
    ['the same first frame', (): string => PARTS['show-1.edl'] ?? '', 'begins on 01:00:00:00 as well'],
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
