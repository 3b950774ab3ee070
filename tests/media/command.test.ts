import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Io, Sink } from '../../src/cli/io.js';
import { run } from '../../src/cli/program.js';

const FIXTURES = new URL('../../fixtures/media/', import.meta.url).pathname;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'linecut-media-'));
  mkdirSync(join(folder, 'media'));
  for (const name of ['wide-1.mov', 'wide-2.mov', 'close.mov', 'slides.mp4', 'overhead.mkv', 'program.mxf', 'desk.wav']) copyFileSync(FIXTURES + name, join(folder, 'media', name));
  // What lies on a card beside recordings.
  writeFileSync(join(folder, 'media', '._wide-1.mov'), 'not a recording');
  writeFileSync(join(folder, 'media', 'notes.txt'), 'not a recording');
  symlinkSync('.', join(folder, 'media', 'round'));
});
afterAll(() => { rmSync(folder, { recursive: true, force: true }); });

interface Said {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

async function media(args: readonly string[], isTTY = false): Promise<Said> {
  const text = { out: '', err: '' };
  const sink = (name: 'out' | 'err'): Sink => ({ write: (more) => { text[name] += more; return Promise.resolve(); }, isTTY: name === 'err' && isTTY, columns: 80 });
  const io: Io = { cwd: folder, env: {}, out: sink('out'), err: sink('err'), readStdin: () => Promise.resolve(undefined) };
  return { status: await run(['media', ...args], io), ...text };
}

describe('linecut media', () => {
  test('prints a table, one line a file, source by source', async () => {
    const { status, out, err } = await media(['media']);
    expect(status).toBe(0);
    expect(out.split('\n').map((line) => line.split(/ {2,}/).slice(0, 5))).toEqual([
      ['source', 'file', 'start', 'rate', 'frames'],
      ['close', 'media/close.mov', '10:00:59;48', '59.94df', '24'],
      ['overhead', 'media/overhead.mkv', '10:00:59:24', '30', '13'],
      ['program', 'media/program.mxf', '10:00:59;24', '29.97df', '12'],
      ['slides', 'media/slides.mp4', '10:00:59:13', '25', '10'],
      ['wide', 'media/wide-1.mov', '10:00:59;24', '29.97df', '12'],
      ['wide', 'media/wide-2.mov', '10:01:00;08', '29.97df', '12'],
      ['desk', 'media/desk.wav', '10:00:36.002', '-', '-'],
      [''],
    ]);
    expect(err).toContain('media/close.mov: note: its timecode counts pairs of frames');
    expect(err).toContain('7 recordings of 6 sources');
  });

  test('sound is put on frames of the rate given', async () => {
    const { out } = await media(['media/desk.wav', '--rate', '29.97df']);
    expect(out.split('\n')[1]).toMatch(/^desk\s+media\/desk\.wav\s+10:00:36;00\s+29\.97df\s+8 /);
  });

  test('--json prints one object: recordings, sources, problems', async () => {
    const { status, out } = await media(['media', '--json', '-q']);
    expect(status).toBe(0);
    const data = JSON.parse(out) as { recordings: Record<string, unknown>[]; sources: { id: string }[]; program: unknown; problems: { code: string; file: string }[] };
    expect(data.recordings.find(({ path }) => path === 'media/close.mov')).toEqual({
      path: 'media/close.mov', source: 'close', container: 'MOV', start: '10:00:59;48', startFrame: 2_161_428, rate: '59.94', rateExact: '60000/1001', dropFrame: true, frames: 24,
      seconds: 0.4, width: 16, height: 16, scan: 'progressive', varyingRate: false, framePairs: true, label: '10:00:59;24', bytes: 1750,
    });
    expect(data.sources.map(({ id }) => id)).toEqual(['close', 'overhead', 'slides', 'wide', 'desk']);
    expect(data.program).toMatchObject({ files: [{ path: 'media/program.mxf', start: '10:00:59;24' }] });
    expect(data.problems.map(({ code, file }) => `${file} ${code}`)).toEqual(['media/close.mov found', 'media/desk.wav found']);
  });

  test('--write-show writes a show file, and completes it the next time', async () => {
    const show = join(folder, 'show.json');
    expect((await media(['media/wide-1.mov', '--write-show', 'show.json'])).status).toBe(0);
    expect(JSON.parse(readFileSync(show, 'utf8'))).toEqual({ sources: [{ id: 'wide', name: 'wide', files: [{ path: 'media/wide-1.mov', start: '10:00:59;24', frames: 12, rate: '29.97df', channels: 0, size: 1581 }] }] });
    const mine = readFileSync(show, 'utf8').replace('"id": "wide"', '"id": "1",   "reel": "W"').replace('{', '{ "rate": "29.97df",');
    writeFileSync(show, mine);
    expect((await media(['media', '--write-show', 'show.json'])).status).toBe(0);
    const after = JSON.parse(readFileSync(show, 'utf8')) as { rate: string; sources: { id: string; reel?: string; files: { path: string; start?: string }[] }[]; program: unknown };
    expect(after.rate).toBe('29.97df');
    expect(after.sources.map(({ id, reel, files }) => [id, reel, files.map(({ path }) => path)])).toEqual([
      ['1', 'W', ['media/wide-1.mov', 'media/wide-2.mov']], ['close', undefined, ['media/close.mov']], ['overhead', undefined, ['media/overhead.mkv']], ['slides', undefined, ['media/slides.mp4']], ['desk', undefined, ['media/desk.wav']],
    ]);
    // The show's rate puts the sound on frames.
    expect(after.sources.at(-1)?.files[0]?.start).toBe('10:00:36;00');
    expect(readFileSync(show, 'utf8')).toContain('"id": "1",   "reel": "W"');
    expect(readdirSync(folder).filter((name) => name.includes('linecut-part'))).toEqual([]);
  });

  test('a show file with errors stays as it is: status 1, nothing read', async () => {
    writeFileSync(join(folder, 'wrong.json'), '{ "sourses": [] }');
    const { status, out, err } = await media(['media', '--write-show', 'wrong.json']);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain('wrong.json:1:3: error:');
    expect(readFileSync(join(folder, 'wrong.json'), 'utf8')).toBe('{ "sourses": [] }');
  });

  test('a broken file is reported and left out, the rest is read: status 1', async () => {
    mkdirSync(join(folder, 'card'), { recursive: true });
    copyFileSync(`${FIXTURES}broken.mov`, join(folder, 'card', 'broken.mov'));
    writeFileSync(join(folder, 'card', 'noise.mxf'), Buffer.alloc(5000, 7));
    copyFileSync(`${FIXTURES}wide-1.mov`, join(folder, 'card', 'wide-1.mov'));
    const { status, out, err } = await media(['card', '--write-show', 'card.json']);
    expect(status).toBe(1);
    expect(out.split('\n').length).toBe(3);
    expect(err).toMatch(/^card\/broken\.mov: error: .* \[broken-recording\]$/m);
    expect(err).toMatch(/^card\/noise\.mxf: error: .* \[broken-recording\]$/m);
    expect(readFileSync(join(folder, 'card.json'), 'utf8')).toContain('wide-1.mov');
  });

  test('a folder that is not there, one without recordings: status 2', async () => {
    mkdirSync(join(folder, 'empty'), { recursive: true });
    for (const dir of ['gone', 'empty']) {
      const { status, out, err } = await media([dir, '--write-show', 'none.json']);
      expect({ status, out }).toEqual({ status: 2, out: '' });
      expect(err).toMatch(new RegExp(`^${dir}: error: .* \\[unreadable\\]$`, 'm'));
    }
    expect(readdirSync(folder)).not.toContain('none.json');
    expect((await media(['media', 'gone'])).out).toContain('wide-2.mov');
  });

  test('--strict makes warnings errors, and then nothing is written', async () => {
    copyFileSync(`${FIXTURES}jump.mov`, join(folder, 'jump.mov'));
    const { status, err } = await media(['jump.mov', '--strict', '--write-show', 'strict.json']);
    expect(status).toBe(1);
    expect(err).toContain('jump.mov: error: its timecode jumps');
    expect(readdirSync(folder)).not.toContain('strict.json');
  });

  test('--group: a pattern that is none is wrong usage; files that it does not match are named', async () => {
    expect((await media(['media', '--group', '('])).status).toBe(2);
    const { out, err } = await media(['media', '--group', '^(?<source>wide|close)']);
    expect(out.split('\n').map((line) => line.split(/ {2,}/)[0])).toEqual(['source', 'close', 'wide', 'wide', '-', '-', '-', '-', '']);
    expect(err).toContain("media/slides.mp4: warning: --group finds no source in its path 'slides.mp4'; it belongs to none [outside-group]");
  });

  test('several folders that hold one path are told apart by their own names, with more of those above where these are alike', async () => {
    for (const [place, original] of [['day1/card', 'wide-1.mov'], ['day2/card', 'wide-2.mov']] as const) {
      mkdirSync(join(folder, place, 'CLIP'), { recursive: true });
      copyFileSync(FIXTURES + original, join(folder, place, 'CLIP', 'CLIP0001.mov'));
      copyFileSync(FIXTURES + original, join(folder, place, 'CLIP', 'CLIP0001 (2).mov'));
    }
    const sources = (out: string): string[] => out.split('\n').slice(1, -1).map((line) => line.split(/ {2,}/)[0] ?? '');
    expect(sources((await media(['day1/card', 'day2/card', '--group', '^(?<source>day\\d)/'])).out)).toEqual(['day1', 'day1', 'day2', 'day2']);
    expect(sources((await media(['day1/card/CLIP', 'day2/card/CLIP', '--group', '^day\\d/card'])).out)).toEqual(['day1/card', 'day1/card', 'day2/card', 'day2/card']);
    expect((await media(['day1/card', 'day2/card', '--group', '^card'])).err).toContain("day1/card/CLIP/CLIP0001.mov: warning: --group finds no source in its path 'CLIP/CLIP0001.mov', nor in 'day1/card/CLIP/CLIP0001.mov'; it belongs to none [outside-group]");
  });

  test('a progress bar on a terminal only, and never with --quiet', async () => {
    expect((await media(['media'], true)).err).toContain('7 of 7 recordings');
    expect((await media(['media'])).err).not.toContain('7 of 7 recordings');
    expect((await media(['media', '-q'], true)).err).toBe('');
  });
});
