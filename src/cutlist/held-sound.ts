/** What sound that follows a shot gives way to, track by track: other sound, and silence that is one. */
import { BLACK, type AudioPiece, type CutList, type FrameRange } from './model.js';
import { unionOf } from './ranges.js';
import { shotIndexAt } from './record.js';

/**
 * The stretches of each track that stay as they are when shots change. `apart` is the sound that follows no shot. In a list from a log
 * (`follows`) it is all that the log chose, silence too. A list that was read does not say why it is silent: silence that begins or
 * ends inside a shot was chosen; from one cut to another it may be that the recording of the shot has no sound, and belongs to the shot.
 */
export function heldSound(list: CutList, apart: readonly AudioPiece[]): Map<number, readonly FrameRange[]> {
  const held = new Map<number, FrameRange[]>();
  const add = (track: number, range: FrameRange): void => {
    if (held.get(track)?.push(range) === undefined) held.set(track, [range]);
  };
  for (const piece of apart) for (const track of piece.tracks) add(track, piece);
  if (list.follows === undefined) eachSilence(list, add);
  else for (const range of between(list.follows, list.frames)) for (const track of new Set(list.audio.flatMap(({ tracks }) => tracks))) add(track, range);
  return new Map([...held].map(([track, ranges]) => [track, unionOf(ranges)]));
}

/** What of [0, frames) lies in none of the ranges, which are in order and do not overlap. */
function between(ranges: readonly FrameRange[], frames: number): FrameRange[] {
  const ends = [0, ...ranges.map(({ out }) => out)];
  return [...ranges.map((range) => range.in), frames].map((out, index) => ({ in: ends[index] ?? 0, out })).filter((range) => range.in < range.out);
}

/** Tells of every stretch of a track that is silent under a picture, and begins or ends inside a shot. */
function eachSilence(list: CutList, tell: (track: number, range: FrameRange) => void): void {
  const ends = new Map<number, number>();
  const silent = (track: number, into: number, out: number): void => {
    for (const range of into < out ? pictured(list, into, out) : []) if (isInside(list, range.in) || isInside(list, range.out)) tell(track, range);
  };
  for (const { in: into, out, tracks } of list.audio) {
    for (const track of tracks) {
      silent(track, ends.get(track) ?? 0, into);
      ends.set(track, out);
    }
  }
  for (const [track, end] of ends) silent(track, end, list.frames);
}

/** What of [into, out) is not black. */
function pictured({ shots }: CutList, into: number, out: number): FrameRange[] {
  const ranges: FrameRange[] = [];
  for (let index = shotIndexAt(shots, into); index < shots.length; index += 1) {
    const shot = shots[index];
    if (shot === undefined || shot.in >= out) break;
    if (shot.source !== BLACK) ranges.push({ in: Math.max(shot.in, into), out: Math.min(shot.out, out) });
  }
  return unionOf(ranges);
}

const isInside = ({ shots, frames }: CutList, frame: number): boolean => frame < frames && shots[shotIndexAt(shots, frame)]?.in !== frame;
