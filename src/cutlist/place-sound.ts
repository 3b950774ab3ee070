/** Sound on its recordings (rule 11): in step with the picture it was cut with, else its own files, the program, or silence. */
import { without } from '../without.js';
import { soundApart, soundFollowed } from './followed.js';
import { goingOn } from './heard.js';
import { BLACK, PROGRAM, type AudioPiece, type CutList, type Shot, type Source } from './model.js';
import { isAsIs, type Missing } from './cover.js';
import type { PartFinder } from './parts.js';
import type { PlacedShots } from './place-shots.js';
import { soundOrder } from './sound-order.js';
import { soundWith } from './with-picture.js';

export interface SoundNews {
  /** Frames of sound that a recording does not have, and how many of them became silence. */
  readonly missing: (piece: AudioPiece, missing: Missing, silent: number) => void;
  /** A recording has fewer channels than were asked for: what `missing` were to feed, one channel a track, is silent. */
  readonly channels: (source: string, has: number, missing: readonly number[]) => void;
}

/**
 * Divides the sound of a list into what its recordings hold, in order. Sound that was cut with the picture goes with what became
 * of its shot, and comes from the program where the picture does; so does sound that comes on by the shot's mix and leaves it early. A track whose channel the file is known not to have is silent.
 * Where a log has sound follow the picture (`follows`), it is that of what the shots became, also of one that goes on until a late
 * recording begins, and of the program that stands for a mix. A piece that `isKept` stays as it is, but for one that goes with a shot that does not.
 */
export function placeSound(
  list: Pick<CutList, 'audio' | 'shots' | 'takes' | 'count' | 'follows'>,
  placed: PlacedShots,
  sources: ReadonlyMap<string, Source>,
  finder: PartFinder,
  news: SoundNews,
  isKept: (piece: AudioPiece) => boolean = () => false,
): AudioPiece[] {
  const { shots, follows = [] } = list;
  const out: AudioPiece[] = [];
  const channels = new ChannelPicker(sources, news);
  const push = (piece: AudioPiece | undefined): void => {
    if (piece !== undefined) out.push(piece);
  };
  let shot = 0;
  for (const piece of soundApart(list.audio, follows)) {
    const kept = isKept(piece);
    if (!piece.withPicture && piece.transition === undefined) {
      if (kept) {
        push(piece);
        continue;
      }
      for (const placedPiece of partsOf(piece, finder, news)) push(channels.pick(placedPiece, piece));
      continue;
    }
    while (shot < shots.length && (shots[shot]?.in ?? 0) < piece.in) shot += 1;
    const [from, to] = [placed.first[shot] ?? 0, placed.first[shot + 1] ?? 0];
    if (kept && to - from === 1 && placed.shots[from] === shots[shot]) {
      push(piece);
      continue;
    }
    for (let index = from; index < to; index += 1) {
      const picture = placed.shots[index] as Shot;
      if (!piece.withPicture && picture.out > piece.out) {
        push(beginningOf(piece, picture, picture === shots[shot], finder, channels));
        break;
      }
      push(channels.pick(to - from === 1 && picture === shots[shot] ? piece : soundWith(picture, piece), piece));
    }
  }
  for (const stretch of follows) {
    soundFollowed({ count: list.count, takes: list.takes, shots: placed.shots, sources }, stretch, (piece, { source, instead }) => {
      for (const part of ofShot(piece, finder, news)) push(channels.pick(part, { source: instead ?? source }));
    });
  }
  // A file without sound may lie between two that have some.
  return goingOn(inOrder(out));
}

/** The sound of a shot, or of a part of it, from the file that holds it. */
function ofShot(piece: AudioPiece, finder: PartFinder, news: SoundNews): AudioPiece[] {
  if (piece.withPicture || piece.source === BLACK) return [piece];
  return piece.transition === undefined ? partsOf(piece, finder, news) : [{ ...piece, sourceOut: finder.sourceOutAt(piece, piece.out) }];
}

/** What a piece that leaves its shot early has of what became of the shot, up to its own end. */
function beginningOf(piece: AudioPiece, picture: Shot, unchanged: boolean, finder: PartFinder, channels: ChannelPicker): AudioPiece | undefined {
  if (unchanged) return channels.pick(piece, piece);
  if (picture.in >= piece.out || (picture.source === BLACK && picture.transition === undefined)) return undefined;
  const made = { ...soundWith(picture, piece), out: piece.out, sourceOut: finder.sourceOutAt(picture, piece.out), withPicture: false };
  return channels.pick(made, piece);
}

function partsOf(piece: AudioPiece, finder: PartFinder, news: SoundNews): AudioPiece[] {
  const parts = finder.of(piece);
  const [only] = parts;
  if (parts.length === 1 && only !== undefined && isAsIs(piece, only)) return [piece];
  const told = new Map<Missing, number>();
  const out: AudioPiece[] = [];
  for (const part of parts) {
    if (part.missing !== undefined && part.missing.why !== 'mix') told.set(part.missing, (told.get(part.missing) ?? 0) + (part.source === BLACK ? part.out - part.in : 0));
    // Sound that nobody recorded is silence, and silence is where there is no piece.
    if (part.source === BLACK) continue;
    const isFirst = part.in === piece.in;
    const goesOn = isFirst ? piece.continues === true : out.at(-1)?.out === part.in;
    out.push({
      ...without(piece, 'continues', 'file'),
      source: part.source,
      in: part.in,
      out: part.out,
      sourceIn: part.sourceIn,
      sourceOut: part.sourceOut,
      ...(part.file === undefined ? {} : { file: part.file }),
      ...(goesOn ? { continues: true } : {}),
    });
  }
  for (const [missing, silent] of told) news.missing(piece, missing, silent);
  return out;
}

/** Finds the channels that a piece really has. */
class ChannelPicker {
  readonly #picked = new Map<string, { tracks: readonly number[]; channels: readonly number[] }>();
  readonly #told = new Set<string>();

  constructor(
    readonly sources: ReadonlyMap<string, Source>,
    readonly news: SoundNews,
  ) {}

  /** The piece with the tracks that its file can feed; undefined when there are none. `asked` is what it was made of. */
  pick(piece: AudioPiece, asked: Pick<AudioPiece, 'source'>): AudioPiece | undefined {
    const replaced = piece.source === PROGRAM && asked.source !== PROGRAM;
    const has = piece.file === undefined ? undefined : this.sources.get(piece.source)?.files[piece.file]?.channels;
    if (!replaced && (has === undefined || piece.channels.every((channel) => channel <= has))) return piece;
    const chosen = this.#channels(piece, replaced, has ?? Infinity);
    if (chosen.tracks.length < piece.tracks.length && !this.#told.has(piece.source)) {
      this.#told.add(piece.source);
      const limit = has ?? 0;
      this.news.channels(piece.source, limit, (replaced ? piece.tracks : piece.channels).filter((channel) => channel > limit));
    }
    return chosen.tracks.length === 0 ? undefined : { ...piece, ...chosen };
  }

  /** The chosen channels belong to the source that was asked for; the program that replaces it feeds A1 from its first one, and so on. */
  #channels(piece: AudioPiece, replaced: boolean, has: number): { tracks: readonly number[]; channels: readonly number[] } {
    const wanted = replaced ? piece.tracks : piece.channels;
    const key = `${piece.tracks.join(' ')}/${wanted.join(' ')}/${String(has)}`;
    let chosen = this.#picked.get(key);
    if (chosen === undefined) {
      const kept = piece.tracks.map((track, index) => ({ track, channel: wanted[index] ?? track })).filter(({ channel }) => channel <= has);
      this.#picked.set(key, (chosen = { tracks: kept.map(({ track }) => track), channels: kept.map(({ channel }) => channel) }));
    }
    return chosen;
  }
}

/** In order of `in`, then of track; only several pieces a shot can have come out of it. */
function inOrder(pieces: AudioPiece[]): AudioPiece[] {
  const isSorted = pieces.every((piece, index) => index === 0 || soundOrder(pieces[index - 1] as AudioPiece, piece) <= 0);
  return isSorted ? pieces : pieces.sort(soundOrder);
}
