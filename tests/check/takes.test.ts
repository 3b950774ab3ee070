/** `check` and `compare` with logs whose takes are lists of their own (`--takes separate`). */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadList, loadLists } from '../../src/load.js';
import { problemLine, ProblemList } from '../../src/problems.js';
import { cli, folderWith, textOf } from '../support/cli.js';
import { P25 } from '../support/small.js';

/** Two takes; the second has a shot of two frames. */
const LOG = [
  'time,action,source', '10:00:00:00,start,', '10:00:00:00,cut,1', '10:00:04:00,cut,2', '10:00:10:00,stop,',
  '10:05:00:00,start,', '10:05:00:00,cut,3', '10:05:03:00,cut,1', '10:05:03:02,cut,2', '10:05:08:00,stop,', '',
].join('\n');
const how = ['--rate', '25', '--takes', 'separate'];

async function lists(log = LOG): Promise<string> {
  const cwd = folderWith({ 'm.csv': log });
  await cli(['convert', 'm.csv', ...how, '-o', '.'], { cwd });
  return cwd;
}

describe('check with separate takes', () => {
  it('holds each list against the take that its name says', async () => {
    const cwd = await lists();
    const { status, out } = await cli(['check', 'm.take2.edl', 'm.take2.otio', 'm.take1.edl', '--against', 'm.csv', ...how], { cwd });
    expect([status, out]).toEqual([0, ['m.take2.edl: EDL, sound, 3 of 3', 'm.take2.otio: OTIO, sound, 3 of 3', 'm.take1.edl: EDL, sound, 2 of 2'].map((line) => `${line} shots as the log has them\n`).join('')]);
    writeFileSync(join(cwd, 'm.take1.edl'), textOf(cwd, 'm.take2.edl'));
    const other = await cli(['check', 'm.take1.edl', '--against', 'm.csv', ...how], { cwd });
    expect([other.status, other.out]).toEqual([1, expect.stringContaining('the log has 1 on air, the list 3 [not-as-logged]')]);
  });

  it('holds the parts of a take that was divided against it', async () => {
    const shots = Array.from({ length: 1001 }, (_, index) => `${String(1000 + index)},cut,${String((index % 2) + 1)}`);
    const cwd = await lists(['frames,action,source', '0,start,', '0,cut,1', '50,stop,', '1000,start,', ...shots, '2001,stop,', ''].join('\n'));
    const { status, out } = await cli(['check', 'm.take2-1.edl', 'm.take2-2.edl', '--against', 'm.csv', ...how], { cwd });
    expect([status, out]).toEqual([0, expect.stringMatching(/m\.take2-1\.edl: EDL, sound, 999 of 999 .*\nm\.take2-2\.edl: EDL, sound, 2 of 2 /)]);
  });

  it.each([['show.edl', 'its name does not say which of them it is'], ['m.take3.edl', 'there is no take 3 among them']])('says of %s what name it expected', async (name, said) => {
    const cwd = await lists();
    writeFileSync(join(cwd, name), textOf(cwd, 'm.take2.edl'));
    const { status, out } = await cli(['check', name, '--against', 'm.csv', ...how], { cwd });
    expect([status, out]).toEqual([1, expect.stringContaining(`${name}: warning: the log has 2 takes, each a list, and ${said}; expected a name from NAME.take1 to NAME.take2`)]);
  });

  it('needs no name with a take for a log of one', async () => {
    const cwd = await lists(LOG.split('\n').slice(0, 5).join('\n'));
    const { status, out } = await cli(['check', 'm.edl', '--against', 'm.csv', ...how], { cwd });
    expect([status, out]).toEqual([0, 'm.edl: EDL, sound, 2 of 2 shots as the log has them\n']);
  });

  it('looks at every take of a log', async () => {
    const { status, out } = await cli(['check', 'm.csv', '--min-shot', '5', ...how], { cwd: folderWith({ 'm.csv': LOG }) });
    expect([status, out]).toEqual([1, expect.stringContaining('m.csv: warning: take 2: shot 2, 1 at 01:00:03:00, has 2 frames, fewer than 5 [short-shot]')]);
    const { out: json } = await cli(['check', 'm.csv', '--report', 'json', ...how], { cwd: folderWith({ 'm.csv': LOG.replace('10:05:03:02,cut,2', '10:05:03:00,cut,2') }) });
    // What is said of a row of the second take has its frame there.
    expect((JSON.parse(json) as [{ findings: unknown[] }])[0].findings).toContainEqual(expect.objectContaining({ code: 'same-frame', line: 9, frame: 75 }));
  });

  it('does not hold chapters of all takes against the first', async () => {
    const cwd = folderWith({ 'm.csv': LOG, 'm.chapters.txt': '00:00 One\n00:12 Two\n' });
    expect(await cli(['check', 'm.csv', 'm.chapters.txt', ...how], { cwd })).toMatchObject({ status: 0 });
  });
});

describe('compare', () => {
  it('is of one list, and says what to do about separate takes', async () => {
    const { status, err } = await cli(['compare', 'm.csv', 'm.take2.otio', ...how], { cwd: await lists() });
    expect([status, err]).toEqual([2, '--takes: error: separate takes are several lists, and one is wanted; joined or gaps has all of them in one, or give the list of one take (NAME.take1.edl) [bad-option]\n']);
    expect((await cli(['compare', 'a', 'b', '--takes', 'joint'])).err).toContain("--takes: error: 'joint' is not one of joined, gaps; did you mean 'joined'?");
    expect((await cli(['help', 'compare'])).out).not.toContain('separate');
  });

  it('takes the other ways', async () => {
    const cwd = folderWith({ 'm.csv': LOG });
    await cli(['convert', 'm.csv', '--rate', '25', '--takes', 'gaps', '-o', '.'], { cwd });
    expect((await cli(['compare', 'm.csv', 'm.otio', '--rate', '25', '--takes', 'gaps'], { cwd })).status).toBe(0);
    expect((await cli(['compare', 'm.csv', 'm.otio', '--rate', '25'], { cwd })).status).toBe(1);
  });
});

describe('loadList', () => {
  it('is for one list', async () => {
    const found = new ProblemList();
    expect(await loadList({ name: 'm.csv', bytes: LOG, title: 'm' }, { rate: P25, takes: 'separate' }, found.add)).toBeUndefined();
    expect(found.problems.map(problemLine)).toEqual([expect.stringContaining('--takes: error: one list is wanted, and separate takes are several')]);
    expect((await loadLists({ name: 'm.csv', bytes: LOG, title: 'm' }, { rate: P25, takes: 'separate' }, () => undefined))?.lists).toHaveLength(2);
  });
});
