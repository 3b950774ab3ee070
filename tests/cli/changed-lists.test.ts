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

/** A clip as another program writes it: source and available range at 25, as first frame and length. */
interface Given { readonly name: string; readonly file: string; readonly plays: readonly [number, number]; readonly has?: readonly [number, number] }

const time = (value: number): object => ({ OTIO_SCHEMA: 'RationalTime.1', rate: 25, value });
const range = ([start, frames]: readonly [number, number]): object => ({ OTIO_SCHEMA: 'TimeRange.1', start_time: time(start), duration: time(frames) });
const timeline = (...tracks: readonly (readonly Given[])[]): string => JSON.stringify({
  OTIO_SCHEMA: 'Timeline.1', name: 'Harbour Kitchen 14', global_start_time: time(90_000),
  tracks: {
    OTIO_SCHEMA: 'Stack.1', name: 'tracks',
    children: tracks.map((clips, index) => ({
      OTIO_SCHEMA: 'Track.1', kind: index === 0 ? 'Video' : 'Audio', name: String(index),
      children: clips.map(({ name, file, plays, has }) => ({
        OTIO_SCHEMA: 'Clip.2', name, source_range: range(plays), active_media_reference_key: 'DEFAULT_MEDIA',
        media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'ExternalReference.1', target_url: `file:///m/${file}`, available_range: has === undefined ? null : range(has) } },
      })),
    })),
  },
});

const shotsOf = async (otio: string, ...options: string[]): Promise<{ events: string[]; err: string }> => {
  const cwd = folderWith({ 'a.otio': otio, 'longer.csv': 'do,at,expect,to\nlength,01:00:00:00,a,10 longer\n', 'earlier.csv': 'do,at,expect,to\nstart,01:00:06:10,b,5 earlier\n' });
  const { out, err } = await cli(['convert', 'a.otio', '--to', 'edl', '-o', '-', ...options], { cwd });
  return { events: out.split('\r\n').filter((line) => /^\d/.test(line)).map((line) => `${line.slice(5, 13).trim()} ${line.slice(29)}`), err };
};

describe('an OTIO of another program', () => {
  const a = (plays: readonly [number, number], has?: readonly [number, number]): Given => ({ name: 'a', file: 'a.mov', plays, ...(has === undefined ? {} : { has }) });
  const b = (plays: readonly [number, number], has?: readonly [number, number]): Given => ({ name: 'b', file: 'b.mov', plays, ...(has === undefined ? {} : { has }) });

  it('may say for each clip the part of its file that it uses: all of them are there', async () => {
    const handles = timeline([a([90_000, 50], [89_990, 70]), b([90_050, 50], [90_040, 70]), a([90_100, 50], [90_090, 70]), b([90_150, 50], [90_140, 70])]);
    const { events, err } = await shotsOf(handles, '--lead', '5');
    expect(events).toEqual([
      'a 01:00:00:00 01:00:01:20 01:00:00:00 01:00:01:20', 'b 01:00:01:20 01:00:03:20 01:00:01:20 01:00:03:20',
      'a 01:00:03:20 01:00:05:20 01:00:03:20 01:00:05:20', 'b 01:00:05:20 01:00:08:00 01:00:05:20 01:00:08:00',
    ].map((text) => text.replace(/^\w/, (name) => name.toUpperCase())));
    expect(err).not.toContain('warning');
    // Beyond all of them there is nothing.
    expect((await shotsOf(handles, '--lag', '15')).err).toContain('5 frames, from 01:00:06:10 on, lie behind the end of its recording; black');
    const cwd = folderWith({ 'a.otio': handles });
    expect((await cli(['check', 'a.otio'], { cwd })).out).not.toContain('beyond-recording');
  });

  const past = timeline(
    [a([10, 40], [0, 100]), b([20, 60], [0, 200]), a([60, 60], [0, 100]), b([100, 50], [0, 200])],
    [{ name: 'music', file: 'music.wav', plays: [0, 60], has: [0, 30] }],
  );

  it('keeps what it plays beyond a file, whatever else is changed', async () => {
    const was = await shotsOf(past);
    expect(was.events).toHaveLength(5);
    const { events, err } = await shotsOf(past, '--corrections', 'longer.csv');
    expect(err).not.toContain('beyond-recording');
    expect(events.filter((line) => /^[AB] /.test(line)).map((line) => line.slice(0, 25))).toEqual(['A 00:00:00:10 00:00:02:10', 'B 00:00:00:20 00:00:03:05', 'A 00:00:02:10 00:00:04:20', 'B 00:00:04:00 00:00:06:00']);
    const shorter = await shotsOf(past, '--corrections', 'earlier.csv');
    expect(shorter.err).not.toContain('beyond-recording');
    expect(shorter.events.at(-2)).toBe('A 00:00:02:10 00:00:04:15 01:00:04:00 01:00:06:05');
  });

  it('keeps a clip in its own file, of which nothing is known, beside one of which something is', async () => {
    const cam = (file: string, plays: readonly [number, number], has?: readonly [number, number]): Given => ({ name: 'Cam', file, plays, ...(has === undefined ? {} : { has }) });
    for (const known of [[0, 100], [90_000, 100]] as const) {
      const two = timeline([cam('c1.mov', [known[0] + 10, 40], known), b([20, 40], [0, 200]), cam('c2.mov', [10, 40]), b([100, 50], [0, 200])]);
      const cwd = folderWith({ 'a.otio': two });
      const { out, err } = await cli(['convert', 'a.otio', '--to', 'edl', '-o', '-', '--lead', '5'], { cwd });
      expect(err).not.toContain('warning');
      expect(out.match(/SOURCE FILE: \S*/g)).toEqual(['SOURCE FILE: /m/c1.mov', 'SOURCE FILE: /m/b.mov', 'SOURCE FILE: /m/c2.mov', 'SOURCE FILE: /m/b.mov']);
    }
  });
});

describe('what stands for cameras that were not recorded', () => {
  const LOG3 = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:02:00,cut,2\n10:00:04:00,cut,1\n10:00:06:00,stop,\n';
  it.each([
    ['the program', { sources: [{ id: '1' }, { id: '2', recorded: false }], program: { files: [{ path: 'p.mov' }] } }],
    ['black', { sources: [{ id: '1', recorded: false }, { id: '2', recorded: false }] }],
  ])('is not mixed, from the OTIO as from the log: %s', async (_, show) => {
    const cwd = folderWith({ 'show.csv': LOG3, 'show.show.json': JSON.stringify({ rate: '25', ...show }) });
    expect(await cli(['convert', 'show.csv', '--to', 'otio', '-o', 'whole', '-q'], { cwd })).toMatchObject({ status: 0 });
    const ofLog = (await cli(['convert', 'show.csv', '--to', 'edl', '-o', '-', '-q', '--dissolve-all', '10'], { cwd })).out;
    const ofList = (await cli(['convert', 'whole/show.otio', '--to', 'edl', '-o', '-', '-q', '--dissolve-all', '10'], { cwd })).out;
    expect(ofList.split('\r\n').filter((line) => /^\d/.test(line))).toEqual(ofLog.split('\r\n').filter((line) => /^\d/.test(line)));
    expect(ofList).not.toMatch(/^\d{3} .{17}D /m);
  });
});

describe('sound of its own over a seam', () => {
  it('stays when the picture of one file changes', async () => {
    const sources = [{ id: '1', name: 'Wide', files: [{ path: 'w1.mov', start: '10:00:00:00', frames: 50 }, { path: 'w2.mov', start: '10:00:02:00', frames: 500 }] }, { id: '2', name: 'Close' }];
    const cwd = folderWith({
      'show.csv': 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:04:00,cut,2\n10:00:08:00,stop,\n',
      'show.show.json': JSON.stringify({ rate: '25', sources, audio: { from: '1' } }),
      'fix.csv': 'do,at,expect,source\nsource,01:00:00:00,1,2\n',
    });
    const { out } = await cli(['convert', 'show.csv', '--corrections', 'fix.csv', '--to', 'edl', '-o', '-', '-q'], { cwd });
    expect(out.match(/^\d{3} {2}\w+ +AA .*$/gm)).toEqual([
      '002  WIDE     AA    C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00', '004  WIDE     AA    C        10:00:02:00 10:00:08:00 01:00:02:00 01:00:08:00',
    ]);
  });
});

describe('--min-shot on an EDL over midnight', () => {
  it('joins what the double tap parted', async () => {
    const cwd = folderWith({ 'show.csv': 'time,action,source\n23:59:58:00,start,\n23:59:58:00,cut,1\n00:00:01:00,cut,2\n00:00:01:02,cut,1\n00:00:03:00,stop,\n' });
    expect(await cli(['convert', 'show.csv', '--rate', '25', '--to', 'edl', '-q'], { cwd })).toMatchObject({ status: 0 });
    const { out, err } = await cli(['convert', 'show.edl', '--to', 'edl', '-o', '-', '--min-shot', '5'], { cwd });
    expect(err).toContain('once the shots on both sides became one');
    expect(out.match(/^\d{3} .*$/gm)).toEqual(['001  1        V     C        23:59:58:00 00:00:03:00 01:00:00:00 01:00:05:00']);
  });
});

describe('rules on an EDL', () => {
  const LOG = 'time,action,source\n0,start,\n0,cut,1\n50,cut,2\n100,stop,\n200,start,\n200,cut,1\n250,cut,2\n300,stop,\n';
  const NOTE = 'an EDL says nothing of takes: the rules saw one';

  it('say once that it tells them nothing of takes, and only where they did something', async () => {
    const folder = folderWith({ 'tk.csv': LOG });
    await cli(['convert', 'tk.csv', '--rate', '25', '-o', 'lists'], { cwd: folder });
    const said = async (...args: string[]): Promise<number> => (await cli(['convert', ...args, '-o', 'out', '--force'], { cwd: folder })).err.split(NOTE).length - 1;
    expect(await said('lists/tk.edl', '--lead', '5', '--min-shot', '3')).toBe(1);
    expect(await said('lists/tk.edl')).toBe(0);
    expect(await said('lists/tk.edl', '--cuts-only')).toBe(0);
    expect(await said('lists/tk.otio', '--lead', '5')).toBe(0);
    expect(await said('tk.csv', '--rate', '25', '--lead', '5')).toBe(0);
  });
});
