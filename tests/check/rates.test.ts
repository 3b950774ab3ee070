/** `linecut check` and `compare` where sources run at another rate than the list. */
import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cli, folderWith, textOf } from '../support/cli.js';

const LOG = ['time,action,source,duration', '10:00:00:00,start,,', '10:00:00:00,cut,1,', '10:00:10:00,cut,2,', '10:00:20:00,dissolve,3,25', '10:00:30:00,cut,1,', '10:00:40:00,stop,,', ''].join('\n');

/** Wide as the list, Close at 25, Slides at 30: one that is converted, one that drifts (contract §5 rule 12). */
const SHOW = JSON.stringify({
  rate: '29.97ndf',
  audio: { from: '1' },
  sources: [['1', 'Wide', '29.97ndf'], ['2', 'Close', '25'], ['3', 'Slides', '30']]
    .map(([id, name, rate]) => ({ id, name, files: [{ path: `${String(name)}.mov`, rate, start: '10:00:00:00', frames: 2000 }] })),
});

async function lists(): Promise<string> {
  const folder = folderWith({ 'show.csv': LOG, 'show.show.json': SHOW });
  expect((await cli(['convert', 'show.csv', '-o', 'lists'], { cwd: folder })).status).toBe(0);
  return folder;
}

/** The EDL without the comments that say how its sources count: as a system that drops comments hands it on. */
async function bareEdl(change: (text: string) => string = (text) => text): Promise<string> {
  const folder = await lists();
  const text = change(textOf(folder, 'lists/show.edl')).replace(/^\* (?:RATE|REEL).*\r\n/gm, '');
  expect(text).toContain('M2   CLOSE     025.0                10:00:46:00');
  writeFileSync(`${folder}/bare.edl`, text);
  return folder;
}

describe('a source at another rate', () => {
  it('is a note in every kind of file, with the name of the file', async () => {
    const folder = await lists();
    const plain = await cli(['check', 'lists/show.edl', 'lists/show.otio', 'lists/show.chapters.txt', 'show.csv'], { cwd: folder });
    expect(plain).toMatchObject({ status: 0, err: '' });
    expect(plain.out).toContain('lists/show.otio: note: Slides (3) runs at 30, the list at 29.97: it gains 107.892 frames (3.596 s) an hour');
    expect(plain.out).toContain('show.csv: note: Close (2) runs at 25, the list at 29.97');
    const shown = await cli(['check', 'lists/show.edl', '--show', 'show.show.json', '--against', 'show.csv'], { cwd: folder });
    expect(shown.status).toBe(0);
    expect(shown.out).toContain('lists/show.edl: EDL, 2 notes, 4 of 4 shots as the log has them\n');
  });

  it('is a warning again where the rules say so', async () => {
    const folder = await lists();
    writeFileSync(`${folder}/rules.json`, '{"rate-differs": "warning"}');
    expect((await cli(['check', 'lists/show.otio', '--rules', 'rules.json'], { cwd: folder })).status).toBe(1);
  });

  it('says in compare which of the two files it concerns', async () => {
    const folder = await lists();
    const { status, out, err } = await cli(['compare', 'show.csv', 'lists/show.edl'], { cwd: folder });
    expect([status, out]).toEqual([0, '']);
    expect(err).toContain('show.csv: warning: Close (2) runs at 25, the list at 29.97');
  });
});

describe('an EDL that does not say how its sources count', () => {
  it('has labels that the speed line explains', async () => {
    const folder = await bareEdl();
    expect(await cli(['check', 'bare.edl', '--rate', '29.97ndf'], { cwd: folder })).toMatchObject({ status: 0, out: 'bare.edl: EDL, sound\n' });
  });

  it('is held against its recordings by its labels', async () => {
    // 10:00:46:00 at 25 is frame 901,150, in a recording of 2,000 frames from 900,000; counted at 30 it would lie far behind its end.
    const sound = await bareEdl();
    const { status, out } = await cli(['check', 'bare.edl', '--show', 'show.show.json'], { cwd: sound });
    expect([status, out.match(/\[[a-z-]+\]/g)]).toEqual([0, ['[rate-differs]', '[rate-differs]']]);
    // 10:01:15:00 at 25 is frame 901,875: of the 250 frames from there, 125 lie behind the end of the recording.
    const late = await bareEdl((text) => text.replace('10:00:46:00 10:00:56:00', '10:01:15:00 10:01:25:00'));
    expect((await cli(['check', 'bare.edl', '--show', 'show.show.json'], { cwd: late })).out).toContain('[beyond-recording]');
  });

  it('has a source side that fits neither way', async () => {
    const folder = await bareEdl((text) => text.replace('10:00:46:00 10:00:56:00', '10:00:46:00 10:00:58:00'));
    const { status, out } = await cli(['check', 'bare.edl', '--rate', '29.97ndf'], { cwd: folder });
    expect(status).toBe(1);
    expect(out).toContain('event 3: 25 source frames a second make 250 frames, and the source side has 360; the source side counts, and the record side has 300 [length-differs]');
  });
});
