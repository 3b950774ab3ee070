/** What a change uncovers: recordings that overlap, run at another rate, stand still, or have several files. */
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';

const log = (...rows: readonly string[]): string => ['time,action,source', '10:00:00:00,start,', ...rows, '10:00:12:00,stop,', ''].join('\n');
const THREE = log('10:00:00:00,cut,1', '10:00:04:00,cut,2', '10:00:08:00,cut,1');

interface File { readonly path: string; readonly start: string; readonly frames: number; readonly rate?: string }
const show = (...files: readonly File[]): string => JSON.stringify({
  rate: '25',
  sources: [{ id: '1', name: 'Wide', reel: 'C1', files: [{ path: '1.mov', start: '10:00:00:00', frames: 400 }] }, { id: '2', name: 'Close', reel: 'C2', files }],
});

interface Lists { readonly cwd: string; readonly events: (name: string, ...options: string[]) => Promise<string[]> }

/** The log, its OTIO and EDL, and what a call makes of one of them as an EDL: its event lines and speed lines. */
async function lists(csv: string, json: string, more: Readonly<Record<string, string>> = {}): Promise<Lists> {
  const cwd = folderWith({ 'show.csv': csv, 'show.show.json': json, ...more });
  expect(await cli(['convert', 'show.csv', '--to', 'otio,edl', '-o', 'out', '-q'], { cwd })).toMatchObject({ status: 0 });
  const events = async (name: string, ...options: string[]): Promise<string[]> => {
    const { status, out } = await cli(['convert', name, '--to', 'edl', '-o', '-', '-q', ...options], { cwd });
    expect(status).toBe(0);
    return out.split('\r\n').filter((line) => /^(?:\d{3} |M2|\* SOURCE FILE)/.test(line)).map((line) => line.replace(/\/.*\//, ''));
  };
  return { cwd, events };
}

describe('files of a recording that overlap by a few frames', () => {
  it('are one recording, in the OTIO as in the log', async () => {
    const csv = log('10:00:00:00,cut,1', '10:00:02:00,cut,2', '10:00:03:20,cut,1', '10:00:04:03,cut,2', '10:00:08:00,cut,1');
    const { events } = await lists(csv, show({ path: '2-1.mov', start: '10:00:00:00', frames: 100 }, { path: '2-2.mov', start: '10:00:03:22', frames: 300 }));
    for (const rule of [['--min-shot', '10'], ['--lead', '10'], ['--lag', '7']]) {
      const ofList = await events('out/show.otio', ...rule);
      expect(ofList).toEqual(await events('show.csv', ...rule));
      expect(ofList.join('\n')).not.toMatch(/ BL /);
    }
  });
});

describe('a file of another rate that ends inside a frame of the list', () => {
  const at24 = (frames: number, more = 0): string => show({ path: '2-1.mov', start: '10:00:00:00', frames: frames + more, rate: '24' }, { path: '2-2.mov', start: `10:00:04:0${String(frames - 96)}`, frames: 300, rate: '24' });

  it.each([[97, 0], [98, 0], [99, 0], [100, 0], [97, 9], [98, 9], [99, 9], [100, 9]])('is no change of speed, wherever its piece begins then: %i frames, and %i that the next one has too', async (frames, more) => {
    const fix = 'do,at,expect,to\nstart,01:00:04:00,2,23 earlier\n';
    const { events } = await lists(THREE, at24(frames, more), { 'fix.csv': fix });
    const ofLog = await events('show.csv', '--lead', '2=23');
    const speeds = (lines: readonly string[]): string[] => lines.filter((line) => line.startsWith('M2')).map((line) => line.slice(15, 20));
    for (const lines of [await events('out/show.otio', '--lead', '2=23'), await events('show.csv', '--corrections', 'fix.csv')]) {
      expect(new Set(speeds(lines))).toEqual(new Set(['024.0']));
      const begins = (all: readonly string[]): string | undefined => all.find((line) => /^\d.* C2 /.test(line))?.slice(0, 40);
      expect(begins(lines)).toBe(begins(ofLog));
    }
  });

  it.each([97, 98, 99, 100, 110])('is no switch in the EDL: %i frames', async (frames) => {
    const { cwd } = await lists(THREE, show({ path: '2-1.mov', start: '10:00:00:00', frames, rate: '24' }, { path: '2-2.mov', start: `10:00:04:${String(frames - 96).padStart(2, '0')}`, frames: 300, rate: '24' }));
    expect((await cli(['convert', 'out/show.edl', '--to', 'edl', '-o', '-', '--lead', '5'], { cwd })).err).toContain('2 switches moved earlier');
  });
});

describe('a correction that needs a recording of several files', () => {
  it('plays from the file that has it, in the OTIO as in the log', async () => {
    const files = [{ path: '2-1.mov', start: '10:00:00:00', frames: 105 }, { path: '2-2.mov', start: '10:00:04:05', frames: 300 }] as const;
    const { events } = await lists(THREE, show(...files), { 'fix.csv': 'do,at,expect,source\nsource,01:00:08:00,1,2\n', 'far.csv': 'do,at,expect,source,sourceIn\nsource,01:00:08:00,1,2,10:00:14:00\n' });
    for (const name of ['fix.csv', 'far.csv']) {
      const ofList = await events('out/show.otio', '--corrections', name);
      expect(ofList).toEqual(await events('show.csv', '--corrections', name));
      expect(ofList.at(-1)).toMatch(name === 'fix.csv' ? /SOURCE FILE: .*2-2\.mov/ : /BL/);
    }
  });
});

const time = (value: number): object => ({ OTIO_SCHEMA: 'RationalTime.1', rate: 25, value });
const range = (start: number, frames: number): object => ({ OTIO_SCHEMA: 'TimeRange.1', start_time: time(start), duration: time(frames) });
const clip = (name: string, start: number, frames: number, has?: number, speed?: number): object => ({
  OTIO_SCHEMA: 'Clip.2', name, source_range: range(start, frames), active_media_reference_key: 'DEFAULT_MEDIA',
  effects: speed === undefined ? [] : [{ OTIO_SCHEMA: 'LinearTimeWarp.1', time_scalar: speed }],
  media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'ExternalReference.1', target_url: `file:///m/${name}.mov`, available_range: has === undefined ? null : range(0, has) } },
});
const MIX = { OTIO_SCHEMA: 'Transition.1', transition_type: 'SMPTE_Dissolve', in_offset: time(0), out_offset: time(10) };
const timeline = (...children: readonly object[]): string => JSON.stringify({
  OTIO_SCHEMA: 'Timeline.1', name: 'Harbour Kitchen 14', global_start_time: time(90_000), tracks: { OTIO_SCHEMA: 'Stack.1', children: [{ OTIO_SCHEMA: 'Track.1', kind: 'Video', children }] },
});

describe('a still frame', () => {
  it.each([
    [timeline(clip('a', 0, 50, 100), clip('b', 10, 50, 100, 0), MIX, clip('a', 60, 40, 100)), ['--lag', '5']],
    [timeline(clip('a', 0, 50, 100), clip('b', 10, 50, 100, 0), MIX, clip('a', 60, 40, 100)), ['--lead', '5']],
    [timeline(clip('a', 0, 50, 100), clip('b', 10, 50, 100, 0), clip('a', 60, 40, 100)), ['--dissolve-all', '5']],
    [timeline(clip('a', 0, 50, 100), clip('b', 10, 20, 100, 0.25), MIX, clip('a', 60, 40, 100)), ['--lead', 'a=19']],
  ])('has all the frames that a mix asks for: %#', async (otio, options) => {
    const { status, err } = await cli(['convert', 'a.otio', '--to', 'edl', '-o', '-', ...options], { cwd: folderWith({ 'a.otio': otio }) });
    expect([status, err]).toEqual([0, expect.not.stringContaining('fault of linecut')]);
  });
});

describe('what an OTIO knows of a file', () => {
  it('does not depend on the order of its clips', async () => {
    const [known, unknown] = [clip('a', 0, 50, 100), clip('a', 60, 40)];
    const orders = [[known, clip('b', 0, 50, 100), unknown], [unknown, clip('b', 0, 50, 100), known]];
    for (const order of orders) {
      const { err } = await cli(['convert', 'a.otio', '--to', 'edl', '-o', '-', '--lag', 'b=70'], { cwd: folderWith({ 'a.otio': timeline(...order, clip('b', 60, 10, 100)) }) });
      expect(err.includes('beyond-recording') || err.includes('short')).toBe(true);
    }
  });
});

describe('a speed that the list says', () => {
  const half = 'TITLE: Half\r\nFCM: NON-DROP FRAME\r\n001  A        V     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00\r\n'
    + '002  B        AA/V  C        10:00:00:00 10:00:01:05 01:00:02:00 01:00:04:09\r\nM2   B        012.5                10:00:00:00\r\n';
  const speeds = (text: string): string[] => text.split('\r\n').filter((line) => line.startsWith('M2')).map((line) => line.slice(15, 20));

  it('goes with the points that it was said of, the same in EDL and OTIO', async () => {
    for (const [fix, wanted] of [
      ['do,at,expect,sourceFrames\npoints,01:00:02:00,B,29\n', '012.5'],
      ['do,at,expect,sourceFrames\npoints,01:00:02:00,B,40\n', '016.9'],
      ['do,at,expect,source,sourceIn\nsource,01:00:02:00,B,A,10:00:02:00\n', undefined],
    ] as const) {
      const cwd = folderWith({ 'a.edl': half, 'fix.csv': fix });
      expect(await cli(['convert', 'a.edl', '--rate', '25', '--corrections', 'fix.csv', '--to', 'edl,otio', '-o', 'o', '-q'], { cwd })).toMatchObject({ status: 0 });
      expect(await cli(['compare', 'o/a.edl', 'o/a.otio', '-q'], { cwd })).toMatchObject({ status: 0, out: '' });
      const { out } = await cli(['convert', 'o/a.otio', '--to', 'edl', '-o', '-', '-q'], { cwd });
      expect(speeds(out)).toEqual(wanted === undefined ? [] : [wanted]);
    }
  });

  it('stays when its shot becomes longer or shorter', async () => {
    for (const by of ['--lead', '--lag']) {
      const { out } = await cli(['convert', 'a.edl', '--rate', '25', by, '4', '--to', 'edl', '-o', '-', '-q'], { cwd: folderWith({ 'a.edl': half }) });
      expect(speeds(out)).toEqual(['012.5']);
    }
  });
});

describe('comments of an event that goes on in another file', () => {
  it('stay when the switch before it passes the seam', async () => {
    const edl = ['TITLE: Kept', 'FCM: NON-DROP FRAME', '001  C1       V     C        10:00:00:00 10:00:04:00 01:00:00:00 01:00:04:00', '* SOURCE FILE: 1.mov',
      '002  C2       V     C        10:00:04:00 10:00:04:05 01:00:04:00 01:00:04:05', '* SOURCE FILE: 2-1.mov', '* NOTE: FIRST',
      '003  C2       V     C        10:00:04:05 10:00:08:00 01:00:04:05 01:00:08:00', '* SOURCE FILE: 2-2.mov', '* NOTE: SECOND', ''].join('\r\n');
    const { out } = await cli(['convert', 'a.edl', '--rate', '25', '--lag', '8', '--to', 'edl', '-o', '-', '-q'], { cwd: folderWith({ 'a.edl': edl }) });
    expect(out.match(/\* NOTE: \w+/g)).toEqual(['* NOTE: FIRST', '* NOTE: SECOND']);
  });
});

describe('a source that is counted anew', () => {
  it('keeps its labels, and has the next one where drop-frame skips one', async () => {
    const rows = (...at: string[]): string => ['time,action,source', `${at[0] ?? ''},start,`, `${at[0] ?? ''},cut,1`, `${at[1] ?? ''},cut,2`, `${at[2] ?? ''},stop,`, ''].join('\n');
    const cwd = folderWith({
      'n.csv': rows('10:00:55:00', '10:01:00:00', '10:01:05:00'), 'd.csv': rows('10:00:55;00', '10:01:00;02', '10:01:05;02'),
      'fix.csv': 'do,shot,at,expect,to,source\nsource-rate,,,29.97,29.97df,1\nsource-rate,,,29.97,29.97df,2\n',
    });
    expect(await cli(['convert', 'n.csv', '-o', 'n', '--rate', '29.97ndf', '-q'], { cwd })).toMatchObject({ status: 0 });
    const { out } = await cli(['convert', 'n/n.otio', '--corrections', 'fix.csv', '-o', '-', '--to', 'edl', '-q'], { cwd });
    expect(out.match(/^\d{3} .*$/gm)?.map((line) => line.slice(29, 52))).toEqual(['10:00:55;00 10:01:00;02', '10:01:00;02 10:01:05;00']);
    // The same distance whichever list comes first.
    for (const [a, b, way] of [['n.csv', 'd.csv', 'later'], ['d.csv', 'n.csv', 'earlier']] as const) {
      const compared = (await cli(['compare', a, b, '--rate', '29.97', '-q'], { cwd })).out;
      expect(compared).not.toMatch(/\d{3,} frames/);
      expect(compared.includes('2 frames') || !compared.includes('source point'), `${way} ${compared}`).toBe(true);
    }
  });
});
