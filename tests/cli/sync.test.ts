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
