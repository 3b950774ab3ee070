/**
 * Our EDL as two independent readers see it: otio-cmx3600-adapter 1.0.0 and pycmx 1.5.1, event by event. Every exception made
 * for them stands in edl-limits.ts with a list of a few lines that shows it; were a reader to change, that would fail.
 */
import { join } from 'node:path';
import { writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { BLACK, type AudioPiece, type CutList, type Shot, type Transition } from '../../src/cutlist/model.js';
import { asciiPath, asciiText } from '../../src/formats/edl/ascii.js';
import { reelNames } from '../../src/formats/edl/reels.js';
import { writeEdl, type EdlOptions } from '../../src/formats/edl/write.js';
import { problemLine, type Problem } from '../../src/problems.js';
import { countName } from '../../src/timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../src/timecode/timecode.js';
import { richList } from '../formats/edl/lists.js';
import { count, listOf, sound, source } from '../formats/edl/small.js';
import { COUNTS } from '../support/lists.js';
import { HABITS, LIMITS, type Clip, type Edit, type Told } from './edl-limits.js';
import { python, workFolder, writeChunks } from './support.js';

const SEED = Number(process.env['LINECUT_SEED'] ?? 20260);
const RANDOM = Number(process.env['LINECUT_CASES'] ?? 300);

interface Case {
  readonly name: string;
  readonly list: CutList;
  readonly options: EdlOptions;
}

const OPTIONS: readonly EdlOptions[] = [{}, { reelLength: 32 }, { newline: 'lf' }, { maxEvents: 12 }, {}];

const cases: Case[] = [
  ...['25', '29.97df', '29.97', '59.94df'].flatMap((name) => fc.sample(richList({ counts: [count(name)], openWithTransition: false, midnight: false, otherRates: false }), { numRuns: 10, seed: SEED }).map((list, index): Case => ({ name: `${name}, list ${String(index)}`, list, options: {} }))),
  ...fc.sample(richList(), { numRuns: RANDOM, seed: SEED }).map((list, index): Case => ({ name: `random ${String(index)} (seed ${String(SEED)}, ${countName(list.count)})`, list, options: OPTIONS[index % OPTIONS.length] as EdlOptions })),
  // Lists that the adapter can read, or there would be too few of them in many options.
  ...fc.sample(richList({ openWithTransition: false, midnight: false }), { numRuns: RANDOM, seed: SEED + 1 }).map((list, index): Case => ({ name: `readable ${String(index)} (seed ${String(SEED + 1)}, ${countName(list.count)})`, list, options: OPTIONS[index % OPTIONS.length] as EdlOptions })),
];

/** More events than one EDL has numbers for, with mixes on both sides of where it is divided. */
const long = (): CutList => {
  const at = count('29.97df');
  const mix = (index: number): Transition | undefined => (index % 7 === 3 || (index > 985 && index < 1001) ? { kind: 'dissolve', frames: 10, inOffset: 0 } : undefined);
  const sources = [source('1', 'Stage wide', at), source('2', 'Close-up', at), source('mix', 'Sound desk', at, { picture: false })];
  const shots = Array.from({ length: 2300 }, (_, index) => {
    const transition = mix(index);
    return { source: String(1 + (index % 2)), sourceIn: 5000 + 31 * index, frames: 20 + (index % 50), ...(transition === undefined ? {} : { transition }) };
  });
  const list = listOf(at, '10:00:00;00', sources, shots);
  return { ...list, audio: [sound('mix', 0, list.frames, 700)] };
};
cases.push({ name: '2,300 shots', list: long(), options: {} });

/** The adapter has no channels 3 and 4 (see HABITS). */
function twoChannels(list: CutList): CutList {
  const audio = list.audio
    .map((piece): AudioPiece => ({ ...piece, tracks: piece.tracks.filter((track) => track < 3), channels: piece.channels.filter((_, index) => (piece.tracks[index] ?? 3) < 3) }))
    .filter(({ tracks }) => tracks.length > 0);
  return { ...list, audio };
}

function write(list: CutList, options: EdlOptions, path: string): string[] {
  const problems: Problem[] = [];
  const outputs = writeEdl(list, options, (problem) => problems.push(problem));
  if (outputs.length === 0) throw new Error(problems.map(problemLine).join('\n'));
  return outputs.map(({ suffix, chunks }) => {
    writeChunks(path + suffix, chunks);
    return path + suffix;
  });
}

let told: Told[];
let toldOfTwo: Told[];
let limits: Told[];
beforeAll(() => {
  const folder = workFolder('edl');
  const rate = ({ list: { count: { rate: { num, den } } } }: Case): number => num / den;
  const full = cases.map((one, index) => ({ files: write(one.list, one.options, join(folder, String(index))), rate: rate(one), pycmx: true }));
  const two = cases.map((one, index) => ({ files: write(twoChannels(one.list), one.options, join(folder, `${String(index)}-two`)), rate: rate(one), adapter: true }));
  const shown = [...Object.values(LIMITS), ...HABITS].map(({ lines }, index) => {
    const path = join(folder, `limit-${String(index)}.edl`);
    writeFileSync(path, `${lines.join('\r\n')}\r\n`);
    return { files: [path], rate: 25, adapter: true, pycmx: true };
  });
  const all = python('edl_report.py', { cases: [...full, ...two, ...shown] }) as Told[];
  told = all.slice(0, full.length);
  toldOfTwo = all.slice(full.length, full.length + two.length);
  limits = all.slice(full.length + two.length);
});

function forAll(check: (one: Case, index: number) => void): void {
  for (const [index, one] of cases.entries()) {
    try {
      check(one, index);
    } catch (cause) {
      throw new Error(`${one.name}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
    }
  }
}

/** An event of the model, made without the writer's help. */
interface Event {
  readonly piece: Shot | AudioPiece;
  readonly picture: boolean;
  readonly tracks: readonly number[];
  readonly before: Shot | undefined;
}

function eventsOf(list: CutList): Event[] {
  const pictures = list.shots.map((piece, index): Event => ({
    piece,
    picture: true,
    tracks: list.audio.filter((sound) => sound.withPicture && sound.in === piece.in).flatMap(({ tracks }) => tracks),
    before: list.shots[index - 1],
  }));
  const sounds = list.audio.filter(({ withPicture }) => !withPicture).map((piece): Event => ({ piece, picture: false, tracks: piece.tracks, before: undefined }));
  // Stable: picture before sound on one in-point.
  return [...pictures, ...sounds].sort((a, b) => a.piece.in - b.piece.in);
}

const nameOf = (list: CutList, piece: Shot | AudioPiece | undefined): string | null => {
  if (piece === undefined || piece.source === BLACK) return null;
  const name = asciiText(('clipName' in piece ? piece.clipName : undefined) ?? list.sources.find(({ id }) => id === piece.source)?.name ?? '');
  return name === '' ? null : name;
};

const typeOf = (transition: Transition | undefined): string =>
  transition === undefined ? 'C' : transition.kind === 'dissolve' ? 'D' : `W${String(transition.wipe ?? 0).padStart(3, '0')}`;

/** What pycmx must say of an event: two edits for a mix. */
function editsOf(list: CutList, reels: ReadonlyMap<string, string>, { piece, picture, tracks, before }: Event): Edit[] {
  const sourceOf = (id: string): { count: CutList['count']; files: readonly { path: string }[] } => list.sources.find((source) => source.id === id) ?? { count: list.count, files: [] };
  const path = piece.file === undefined ? undefined : sourceOf(piece.source).files[piece.file]?.path;
  const record = (at: number): string => formatTimecode(list.recordStart + at, list.count);
  const { transition } = piece;
  const edit = (of: Shot | AudioPiece | undefined, points: [number, number, number, number], mix: Transition | undefined, name: string | null): Edit => ({
    reel: of === undefined ? 'BL' : (reels.get(of.source) ?? ''),
    channels: [picture, ...[1, 2, 3, 4].map((track) => tracks.includes(track))],
    kind: typeOf(mix).slice(0, 1),
    wipe: mix?.kind === 'wipe' ? (mix.wipe ?? 0) : null,
    frames: mix?.frames ?? 0,
    points: [formatTimecode(points[0], sourceOf(of?.source ?? BLACK).count), formatTimecode(points[1], sourceOf(of?.source ?? BLACK).count), record(points[2]), record(points[3])],
    name,
    file: path === undefined ? null : asciiPath(path),
  });
  const main = edit(piece, [piece.sourceIn, piece.sourceOut, piece.in, piece.out], transition, nameOf(list, piece));
  if (transition === undefined) return [main];
  const at = before === undefined || before.source === BLACK ? 0 : before.sourceOut;
  return [edit(before, [at, at, piece.in, piece.in], undefined, nameOf(list, before)), main];
}

describe('pycmx', () => {
  it('reads the same events: numbers, reels, channels, points, mixes, wipe codes, clip names, files', () => {
    forAll(({ list, options }, index) => {
      const theirs = (told[index] as Told).pycmx;
      const reels = reelNames(list.sources, options.reelLength ?? 8, () => undefined) ?? new Map<string, string>();
      const ours = eventsOf(list).map((event) => editsOf(list, reels, event));
      const kept = ours.map((edits, at) => {
        // The second line of an event that nothing follows (HABITS); comments follow ours, but for black and clips without a name.
        const bare = edits.length === 2 && edits.every(({ name, file }) => name === null && file === null);
        return bare && theirs.events[at]?.length === 1 ? edits.slice(0, 1) : edits;
      });
      expect(theirs.events).toEqual(kept);
      for (const numbers of theirs.numbers) expect(numbers).toEqual(numbers.map((_, at) => at + 1));
      expect(new Set(theirs.titles)).toEqual(new Set([asciiText(list.title).slice(0, 70).trim() || 'UNTITLED']));
      expect(new Set(theirs.formats)).toEqual(new Set([options.reelLength === 32 ? 'File32' : '3600']));
    });
  });

  it('finds a long show in parts of at most 999 events', () => {
    const numbers = (told.at(-1) as Told).pycmx.numbers;
    expect(numbers).toHaveLength(3);
    for (const part of numbers) expect(part.at(-1)).toBeLessThanOrEqual(999);
  });

  it('knows every statement but the speed lines', () => {
    forAll((_, index) => {
      for (const line of (told[index] as Told).pycmx.unknown) expect(line).toMatch(/^M2 {3}\w+ +\d{3}\.\d {16}\d\d:\d\d:\d\d:\d\d$/);
    });
  });
});

type Limit = keyof typeof LIMITS;

/** Which of LIMITS keep the adapter from reading a list. */
function limitsOf({ shots, audio, sources, recordStart, count: list }: CutList): Limit[] {
  const wraps = (from: number, to: number, at: CutList['count']): boolean => Math.floor(from / framesPerDay(at)) !== Math.floor(to / framesPerDay(at));
  const pieces = [...shots, ...audio];
  const countOf = (piece: Shot | AudioPiece): CutList['count'] => sources.find(({ id }) => id === piece.source)?.count ?? list;
  const first = [shots[0], ...[1, 2].map((track) => audio.find(({ tracks }) => tracks.includes(track)))];
  const met: Partial<Record<Limit, boolean>> = {
    'the adapter has one rate for the whole list': pieces.some((piece) => countOf(piece).rate.nominal !== list.rate.nominal || (countOf(piece).dropFrame && countOf(piece).rate !== list.rate)),
    'the adapter refuses a record side that crosses midnight': pieces.some(({ in: from, out }) => wraps(recordStart + from, recordStart + out, list)),
    'the adapter refuses a source that crosses midnight': pieces.some((piece) => piece.source !== BLACK && wraps(piece.sourceIn, piece.sourceOut, countOf(piece))),
    'the adapter refuses a list that opens with a mix': first.some((piece) => piece?.transition !== undefined),
  };
  return (Object.keys(met) as Limit[]).filter((limit) => met[limit]);
}

const ONE_RATE: Limit = 'the adapter has one rate for the whole list';

describe('otio-cmx3600-adapter', () => {
  it('reads the same clips on the same tracks: reels, points, mixes, names', () => {
    let read = 0;
    forAll(({ list: whole, options }, index) => {
      const list = twoChannels(whole);
      if (limitsOf(list).length > 0) return;
      read += 1;
      const reels = reelNames(list.sources, options.reelLength ?? 8, () => undefined) ?? new Map<string, string>();
      const expected: Record<string, Clip[]> = {};
      let number = 0;
      for (const event of eventsOf(list)) {
        number += 1;
        const { piece, picture, tracks } = event;
        const black = piece.source === BLACK;
        const length = piece.out - piece.in;
        const clip: Clip = {
          reel: reels.get(piece.source) ?? '',
          name: nameOf(list, piece) ?? `#${String(number)}`,
          source: black ? [0, length] : [piece.sourceIn, piece.sourceIn + length],
          record: [list.recordStart + piece.in, list.recordStart + piece.out],
          speed: [],
          mix: piece.transition === undefined ? null : [typeOf(piece.transition), 0, piece.transition.frames],
        };
        for (const name of [...(picture ? ['V'] : []), ...tracks.map((track) => `A${String(track)}`)]) (expected[name] ??= []).push(clip);
      }
      const theirs = (toldOfTwo[index] as Told).adapter;
      if ('error' in theirs) throw new Error(String(theirs.error));
      // A clip without a name is called after its event (HABITS), of its part; and a mix to one after what it comes from.
      const named = Object.fromEntries(Object.entries(theirs).map(([track, clips]) => [track, clips.map((clip, at) => (expected[track]?.[at]?.name.startsWith('#') === true ? { ...clip, name: expected[track][at]?.name } : clip))]));
      expect(named).toEqual(expected);
    });
    // Enough of them can be read for the comparison to mean something.
    expect(read).toBeGreaterThan(cases.length / 4);
  });

  it('refuses what it cannot read, and nothing else of ours', () => {
    const met = new Set<string>();
    forAll(({ list: whole }, index) => {
      const limits = limitsOf(twoChannels(whole));
      for (const limit of limits) met.add(limit);
      // Labels of another rate may be read, wrongly, and lengths are not compared where there is a speed line.
      if (limits.length === 0 || limits.includes(ONE_RATE)) return;
      expect({ limits, refused: 'error' in (toldOfTwo[index] as Told).adapter }).toEqual({ limits, refused: true });
    });
    expect(met.size).toBe(4);
  });

  it('has the speed of sources at another rate, where it can read their labels', () => {
    let compared = 0;
    forAll(({ list: whole }, index) => {
      const list = twoChannels(whole);
      const theirs = (toldOfTwo[index] as Told).adapter;
      if (String(limitsOf(list)) !== ONE_RATE || 'error' in theirs) return;
      const clips = theirs['V'] as Clip[];
      expect(clips.map(({ record }) => record)).toEqual(list.shots.map(({ in: from, out }) => [list.recordStart + from, list.recordStart + out]));
      const rate = list.count.rate.num / list.count.rate.den;
      for (const [at, shot] of list.shots.entries()) {
        const source = list.sources.find(({ id }) => id === shot.source);
        const [speed] = clips[at]?.speed ?? [];
        if (source === undefined || speed === undefined || source.count.rate.nominal === list.count.rate.nominal) continue;
        // One digit after the point: half a tenth of a frame a second.
        expect(Math.abs(speed * rate - source.count.rate.num / source.count.rate.den)).toBeLessThanOrEqual(0.0501);
        compared += 1;
      }
    });
    expect(compared).toBeGreaterThan(0);
  });
});

describe('the limits of the readers', () => {
  it.each(Object.entries(LIMITS).map(([what, { adapter }], index) => ({ what, adapter, index })))('$what', ({ adapter, index }) => {
    expect((limits[index] as Told).adapter).toHaveProperty('error');
    expect(((limits[index] as Told).adapter as { error: string }).error).toMatch(adapter);
  });

  it.each(HABITS.map((habit, index) => ({ ...habit, index })))('$what', ({ see, as, index }) => {
    expect(see(limits[Object.keys(LIMITS).length + index] as Told)).toEqual(as);
  });
});

it('all twelve counts are among the lists', () => {
  expect(new Set(cases.map(({ list }) => countName(list.count))).size).toBe(COUNTS.length);
});
