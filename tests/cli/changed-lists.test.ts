/** Rules for the shots of a list that was read: seams between two files do not stop them, and what is new is held against the files. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';

const file = (path: string, start: string, frames: number): object => ({ path, start, frames, rate: '25', channels: 2 });
/** Camera 1 is divided at 100 frames, camera 2 at 200 and 210. */
const SHOW = JSON.stringify({
  title: 'Harbour Kitchen 14',
  rate: '25',
  sources: [
    { id: '1', name: 'Stage wide', reel: 'WIDE', files: [file('wide-1.mov', '10:00:00:00', 100), file('wide-2.mov', '10:00:04:00', 400)] },
    { id: '2', name: 'Close-up', reel: 'CLOSE', files: [file('close-1.mov', '10:00:00:00', 200), file('close-2.mov', '10:00:08:00', 10), file('close-3.mov', '10:00:08:10', 290)] },
    { id: '3', name: 'Top shot', reel: 'TOP', files: [file('top.mov', '10:00:13:20', 100)] },
  ],
  audio: { from: 'follow' },
});
const LOG = [
  'time,action,source,duration', '10:00:00:00,start', '10:00:00:00,cut,1', '10:00:04:05,cut,2', '10:00:07:20,cut,1', '10:00:08:04,cut,2', '10:00:14:00,dissolve,3,10', '10:00:16:00,stop', '',
].join('\n');

const folder = async (): Promise<string> => {
  const cwd = folderWith({ 'show.csv': LOG, 'show.show.json': SHOW });
  expect(await cli(['convert', 'show.csv', '--to', 'otio,edl', '-o', 'whole', '-q'], { cwd })).toMatchObject({ status: 0 });
  return cwd;
};

describe('a rule for an OTIO that was made of a log', () => {
  // Over a seam of the shot before the switch, of the shot behind it, over two seams at once.
  it.each([['--lead', '8'], ['--lead', '2=6'], ['--lag', '8'], ['--lag', '2=20'], ['--min-shot', '15'], ['--min-shot', '15', '--absorb', 'next'], ['--lead', '20', '--min-shot', '20'], ['--lag', '3', '--dissolve-all', '4']])('does what it does for the log: %j', async (...rule) => {
    const cwd = await folder();
    expect(await cli(['convert', 'show.csv', '--to', 'otio,edl', '-o', 'log', '-q', ...rule], { cwd })).toMatchObject({ status: 0 });
    expect(await cli(['convert', 'whole/show.otio', '--to', 'otio,edl', '-o', 'list', '-q', ...rule], { cwd })).toMatchObject({ status: 0 });
    for (const name of ['show.otio', 'show.edl']) expect(await cli(['compare', `log/${name}`, `list/${name}`, '-q'], { cwd })).toMatchObject({ status: 0, out: '' });
    expect(await cli(['compare', 'log/show.otio', 'whole/show.otio', '-q'], { cwd })).toMatchObject({ status: 1 });
  });

  it('says what the recording lacks, and leaves the rest as it was read', async () => {
    const cwd = await folder();
    const { status, err } = await cli(['convert', 'whole/show.otio', '--to', 'edl', '-o', 'list', '--lead', '3=10'], { cwd });
    expect(status).toBe(0);
    expect(err).toContain('the dissolve to Top shot (3) at 01:00:13:15 has 10 frames, and the recording of Top shot (3) begins 5 frames into it; it is shortened to 5 [short-handle]');
    const events = (name: string): string[] => readFileSync(join(cwd, name), 'utf8').split('\r\n').filter((line) => /^\d/.test(line));
    expect(events('list/show.edl').slice(0, -4)).toEqual(events('whole/show.edl').slice(0, -4));
    expect(events('list/show.edl').at(-1)).toBe('007  TOP      AA/V  D    005 10:00:13:20 10:00:16:00 01:00:13:20 01:00:16:00');
  });

  it('says how many frames are black', async () => {
    const cwd = await folder();
    const { err } = await cli(['convert', 'whole/show.otio', '--to', 'edl', '-o', 'list', '--lead', '3=10', '--cuts-only'], { cwd });
    expect(err).toContain('the shot on Top shot (3) at 01:00:13:15: 5 frames lie before its recording starts; black [beyond-recording]');
  });
});

describe('a clip that reaches into what only the next file of its source has', () => {
  /** The OTIO of the log, its first clip `longer` than its file, its second one shorter. */
  const reaching = async (longer: number): Promise<string> => {
    const cwd = await folder();
    for (const name of ['wide-1', 'wide-2', 'close-1', 'close-2', 'close-3', 'top']) writeFileSync(join(cwd, `${name}.mov`), '');
    const path = join(cwd, 'whole/show.otio');
    interface Clip { readonly OTIO_SCHEMA: string; readonly source_range: Record<'start_time' | 'duration', { value: number }> }
    const timeline = JSON.parse(readFileSync(path, 'utf8')) as { tracks: { children: { children: Clip[] }[] } };
    for (const { children } of timeline.tracks.children) {
      const [first, second] = children.filter(({ OTIO_SCHEMA: schema }) => schema.startsWith('Clip'));
      if (first === undefined || second === undefined) throw new Error('two clips');
      first.source_range.duration.value += longer;
      second.source_range.duration.value -= longer;
      second.source_range.start_time.value += longer;
    }
    writeFileSync(path, JSON.stringify(timeline));
    return cwd;
  };

  it('is pointed out', async () => {
    expect(await cli(['check', 'whole/show.otio'], { cwd: await reaching(0) })).toMatchObject({ status: 0 });
    const { status, out } = await cli(['check', 'whole/show.otio'], { cwd: await reaching(3) });
    expect(status).toBe(1);
    expect(out).toMatch(/the shot on Stage wide \(1\) at 01:00:00:00: 3 frames lie outside .*wide-1\.mov, which it names; .*wide-2\.mov has them \[beyond-recording\]/);
  });
});

describe('a file of another rate that ends inside a frame of the list, where the next one goes on', () => {
  it('gives an EDL whose speed line explains its columns, and is the same from the OTIO', async () => {
    // At 60, the file ends 3 of its frames into the shot: 1 frame of the list and a quarter.
    const sources = [{ id: '1' }, { id: '2', files: [{ path: 'a.mov', start: '00:00:00:00', frames: 27, rate: '60' }, { path: 'b.mov', start: '00:00:00:27', frames: 300, rate: '60' }] }];
    const cwd = folderWith({ 'show.csv': 'time,action,source\n0,start,\n0,cut,1\n10,cut,2\n40,stop,\n', 'show.show.json': JSON.stringify({ rate: '25', sources }) });
    expect(await cli(['convert', 'show.csv', '--to', 'otio,edl', '-q'], { cwd })).toMatchObject({ status: 0 });
    const { out } = await cli(['check', 'show.edl', 'show.otio'], { cwd });
    expect(out).not.toContain('length-differs');
    expect(readFileSync(join(cwd, 'show.edl'), 'utf8')).toContain('00:00:00:24 00:00:00:29 01:00:00:10 01:00:00:12');
    expect(await cli(['compare', 'show.edl', 'show.otio', '-q'], { cwd })).toMatchObject({ status: 0, out: '' });
  });
});
