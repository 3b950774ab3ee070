/** Black and program that stand for missing frames, when a switch beside them moves: they stay where the recording lacks frames, and nowhere else. */
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:04:00,cut,2\n10:00:08:00,cut,1\n10:00:12:00,stop,\n';
const file = (path: string, start: string, frames: number, channels = 4): object => ({ path, start, frames, channels });
/** The recording of camera 2 begins 10 frames after the switch to it, and lacks 15 frames, 10 of them in its shot. */
const camera = { id: '2', reel: 'C2', files: [file('2-1.mov', '10:00:04:10', 80), file('2-2.mov', '10:00:08:05', 80)] };
const show = (more: object): object => ({ rate: '25', audio: { from: 'follow', channels: [3, 4] }, sources: [{ id: '1', reel: 'C1', files: [file('1.mov', '10:00:00:00', 400)] }, camera], ...more });
const BLACK_STANDS = show({});
const PROGRAM_STANDS = show({ program: { files: [file('p.mov', '10:00:00:00', 400, 2)] } });
/** Camera 2 has nothing at all of its shot: its recording begins when the shot ends. */
const LATE = show({ sources: [{ id: '1', reel: 'C1', files: [file('1.mov', '10:00:00:00', 400)] }, { id: '2', reel: 'C2', files: [file('2.mov', '10:00:08:00', 100)] }] });
/** Of camera 2 only the start is known. */
const START = show({ sources: [{ id: '1', reel: 'C1', files: [file('1.mov', '10:00:00:00', 400)] }, { id: '2', reel: 'C2', start: '10:00:08:00' }] });

const FIXES = {
  'earlier.csv': 'do,at,expect,to\nstart,01:00:04:00,2,5 earlier\nstart,01:00:08:00,1,5 earlier\n',
  'narrow.csv': 'do,at,expect,to\nstart,01:00:04:00,2,5 later\n',
};

interface Lists { readonly ofLog: string[]; readonly ofList: string[]; readonly said: string }

/** Events of the EDL, sources and record side, that a call makes of the log and of its OTIO; what is said of the latter. */
async function lists(json: object, ...options: string[]): Promise<Lists> {
  const cwd = folderWith({ 'show.csv': LOG, 'show.show.json': JSON.stringify(json), ...FIXES });
  expect(await cli(['convert', 'show.csv', '--to', 'otio', '-o', 'whole', '-q'], { cwd })).toMatchObject({ status: 0 });
  for (const [name, to] of [['show.csv', 'log'], ['whole/show.otio', 'list']] as const) {
    expect(await cli(['convert', name, '--to', 'otio,edl', '-o', to, '-q', ...options], { cwd })).toMatchObject({ status: 0 });
  }
  expect(await cli(['compare', 'log/show.otio', 'list/show.otio', '-q'], { cwd })).toMatchObject({ status: 0, out: '' });
  const events = async (name: string): Promise<string[]> => {
    const { out } = await cli(['convert', name, '--to', 'edl', '-o', '-', '-q'], { cwd });
    return out.split('\r\n').filter((line) => /^\d{3} /.test(line)).map((line) => `${line.slice(5, 13).trim()} ${line.slice(53)}`);
  };
  const { err } = await cli(['convert', 'whole/show.otio', '--to', 'edl', '-o', '-', ...options], { cwd });
  return { ofLog: await events('log/show.otio'), ofList: await events('list/show.otio'), said: err };
}

describe.each([['black', BLACK_STANDS, 'BL'], ['the program', PROGRAM_STANDS, 'PROGRAM']] as const)('%s for frames that a recording lacks', (_, json, reel) => {
  it.each([['--lag', '9']])('gives way to what the recording has: %j', async (...options) => {
    const { ofLog, ofList, said } = await lists(json, ...options);
    expect(ofList).toEqual(ofLog);
    expect(ofList.slice(-3)).toEqual([`${reel} 01:00:07:15 01:00:08:05`, 'C2 01:00:08:05 01:00:08:09', 'C1 01:00:08:09 01:00:12:00']);
    expect(said).toContain('a hole of 15 frames');
  });

  it.each([['--lead', '5'], ['--corrections', 'earlier.csv']])('is there for the frames before the recording, and as long as the shot: %j', async (...options) => {
    const { ofLog, ofList } = await lists(json, ...options);
    expect(ofList).toEqual(ofLog);
    expect(ofList).toEqual(['C1 01:00:00:00 01:00:03:20', `${reel} 01:00:03:20 01:00:04:10`, 'C2 01:00:04:10 01:00:07:15', `${reel} 01:00:07:15 01:00:07:20`, 'C1 01:00:07:20 01:00:12:00']);
  });

  it('is shorter where the switch comes later', async () => {
    const { ofLog, ofList } = await lists(json, '--corrections', 'narrow.csv');
    expect(ofList).toEqual(ofLog);
    expect(ofList[1]).toBe(`${reel} 01:00:04:05 01:00:04:10`);
  });
});

describe('a shot that is all black, where its recording begins behind it', () => {
  it.each([['a file', LATE], ['a start', START]] as const)('has the recording in what it takes there: %s', async (_, json) => {
    const { ofLog, ofList } = await lists(json, '--lag', '9');
    expect(ofList).toEqual(ofLog);
    expect(ofList.slice(-2)).toEqual(['C2 01:00:08:00 01:00:08:09', 'C1 01:00:08:09 01:00:12:00']);
  });
});

describe('corrections that compare writes beside what stands for missing frames', () => {
  it('lead from A to B', async () => {
    const log = (first: string): string => `time,action,source\n0,start,\n0,cut,${first}\n20,cut,2\n50,stop,\n`;
    const late = JSON.stringify({
      rate: '25', title: 't', audio: { from: 'none' },
      sources: [{ id: '1', sync: { this: '10:00:00:00', is: '00:00:00:10' }, files: [{ path: '1.mov', start: '10:00:00:00', frames: 500 }] }, { id: '2' }],
    });
    const cwd = folderWith({ 'a.csv': log('1'), 'b.csv': log('black'), 'a.show.json': late, 'b.show.json': late });
    expect((await cli(['compare', 'a.csv', 'b.csv', '--write-corrections', 'fix.csv', '-q'], { cwd })).status).toBe(1);
    expect((await cli(['convert', 'a.csv', '--corrections', 'fix.csv', '-o', 'f', '-q'], { cwd })).status).toBe(0);
    expect(await cli(['compare', 'f/a.otio', 'b.csv', '-q'], { cwd })).toMatchObject({ status: 0, out: '' });
  });
});
