/**
 * Corrections of length, the only ones that change the running time: what follows the shot moves along, and keeps its
 * source points and its sync with the sound.
 */
import { known } from '../known.js';
import { without } from '../without.js';
import type { Edits, ShotSpot } from './edits.js';
import type { AudioPiece, CutList, FrameRange, Marker, Shot, Take } from '../cutlist/model.js';
import { shotIndexAt } from '../cutlist/record.js';
import { follower, type Follow, type Made } from '../cutlist/shift.js';
import { soundFollowing } from '../cutlist/sound-follow.js';
import { sortedSound } from '../cutlist/sound-order.js';
import { comesOnWith } from '../cutlist/with-picture.js';

/** The list after the changes of length, and how places of the old list are found in it. */
export interface Rippled {
  readonly list: CutList;
  readonly kept: Kept;
}

/** What became of the shots of the old list. */
export interface Kept {
  /** Index of each new shot's old shot. */
  readonly old: readonly number[];
  /** The frame of the new list that a place of the old one became. */
  readonly frameOf: (spot: ShotSpot) => number;
}

/** A stretch of the old list that moves as one; a shot of another length ends it. Old frames; `end` is what `out` becomes before the move. */
interface Stretch {
  readonly in: number;
  readonly out: number;
  readonly end: number;
  readonly by: number;
}

/** Gives shots their new length. Without corrections of length the list comes back as it is. */
export function rippled(list: CutList, { shots: edits }: Edits): Rippled {
  const lengths = list.shots.map((shot, index) => edits.get(index)?.length ?? shot.out - shot.in);
  const starts: number[] = [];
  let at = 0;
  for (const length of lengths) {
    starts.push(at);
    at += length;
  }
  const frames = at;
  const last = list.shots.length - 1;
  const frameOf = ({ shot, offset }: ShotSpot): number => {
    const old = list.shots[shot];
    const length = lengths[shot] ?? 0;
    // In a shorter shot, what lay in the part that is gone comes to its end; a longer one, and the last, reach further.
    const room = old === undefined || shot === last || length > old.out - old.in ? offset : Math.min(offset, length);
    return (starts[shot] ?? frames) + room;
  };
  const changed = list.shots.some((shot, index) => lengths[index] !== shot.out - shot.in);
  if (!changed) return { list, kept: { old: list.shots.map((_, index) => index), frameOf } };

  const follow = follower(list);
  const stretches = stretchesOf(list.shots, lengths);
  const takes = takesOf(list, lengths, starts);
  const made: Made[] = [];
  list.shots.forEach((shot, from) => {
    const length = lengths[from] ?? 0;
    const into = starts[from] ?? 0;
    if (length > 0) made.push({ shot: { ...follow(shot, shot.in, shot.in + length), in: into, out: into + length, take: takes.of[from] ?? 0 }, from });
  });
  const cut = new Set(list.shots.map((shot) => shot.in));
  const isCut = (piece: AudioPiece): boolean => piece.withPicture && cut.has(piece.in);
  // What was chosen apart moves along: none of it is in the way.
  const withPicture = soundFollowing({ ...list, audio: list.audio.filter(isCut), follows: [{ in: 0, out: list.frames, tracks: [], channels: [] }] }, made);
  const apart = list.audio.filter((piece) => !isCut(piece)).flatMap((piece) => parts(piece, stretches, follow));
  const shots = made.map(({ shot }) => shot);
  const shotAt = new Map(shots.map((shot) => [shot.in, shot]));
  const fitted = (piece: AudioPiece): AudioPiece =>
    piece.transition === undefined || comesOnWith(piece, shotAt.get(piece.in)) ? piece : without(piece, 'transition');
  const audio = sortedSound([...withPicture, ...apart.map((piece) => fitted({ ...piece, take: takeAt(shots, piece.in) }))]);
  const markers = list.markers.map((marker): Marker => ({ ...marker, at: moved(marker.at, stretches) }));
  const follows = list.follows?.map((range) => ({ ...range, ...movedRange(range, stretches) })).filter((range) => range.in < range.out);
  const angles = list.angles?.map((angle) => ({
    source: angle.source,
    pieces: angle.pieces.flatMap((piece) => parts({ ...piece, source: angle.source }, stretches, follow))
      .map((piece) => ({ ...without(piece, 'source'), take: takeAt(shots, piece.in) })),
  }));
  const out: CutList = { ...list, frames, shots, audio, markers, takes: takes.takes, ...known({ angles, follows }) };
  return { list: out, kept: { old: made.map(({ from }) => from), frameOf } };
}

function stretchesOf(shots: readonly Shot[], lengths: readonly number[]): Stretch[] {
  const out: Stretch[] = [];
  let begin = 0;
  let by = 0;
  shots.forEach((shot, index) => {
    const length = lengths[index] ?? 0;
    const change = length - (shot.out - shot.in);
    if (change === 0 && index < shots.length - 1) return;
    out.push({ in: begin, out: shot.out, end: shot.out + change, by });
    by += change;
    begin = shot.out;
  });
  return out;
}

/** The first stretch that ends after `frame`; the last one for the end of the list. */
function stretchAt(stretches: readonly Stretch[], frame: number): number {
  let low = 0;
  let high = stretches.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((stretches[middle]?.out ?? Infinity) > frame) high = middle;
    else low = middle + 1;
  }
  return low;
}

function moved(frame: number, stretches: readonly Stretch[]): number {
  const stretch = stretches[stretchAt(stretches, frame)];
  return stretch === undefined ? frame : Math.min(frame, stretch.end) + stretch.by;
}

/** What `parts` makes of a stretch, as one. */
function movedRange(range: FrameRange, stretches: readonly Stretch[]): FrameRange {
  const end = stretches.at(-1);
  return { in: moved(range.in, stretches), out: end !== undefined && range.out >= end.out ? end.end + end.by : moved(range.out, stretches) };
}

/** A piece that was not cut with the picture: divided where the running time changes, each part in sync with the picture over it. */
function parts<T extends Omit<AudioPiece, 'tracks' | 'channels' | 'withPicture'>>(piece: T, stretches: readonly Stretch[], follow: Follow): T[] {
  const out: T[] = [];
  for (let index = stretchAt(stretches, piece.in); index < stretches.length; index += 1) {
    const stretch = stretches[index] as Stretch;
    if (stretch.in >= piece.out) break;
    const from = Math.max(piece.in, stretch.in);
    const to = piece.out >= stretch.out ? stretch.end : Math.min(piece.out, stretch.end);
    if (from >= to) continue;
    const part = { ...follow(piece, from, to), in: from + stretch.by, out: to + stretch.by };
    const before = out.at(-1);
    // No seam where nothing came between.
    if (before !== undefined && before.out === part.in && before.sourceOut === part.sourceIn) {
      out[out.length - 1] = { ...before, out: part.out, sourceOut: part.sourceOut };
    } else {
      out.push(before === undefined ? part : (without(part, 'transition') as T));
    }
  }
  return out;
}

/** Takes, divided behind each shot of another length where they tell how the log ran; and the new take of each old shot. */
function takesOf(list: CutList, lengths: readonly number[], starts: readonly number[]): { takes: Take[]; of: number[] } {
  const takes: Take[] = [];
  const of: number[] = [];
  let take = -1;
  let broken = true;
  list.shots.forEach((shot, index) => {
    const old = list.takes[shot.take];
    const length = lengths[index] ?? 0;
    const start = starts[index] ?? 0;
    if (old !== undefined && length > 0) {
      if (shot.take !== take || (broken && old.origin !== undefined)) {
        const number = old.origin === undefined ? {} : { number: old.number ?? shot.take + 1 };
        takes.push({ ...old, in: start, out: start + length, logIn: old.logIn + shot.in - old.in, ...number });
        take = shot.take;
      } else {
        takes.push({ ...(takes.pop() as Take), out: start + length });
      }
      broken = false;
    }
    if (length !== shot.out - shot.in) broken = true;
    of.push(Math.max(takes.length - 1, 0));
  });
  return { takes, of };
}

const takeAt = (shots: readonly Shot[], frame: number): number => shots[shotIndexAt(shots, frame)]?.take ?? 0;
