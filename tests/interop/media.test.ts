/**
 * Recordings read back: what `linecut media` says of files that ffmpeg made is what ffprobe (FFmpeg 5.1) and mediainfo (Debian, MediaInfoLib
 * 23.04) say. mediainfo.js carries MediaInfoLib 26.05 as WebAssembly; ffprobe shares no code with it.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, linkSync, mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { rateNear, rateOf } from '../../src/timecode/rate.js';
import { withCount } from '../media/craft.js';
import { byFfprobe, byMediainfo, makeRecording, type Judged, type Shape } from './media-files.js';
import { run, workFolder } from './support.js';

const BIN = join(import.meta.dirname, '../../bin/linecut.js');

interface Read {
  readonly path: string;
  readonly source: string;
  readonly container: string;
  readonly start?: string;
  readonly startFrame?: number;
  readonly rate?: string;
  readonly rateExact?: string;
  readonly frames?: number;
  readonly width?: number;
  readonly height?: number;
  readonly scan?: string;
  readonly channels?: number;
  readonly sampleRate?: number;
  readonly timeReference?: number;
  readonly bytes: number;
}

interface Said {
  readonly status: number | null;
  readonly recordings: readonly Read[];
  readonly problems: readonly { readonly code: string; readonly file: string; readonly message: string }[];
}

function media(folder: string, ...args: string[]): Said {
  const done = spawnSync(process.execPath, [BIN, 'media', folder, '--json', '-q', ...args], { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (done.stdout === '') throw new Error(done.stderr);
  return { status: done.status, ...(JSON.parse(done.stdout) as Omit<Said, 'status'>) };
}

/** Rates with how ffmpeg writes them, and the labels that a recording can carry. */
const RATES: readonly (readonly [string, string, string])[] = [
  ['23.976', '24000/1001', '10:00:59:20'], ['24', '24', '10:00:59:20'], ['25', '25', '23:59:59:20'], ['29.97ndf', '30000/1001', '10:00:59:20'],
  ['29.97df', '30000/1001', '10:00:59;20'], ['30', '30', '10:00:59:20'], ['50', '50', '10:00:59:40'], ['59.94df', '60000/1001', '10:09:59;50'], ['60', '60', '00:00:00:00'],
];

const CODECS: Readonly<Record<string, readonly string[]>> = {
  mov: ['-c:v', 'mpeg4', '-c:a', 'pcm_s16le'],
  mp4: ['-c:v', 'libx264', '-preset', 'ultrafast', '-bf', '2', '-c:a', 'aac'],
  mxf: ['-c:v', 'mpeg2video', '-c:a', 'pcm_s16le'],
  mkv: ['-c:v', 'libx264', '-preset', 'ultrafast', '-bf', '2', '-c:a', 'pcm_s16le'],
};

/** ffmpeg writes MXF at the rates of broadcast only. */
const IN_MXF = new Set(['23.976', '24', '25', '29.97ndf', '29.97df', '50', '59.94df']);

const SHAPES: readonly Shape[] = [
  ...Object.entries(CODECS).flatMap(([ending, options]) =>
    RATES.filter(([name]) => ending !== 'mxf' || IN_MXF.has(name)).map(([name, rate, timecode], index): Shape => ({
      name: `${ending}-${name}x.${ending}`, rate, frames: 41 + 3 * index, timecode, sound: index % 2 === 0 ? [1, 1] : [2], options,
    }))),
  { name: 'top-x.mov', rate: '25', frames: 30, timecode: '10:00:00:00', options: ['-c:v', 'prores_ks', '-flags', '+ilme', '-top', '1', '-field_order', 'tt'] },
  { name: 'bottom-x.mov', rate: '30000/1001', frames: 30, timecode: '10:00:00;00', options: ['-c:v', 'prores_ks', '-flags', '+ilme', '-top', '0', '-field_order', 'bb'] },
  { name: 'interlaced-x.mxf', rate: '25', frames: 30, timecode: '10:00:00:00', options: ['-c:v', 'mpeg2video', '-flags', '+ilme+ildct', '-top', '1'] },
  { name: 'fragments-x.mp4', rate: '25', frames: 100, options: ['-c:v', 'mpeg4', '-g', '12', '-movflags', 'frag_keyframe+empty_moov'] },
  { name: 'audio-longer-x.mkv', rate: '30000/1001', frames: 60, timecode: '10:00:00;00', sound: [2], options: [...(CODECS['mkv'] ?? [])] },
  { name: 'eight-x.mov', rate: '25', frames: 10, timecode: '10:00:00:00', sound: [1, 1, 1, 1, 2, 2], options: CODECS['mov'] ?? [] },
  { name: 'desk-x.wav', sound: [2], options: ['-t', '1.5', '-write_bext', '1', '-metadata', 'time_reference=1728000017', '-c:a', 'pcm_s24le'] },
  { name: 'desk-64x.wav', sound: [6], options: ['-t', '1.5', '-write_bext', '1', '-rf64', 'always', '-metadata', 'time_reference=4147199999', '-ar', '96000'] },
  { name: 'plain-x.wav', sound: [1], options: ['-t', '1.5', '-ar', '44100'] },
];

let folder: string;
let said: Said;
const judged = new Map<string, { ffprobe: Judged; mediainfo: Judged }>();

beforeAll(() => {
  folder = workFolder('media');
  for (const shape of SHAPES) {
    const path = makeRecording(folder, shape);
    judged.set(shape.name, { ffprobe: byFfprobe(path), mediainfo: byMediainfo(path) });
  }
  // mkvmerge keeps other statistics than ffmpeg, or none; a pipe can keep no length at all.
  const from = join(folder, 'mp4-29.97dfx.mp4');
  for (const [name, make] of [
    ['merged-x.mkv', () => run('mkvmerge', ['-q', '-o', join(folder, 'merged-x.mkv'), from])],
    ['bare-x.mkv', () => run('mkvmerge', ['-q', '--disable-track-statistics-tags', '-o', join(folder, 'bare-x.mkv'), from])],
    ['piped-x.mkv', () => spawnSync('sh', ['-c', 'ffmpeg -v error -i "$1" -map 0:v -map 0:a -c copy -f matroska - > "$2"', 'sh', from, join(folder, 'piped-x.mkv')])],
  ] as const) {
    make();
    judged.set(name, { ffprobe: byFfprobe(join(folder, name)), mediainfo: byMediainfo(join(folder, name)) });
  }
  said = media(folder);
});

const read = (name: string): Read => {
  const found = said.recordings.find(({ path }) => path.endsWith(`/${name}`));
  if (found === undefined) throw new Error(`${name} was not read: ${JSON.stringify(said.problems)}`);
  return found;
};

/** A judge's fraction as one of SMPTE ST 12-1; in a Matroska file, which keeps milliseconds, the one it is within 0.05 % of. */
function exact(text: string, name: string): string | undefined {
  const [num = '', den = '1'] = text.split('/');
  const rate = rateOf(Number(num), Number(den)) ?? (name.endsWith('.mkv') ? rateNear(Number(num) / Number(den)) : undefined);
  return rate === undefined ? undefined : `${String(rate.num)}/${String(rate.den)}`;
}

describe('every recording says what ffprobe and mediainfo say', () => {
  const names = [...SHAPES.map(({ name }) => name), 'merged-x.mkv', 'bare-x.mkv', 'piped-x.mkv'];

  it.each(names)('%s', (name) => {
    const { ffprobe, mediainfo } = judged.get(name) ?? {};
    if (ffprobe === undefined || mediainfo === undefined) throw new Error('not judged');
    const found = read(name);
    expect(found.bytes).toBe(ffprobe.bytes);
    expect(found.bytes).toBe(mediainfo.bytes);
    expect(found.channels ?? 0).toBe(ffprobe.channels);
    expect(found.channels ?? 0).toBe(mediainfo.channels);
    expect(found.sampleRate).toBe(ffprobe.sampleRate);
    expect(found.sampleRate).toBe(mediainfo.sampleRate);
    expect(found.timeReference).toBe(ffprobe.timeReference === 0 ? undefined : ffprobe.timeReference);
    if (ffprobe.frames === undefined) return;
    expect(`${String(found.width)}x${String(found.height)}`).toBe(ffprobe.size);
    expect(`${String(found.width)}x${String(found.height)}`).toBe(mediainfo.size);
    expect(found.frames).toBe(ffprobe.frames);
    expect(ffprobe.rates.map((rate) => exact(rate, name))).toContain(found.rateExact);
    expect(found.start).toBe(ffprobe.timecode);
    expect(found.start).toBe(mediainfo.timecode);
    if (mediainfo.scan !== undefined) expect(found.scan).toBe(mediainfo.scan);
    if (ffprobe.scan !== undefined) expect(found.scan).toBe(ffprobe.scan);
  });

  it('frames are those of mediainfo too, but where it guesses: Matroska without a length of its picture', () => {
    const differ = names.filter((name) => judged.get(name)?.mediainfo.frames !== read(name).frames && judged.get(name)?.mediainfo.frames !== undefined);
    expect(differ).toEqual(['bare-x.mkv', 'piped-x.mkv'].filter((name) => differ.includes(name)));
    expect(judged.get('bare-x.mkv')?.ffprobe.frames).toBe(read('bare-x.mkv').frames);
  });

  it('a BWF time reference to the sample (EBU Tech 3285)', () => {
    expect(read('desk-x.wav').timeReference).toBe(1_728_000_017);
    expect(read('desk-64x.wav').timeReference).toBe(4_147_199_999);
    expect(read('plain-x.wav').timeReference).toBeUndefined();
    expect(judged.get('desk-x.wav')?.ffprobe.timeReference).toBe(1_728_000_017);
    expect(Math.round((judged.get('desk-x.wav')?.mediainfo.timeReference ?? 0) * 48)).toBeCloseTo(1_728_000_017 / 1000, 0);
  });

  it('nothing is said against sound files, but that three of them are interlaced', () => {
    expect(said.status).toBe(0);
    const names = said.problems.filter(({ code }) => code !== 'found').map(({ code, file }) => `${file.replace(/^.*\//, '')} ${code}`);
    expect(names.sort()).toEqual(['bottom-x.mov picture-differs', 'interlaced-x.mxf picture-differs', 'top-x.mov picture-differs']);
  });
});

describe('one recording in several files', () => {
  it.each([
    ['25', '25', '10:59:58:12'], ['29.97df', '30000/1001', '10:59:58;12'], ['30', '30', '10:59:58:12'], ['59.94df', '60000/1001', '10:59:58;24'],
  ])('%s: spans join without a hole, across the hour', (_, rate, timecode) => {
    const at = workFolder('spans');
    // One recording cut into four by ffmpeg, each with the label that the timecode library gives its first frame.
    const whole = makeRecording(at, { name: 'whole.mov', rate, frames: 200, timecode, options: ['-c:v', 'mpeg4', '-g', '1'] });
    const cuts = [0, 37, 90, 91, 200];
    mkdirSync(join(at, 'cam'));
    cuts.slice(1).forEach((end, index) => {
      const from = cuts[index] ?? 0;
      const label = run(join(import.meta.dirname, '.venv/bin/python'), ['-c', `
import sys
from timecode import Timecode
first = Timecode(sys.argv[1], sys.argv[2])
print(first if sys.argv[3] == '0' else first + int(sys.argv[3]))
`, { '25': '25', '30000/1001': '29.97', '30': '30', '60000/1001': '59.94' }[rate] ?? rate, timecode, String(from)]).trim();
      run('ffmpeg', [
        '-v', 'error', '-y', '-i', whole, '-map', '0:v', '-vf', `trim=start_frame=${String(from)}:end_frame=${String(end)},setpts=PTS-STARTPTS`,
        '-c:v', 'mpeg4', '-timecode', label, join(at, 'cam', `wide-${String(4 - index)}.mov`),
      ]);
    });
    const { recordings, problems } = media(join(at, 'cam'));
    expect(recordings.map(({ path, frames }) => [path.slice(-10), frames])).toEqual([['wide-4.mov', 37], ['wide-3.mov', 53], ['wide-2.mov', 1], ['wide-1.mov', 109]]);
    expect(recordings.map(({ source }) => source)).toEqual(['wide', 'wide', 'wide', 'wide']);
    for (const [index, one] of recordings.entries()) {
      const next = recordings[index + 1];
      if (next !== undefined) expect(next.startFrame).toBe((one.startFrame ?? 0) + (one.frames ?? 0));
    }
    expect(problems.filter(({ code }) => code !== 'found')).toEqual([]);
  });
});

describe('timecode that counts frame pairs', () => {
  it('59.94 with a track of 29.97: ffprobe and mediainfo see the same labels and the track at half the rate', () => {
    const at = workFolder('pairs');
    const path = makeRecording(at, { name: 'close.mov', rate: '60000/1001', frames: 90, timecode: '10:00:59;50', options: ['-c:v', 'mpeg4'] });
    // 10:00:59;25 at 29.97df is frame 1,080,715.
    writeFileSync(path, withCount(readFileSync(path), { timescale: 30_000, frameDuration: 1001, perSecond: 30, frame: 1_080_715 }));
    expect(byFfprobe(path)).toMatchObject({ timecode: '10:00:59;25', rates: ['60000/1001', '60000/1001'], frames: 90 });
    expect(byMediainfo(path)).toMatchObject({ timecode: '10:00:59;25', frames: 90 });
    const { recordings, problems } = media(at);
    expect(recordings[0]).toMatchObject({ start: '10:00:59;50', startFrame: 2 * 1_080_715, rate: '59.94', frames: 90 });
    expect(problems.map(({ code }) => code)).toEqual(['found']);
  });
});

describe('a folder of 2,000 files', () => {
  it('is read with every core; a broken one is reported, the rest is there', () => {
    const at = workFolder('many');
    const names = ['mov-29.97dfx.mov', 'mxf-25x.mxf', 'mp4-30x.mp4', 'mkv-59.94dfx.mkv'];
    for (let index = 0; index < 2000; index += 1) linkSync(join(folder, names[index % names.length] ?? ''), join(at, `r${String(index)}x.${names[index % names.length]?.slice(-3) ?? ''}`));
    for (const index of [7, 1000]) {
      writeFileSync(join(at, `broken${String(index)}.mov`), readFileSync(join(folder, 'mov-25x.mov')));
      truncateSync(join(at, `broken${String(index)}.mov`), 3000);
    }
    const started = performance.now();
    const done = spawnSync('bash', ['-c', 'TIMEFORMAT="%R %U %S"; time "$0" "$@"', process.execPath, BIN, 'media', at, '--json'], { encoding: 'utf8', maxBuffer: 1 << 28 });
    const elapsed = performance.now() - started;
    const found = JSON.parse(done.stdout) as Said;
    expect(done.status).toBe(1);
    expect(found.recordings.length).toBe(2000);
    expect(found.problems.filter(({ code }) => code === 'broken-recording').map(({ file }) => file.replace(/^.*\//, ''))).toEqual(['broken7.mov', 'broken1000.mov']);
    for (const one of found.recordings) expect(one.frames).toBe(read(names[Number(/r(\d+)x\.\w+$/.exec(one.path)?.[1]) % names.length] ?? '').frames);
    expect(done.stderr).not.toContain('\r');
    const [real = 0, user = 0, system = 0] = (done.stderr.trim().split('\n').at(-1) ?? '').split(' ').map(Number);
    process.stdout.write(`2,002 recordings in ${real.toFixed(1)} s, ${(user + system).toFixed(1)} s of processor time, ${String(cpus().length)} cores\n`);
    expect(elapsed).toBeLessThan(240_000);
  });

  it('the bar is drawn on a terminal only', () => {
    const at = workFolder('bar');
    for (let index = 0; index < 40; index += 1) linkSync(join(folder, 'mov-25x.mov'), join(at, `r${String(index)}x.mov`));
    // script(1) gives the program a terminal, and what appears on it.
    const shown = run('script', ['-qec', `${process.execPath} ${BIN} media ${at} > /dev/null`, '/dev/null']);
    expect(shown).toContain('40 of 40 recordings');
    expect(shown).toMatch(/\[=+ *\] \d+ of 40 recordings\r/);
    expect(spawnSync(process.execPath, [BIN, 'media', at], { encoding: 'utf8' }).stderr).not.toContain('of 40 recordings');
  });

  it('both cores are busy: two threads use the processor at the same time', async () => {
    const at = workFolder('threads');
    for (let index = 0; index < 400; index += 1) linkSync(join(folder, 'mov-29.97dfx.mov'), join(at, `r${String(index)}x.mov`));
    const child = spawn(process.execPath, [BIN, 'media', at, '-q'], { stdio: 'ignore' });
    const ended = new Promise((done) => { child.once('exit', done); });
    // How long each thread has used the processor, by the kernel's own count (proc(5): utime and stime, in ticks of 10 ms).
    const ticks = new Map<string, number>();
    const sample = setInterval(() => {
      const tasks = `/proc/${String(child.pid)}/task`;
      if (!existsSync(tasks)) return;
      for (const task of readdirSync(tasks)) {
        try {
          const fields = readFileSync(join(tasks, task, 'stat'), 'utf8').replace(/^.*\) /, '').split(' ');
          ticks.set(task, Number(fields[11]) + Number(fields[12]));
        } catch { /* The thread ended between the two looks. */ }
      }
    }, 40);
    await ended;
    clearInterval(sample);
    const total = [...ticks.values()].reduce((sum, one) => sum + one, 0);
    const busy = [...ticks.values()].filter((one) => one > total / 5);
    expect(busy.length).toBeGreaterThanOrEqual(Math.min(2, cpus().length));
  });
});
