/** The rules for sound, for `listFaults`. */
import type { AudioPiece, CutList, Source } from './model.js';
import { isInsideMix, rangeFaults, whole, type AddFault } from './validate-parts.js';
import { comesOnWith, isSoundOf } from './with-picture.js';

/** Sound: in order, within the list, no overlap on a track; what was cut with the picture has a shot's points. */
export function soundFaults(list: CutList, known: ReadonlyMap<string, Source>, add: AddFault): void {
  const endOf = new Map<number, number>();
  let before: AudioPiece | undefined;
  let shot = 0;
  for (const [index, piece] of list.audio.entries()) {
    const name = `sound ${String(index + 1)}`;
    rangeFaults(piece, name, known, add);
    if (piece.out > list.frames) add(`${name} ends on ${String(piece.out)}, after the list`);
    if (list.takes[piece.take] === undefined) add(`${name} is in take ${String(piece.take + 1)}, which is not there`);
    if (before !== undefined && (piece.in < before.in || (piece.in === before.in && (piece.tracks[0] ?? 0) < (before.tracks[0] ?? 0)))) {
      add(`${name} is out of order`);
    }
    trackFaults(piece, name, endOf, add);
    if (piece.transition !== undefined) {
      isInsideMix(piece.transition, piece.out - piece.in, name, add);
    }
    while (shot < list.shots.length && (list.shots[shot]?.in ?? 0) < piece.in) shot += 1;
    if (piece.transition !== undefined && !piece.withPicture && !comesOnWith(piece, list.shots[shot])) add(`${name} has a transition, and no shot begins with it`);
    if (piece.withPicture && !isSoundOf(piece, list.shots[shot])) add(`${name} was cut with the picture, and no shot has its points, source and transition`);
    before = piece;
  }
  let last = 0;
  for (const range of list.follows ?? []) {
    if (range.in < last || range.in >= range.out || range.out > list.frames) add(`sound that follows from ${String(range.in)} to ${String(range.out)} is out of order, empty or outside the list`);
    last = range.out;
  }
}

function trackFaults(piece: AudioPiece, name: string, endOf: Map<number, number>, add: AddFault): void {
  if (piece.tracks.length === 0) add(`${name} is on no track`);
  if (piece.channels.length !== piece.tracks.length) add(`${name} has ${String(piece.channels.length)} channels for ${String(piece.tracks.length)} tracks`);
  for (const channel of piece.channels) if (!whole(channel, 1)) add(`${name} has the channel ${String(channel)}`);
  let last = 0;
  let follows = false;
  for (const track of piece.tracks) {
    if (!whole(track, 1) || track <= last) add(`${name} has the tracks ${piece.tracks.join(', ')}`);
    const end = endOf.get(track) ?? 0;
    if (end > piece.in) add(`${name} begins on ${String(piece.in)}, before the sound before it ends on track ${String(track)}`);
    if (endOf.has(track) && end === piece.in) follows = true;
    endOf.set(track, piece.out);
    last = track;
  }
  if (piece.continues === true && !follows) add(`${name} continues, and no sound ends where it begins`);
}
