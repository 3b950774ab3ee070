/** The library in plain JavaScript: whatever stands in place of an option is reported, never thrown, and never part of a list. */
import { runInNewContext } from 'node:vm';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as library from '../src/index.js';
import type { CutList, Problem, Report } from '../src/index.js';
import { listOf, P25 } from './support/small.js';

const rate = library.parseRate('25');
const LOG = 'time,action,source,duration,note\n0,start,,,\n0,cut,1,,\n100,cut,2,,\n150,dissolve,1,20,\n200,marker,,,Opening\n300,stop,,,\n';
const EDL = 'TITLE: x\nFCM: NON-DROP FRAME\n001  A        V     C        00:00:00:00 00:00:01:00 01:00:00:00 01:00:01:00\n';
const list = listOf('1:100 2:50 1:100');
const input = { name: 's.csv', bytes: LOG, title: 's', show: { file: 's.json', show: { sources: [{ id: '1', name: 'Wide', aliases: ['w'] }, { id: '2' }] } } };
const adjust = { lead: { all: 5, of: { 1: 4 } }, lag: { all: 1 }, minShot: 10, absorb: 'next', dissolveAll: 12, dissolveAt: 'center', cutsOnly: false };
const place = { line: 1 };
const titled = [{ do: 'title', expect: 'T', to: 'U', place }];
const corrections = [
  { do: 'dissolve', shot: 2, was: 50, expect: '2', frames: 10, place }, { do: 'points', at: '01:00:06:00', expect: '1', sourceIn: '90200', sourceFrames: 100, place },
  { do: 'sound', at: '#1+5', expect: 'none', source: '1', frames: 20, sourceIn: '90000', tracks: [1, 2], channels: [1, 2], place }, { do: 'add-marker', at: '12', note: 'n', color: 'RED', place },
];
const load = {
  rate, title: 'T', start: '02:00:00:00', audio: '1', dissolveAt: 'end', takes: 'gaps', angles: true, alternatives: true, adjust, corrections: titled,
  map: { timeAs: 'frames', fields: { source: 'source' }, skipLines: 0 }, timeAs: 'frames', rounding: 'floor', maxRows: 1000, maxBytes: 100_000, end: '280',
};
const chapters = { from: { by: 'every', seconds: 2 }, least: 1, as: 'webvtt' };
const edl = { reelLength: 32, newline: 'lf', order: 'source', maxEvents: 20 };
const otio = { paths: 'relative', base: '/srv/show', folder: '/srv', pretty: true, reelLength: 8, angles: true };
const carried = { sources: [{ id: '1', name: 'Wide', aliases: [], picture: true }, { id: '2', name: '2', aliases: [], picture: true }] };

type Outputs = readonly { readonly chunks: Iterable<string> }[];

/** What a function gave: its lists, and the texts of its files. */
interface Given {
  readonly lists?: readonly (CutList | undefined)[];
  readonly outputs?: Outputs;
}

interface Case {
  readonly options: unknown;
  /** No type says what the options are, as in plain JavaScript. */
  readonly run: (options: never, report: Report) => Given | Promise<Given>;
}

const reading = library.readLog(LOG, { file: 's.csv', rate } as library.LogOptions, () => undefined) as library.LogReading;

const CASES: Readonly<Record<string, Case>> = {
  convertLog: {
    options: { ...load, to: ['edl', 'otio', 'chapters', 'cutlog'], edl, otio, chapters },
    run: async (options, report) => {
      const made = await library.convertLog(input, options, report);
      return { lists: made.map((one) => one.list), outputs: made.flatMap(({ outputs }) => outputs) };
    },
  },
  'convertLog, input': { options: input, run: async (given, report) => ({ lists: (await library.convertLog(given, { rate, to: ['edl'] } as unknown as library.ConvertOptions, report)).map((one) => one.list) }) },
  loadLists: { options: { ...load, takes: 'separate' }, run: async (options, report) => ({ lists: (await library.loadLists(input, options, report))?.lists ?? [] }) },
  loadList: { options: load, run: async (options, report) => ({ lists: [await library.loadList(input, options, report)] }) },
  readLog: { options: { file: 's.csv', rate, timeAs: 'frames', rounding: 'ceil', anchor: { clock: '10:00:00', timecode: '01:00:00:00' }, ...carried, maxRows: 100, maxBytes: 10_000, end: '200', partial: false }, run: (options, report) => ({ lists: [], ...(library.readLog(LOG, options, report) && {}) }) },
  buildCutLists: {
    options: { title: 't', count: P25, recordStart: 90_000, origin: 'recording', restarts: true, audio: { from: '1', channels: [1, 2], place: {} }, dissolveAt: 'end', takes: 'joined', endAt: 250, angles: true, file: 's.csv' },
    run: (options, report) => ({ lists: library.buildCutLists(reading.events, list.sources, options, report) }),
  },
  adjustList: { options: adjust, run: (options, report) => ({ lists: [library.adjustList(list, options, report)] }) },
  applyCorrections: { options: corrections, run: (options, report) => ({ lists: [library.applyCorrections(list, options, report)] }) },
  'applyCorrections, options': { options: { dissolveAt: 'end' }, run: (options, report) => ({ lists: [library.applyCorrections(list, corrections as never, report, options)] }) },
  readEdl: { options: { file: 's.edl', rate }, run: (options, report) => ({ lists: [library.readEdl(EDL, options, report)] }) },
  readEdlParts: { options: { rate }, run: (options, report) => ({ lists: [library.readEdlParts([{ file: 's-1.edl', text: EDL }], options, report)] }) },
  readOtio: { options: { file: 's.otio', rate }, run: (options, report) => ({ lists: [library.readOtio(textOf([library.writeOtio(list, { base: '/srv' }, report)]), options, report)] }) },
  writeEdl: { options: edl, run: (options, report) => ({ outputs: library.writeEdl(list, options, report) }) },
  writeOtio: { options: otio, run: (options, report) => ({ outputs: [library.writeOtio(list, options, report)].filter((one) => one !== undefined) }) },
  chaptersOf: { options: chapters, run: (options, report) => { library.chaptersOf(list, options, report); return {}; } },
  writeChapters: { options: chapters, run: async (options, report) => ({ outputs: [await library.writeChapters(list, options, report)].filter((one) => one !== undefined) }) },
  checkFile: { options: { load, minShot: 5, rules: new Map(), isThere: () => true, maxBytes: 10_000 }, run: (options, report) => checked(input, options, report) },
  'checkFile, input': { options: input, run: (given, report) => checked(given, { load: { rate } } as library.CheckOptions, report) },
  readRecordings: { options: { cwd: '/nowhere', rate, threads: 1, progress: () => undefined }, run: async (options, report) => { await library.readRecordings([], options, report); return {}; } },
  relocateSources: { options: { root: '/media', rootName: 'media', base: '/srv', paths: 'relative', isThere: () => false }, run: (options, report) => ({ lists: [{ ...list, sources: library.relocateSources(list.sources, [], options, report) }] }) },
  findBelow: { options: { base: '/srv', paths: 'absolute', cwd: '/nowhere' }, run: async (options, report) => ({ lists: [{ ...list, sources: await library.findBelow('gone', list.sources, options, report) }] }) },
};

async function checked(given: never | typeof input, options: library.CheckOptions, report: Report): Promise<Given> {
  const { findings, placed } = await library.checkFile(given, options);
  findings.sorted.forEach(report);
  return { lists: [placed?.list] };
}

const textOf = (outputs: readonly (Outputs[number] | undefined)[]): string => outputs.flatMap((one) => [...(one?.chunks ?? [])]).join('');

const isPlain = (value: unknown): value is object => typeof value === 'object' && value !== null && (Array.isArray(value) || Object.getPrototypeOf(value) === Object.prototype);

/** The options themselves, every key in them, and so on. */
const pathsIn = (value: unknown): string[][] => [[], ...(isPlain(value) ? Object.entries(value).flatMap(([key, one]) => pathsIn(one).map((path) => [key, ...path])) : [])];

function replaced(value: unknown, [key, ...rest]: readonly string[], by: unknown): unknown {
  if (key === undefined || !isPlain(value)) return by;
  const copy = (Array.isArray(value) ? [...value as unknown[]] : { ...value }) as Record<string, unknown>;
  copy[key] = replaced(copy[key], rest, by);
  return copy;
}

const anything = fc.oneof(fc.jsonValue(), fc.constantFrom(Number.NaN, Infinity, 0.5, 12.5, -1, 0, 7, 1e-9, 1e300, 999_999_999, '', '5', 'none', 'follow', 'program', {}, [], [null]), fc.integer());

async function outcome({ run }: Case, options: unknown): Promise<{ readonly errors: Problem[]; readonly lists: readonly CutList[]; readonly text: string }> {
  const found = new library.ProblemList();
  const { lists = [], outputs = [] } = await run(options as never, found.add);
  return { errors: found.problems.filter(({ severity }) => severity === 'error'), lists: lists.filter((one) => one !== undefined), text: textOf(outputs) };
}

describe.each(Object.entries(CASES))('%s', (_, one) => {
  it('takes what it is meant to take', async () => {
    expect((await outcome(one, one.options)).errors.filter(({ code }) => code !== 'unreadable')).toEqual([]);
  });

  it('never throws, and never gives what is not whole frames', async () => {
    const paths = pathsIn(one.options);
    await fc.assert(fc.asyncProperty(fc.constantFrom(...paths), anything, async (path, by) => {
      const { lists, text } = await outcome(one, replaced(one.options, path, by));
      expect([path, by, lists.flatMap((given) => library.listFaults(given))]).toEqual([path, by, []]);
      expect(text).not.toMatch(/\bNaN\b|\bundefined\b/);
    }), { numRuns: Number(process.env['LINECUT_RUNS'] ?? 150) });
  });
});

/** What is said of a conversion with other options. */
async function said(options: object): Promise<string[]> {
  const found = new library.ProblemList();
  const made = await library.convertLog(input, { rate, to: ['edl'], ...options } as unknown as library.ConvertOptions, found.add);
  expect(made).toEqual([]);
  return found.problems.map(library.problemLine);
}

it.each<[object, string]>([
  [{ adjust: { lead: { all: 0.2 * 29.97 } } }, 'adjust.lead.all: error: 5.994 is not a whole number from 0 to 999999999 [bad-option]'],
  [{ adjust: { lead: { all: Number.NaN } } }, 'adjust.lead.all: error: NaN is not a whole number from 0 to 999999999 [bad-option]'],
  [{ adjust: { lag: { of: { 2: -3 } } } }, 'adjust.lag.of.2: error: -3 is not a whole number from 0 to 999999999 [bad-option]'],
  [{ adjust: { dissolveAll: 12.5 } }, 'adjust.dissolveAll: error: 12.5 is not a whole number from 1 to 999999999 [bad-option]'],
  [{ to: ['edl', 'aaf'] }, 'to[1]: error: \'aaf\' is not one of edl, otio, chapters, cutlog [bad-option]'],
  [{ to: ['otio'] }, 'otio: error: it is missing; expected an object [bad-option]'],
  [{ to: ['otio'], otio: {} }, 'otio.base: error: it is missing; expected a text [bad-option]'],
  [{ chapters: { as: 'webvt' } }, "chapters.as: error: 'webvt' is not one of text, webvtt, ffmetadata, matroska; did you mean 'webvtt'? [bad-option]"],
  [{ corrections: [{ do: 'cut', shot: 1 }] }, 'corrections[0].expect: error: it is missing; expected a text [bad-option]'],
  [{ rate: '25' }, "rate: error: '25' is no rate; give what parseRate makes of one [bad-rate]"],
  [{ timeAs: 'blah' }, "timeAs: error: 'blah' is not one of timecode, frames, seconds, milliseconds, clock [bad-option]"],
  [{ takes: null }, 'takes: error: null is not one of joined, gaps, separate [bad-option]'],
  [{ map: { tiemAs: 'frames' } }, "map: error: unknown key 'tiemAs' in the file; did you mean 'timeAs'? [bad-map]"],
])('says what an option can be: %j', async (options, line) => {
  expect(await said(options)).toEqual([line]);
});

it.each<[string, (bytes: Uint8Array) => unknown]>([
  ['a Buffer', (bytes) => Buffer.from(bytes)], ['an array of another realm', (bytes) => runInNewContext('Uint8Array.from(values)', { values: [...bytes] })], ['a clamped array', (bytes) => Uint8ClampedArray.from(bytes)],
])('takes bytes in %s, and no limit', async (_what, made) => {
  const found = new library.ProblemList();
  const bytes = made(new TextEncoder().encode(LOG)) as Uint8Array;
  const lists = await library.convertLog({ ...input, bytes }, { to: ['edl'], rate: library.parseRate('25') as library.RateSpec, maxRows: Infinity, maxBytes: Infinity, otio: { base: '/' } }, found.add);
  expect([lists.map(({ list: one }) => one.shots.length), found.problems.filter(({ severity }) => severity === 'error')]).toEqual([[3], []]);
});

it('says all that is wrong with the options at once, also of what goes in', async () => {
  const found = new library.ProblemList();
  expect(await library.convertLog({ name: 's.csv', title: 's' } as never, { to: 'edl', rounding: 'up' } as never, found.add)).toEqual([]);
  expect(found.problems.map(library.problemLine)).toEqual([
    'input.bytes: error: it is missing; expected a Uint8Array or a text [bad-option]',
    "rounding: error: 'up' is not one of nearest, floor, ceil [bad-option]",
    "to: error: 'edl' is not a list [bad-option]",
  ]);
});

it('small readers give a fault for what is no text, readers of files report it', () => {
  fc.assert(fc.property(anything, (given) => {
    const value = given as string;
    for (const read of [library.parseRate, (one: string) => library.parseTimecode(one, P25), (one: string) => library.parseDuration(one, P25)]) {
      const answer = read(value);
      if (typeof given !== 'string') expect(library.isFault(answer)).toBe(true);
    }
    for (const read of [library.readMapping, library.readShowFile, library.readCorrections, library.readRules]) {
      const found = new library.ProblemList();
      expect(read(value, 'a.json', found.add) === undefined).toBe(found.hasErrors);
      if (typeof given !== 'string') expect(found.problems).toHaveLength(1);
    }
  }));
});
