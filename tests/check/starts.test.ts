import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';

describe('a list of starts, one a take', () => {
  // The counter went back between the takes.
  const folder = (starts: readonly string[]): string => folderWith({
    'log.csv': 'frames,action,source\n0,start,\n0,cut,1\n125,cut,2\n250,stop,\n45000,start,\n45000,cut,1\n45250,stop,\n',
    'log.show.json': JSON.stringify({ rate: '25', sources: [{ id: '1', start: starts }, { id: '2', recorded: false }], audio: { from: 'none' } }),
  });

  it.each([['10:00:00:00', '09:00:00:00'], ['01:00:00:00', '00:00:00:00'], ['09:00:00:00', '10:00:00:00']])('is no bound for the other takes of an EDL, which does not say what its takes are: %j', async (...starts) => {
    const cwd = folder(starts);
    expect(await cli(['convert', 'log.csv', '-q'], { cwd })).toMatchObject({ status: 0 });
    expect((await cli(['check', 'log.edl', 'log.otio', '--against', 'log.csv'], { cwd })).out).not.toContain('[beyond-recording]');
    expect((await cli(['check', 'log.edl', '--show', 'log.show.json'], { cwd })).out).not.toContain('[beyond-recording]');
  });

  it('is no bound where the starts lie around the clock', async () => {
    const cwd = folderWith({
      's.csv': 'frames,action,source\n0,start,\n0,cut,3\n50,stop,\n60,start,\n60,cut,3\n100,stop,\n110,start,\n150,stop,\n',
      's.show.json': JSON.stringify({ rate: '25', audio: { from: 'none' }, sources: [{ id: '3', start: ['12:00:00:00', '21:00:00:00', '07:00:00:00'] }, { id: '4', files: [{ path: '4.mov', start: '01:00:00:00', frames: 500 }] }] }),
    });
    expect(await cli(['convert', 's.csv', '-q'], { cwd })).toMatchObject({ status: 0 });
    expect(await cli(['check', 's.edl', 's.otio', '--show', 's.show.json'], { cwd })).toMatchObject({ status: 0, out: 's.edl: EDL, sound\ns.otio: OTIO, sound\n' });
  });

  it('says what lies before all of them', async () => {
    const cwd = folder(['10:00:00:00', '09:00:00:00']);
    expect(await cli(['convert', 'log.csv', '--to', 'edl', '-q'], { cwd })).toMatchObject({ status: 0 });
    const late = JSON.stringify({ rate: '25', sources: [{ id: '1', start: ['10:00:00:00', '09:30:00:00'] }, { id: '2', recorded: false }] });
    writeFileSync(join(cwd, 'late.json'), late);
    expect((await cli(['check', 'log.edl', '--show', 'late.json'], { cwd })).out).toContain('[beyond-recording]');
  });
});
