/** What an EDL can hold of a cut list, for `read(write(list))` to be compared with `list`. */
import { BLACK, type AudioPiece, type CutList, type Shot, type Source } from '../../../src/cutlist/model.js';
import { asciiText } from '../../../src/formats/edl/ascii.js';
import { reelNames } from '../../../src/formats/edl/reels.js';
import { countName } from '../../../src/timecode/rate.js';
import { framesPerDay } from '../../../src/timecode/timecode.js';

interface Points {
  readonly reel: string;
  readonly in: number;
  readonly out: number;
  /** Labels wrap: the source in-point of its day, and a length. */
  readonly sourceIn: number;
  readonly sourceFrames: number;
  readonly transition: string;
  readonly file: string | undefined;
}

export interface Comparable {
  readonly title: string;
  readonly count: string;
  readonly recordStart: number;
  readonly frames: number;
  /** Those that are seen or heard. */
  readonly sources: readonly unknown[];
  readonly shots: readonly unknown[];
  /** A list a program channel. */
  readonly audio: Readonly<Record<number, readonly unknown[]>>;
  readonly markers: readonly unknown[];
}

/**
 * Left out, for an EDL has no place for it: takes, aliases, starts and offsets of sources, lengths of files, what a log said, where
 * a format keeps a boundary inside a mix, colours of markers, sources that are neither seen nor heard. Text is compared as ASCII.
 */
export function comparable(list: CutList, length: 8 | 32 = 8): Comparable {
  const reels = reelNames(list.sources, length, () => undefined) ?? new Map<string, string>();
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const used = new Set([...list.shots, ...list.audio].map(({ source }) => source));
  const points = (piece: Shot | AudioPiece): Points => {
    const source = sources.get(piece.source);
    const { transition } = piece;
    return {
      reel: reels.get(piece.source) ?? '?',
      in: piece.in,
      out: piece.out,
      sourceIn: source === undefined ? 0 : piece.sourceIn % framesPerDay(source.count),
      sourceFrames: source === undefined ? piece.out - piece.in : piece.sourceOut - piece.sourceIn,
      transition: transition === undefined ? 'cut' : `${transition.kind} ${String(transition.frames)} ${String(transition.wipe ?? '')}`,
      file: piece.file === undefined ? undefined : source?.files[piece.file]?.path,
    };
  };
  const audio: Record<number, unknown[]> = {};
  for (const piece of list.audio) {
    piece.tracks.forEach((track, index) => (audio[track] ??= []).push({ ...points(piece), channel: piece.channels[index], withPicture: piece.withPicture }));
  }
  return {
    title: asciiText(list.title).slice(0, 70).trim() || 'UNTITLED',
    count: countName(list.count),
    recordStart: list.recordStart % framesPerDay(list.count),
    frames: list.frames,
    sources: list.sources.filter(({ id }) => used.has(id)).map((source) => ({ ...facts(source), reel: reels.get(source.id) })),
    shots: list.shots.map((shot) => ({ ...points(shot), name: nameOf(shot, sources), comments: (shot.comments ?? []).map(asciiText) })),
    audio,
    markers: list.markers.map(({ at, note }) => ({ at, note: asciiText(note) })),
  };
}

const facts = ({ id, name, count, picture }: Source): object => ({ id, name: asciiText(name), count: countName(count), picture });

const nameOf = ({ source, clipName }: Shot, sources: ReadonlyMap<string, Source>): string =>
  source === BLACK ? '' : asciiText(clipName ?? sources.get(source)?.name ?? '');
