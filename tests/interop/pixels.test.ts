/**
 * The main job against pixels: a show of the Harbour Kitchen is recorded with its frame numbers in the picture, its log becomes an EDL, ffmpeg
 * cuts the program from that EDL alone (conform.ts), and the numbers are read back. What must be seen on each frame is worked
 * out here from the log, by the contract's rules, without linecut's code: labels by smpte-timecode 1.3 (SMPTE ST 12-1).
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import SmpteTimecode from 'smpte-timecode';
import { beforeAll, describe, expect, it } from 'vitest';
import { withCount } from '../media/craft.js';
import { conform, type Rate } from './conform.js';
import { play, record, type Seen } from './pixels.js';
import { workFolder } from './support.js';

const BIN = join(import.meta.dirname, '../../bin/linecut.js');
const LIST: Rate = [30_000, 1001];
const frame = (label: string): number => new SmpteTimecode(label, [...LIST], true).frameCount;
const label = (at: number): string => new SmpteTimecode(at, [...LIST], true).toString();

/** The show runs from here to there, across a minute whose first labels are skipped. */
const FROM = frame('10:00:40;00');
const TO = frame('10:01:20;10');
/** Recordings begin two seconds before the show and end two seconds behind it. */
const START = FROM - 60;
const FRAMES = TO - FROM + 120;
/** The free-running recorder's label and the log's, for one moment. */
const SYNC = { this: '01:00:05;00', is: '10:00:40;00' };

/** A source's number on the moment of a log frame: exact for those that run at the list's rate. */
const SOURCES: Readonly<Record<string, { band: number; at: (log: number) => number; rate?: number }>> = {
  wide: { band: 0, at: (log) => log },
  // Its picture arrives two frames late.
  close: { band: 1, at: (log) => log + 2 },
  top: { band: 2, at: (log) => log - frame(SYNC.is) + frame(SYNC.this) },
  // 25 a second: the frame nearest to the same real time, log × 1001 / 30000 s.
  slides: { band: 3, at: (log) => Math.floor((2 * log * 1001 * 25 + 30_000) / 60_000), rate: (25 * 1001) / 30_000 },
  // 59.94 a second, labels that count pairs: two pictures to a frame of the list.
  oven: { band: 4, at: (log) => 2 * log, rate: 2 },
  program: { band: 5, at: (log) => log },
};

interface Switch {
  readonly at: number;
  readonly source: string;
  readonly mix?: number;
}

/** The show: cuts and dissolves between all of them, also while one has just ended, over the file boundary and over the minute. */
const SWITCHES: readonly Switch[] = [
  { at: FROM, source: 'wide' },
  { at: FROM + 75, source: 'close' },
  { at: FROM + 131, source: 'wide', mix: 30 },
  { at: FROM + 220, source: 'slides' },
  { at: FROM + 221 + 79, source: 'top', mix: 12 },
  { at: FROM + 400, source: 'slides', mix: 25 },
  { at: FROM + 500, source: 'wide', mix: 1 },
  // The wide camera's second file begins at FROM + 560.
  { at: frame('10:00:59;29'), source: 'close', mix: 20 },
  { at: frame('10:01:00;28'), source: 'wide', mix: 60 },
  { at: FROM + 760, source: 'balcony' },
  { at: FROM + 800, source: 'close' },
  { at: FROM + 801, source: 'oven' },
  { at: FROM + 802, source: 'close', mix: 90 },
  { at: FROM + 960, source: 'top' },
  { at: FROM + 1000, source: 'oven', mix: 15 },
  { at: FROM + 1100, source: 'wide', mix: 20 },
];

const SPLIT = FROM + 560;

let folder: string;

beforeAll(() => {
  folder = workFolder('pixels');
  mkdirSync(join(folder, 'media'));
  const media = (name: string): string => join(folder, 'media', name);
  const rate = '30000/1001';
  record(media('wide-1.mov'), { band: 0, first: START, frames: SPLIT - START, rate, timecode: label(START) });
  record(media('wide-2.mov'), { band: 0, first: SPLIT, frames: START + FRAMES - SPLIT, rate, timecode: label(SPLIT) });
  record(media('close.mov'), { band: 1, first: START, frames: FRAMES, rate, timecode: label(START) });
  const top = frame(SYNC.this) - 60;
  record(media('top.mov'), { band: 2, first: top, frames: FRAMES, rate, timecode: label(top) });
  const slides = Math.floor(START * 1001 * 25 / 30_000);
  record(media('slides.mov'), { band: 3, first: slides, frames: Math.ceil(FRAMES * 0.8342) + 2, rate: '25', timecode: new SmpteTimecode(slides, [25, 1], false).toString() });
  record(media('oven.mov'), { band: 4, first: 2 * START, frames: 2 * FRAMES, rate: '60000/1001', timecode: new SmpteTimecode(2 * START, [60_000, 1001], true).toString() });
  writeFileSync(media('oven.mov'), withCount(readFileSync(media('oven.mov')), { timescale: 30_000, frameDuration: 1001, perSecond: 30, frame: START }));
  record(media('program.mov'), { band: 5, first: START, frames: FRAMES, rate, timecode: label(START) });

  const rows = SWITCHES.map(({ at, source, mix }) => `${label(at)},${mix === undefined ? 'cut' : 'dissolve'},${source},${mix === undefined ? '' : String(mix)}`);
  writeFileSync(join(folder, 'harbour.csv'), ['time,action,source,duration', `${label(FROM)},start,,`, ...rows, `${label(TO)},stop,,`, ''].join('\n'));
  writeFileSync(join(folder, 'harbour.show.json'), JSON.stringify({
    title: 'Harbour Kitchen', rate: '29.97df',
    sources: [{ id: 'wide' }, { id: 'close', offset: 2 }, { id: 'top', sync: SYNC }, { id: 'slides' }, { id: 'oven' }, { id: 'balcony', recorded: false }],
  }));
});

function linecut(...args: string[]): string {
  const run = spawnSync(process.execPath, [BIN, ...args], { cwd: folder, encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stderr);
  return run.stderr;
}

/** What must be on screen on each record frame: numbers of one source, or of two with the weight of the second. */
function expected(switches: readonly Switch[], to = TO): { source: string; number: number; step: number; weight: number }[][] {
  const out: { source: string; number: number; step: number; weight: number }[][] = [];
  switches.forEach(({ at, source, mix = 0 }, index) => {
    const end = switches[index + 1]?.at ?? to;
    const before = switches[index - 1];
    for (let log = at; log < end; log += 1) {
      const seen = [];
      const weight = log - at < mix ? (log - at) / mix : 1;
      if (weight < 1 && before !== undefined) seen.push({ ...onAir(before, log), weight: 1 - weight });
      if (weight > 0) seen.push({ ...onAir({ at, source }, log), weight });
      out.push(seen);
    }
  });
  return out;
}

/** The source's number `log − at` frames after it came on; `step` other than 1 means that frames are shown twice or left out. */
function onAir({ at, source }: Switch, log: number): { source: string; number: number; step: number } {
  // What was not recorded is seen in the program recording.
  const name = source === 'balcony' ? 'program' : source;
  const one = SOURCES[name];
  if (one === undefined) throw new Error(source);
  if (one.rate === undefined) return { source: name, number: one.at(log), step: 1 };
  return { source: name, number: one.at(at) + Math.floor((log - at) * one.rate), step: one.rate };
}

/** Compares frame by frame; gives the differences in words. */
function differences(seen: readonly (readonly Seen[])[], wanted: ReturnType<typeof expected>): string[] {
  const wrong: string[] = [];
  wanted.forEach((want, index) => {
    const got = seen[index] ?? [];
    for (const { source, number, step, weight } of want) {
      const found = got.find(({ band }) => band === SOURCES[source]?.band);
      if (found === undefined) {
        // A band of less than three grey levels is too dark to read.
        if (weight > 3 / 255) wrong.push(`frame ${String(index)}: ${source} is not there`);
        continue;
      }
      // Where a mix or a handle goes on at another rate, rounding may fall on either side; the first frame of a shot never does.
      const tolerance = step === 1 ? 0 : 1;
      if (Math.abs(found.number - number) > tolerance) wrong.push(`frame ${String(index)}: ${source} shows ${String(found.number)}, not ${String(number)}`);
      if (Math.abs(found.weight - weight) > 1.5 / 255) wrong.push(`frame ${String(index)}: ${source} has weight ${found.weight.toFixed(3)}, not ${weight.toFixed(3)}`);
    }
    if (got.length > want.length) wrong.push(`frame ${String(index)}: ${String(got.length)} pictures instead of ${String(want.length)}`);
  });
  return wrong;
}

describe('a program cut by ffmpeg from the EDL alone', () => {
  it('shows every cut and dissolve on its frame', () => {
    linecut('media', 'media', '--write-show', 'harbour.show.json');
    linecut('convert', 'harbour.csv', '--to', 'edl,otio', '-o', 'lists', '--force');
    const { args, frames } = conform(join(folder, 'lists', 'harbour.edl'), folder, LIST);
    expect(frames).toBe(TO - FROM);
    const seen = play(args);
    expect(seen.length).toBe(frames);
    const wanted = expected(SWITCHES);
    expect(differences(seen, wanted)).toEqual([]);
    // The first frame of every shot at another rate is exact.
    for (const { at, source, mix } of SWITCHES.filter((one) => SOURCES[one.source]?.rate !== undefined)) {
      // A mix begins with nothing of the new picture to see.
      const first = seen[at - FROM + (mix === undefined ? 0 : 1)]?.find(({ band }) => band === SOURCES[source]?.band);
      const { rate = 1, at: numberAt = () => -1 } = SOURCES[source] ?? {};
      expect(first?.number).toBe(numberAt(at) + (mix === undefined ? 0 : Math.floor(rate)));
    }
  });

  it('also when the log counts seconds from the start of the recording', () => {
    // Half frames and digits beyond them: 2.5 s is frame 74.925, which is 75; 7.0904 s is 212.5, and halves go up.
    const times: readonly (readonly [string, number, string, number?])[] = [
      ['0', 0, 'wide'], ['2.5', 75, 'close'], ['7.09041666666666666666666666666666667', 213, 'wide', 20], ['20.02', 600, 'close', 30], ['30.030', 900, 'wide'],
    ];
    writeFileSync(join(folder, 'seconds.csv'), ['seconds,action,source,duration', '0,start,,', ...times.map(([time, , source, mix]) => `${time},${mix === undefined ? 'cut' : 'dissolve'},${source},${String(mix ?? '')}`), '34,stop,,', ''].join('\n'));
    const said = linecut('convert', 'seconds.csv', '--show', 'harbour.show.json', '--to', 'edl', '-o', 'lists', '--force');
    const { args, frames } = conform(join(folder, 'lists', 'seconds.edl'), folder, LIST);
    // 34 s is frame 1018.98.
    expect(frames).toBe(1019);
    // The wide camera's first file ends 20 frames into the second mix: no event can go on in another file, so the mix is shortened, and said to be.
    expect(said).toMatch(/warning: .*20.*\[short-handle\]/);
    const switches = times.map(([, at, source, mix]): Switch => ({ at: START + at, source, ...(mix === undefined ? {} : { mix: Math.min(mix, 20) }) }));
    expect(differences(play(args), expected(switches, START + 1019))).toEqual([]);
  });

  it('the comparison can fail: one frame beside in the list is seen', () => {
    const moved = SWITCHES.map((one, index) => (index === 3 ? { ...one, at: one.at + 1 } : one));
    const { args } = conform(join(folder, 'lists', 'harbour.edl'), folder, LIST);
    expect(differences(play(args), expected(moved)).length).toBeGreaterThan(0);
  });
});
