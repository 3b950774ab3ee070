/** Parts of a divided EDL: one list, whoever looks at it, and at one rate. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, folderWith, textOf } from '../support/cli.js';
import { log as longLog } from '../support/shows.js';

type Event = readonly [reel: string, from: string, to: string];

/** A list as other systems write it: nothing in it says the rate, unless a comment does. */
const edl = (events: readonly Event[], { fcm = 'DROP FRAME', rate = '' } = {}): string => [
  'TITLE: Show', `FCM: ${fcm}`, '',
  ...events.flatMap(([reel, from, to], index) => [
    `00${String(index + 1)}  ${reel}     V     C        ${from} ${to} ${from} ${to}`, ...(rate === '' || index > 0 ? [] : [`* RATE: ${rate}`]),
  ]), '',
].join('\r\n');

const DROP: readonly Event[] = [
  ['CAM1', '01:00:00;00', '01:00:10;45'], ['CAM2', '01:00:10;45', '01:00:20;00'],
  // Behind the first part no frame number passes 29: by itself the second would be at half the rate.
  ['CAM1', '01:00:20;00', '01:00:30;00'], ['CAM2', '01:00:30;00', '01:00:40;00'],
];
const PLAIN = DROP.map(([reel, from, to]): Event => [reel, from.replace(/;\d\d/, ':00'), to.replace(/;\d\d/, ':00')]);
const NDF = { fcm: 'NON-DROP FRAME' };

describe('the rate of a divided EDL', () => {
  it.each([['high frame numbers first', false], ['high frame numbers last', true]])('is the one that all parts show: %s', async (_, turned) => {
    const events = turned ? DROP.map(([reel], index): Event => [reel, `01:00:${String(index)}0;${index === 3 ? '45' : '00'}`, `01:00:${String(index + 1)}0;${index === 2 ? '45' : '00'}`]) : DROP;
    const folder = folderWith({ 'show-1.edl': edl(events.slice(0, 2)), 'show-2.edl': edl(events.slice(2)), 'full.edl': edl(events) });
    expect(await cli(['check', 'show-1.edl', 'show-2.edl'], { cwd: folder })).toMatchObject({ status: 0, out: 'show-1.edl: EDL, sound\nshow-2.edl: EDL, sound\n' });
    expect(await cli(['compare', 'show-1.edl', 'full.edl'], { cwd: folder })).toMatchObject({ status: 0, out: '' });
    expect((await cli(['picture', 'show-1.edl', '--as', 'svg', '-o', '-'], { cwd: folder })).out).toContain('running time 0:00:40.0, record 01:00:00;00 to 01:00:40;00 at 59.94df');
  });

  it('is said by any of them for all', async () => {
    const folder = folderWith({ 'show-1.edl': edl(PLAIN.slice(0, 2), NDF), 'show-2.edl': edl(PLAIN.slice(2), { ...NDF, rate: '50' }) });
    expect(await cli(['check', 'show-1.edl', 'show-2.edl'], { cwd: folder })).toMatchObject({ status: 0, out: 'show-1.edl: EDL, sound\nshow-2.edl: EDL, sound\n' });
    expect((await cli(['picture', 'show-1.edl', '--as', 'svg', '-o', '-'], { cwd: folder })).out).toContain('running time 0:00:40.0, record 01:00:00:00 to 01:00:40:00 at 50');
  });

  it('is in doubt where two of them say different ones', async () => {
    const folder = folderWith({ 'show-1.edl': edl(PLAIN.slice(0, 2), { ...NDF, rate: '25' }), 'show-2.edl': edl(PLAIN.slice(2), { ...NDF, rate: '50' }) });
    const said = "show-2.edl:5:1: error: the list says its rate: 50; its other part show-1.edl says 25; give the list's own rate with --rate [bad-rate]";
    const checked = await cli(['check', 'show-1.edl', 'show-2.edl'], { cwd: folder });
    expect(checked.status).toBe(1);
    expect(checked.out).toContain(said);
    for (const args of [['compare', 'show-1.edl', 'show-1.edl'], ['picture', 'show-1.edl', '-o', '-']]) {
      const { out, err, status } = await cli(args, { cwd: folder });
      expect([out, status]).toEqual(['', args[0] === 'compare' ? 2 : 1]);
      expect(err).toContain(said);
    }
    expect((await cli(['check', 'show-1.edl', 'show-2.edl', '--rate', '25'], { cwd: folder })).status).toBe(0);
  });
});

describe('the parts of a divided EDL among other files', () => {
  const log = ['time,action,source', '01:00:00:00,start,', ...PLAIN.map(([reel, from]) => `${from},cut,${reel}`), '01:00:40:00,stop,', ''].join('\n');
  const at25 = ['--rate', '25'];
  const parts = { 'show-1.edl': edl(PLAIN.slice(0, 2), NDF), 'show-2.edl': edl(PLAIN.slice(2), NDF) };

  it('are those of one ending: a whole list beside them, and a copy of it, are lists of their own', async () => {
    const full = edl(PLAIN, NDF);
    const folder = folderWith({ 'show.csv': log, ...parts, 'show.edl': full, 'show.txt': full });
    const { status, out } = await cli(['check', 'show-2.edl', 'show.edl', 'show.txt', 'show-1.edl', ...at25, '--against', 'show.csv'], { cwd: folder });
    expect(out.split('\n').slice(0, -1)).toEqual([
      'show-2.edl: EDL, sound, 2 of 2 shots as the log has them', 'show.edl: EDL, sound, 4 of 4 shots as the log has them',
      'show.txt: EDL, sound, 4 of 4 shots as the log has them', 'show-1.edl: EDL, sound, 2 of 2 shots as the log has them',
    ]);
    expect(status).toBe(0);
  });

  it.each([
    ['has a label that does not exist', { ...parts, 'show-2.edl': edl([['CAM1', '01:00:70:00', '01:00:80:00']], NDF) }, 1],
    ['is not there', { 'show-1.edl': parts['show-1.edl'] }, 2],
    ['is something else', { ...parts, 'show-2.edl': 'nothing of this is an event\n' }, 1],
  ])('are not compared, and say so, where one %s', async (_, files, expected) => {
    const folder = folderWith({ 'show.csv': log, ...files });
    const { status, out } = await cli(['check', 'show-1.edl', 'show-2.edl', ...at25, '--against', 'show.csv'], { cwd: folder });
    expect(out).toMatch(/^show-1\.edl: warning: a divided EDL is compared as a whole, and show-2\.edl cannot be read \[not-compared\]\n.*\nshow-1\.edl: EDL, 1 warning\n/);
    expect(status).toBe(expected);
    // By itself nothing is wrong with it.
    expect(await cli(['check', 'show-1.edl', 'show-2.edl', ...at25], { cwd: folder })).toMatchObject({ status: expected, out: expect.not.stringContaining('not-compared') as string });
  });
});

describe('EDLs that are called like parts', () => {
  const [one, two] = [DROP.slice(0, 2), DROP.slice(2)];
  const at = ['--rate', '59.94df'];

  it('are lists of their own where they have other titles', async () => {
    const folder = folderWith({ 'x-1.edl': edl(one), 'x-2.edl': edl(one).replace('TITLE: Show', 'TITLE: Other'), 'x-3.edl': edl(one).replace('TITLE: Show', 'TITLE: Other') });
    for (const rate of [at, []]) {
      const { out, status } = await cli(['check', 'x-1.edl', 'x-2.edl', 'x-3.edl', ...rate], { cwd: folder });
      expect([out, status]).toEqual(['x-1.edl: EDL, sound\nx-2.edl: EDL, sound\nx-3.edl: EDL, sound\n', 0]);
    }
    // Each is held against its own log, and shows all of it.
    expect((await cli(['convert', 'x-1.edl', 'x-2.edl', '-o', 'lists', '--to', 'otio', '--quiet', ...at], { cwd: folder })).status).toBe(0);
    expect((await cli(['check', 'x-1.edl', 'x-2.edl', '--against', 'lists/x-1.otio', ...at], { cwd: folder })).out).toContain('x-1.edl: EDL, sound, 2 of 2 shots');
  });

  it('have holes and overlaps between them where they have one title', async () => {
    const folder = folderWith({ 'x-1.edl': edl(one), 'x-2.edl': edl(one), 'x-3.edl': edl(two), 'y-1.edl': edl(one.slice(0, 1)), 'y-2.edl': edl(two) });
    expect((await cli(['check', 'x-1.edl', 'x-2.edl', 'x-3.edl', ...at], { cwd: folder })).out).toContain('x-2.edl:4:1: error: the part begins at 01:00:00;00, 1200 frames before the end of x-1.edl [overlap]');
    expect((await cli(['check', 'y-1.edl', 'y-2.edl', ...at], { cwd: folder })).out).toContain('y-2.edl:4:1: error: the part begins at 01:00:20;00, 555 frames after the end of y-1.edl [hole]');
  });
});

describe('the parts of an EDL in source order', () => {
  const folder = async (): Promise<string> => {
    const cwd = folderWith({ 'show.csv': longLog(1100) });
    expect((await cli(['convert', 'show.csv', '--rate', '25', '--to', 'edl,otio', '--edl-order', 'source', '-q', '-o', '.'], { cwd })).status).toBe(0);
    return cwd;
  };

  it('are sound together, though each has holes by itself', async () => {
    const cwd = await folder();
    const { status, out } = await cli(['check', 'show-1.edl', 'show-2.edl', 'show.otio', '--against', 'show.csv', '--rate', '25'], { cwd });
    expect([status, out.includes('1100 of 1100 shots as the log has them'), out.includes('[hole]')]).toEqual([0, true, false]);
    expect((await cli(['check', 'show-2.edl', '--rate', '25'], { cwd })).out).toContain('[hole]');
  });

  it('have holes where an event is missing', async () => {
    const cwd = await folder();
    writeFileSync(join(cwd, 'show-2.edl'), textOf(cwd, 'show-2.edl').replace(/^005 .*\r\n/m, ''));
    const { status, out } = await cli(['check', 'show-1.edl', 'show-2.edl', '--rate', '25'], { cwd });
    expect([status, out.includes('[hole]')]).toEqual([1, true]);
  });
});
