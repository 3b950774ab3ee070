/** Where the sound of two lists differs, whatever pieces it was cut into. */
import { BLACK, type AudioPiece } from '../cutlist/model.js';
import { isUnity, stretches, type ChannelStretch } from '../cutlist/stretches.js';
import { sameMix, transitionText } from '../cutlist/transitions.js';
import type { Count } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import type { Carried } from './carried.js';
import { slip, useDiffers, type Pair } from './points.js';

/** A stretch of the record side in which the two lists do not sound the same; a side that is undefined is silent. */
export interface SoundDifference {
  readonly in: number;
  readonly out: number;
  readonly tracks: readonly number[];
  readonly a?: ChannelStretch;
  readonly b?: ChannelStretch;
  /** The source's channels on B's side, one a track. */
  readonly channels: readonly number[];
}

/** Differences in record order, on the program channels that both lists hold. */
export function soundDifferences(pair: Pair, { tracks }: Carried): SoundDifference[] {
  const [a, b] = [stretches(pair.a, pair.countA), stretches(pair.b, pair.countB)];
  const single: SoundDifference[] = [];
  const both = [...new Set([...a.keys(), ...b.keys()])].filter((track) => track <= tracks);
  for (const track of both.sort((one, other) => one - other)) {
    single.push(...onTrack(pair, track, a.get(track) ?? [], b.get(track) ?? []));
  }
  return together(single);
}

/** What is heard from record frame `at` on, in words. `nameOf` and `countOf`: how a source is called, and how it counts, by its id. */
export function heardText(one: ChannelStretch | undefined, at: number, nameOf: (id: string) => string, countOf: (id: string) => Count): string {
  if (one === undefined) return 'silence';
  if (one.source === BLACK) return `a fade of ${String(one.transition?.frames ?? 0)} frames to silence`;
  const mix = one.transition === undefined ? '' : `, on by a ${transitionText(one.transition)}`;
  return `${nameOf(one.source)} channel ${String(one.channel)} from ${formatTimecode(one.sourceIn + at - one.in, countOf(one.source))}${mix}`;
}

/** Walks both sides of a track, from seam to seam. */
function onTrack(pair: Pair, track: number, a: readonly ChannelStretch[], b: readonly ChannelStretch[]): SoundDifference[] {
  const out: SoundDifference[] = [];
  let [i, j, at] = [0, 0, 0];
  const end = Math.max(a.at(-1)?.out ?? 0, b.at(-1)?.out ?? 0);
  while (at < end) {
    while (i < a.length && (a[i]?.out ?? 0) <= at) i += 1;
    while (j < b.length && (b[j]?.out ?? 0) <= at) j += 1;
    const [nextA, nextB] = [a[i], b[j]];
    const heardA = nextA !== undefined && nextA.in <= at ? nextA : undefined;
    const heardB = nextB !== undefined && nextB.in <= at ? nextB : undefined;
    const until = Math.min(
      (heardA === undefined ? nextA?.in : heardA.out) ?? Infinity,
      (heardB === undefined ? nextB?.in : heardB.out) ?? Infinity,
      end,
    );
    if (!soundsSame(pair, heardA, heardB, at)) {
      const before = out.at(-1);
      if (before !== undefined && before.out === at && before.b === heardB && before.a === heardA) out[out.length - 1] = { ...before, out: until };
      else {
        out.push({
          in: at, out: until, tracks: [track], channels: [heardB?.channel ?? track],
          ...(heardA === undefined ? {} : { a: heardA }), ...(heardB === undefined ? {} : { b: heardB }),
        });
      }
    }
    at = until;
  }
  return wholePieces(out);
}

function soundsSame(pair: Pair, a: ChannelStretch | undefined, b: ChannelStretch | undefined, at: number): boolean {
  if (a === undefined || b === undefined) return a === b;
  if (pair.key.a(a.source) !== pair.key.b(b.source) || a.channel !== b.channel) return false;
  const plain = isUnity(a) && isUnity(b) && a.transition === undefined && b.transition === undefined;
  // Where nothing stretches or mixes, only what sounds now counts; otherwise the pieces have to be the same.
  if (plain) return slip(pair, { ...a, sourceIn: a.sourceIn + at - a.in }, { ...b, sourceIn: b.sourceIn + at - b.in }) === 0;
  return a.in === b.in && a.out === b.out && slip(pair, a, b) === 0 && useDiffers(pair, a, b) === 0 && sameMix(a.transition, b.transition);
}

/** A piece of B that stretches or mixes is not divided: its difference covers all of it. */
function wholePieces(differences: readonly SoundDifference[]): SoundDifference[] {
  const out: SoundDifference[] = [];
  for (const one of differences) {
    const { b } = one;
    const before = out.at(-1);
    if (b === undefined || (isUnity(b) && b.transition === undefined)) out.push(one);
    else if (before?.b !== b) out.push({ ...one, in: b.in, out: b.out });
  }
  return out;
}

/** The same difference on several tracks is one. */
function together(differences: readonly SoundDifference[]): SoundDifference[] {
  const groups = new Map<string, SoundDifference>();
  const ids = new Map<AudioPiece, number>();
  const id = (stretch: ChannelStretch | undefined): string => {
    if (stretch === undefined) return '-';
    const seen = ids.get(stretch.piece) ?? ids.size;
    ids.set(stretch.piece, seen);
    return String(seen);
  };
  for (const one of differences) {
    const key = `${String(one.in)} ${String(one.out)} ${id(one.a)} ${id(one.b)}`;
    const group = groups.get(key);
    groups.set(key, group === undefined ? one : { ...group, tracks: [...group.tracks, ...one.tracks], channels: [...group.channels, ...one.channels] });
  }
  return [...groups.values()].sort((one, other) => one.in - other.in || (one.tracks[0] ?? 0) - (other.tracks[0] ?? 0));
}
