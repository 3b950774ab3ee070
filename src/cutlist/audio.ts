/** Sound (contract, rule 9): one source, the program, the shot's own source (`follow`), or none, changing where the log says so. */
import type { Count } from '../timecode/rate.js';
import { BLACK, FOLLOW, NONE, type AudioPiece, type FrameRange, type Shot, type Source, type Take } from './model.js';
import { unionOf } from './ranges.js';
import { numberedTake, Run, sourceFrame, sourceLength, type NumberedTake } from './sync.js';

/** From record frame `at` on, sound comes from `from`: a source's id, FOLLOW or NONE. */
export interface SoundFrom {
  readonly at: number;
  readonly from: string;
}

export interface SoundOf {
  readonly count: Count;
  readonly frames: number;
  readonly takes: readonly Take[];
  readonly shots: readonly Shot[];
  readonly sources: ReadonlyMap<string, Source>;
}

/** Which channels feed A1, A2, … from a source. */
export type ChannelsOf = (from: string) => readonly number[];

/**
 * The pieces of sound of a list. `changes` are in order; the first lies on frame 0. A fixed source has one piece a take, from change
 * to change. With FOLLOW a piece goes with each shot, and has its transition where the sound before followed too, also
 * where the sound changes later in the shot, once the mix is complete; a shot that follows from its middle on, or changes in its mix, has
 * a plain piece. Black has no sound, but a piece that goes with it is cut with the picture.
 */
export function soundPieces(list: SoundOf, changes: readonly SoundFrom[], channelsOf: ChannelsOf): AudioPiece[] {
  const pieces: AudioPiece[] = [];
  const ranges = rangesOf(changes, list.frames);
  let shot = 0;
  let take = 0;
  for (const { from, start, end } of ranges) {
    if (from === NONE || from === BLACK) continue;
    const channels = channelsOf(from);
    const tracks = channels.map((_, index) => index + 1);
    if (from === FOLLOW) {
      while ((list.shots[shot]?.out ?? Infinity) <= start) shot += 1;
      for (; (list.shots[shot]?.in ?? Infinity) < end; shot += 1) {
        const piece = following(list, list.shots[shot] as Shot, start, end, tracks, channels);
        if (piece !== undefined) pieces.push(piece);
        if ((list.shots[shot] as Shot).out > end) break;
      }
      continue;
    }
    const source = list.sources.get(from);
    if (source === undefined) continue;
    while ((list.takes[take]?.out ?? Infinity) <= start) take += 1;
    for (let index = take; index < list.takes.length; index += 1) {
      const numbered = numberedTake(list.takes, index) as NumberedTake;
      if (numbered.in >= end) break;
      const [into, out] = [Math.max(start, numbered.in), Math.min(end, numbered.out)];
      const sourceIn = sourceFrame(source, numbered, numbered.logIn + into - numbered.in, list.count);
      const sourceOut = sourceIn + sourceLength(out - into, list.count, source.count);
      pieces.push({ source: from, in: into, out, sourceIn, sourceOut, tracks, channels, take: index, withPicture: false });
    }
  }
  return pieces;
}

/** Where such changes give other sound than that of the picture, or none (`CutList.ownSound`). */
export const ownSoundOf = (changes: readonly SoundFrom[], frames: number): FrameRange[] =>
  unionOf(rangesOf(changes, frames).filter(({ from }) => from !== FOLLOW).map(({ start, end }) => ({ in: start, out: end })));

interface Range {
  readonly from: string;
  readonly start: number;
  end: number;
}

/** The changes as stretches [start, end), those that change nothing left out. */
function rangesOf(changes: readonly SoundFrom[], frames: number): Range[] {
  const ranges: Range[] = [];
  for (const { at, from } of changes) {
    if (at >= frames) break;
    let before = ranges.at(-1);
    if (before?.start === at) {
      ranges.pop();
      before = ranges.at(-1);
    }
    if (before?.from === from) {
      before.end = frames;
      continue;
    }
    if (before !== undefined) before.end = at;
    ranges.push({ from, start: at, end: frames });
  }
  return ranges;
}

function following(list: SoundOf, shot: Shot, start: number, end: number, tracks: readonly number[], channels: readonly number[]): AudioPiece | undefined {
  const { source, take, transition } = shot;
  const whole = shot.in >= start && shot.out <= end;
  // What mixes in the sound is the sound before; where that did not follow the picture, the sound is cut.
  const mixes = transition !== undefined && shot.in + transition.frames <= end && (shot.in > start || (shot.in === 0 && start === 0));
  if (whole && (transition === undefined || mixes)) {
    const piece: { -readonly [Key in keyof AudioPiece]: AudioPiece[Key] } = {
      source, in: shot.in, out: shot.out, sourceIn: shot.sourceIn, sourceOut: shot.sourceOut, tracks, channels, take, withPicture: true,
    };
    if (mixes) piece.transition = transition;
    return piece;
  }
  const given = list.sources.get(source);
  const [into, out] = [Math.max(shot.in, start), Math.min(shot.out, end)];
  if (given === undefined) {
    return mixes ? { source, in: into, out, sourceIn: 0, sourceOut: out - into, tracks, channels, take, transition, withPicture: false } : undefined;
  }
  const sourceIn = new Run(shot, list.count, given.count).at(into);
  const sourceOut = sourceIn + sourceLength(out - into, list.count, given.count);
  return { source, in: into, out, sourceIn, sourceOut, tracks, channels, take, ...(mixes ? { transition } : {}), withPicture: false };
}
