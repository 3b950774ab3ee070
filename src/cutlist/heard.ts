/** Sound a program channel at a time: what is heard where, what is left of it under other sound, and back to pieces. */
import { without } from '../without.js';
import type { AudioPiece, FrameRange } from './model.js';
import { shotIndexAt } from './record.js';

/** A stretch of one program channel, and the piece that fills it. */
export interface Heard {
  readonly in: number;
  readonly out: number;
  readonly track: number;
  readonly channel: number;
  readonly piece: AudioPiece;
}

/** What is heard on each track, in order. */
export function byTrack(audio: readonly AudioPiece[]): Map<number, Heard[]> {
  const tracks = new Map<number, Heard[]>();
  for (const piece of audio) {
    piece.tracks.forEach((track, index) => {
      const heard: Heard = { in: piece.in, out: piece.out, track, channel: piece.channels[index] ?? track, piece };
      if (tracks.get(track)?.push(heard) === undefined) tracks.set(track, [heard]);
    });
  }
  return tracks;
}

/** What is heard at a record frame of one track. */
export function heardAt<T extends FrameRange>(heard: readonly T[], frame: number): T | undefined {
  const found = heard[shotIndexAt(heard, frame)];
  return found !== undefined && found.in <= frame && frame < found.out ? found : undefined;
}

/** What `above` leaves of `heard`, both in order and of one track. */
export function uncovered(heard: readonly Heard[], above: readonly FrameRange[]): Heard[] {
  const left: Heard[] = [];
  const [earliest] = heard;
  // Binary, so that a few frames of a long list are found as quickly as those of a short one.
  let next = earliest === undefined ? 0 : shotIndexAt(above, earliest.in);
  for (const one of heard) {
    while (next < above.length && (above[next]?.out ?? 0) <= one.in) next += 1;
    let at = one.in;
    for (let index = next; at < one.out; index += 1) {
      const cover = above[index];
      const until = Math.min(cover?.in ?? Infinity, one.out);
      if (until > at) left.push({ ...one, in: at, out: until });
      at = cover === undefined ? one.out : Math.max(at, cover.out);
    }
  }
  return left;
}

/** A piece goes on only where sound ends on one of its tracks. */
export function goingOn(pieces: readonly AudioPiece[]): AudioPiece[] {
  const ends = new Map<number, number>();
  return pieces.map((piece) => {
    const follows = piece.tracks.some((track) => ends.get(track) === piece.in);
    for (const track of piece.tracks) ends.set(track, piece.out);
    return piece.continues === true && !follows ? without(piece, 'continues') : piece;
  });
}

/** Tracks on which the same stretch of a piece is heard. */
export interface Group {
  readonly heard: readonly [Heard, ...Heard[]];
  readonly tracks: number[];
  readonly channels: number[];
}

/** Stretches of several tracks that are left of one piece, as one again. */
export function regrouped(left: readonly Heard[]): Group[] {
  const groups = new Map<AudioPiece, Map<string, Group>>();
  for (const heard of [...left].sort((a, b) => a.track - b.track)) {
    const own = groups.get(heard.piece) ?? new Map<string, Group>();
    groups.set(heard.piece, own);
    const key = `${String(heard.in)} ${String(heard.out)}`;
    const group = own.get(key) ?? { heard: [heard], tracks: [], channels: [] };
    group.tracks.push(heard.track);
    group.channels.push(heard.channel);
    own.set(key, group);
  }
  return [...groups.values()].flatMap((own) => [...own.values()]);
}
