/** `sync` of a source: the label of the log counts as the log does, and lies on the day nearest the take (contract §2). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';

/** The EDL's lines of events that `log` and `show` make. */
async function eventsOf(log: string, show: object, ...options: readonly string[]): Promise<string[]> {
  const folder = folderWith({ 'log.csv': `time,action,source,duration\n${log}`, 'log.show.json': JSON.stringify(show) });
  const { status, err } = await cli(['convert', 'log.csv', '--to', 'edl', ...options], { cwd: folder });
  expect([status, err]).toEqual([0, expect.any(String)]);
  return readFileSync(join(folder, 'log.edl'), 'utf8').split('\r\n').filter((line) => /^\d{3} /.test(line));
}

/** Source in-points of the events of a reel. */
const inPoints = (events: readonly string[], reel: string): string[] => events.filter((line) => line.startsWith(reel, 5)).map((line) => line.slice(29, 40));

describe('sync in a log of frame pairs', () => {
  const log = '10:00:00:00,cut,1,\n10:00:01:15,dissolve,2,00:00:00:10\n';
  const synced = (is: string): object[] => [{ id: '1' }, { id: '2', sync: { this: '01:00:00:00', is } }];

  it('is read as the labels of the log are', async () => {
    const pairs = await eventsOf(log, { rate: '59.94ndf', log: { rate: '29.97ndf' }, sources: synced('10:00:00:15') }, '--end', '10:00:12:15');
    const single = await eventsOf('10:00:00:00,cut,1,\n10:00:01:30,dissolve,2,20\n', { rate: '59.94ndf', sources: synced('10:00:00:30') }, '--end', '10:00:12:30');
    expect(pairs).toEqual(single);
    expect(inPoints(pairs, '2 ')).toEqual(['01:00:01:00']);
  });

  it('is so too where the command line or a mapping says how the log counts', async () => {
    const show = { rate: '59.94ndf', sources: synced('10:00:00:15') };
    expect(inPoints(await eventsOf(log, show, '--log-rate', '29.97ndf', '--end', '10:00:12:15'), '2 ')).toEqual(['01:00:01:00']);
    const folder = folderWith({ 'log.csv': `time,action,source,duration\n${log}`, 'log.show.json': JSON.stringify(show), 'log.map.json': '{"rate":"29.97ndf"}' });
    expect((await cli(['convert', 'log.csv', '--map', 'log.map.json', '--end', '10:00:12:15', '--to', 'edl'], { cwd: folder })).status).toBe(0);
    expect(readFileSync(join(folder, 'log.edl'), 'utf8')).toContain('D    020 01:00:01:00 ');
  });

  it('takes a mapping that says nothing of it at its word', async () => {
    const folder = folderWith({
      'log.csv': 'time,action,source\n10:00:00:00,cut,1\n10:00:01:30,cut,2\n',
      'log.show.json': JSON.stringify({ rate: '59.94ndf', log: { rate: '29.97ndf' }, sources: synced('10:00:00:45') }),
      'plain.map.json': '{}',
    });
    expect((await cli(['convert', 'log.csv', '--map', 'plain.map.json', '--end', '10:00:12:15', '--to', 'edl'], { cwd: folder })).status).toBe(0);
    expect(readFileSync(join(folder, 'log.edl'), 'utf8')).toContain(' C        01:00:00:45 ');
  });

  it('is refused where no such label exists', async () => {
    const folder = folderWith({ 'log.csv': `time,action,source,duration\n${log}`, 'log.show.json': JSON.stringify({ rate: '59.94ndf', log: { rate: '29.97ndf' }, sources: synced('10:00:00:30') }) });
    const { status, err } = await cli(['convert', 'log.csv', '--end', '10:00:12:15'], { cwd: folder });
    expect(status).toBe(1);
    expect(err).toContain('10:00:00:30 has frame 30; at 29.97 frames go from 00 to 29 [bad-time]');
  });
});

describe('sync on the other side of midnight', () => {
  const before = '23:50:00;00,start,,\n23:50:00;00,cut,1,\n00:10:00;00,cut,2,\n00:12:00;02,cut,1,\n00:20:00;00,stop,,\n';
  const after = '00:10:00;00,start,,\n00:10:00;00,cut,1,\n00:20:00;00,cut,2,\n00:22:00;02,cut,1,\n00:30:00;00,stop,,\n';
  const show = (is: string, files?: object[]): object => ({ rate: '29.97df', sources: [{ id: '1' }, { id: '2', sync: { this: '01:00:00:00', is }, ...(files === undefined ? {} : { files }) }] });

  it.each([
    ['the same rate, otherwise counted', { rate: '29.97ndf', start: '00:30:00:00', frames: 200_000 }],
    ['another rate', { rate: '25', start: '00:30:00:00', frames: 150_000 }],
  ])('is of the day of the take, for a source at %s', async (_, file) => {
    expect(inPoints(await eventsOf(before, show('00:10:00;00', [{ path: 'two.mov', ...file }])), '2 ')).toEqual(['01:00:00:00']);
  });

  it.each([
    // 30 minutes of drop-frame labels are 53,946 frames: in non-drop labels 29:58:06; 1799.9982 s, at 25 the nearest frame is 45,000.
    ['29.97ndf', '01:29:58:06'],
    ['25', '01:30:00:00'],
  ])('is of the day before, for a source at %s', async (rate, point) => {
    expect(inPoints(await eventsOf(after, show('23:50:00;00', [{ path: 'two.mov', rate, start: '00:30:00:00', frames: 200_000 }])), '2 ')).toEqual([point]);
  });

  it('is of a take itself, however long that is', async () => {
    const long = '10:00:00;00,start,,\n10:00:00;00,cut,1,\n17:00:00;00,cue,1,\n23:00:00;00,cut,2,\n23:30:00;00,cut,1,\n';
    const sources = [{ id: '1' }, { id: '2', sync: { this: '13:30:00:00', is: '23:00:00;00' }, files: [{ path: 'two.mov', rate: '25', start: '00:30:00:00', frames: 14 * 90_000 }] }];
    // Where a recording ends the take, an hour of its own on, it is not known yet how long the take is.
    for (const [stop, end] of [['23:59:59;29,stop,,\n', '14:59:59;29'], ['', '15:00:00;00']] as const) {
      const events = await eventsOf(long + stop, { rate: '29.97df', sources });
      expect(inPoints(events, '2 ')).toEqual(['13:30:00:00']);
      expect(events.at(-1)?.slice(53)).toBe(`14:30:00;00 ${end}`);
    }
  });
});

describe('30 in 29.97, an hour in two files', () => {
  const show = { rate: '29.97df', audio: { from: '4' }, sources: [{ id: '4', files: [{ path: '4-1.mov', start: '10:00:00:00', frames: 90_000, rate: '30' }, { path: '4-2.mov', start: '10:50:00:00', frames: 28_000, rate: '30' }] }] };
  const log = '10:00:00;03,start,,\n10:00:00;03,cut,4,\n11:00:00;00,stop,,\n';

  it('is in sync again where the second file begins, in picture and sound', async () => {
    // The first file ends 3000 s in real time after 10:00:00:00, the list begins on frame 2 of it: record frame (90,000 − 2) ÷ 1.001 = 89,908.1.
    const first = '10:00:00:02 10:49:57:00 01:00:00;00 01:49:59;28';
    const second = '10:50:00:00 10:59:59:11 01:49:59;28 01:59:59;27';
    expect((await eventsOf(log, show)).map((line) => line.slice(14, 17).trim() + line.slice(28))).toEqual([`V ${first}`, `AA ${first}`, `V ${second}`, `AA ${second}`]);
  });

  it('is one shot in either list that is read back', async () => {
    const cwd = folderWith({ 'log.csv': `time,action,source,duration\n${log}`, 'log.show.json': JSON.stringify(show) });
    expect((await cli(['convert', 'log.csv', '--to', 'edl,otio', '-q'], { cwd })).status).toBe(0);
    expect(await cli(['compare', 'log.edl', 'log.otio', '-q', '--rate', '29.97df'], { cwd })).toMatchObject({ status: 0 });
    for (const name of ['log.edl', 'log.otio']) {
      expect((await cli(['convert', name, '--rate', '29.97df', '--to', 'edl', '-o', 'again', '--force'], { cwd })).err).toContain('1 shot in ');
      expect((await cli(['convert', name, '--rate', '29.97df', '--to', 'edl', '-o', '-', '-q'], { cwd })).out.match(/^\d{3} .*/gm)).toEqual(readFileSync(join(cwd, 'log.edl'), 'utf8').match(/^\d{3} .*/gm));
    }
  });
});

// Drop-frame labels keep to the clock, non-drop ones of 29.97 take 3,603.6 s an hour (SMPTE ST 12-1).
it('is the remedy that is named where a recording that counts otherwise has none of the frames, once', async () => {
  const log = 'time,action,source\n10:00:00;00,start,\n10:00:00;00,cut,1\n10:00:05;00,cut,2\n10:00:07;00,cut,1\n10:00:08;00,cut,2\n10:00:10;00,stop,\n';
  const second = { files: [{ path: '2.mov', start: '10:00:00:00', frames: 900, rate: '29.97ndf' }] };
  const said = async (more: object): Promise<string[]> => {
    const show = { rate: '29.97df', sources: [{ id: '1' }, { id: '2', ...second, ...more }] };
    const { err } = await cli(['convert', 'log.csv', '--to', 'edl'], { cwd: folderWith({ 'log.csv': log, 'log.show.json': JSON.stringify(show) }) });
    return err.split('\n').filter((line) => line.includes('[beyond-recording]'));
  };
  const lines = await said({});
  expect(lines.map((line) => line.includes('it counts 29.97 and the list 29.97df, and equal labels of the two are not one moment: sync says which are'))).toEqual([true, false]);
  expect(await said({ sync: { this: '10:00:00:00', is: '10:00:00;00' } })).toEqual([]);
});
