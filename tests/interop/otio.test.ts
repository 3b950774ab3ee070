import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { BLACK, type CutList, type Shot } from '../../src/cutlist/model.js';
import { reelNames } from '../../src/formats/edl/reels.js';
import { readOtio } from '../../src/formats/otio/read.js';
import { fileUrl } from '../../src/file-url.js';
import { writeOtio } from '../../src/formats/otio/write.js';
import type { Problem } from '../../src/problems.js';
import { countName, parseRate, type Count, type RateSpec } from '../../src/timecode/rate.js';
import { countOf, formatTimecode } from '../../src/timecode/timecode.js';
import { BASE, richList } from '../formats/otio/support.js';
import { python, workFolder, writeChunks } from './support.js';

type Range = [start: number, duration: number, rate: number];

interface Item {
  readonly schema: 'Clip' | 'Gap' | 'Transition';
  readonly name: string;
  readonly source: Range;
  readonly visible: Range;
  readonly record: Range;
  readonly speed: number[];
  readonly media?: { readonly schema: string; readonly url: string | null; readonly available: Range | null };
  readonly reel?: string | null;
  readonly type: string;
  readonly in: [number, number];
  readonly out: [number, number];
  readonly code: string | null;
}

interface Told {
  readonly name: string;
  readonly start: [number, number];
  readonly duration: [number, number];
  readonly clips: number;
  readonly markers: [string, string, number, number][];
  readonly labels: string[];
  readonly tracks: { readonly name: string; readonly kind: string; readonly enabled: boolean; readonly items: Item[] }[];
}

const SEED = Number(process.env['LINECUT_SEED'] ?? 20260);
const RANDOM = Number(process.env['LINECUT_CASES'] ?? 300);

const count = (text: string): Count => {
  const { rate, dropFrame } = parseRate(text) as RateSpec;
  return countOf(rate, dropFrame ?? false);
};

const NAMED = ['25', '29.97df', '29.97', '59.94df'];

/** Ten lists at each of the rates that must be right by name, then any. */
const lists: [string, CutList][] = [
  ...NAMED.flatMap((name) => fc.sample(richList({ counts: [count(name)] }), { numRuns: 10, seed: SEED }).map((list, index): [string, CutList] => [`${name} ${String(index)}`, list])),
  ...fc.sample(richList(), { numRuns: RANDOM, seed: SEED }).map((list, index): [string, CutList] => [`random ${String(index)} (seed ${String(SEED)}, ${countName(list.count)})`, list]),
];

/** Every list goes to the reference library (opentimelineio 0.18.1) in one run of it. */
let folder: string;
let told: Told[];
beforeAll(() => {
  folder = workFolder('otio');
  const files = lists.map(([, list], index) => {
    const path = join(folder, `${String(index)}.otio`);
    writeChunks(path, writeOtio(list, { base: BASE, paths: index % 2 === 0 ? 'absolute' : 'relative', pretty: index % 3 === 0, angles: true }).chunks);
    return path;
  });
  told = python('otio_report.py', { files }) as Told[];
});

/** Runs a check over all lists, and says which list it was that failed. */
function forAll(check: (list: CutList, told: Told, index: number) => void): void {
  expect(told).toHaveLength(lists.length);
  for (const [index, [name, list]] of lists.entries()) {
    try {
      check(list, told[index] as Told, index);
    } catch (cause) {
      throw new Error(`${name}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
    }
  }
}

const pictureOf = (from: Told): Item[] => from.tracks.find(({ kind, enabled }) => kind === 'Video' && enabled)?.items ?? [];

/** Frames of a shot's mix before OTIO's cut point: its inOffset, but each clip keeps one frame. */
const lead = ({ in: from, out, transition }: Shot): number => Math.min(transition?.inOffset ?? 0, out - from - 1);

/** Source frame as a time in the list's rate: the same real time, as opentime rescales it. */
const sourceTime = (frame: number, list: CutList, id: string): number => {
  const { rate } = list.sources.find((source) => source.id === id)?.count ?? list.count;
  const { num, den } = list.count.rate;
  return (frame * rate.den * num) / (rate.num * den);
};

describe('our OTIO in the reference library', () => {
  it('has our title, start, rate and duration', () => {
    forAll((list, theirs) => {
      const rate = list.count.rate.num / list.count.rate.den;
      expect(theirs.name).toBe(list.title);
      expect(theirs.start).toEqual([list.recordStart, rate]);
      expect(theirs.duration).toEqual([list.frames, rate]);
    });
  });

  it('has a clip for every shot, a gap for black, a transition for every mix', () => {
    forAll((list, theirs) => {
      const items = pictureOf(theirs);
      // A first shot that comes from nothing may have a gap before it.
      const first = list.shots[0] as Shot;
      const extra = lead(first) > 0 ? 1 : 0;
      expect(items.filter(({ schema }) => schema === 'Clip')).toHaveLength(list.shots.filter(({ source }) => source !== BLACK).length);
      expect(items.filter(({ schema }) => schema === 'Gap')).toHaveLength(list.shots.filter(({ source }) => source === BLACK).length + extra);
      expect(items.filter(({ schema }) => schema === 'Transition')).toHaveLength(list.shots.filter(({ transition }) => transition !== undefined).length);
    });
  });

  it('has our record points, and, with the frames of its mixes, our source points', () => {
    forAll((list, theirs) => {
      const items = pictureOf(theirs).filter(({ schema }) => schema !== 'Transition').slice(lead(list.shots[0] as Shot) > 0 ? 1 : 0);
      for (const [index, shot] of list.shots.entries()) {
        const item = items[index] as Item;
        const next = list.shots[index + 1];
        const cut = shot.in + lead(shot);
        const end = next === undefined ? shot.out : next.in + lead(next);
        expect(item.record.slice(0, 2)).toEqual([cut, end - cut]);
        expect(item.source[1]).toBe(end - cut);
        const visibleEnd = next === undefined ? shot.out : next.in + (next.transition?.frames ?? 0);
        expect(item.visible[1]).toBe(visibleEnd - shot.in);
        if (item.speed.length === 0) expect(item.visible[0]).toBeCloseTo(shot.source === BLACK ? 0 : sourceTime(shot.sourceIn, list, shot.source), 6);
      }
    });
  });

  it('labels the cut points as we do', () => {
    forAll((list, theirs) => {
      const leads = lead(list.shots[0] as Shot) > 0 ? 1 : 0;
      for (const [index, shot] of list.shots.entries()) {
        const frame = list.recordStart + shot.in + lead(shot);
        // The library takes 29.97 and 59.94 for drop-frame unless told otherwise, and begins non-drop labels again after a
        // day of real time (see timecode.test.ts).
        const { rate } = list.count;
        const dropFrame = rate.name === '29.97' || rate.name === '59.94';
        if (!dropFrame && frame * rate.den >= 86_400 * rate.num) continue;
        expect(theirs.labels[index + leads]).toBe(formatTimecode(frame, countOf(rate, dropFrame)));
      }
    });
  });

  it('has our transitions', () => {
    forAll((list, theirs) => {
      const found = pictureOf(theirs).filter(({ schema }) => schema === 'Transition').map(({ type, in: before, out, code }) => [type, before[0], out[0], code]);
      const ours = list.shots.flatMap((shot) => {
        const { transition } = shot;
        if (transition === undefined) return [];
        const code = transition.kind === 'dissolve' ? 'D' : transition.wipe === undefined ? null : `W${String(transition.wipe).padStart(3, '0')}`;
        return [[transition.kind === 'wipe' ? 'SMPTE_Wipe' : 'SMPTE_Dissolve', lead(shot), transition.frames - lead(shot), code]];
      });
      expect(found).toEqual(ours);
    });
  });

  it('has our names, reels, media and speeds', () => {
    forAll((list, theirs, index) => {
      const reels = reelNames(list.sources, 8, () => undefined);
      const clips = pictureOf(theirs).filter(({ schema }) => schema === 'Clip');
      for (const [position, shot] of list.shots.filter(({ source }) => source !== BLACK).entries()) {
        const source = list.sources.find(({ id }) => id === shot.source);
        const file = source?.files[shot.file ?? -1];
        const clip = clips[position] as Item;
        expect(clip.name).toBe(shot.clipName ?? source?.name);
        expect(clip.reel).toBe(reels?.get(shot.source));
        expect(clip.media?.schema).toBe(file === undefined ? 'MissingReference' : 'ExternalReference');
        if (file !== undefined && index % 2 === 0) expect(clip.media?.url).toBe(fileUrl(file.path, BASE));
        if (file?.start !== undefined) expect(clip.media?.available?.slice(0, 2)).toEqual([file.start, file.frames]);
        const speeds = clip.speed;
        const real = (shot.out - shot.in) * (source?.count.rate.nominal === list.count.rate.nominal ? 1 : ((source?.count.rate.num ?? 1) * list.count.rate.den) / ((source?.count.rate.den ?? 1) * list.count.rate.num));
        const played = shot.sourceOut - shot.sourceIn;
        if (Math.abs(played - real) < 1) expect(speeds).toEqual([]);
        else expect(speeds[0]).toBeCloseTo(played / real, 12);
      }
    });
  });

  it('has a track a program channel, with our sound', () => {
    forAll((list, theirs) => {
      const channels = Math.max(0, ...list.audio.flatMap(({ tracks }) => tracks));
      const sound = theirs.tracks.filter(({ kind, enabled }) => kind === 'Audio' && enabled);
      expect(sound.map(({ name }) => name)).toEqual(Array.from({ length: channels }, (_, index) => `A${String(index + 1)}`));
      for (const [index, track] of sound.entries()) {
        const pieces = list.audio.filter(({ tracks, source }) => tracks.includes(index + 1) && source !== BLACK);
        const clips = track.items.filter(({ schema }) => schema === 'Clip');
        expect(clips.map(({ name }) => name)).toEqual(pieces.map(({ source }) => list.sources.find(({ id }) => id === source)?.name));
        for (const [position, piece] of pieces.entries()) {
          const visible = clips[position]?.visible as Range;
          if (clips[position]?.speed.length === 0) expect(visible[0]).toBeCloseTo(sourceTime(piece.sourceIn, list, piece.source), 6);
        }
      }
    });
  });

  it('has our markers, and our angles as disabled tracks', () => {
    forAll((list, theirs) => {
      expect(theirs.markers.map(([name, , at]) => [name, at])).toEqual(list.markers.map(({ note, at }) => [note, at]));
      for (const [index, { color }] of list.markers.entries()) if (color !== undefined) expect(theirs.markers[index]?.[1]).toBe(color);
      expect(theirs.tracks.filter(({ enabled }) => !enabled)).toHaveLength(list.angles?.length ?? 0);
    });
  });
});

describe('otio → reference library → its own JSON → linecut', () => {
  it('loses nothing', () => {
    forAll((list, _, index) => {
      const problems: Problem[] = [];
      const back = readOtio(readFileSync(join(folder, `${String(index)}.otio.theirs`), 'utf8'), { file: 'theirs' }, (problem) => problems.push(problem));
      expect(problems).toEqual([]);
      const sources = index % 2 === 1 ? list.sources : list.sources.map((source) => ({ ...source, files: source.files.map((file) => ({ ...file, path: `${BASE}/${file.path}` })) }));
      expect(back).toEqual({ ...list, sources });
    });
  });
});
