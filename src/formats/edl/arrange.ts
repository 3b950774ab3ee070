/** A cut list's shots and sound as the events they become: what is one event, what is two, and what a mix comes from. */
import { BLACK, type AudioPiece, type CutList, type Shot } from '../../cutlist/model.js';
import { problem, type Report } from '../../problems.js';
import { scale } from '../../timecode/exact.js';
import { framesPerDay } from '../../timecode/timecode.js';
import { CHANNELS, isChannel } from './columns.js';

/** What shots and sound share. Record frames from the start of the list, source frames from label zero; half-open. */
export type EventStretch = Pick<AudioPiece, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut' | 'transition' | 'file'> & {
  /** It goes on from the stretch before: nobody switched, the list was divided. */
  readonly continued?: boolean;
};

export type PictureStretch = EventStretch & Pick<Shot, 'clipName' | 'comments'>;

/** Sound with events of its own. */
export type SoundStretch = EventStretch & Pick<AudioPiece, 'tracks' | 'channels'> & {
  /** What a mix comes from; undefined is silence. */
  readonly from?: EventStretch;
};

/** What a shot's own event records beside the picture. */
export type WithPicture = Pick<AudioPiece, 'tracks' | 'channels'>;

export interface Arranged {
  readonly shots: readonly PictureStretch[];
  /** The sound of each shot's event, by the index of the shot. */
  readonly withPicture: readonly (WithPicture | undefined)[];
  /** In order of `in`, then of track. */
  readonly sounds: readonly SoundStretch[];
}

/** Divides what is too long for its labels, and joins sound that was cut with the picture to the picture. Reports `left-out`. */
export function arrange(list: CutList, report: Report): Arranged {
  const shots: readonly PictureStretch[] = divideDays(list.shots, list);
  const pieces = divideDays(audible(list.audio, report), list);
  const withPicture: (WithPicture | undefined)[] = [];
  const sounds: SoundStretch[] = [];
  // The latest piece on each channel: what a crossfade comes from.
  const latest: (AudioPiece | undefined)[] = [];
  let next = 0;
  const soundAlone = (until: number): void => {
    for (; next < pieces.length && (pieces[next] as AudioPiece).in < until; next += 1) {
      const piece = pieces[next] as AudioPiece;
      sounds.push(piece);
      for (const track of piece.tracks) latest[track] = piece;
    }
  };
  shots.forEach((shot, index) => {
    soundAlone(shot.in);
    for (; next < pieces.length && (pieces[next] as AudioPiece).in === shot.in; next += 1) {
      const piece = pieces[next] as AudioPiece;
      const before = piece.tracks.map((track) => (latest[track]?.out === piece.in ? latest[track] : undefined));
      const together = piece.withPicture && samePoints(piece, shot) && (shot.transition === undefined || before.every((from) => sameSide(from, shots[index - 1])));
      if (together) withPicture[index] = joined(withPicture[index], piece);
      else sounds.push(piece.transition === undefined || before[0] === undefined ? piece : { ...piece, from: before[0] });
      for (const track of piece.tracks) latest[track] = piece;
    }
  });
  soundAlone(Infinity);
  return { shots, withPicture, sounds };
}

function joined(before: WithPicture | undefined, { tracks, channels }: WithPicture): WithPicture {
  if (before === undefined) return { tracks, channels };
  const pairs = [...before.tracks.map((track, i) => [track, before.channels[i] ?? track] as const), ...tracks.map((track, i) => [track, channels[i] ?? track] as const)];
  pairs.sort((a, b) => a[0] - b[0]);
  return { tracks: pairs.map(([track]) => track), channels: pairs.map(([, channel]) => channel) };
}

const samePoints = (piece: AudioPiece, shot: PictureStretch): boolean =>
  piece.source === shot.source && piece.in === shot.in && piece.out === shot.out && piece.sourceIn === shot.sourceIn && piece.sourceOut === shot.sourceOut
  && piece.transition?.frames === shot.transition?.frames && piece.transition?.kind === shot.transition?.kind;

/** The sound before a mix is that of the picture before it, so that one line can say what both come from. */
function sameSide(sound: AudioPiece | undefined, shot: PictureStretch | undefined): boolean {
  const heard = sound?.source ?? BLACK;
  const seen = shot?.source ?? BLACK;
  return heard === seen && (heard === BLACK || sound?.sourceOut === shot?.sourceOut);
}

function audible(audio: readonly AudioPiece[], report: Report): readonly AudioPiece[] {
  if (audio.every(({ tracks }) => tracks.every(isChannel))) return audio;
  report(problem('left-out', `an EDL has ${String(CHANNELS)} sound channels; the others are left out`));
  return audio.flatMap((piece) => {
    const kept = piece.tracks.map((track, index) => [track, piece.channels[index] ?? track] as const).filter(([track]) => isChannel(track));
    return kept.length === 0 ? [] : [{ ...piece, tracks: kept.map(([track]) => track), channels: kept.map(([, channel]) => channel) }];
  });
}

/**
 * Labels repeat: a day or more between two of them cannot be told from less, and a reader takes the next in-point for the nearest
 * of its label. So sound of a day, and shots of half a day, become several events.
 */
function divideDays<T extends EventStretch & { readonly withPicture?: boolean }>(stretches: readonly T[], list: CutList): readonly (T & EventStretch)[] {
  const days = new Map(list.sources.map(({ id, count }) => [id, framesPerDay(count)]));
  const day = framesPerDay(list.count);
  const pieces = ({ source, in: from, out, sourceIn, sourceOut, withPicture }: T): number => {
    const most = withPicture === false ? 1 : 1 / 2;
    return 1 + Math.floor(Math.max((out - from) / day, (sourceOut - sourceIn) / (days.get(source) ?? day)) / most);
  };
  if (stretches.every((stretch) => pieces(stretch) === 1)) return stretches;
  const divided = stretches.flatMap((stretch) => {
    const count = pieces(stretch);
    const at = (part: number): number => stretch.in + scale(stretch.out - stretch.in, part, count);
    return Array.from({ length: count }, (_, part) => clip(stretch, at(part), at(part + 1)));
  });
  return divided.sort((a, b) => a.in - b.in);
}

/** What of a stretch lies in the record frames [from, to). What begins later than the stretch does goes on, and has no mix. */
export function clip<T extends EventStretch & { readonly comments?: readonly string[] }>(stretch: T, from: number, to: number): T & EventStretch {
  if (from <= stretch.in && to >= stretch.out) return stretch;
  const at = (frame: number): number => stretch.sourceIn + scale(stretch.sourceOut - stretch.sourceIn, frame - stretch.in, stretch.out - stretch.in);
  const [begin, end] = [Math.max(from, stretch.in), Math.min(to, stretch.out)];
  const part: T & { transition?: unknown; comments?: unknown } = { ...stretch, in: begin, out: end, sourceIn: at(begin), sourceOut: at(end) };
  if (begin === stretch.in) return part;
  delete part.transition;
  delete part.comments;
  return { ...part, continued: true };
}
