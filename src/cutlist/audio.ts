/** Sound (contract, rule 9): one source, the program, the shot's own source (`follow`), or none, changing where the log says so. */
import type { Count } from '../timecode/rate.js';
import { soundFollowed } from './followed.js';
import { BLACK, FOLLOW, NONE, type AudioPiece, type Followed, type Shot, type Source, type Take } from './model.js';
import { numberedTake, sourceFrame, sourceLength, type NumberedTake } from './sync.js';

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
 * to change. With FOLLOW a piece goes with each shot (`soundFollowed`).
 */
export function soundPieces(list: SoundOf, changes: readonly SoundFrom[], channelsOf: ChannelsOf): AudioPiece[] {
  const pieces: AudioPiece[] = [];
  const ranges = rangesOf(changes, list.frames);
  let take = 0;
  for (const { from, start, end } of ranges) {
    if (from === NONE || from === BLACK) continue;
    const channels = channelsOf(from);
    const tracks = channels.map((_, index) => index + 1);
    if (from === FOLLOW) {
      soundFollowed(list, { in: start, out: end, tracks, channels }, (piece) => pieces.push(piece));
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

/** The stretches in which sound follows the picture, in order. */
export const followsOf = (changes: readonly SoundFrom[], frames: number, channelsOf: ChannelsOf): Followed[] =>
  rangesOf(changes, frames).filter(({ from }) => from === FOLLOW).map(({ from, start, end }) => {
    const channels = channelsOf(from);
    return { in: start, out: end, tracks: channels.map((_, index) => index + 1), channels };
  });

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
