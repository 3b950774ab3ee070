/** What is heard on each program channel, whatever pieces it was cut into. */
import type { Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import { BLACK, type AudioPiece, type CutList, type Transition } from './model.js';

type Piece = Pick<AudioPiece, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>;

/** Sound on one program channel: pieces that go on from one another are one, silence is left out. */
export interface ChannelStretch extends Piece {
  readonly track: number;
  readonly channel: number;
  readonly transition?: Transition;
  /** The piece that it begins with. */
  readonly piece: AudioPiece;
}

/** The stretches of each program channel, in record order. `countOf`: how a source counts, by its id. */
export function stretches(list: CutList, countOf: (source: string) => Count): Map<number, ChannelStretch[]> {
  const tracks = new Map<number, ChannelStretch[]>();
  for (const piece of list.audio) {
    // Black that sound fades into is kept: it has a mix.
    if (piece.source === BLACK && piece.transition === undefined) continue;
    piece.tracks.forEach((track, index) => {
      const { source, out, sourceIn, sourceOut, transition } = piece;
      const stretch: ChannelStretch = {
        source, in: piece.in, out, sourceIn, sourceOut, track, channel: piece.channels[index] ?? track, piece, ...(transition === undefined ? {} : { transition }),
      };
      const own = tracks.get(track) ?? [];
      tracks.set(track, own);
      const before = own.at(-1);
      if (before !== undefined && goesOn(before, stretch, framesPerDay(countOf(source)))) own[own.length - 1] = { ...before, out, sourceOut: before.sourceOut + out - piece.in };
      else own.push(stretch);
    });
  }
  return tracks;
}

/** As many source frames as record frames. */
export const isUnity = (one: Piece): boolean => one.sourceOut - one.sourceIn === one.out - one.in;

/** `day`: frames after which the source's labels begin again. */
const goesOn = (one: ChannelStretch, other: ChannelStretch, day: number): boolean =>
  one.source === other.source && one.source !== BLACK && one.channel === other.channel && one.out === other.in && (one.sourceOut - other.sourceIn) % day === 0
  && one.transition === undefined && other.transition === undefined && isUnity(one) && isUnity(other);
