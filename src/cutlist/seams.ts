/** Seams within a shot, or within sound, where one file plays straight on. */
import { nearestRepeat } from '../timecode/day.js';
import { framesPerDay } from '../timecode/timecode.js';
import { BLACK, type AudioPiece, type CutList, type Shot } from './model.js';
import { sourceLength } from './sync.js';

/** What shots and sound have in common here. */
type Piece = Pick<Shot, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut' | 'take' | 'file' | 'continues' | 'instead' | 'transition' | 'speed' | 'comments'>;

/** Two pieces that meet, and could be one. */
type Seam<T extends Piece> = readonly [T, T];

/**
 * The list with one piece where a shot, or sound, goes on in the same file, or in black, and a change left two side by side. A seam that
 * was in the list as it was read (`before`) stays; so does one of the picture where sound that was cut with it has none.
 */
export function withoutSeams(list: CutList, before?: CutList): CutList {
  const seams = new Seams(list);
  const [picture, sound] = [seams.ofShots(list.shots), seams.ofSound(list.audio)];
  if (picture.length === 0 && sound.length === 0) return list;
  const read = new Set(before === undefined ? [] : [...seams.ofShots(before.shots), ...seams.ofSound(before.audio)].map(seamText));
  const isNew = (seam: Seam<Piece>): boolean => !read.has(seamText(seam));
  const frames = new Set(picture.filter(isNew).map(([, { in: at }]) => at));
  for (const at of unlikeSound(list.audio, sound, frames)) frames.delete(at);
  const gone = new Set<Piece>(sound.filter((seam) => (seam[1].withPicture ? frames.has(seam[1].in) : isNew(seam))).map(([, piece]) => piece));
  const shots: Shot[] = [];
  for (const shot of list.shots) {
    const last = shots.at(-1);
    if (last !== undefined && frames.has(shot.in)) shots[shots.length - 1] = seams.through(last, shot);
    else shots.push(shot);
  }
  const audio: AudioPiece[] = [];
  const lastOf = new Map<string, number>();
  for (const piece of list.audio) {
    const tracks = tracksText(piece);
    const last = lastOf.get(tracks);
    if (last !== undefined && gone.has(piece)) audio[last] = seams.through(audio[last] as AudioPiece, piece);
    else lastOf.set(tracks, audio.push(piece) - 1);
  }
  return { ...list, shots, audio };
}

/** Record frames among `frames` on which sound that was cut with the picture ends or begins, and does not play straight on. */
function unlikeSound(audio: readonly AudioPiece[], seams: readonly Seam<AudioPiece>[], frames: ReadonlySet<number>): number[] {
  const begins = new Set(seams.map(([, piece]) => piece));
  const ends = new Set(seams.map(([piece]) => piece));
  const cut = audio.filter(({ withPicture }) => withPicture);
  return [
    ...cut.filter((piece) => frames.has(piece.in) && !begins.has(piece)).map((piece) => piece.in),
    ...cut.filter((piece) => frames.has(piece.out) && !ends.has(piece)).map((piece) => piece.out),
  ];
}

class Seams {
  readonly #counts: ReadonlyMap<string, CutList['count']>;
  readonly #list: CutList['count'];

  constructor({ sources, count }: CutList) {
    this.#counts = new Map(sources.map((source) => [source.id, source.count]));
    this.#list = count;
  }

  ofShots(shots: readonly Shot[]): Seam<Shot>[] {
    const out: Seam<Shot>[] = [];
    for (const [index, shot] of shots.entries()) {
      const last = shots[index - 1];
      if (last !== undefined && this.#isOne(last, shot)) out.push([last, shot]);
    }
    return out;
  }

  ofSound(audio: readonly AudioPiece[]): Seam<AudioPiece>[] {
    const out: Seam<AudioPiece>[] = [];
    const before = new Map<string, AudioPiece>();
    for (const piece of audio) {
      const tracks = tracksText(piece);
      const last = before.get(tracks);
      before.set(tracks, piece);
      if (last !== undefined && last.withPicture === piece.withPicture && this.#isOne(last, piece)) out.push([last, piece]);
    }
    return out;
  }

  /** The first piece up to the end of the second. */
  through<T extends Piece>(first: T, second: T): T {
    const sourceOut = first.sourceOut + second.sourceOut - second.sourceIn;
    const count = this.#counts.get(first.source);
    const steady = first.sourceIn + (count === undefined ? second.out - first.in : sourceLength(second.out - first.in, this.#list, count));
    const comments = [...(first.comments ?? []), ...(second.comments ?? [])];
    // Where rates differ, the two were rounded one by one.
    return { ...first, out: second.out, sourceOut: Math.abs(steady - sourceOut) <= 1 ? Math.min(steady, sourceOut) : sourceOut, ...(comments.length === 0 ? {} : { comments }) };
  }

  #isOne(first: Piece, second: Piece): boolean {
    if (second.continues !== true || second.transition !== undefined || first.out !== second.in) return false;
    if (first.source !== second.source || first.file !== second.file || first.instead !== second.instead || first.take !== second.take || first.speed !== second.speed) return false;
    if (first.source === BLACK) return true;
    const count = this.#counts.get(first.source) ?? this.#list;
    const off = nearestRepeat(first.sourceOut, framesPerDay(count), second.sourceIn) - second.sourceIn;
    return Math.abs(off) <= (count.rate.nominal === this.#list.rate.nominal ? 0 : 1);
  }
}

const tracksText = ({ tracks, channels }: AudioPiece): string => `${tracks.join(' ')} from ${channels.join(' ')}`;

const seamText = ([first, second]: Seam<Piece>): string =>
  [first.source, first.instead, first.file, first.sourceOut, second.sourceIn, second.source === BLACK ? second.sourceOut : ''].map(String).join('\n');
