/** Audio tracks of a timeline as sound pieces. */
import { goingOn } from '../../cutlist/heard.js';
import { BLACK, PROGRAM, type AudioPiece, type Shot } from '../../cutlist/model.js';
import { soundOrder } from '../../cutlist/sound-order.js';
import { comesOnWith, isSoundOf } from '../../cutlist/with-picture.js';
import { metadataAt, type Document } from './document.js';
import { OURS } from './schema.js';
import type { Read } from './stretches.js';

/** The stretches of one Audio track: program channel `channel`, from 1. */
export interface SoundTrack {
  readonly channel: number;
  readonly stretches: readonly Read[];
}

/** The notes of a read stretch that are a shot's and a piece's alike. */
interface Noted {
  readonly take: number;
  readonly continues: boolean;
}

/**
 * Joins what lies on several channels with the same points into one piece, in order of `in`, then of track. A crossfade
 * that no shot has becomes a cut where it begins (the model has sound mixes only where sound follows picture), reported.
 */
export function soundOf(document: Document, tracks: readonly SoundTrack[], shots: readonly Shot[], notedOf: (read: Read) => Noted): AudioPiece[] {
  const shotAt = new Map(shots.map((shot) => [shot.in, shot]));
  const pieces = new Map<string, AudioPiece & { tracks: number[]; channels: number[] }>();
  for (const { channel, stretches } of tracks) {
    let before: Read | undefined;
    for (const read of stretches) {
      const ours = metadataAt(read.item.at, OURS);
      const number = typeof ours?.['piece'] === 'number' ? ours['piece'] : undefined;
      if (read.source === BLACK && number === undefined && read.transition === undefined && read.item.black !== true) continue;
      const from = typeof ours?.['channel'] === 'number' && Number.isInteger(ours['channel']) && ours['channel'] >= 1 ? ours['channel'] : channel;
      const { take, continues } = notedOf(read);
      const noted = { take, continues: continues && mayGoOn(before, read) };
      before = read;
      const piece = pieceOf(read, shotAt.get(read.in), number === undefined ? undefined : ours?.['withPicture'] === true, noted);
      if (read.transition !== undefined && piece.transition === undefined) {
        document.add('transition-cut-short', read.item.mix?.at.where, 'a crossfade of sound that the picture does not have is read as a cut where it begins');
      }
      const key = JSON.stringify([number, piece]);
      const known = pieces.get(key);
      if (known === undefined) pieces.set(key, { ...piece, tracks: [channel], channels: [from] });
      else {
        known.tracks.push(channel);
        known.channels.push(from);
      }
    }
  }
  return goingOn([...pieces.values()].sort(soundOrder));
}

/** Somebody may have edited the list since: another source does not go on with the one before it. Program and black stand for any. */
function mayGoOn(before: Read | undefined, { in: into, source }: Read): boolean {
  if (before?.out !== into) return true;
  return before.source === source || [before.source, source].some((one) => one === BLACK || one === PROGRAM);
}

/** `noted`: what linecut wrote of the piece, true where it was cut with the picture; undefined in a file of somebody else. */
function pieceOf(read: Read, shot: Shot | undefined, noted: boolean | undefined, { take, continues }: Noted): Omit<AudioPiece, 'tracks' | 'channels'> {
  const { source, in: from, out, sourceIn, sourceOut, file, transition, speed } = read;
  const points = { source, in: from, out, sourceIn, sourceOut, file, take, transition };
  const withPicture = noted !== false && isSoundOf(points, shot);
  const mixes = transition !== undefined && (withPicture || comesOnWith(points, shot));
  return {
    source,
    in: from,
    out,
    sourceIn,
    sourceOut,
    take,
    withPicture,
    ...(mixes ? { transition } : {}),
    ...(speed === undefined ? {} : { speed }),
    ...(file === undefined ? {} : { file }),
    ...(continues ? { continues } : {}),
  };
}
