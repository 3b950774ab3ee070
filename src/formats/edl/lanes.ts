/** The picture and each sound channel as lanes of spans, built in order of time: without overlap, and picture without hole. */
import { BLACK, type AudioPiece, type Shot, type Transition } from '../../cutlist/model.js';
import { framesText } from '../../frames-text.js';
import { comesOnWith, isSoundOf } from '../../cutlist/with-picture.js';
import { scale } from '../../timecode/exact.js';
import type { Code, Severity } from '../../problems.js';
import { formatTimecode, framesPerDay } from '../../timecode/timecode.js';
import type { EdlEvent, EdlFrom } from './document.js';
import type { EventSource } from './gather.js';
import type { FieldName } from './tokens.js';
import type { PlacedEvent } from './unwrap.js';

/** Reports a problem at a field of an event. */
export type SayAt = (code: Code, field: FieldName, message: string, severity?: Severity) => void;

/** What an event puts on its lanes. Record frames from the start of the list, source frames from label zero; half-open. */
export interface Span extends EventSource {
  readonly in: number;
  readonly out: number;
  readonly sourceIn: number;
  readonly sourceOut: number;
  readonly transition: Transition | undefined;
  readonly speed: number | undefined;
  readonly continued: boolean;
  readonly comments: readonly string[];
  readonly placed: PlacedEvent;
}

/** What the first of an event's two lines names. */
interface From extends EdlFrom {
  readonly source: string;
}

type Label = (frame: number) => string;

/** The same stretch of source and record, ending earlier. */
function cutAt<T extends { readonly in: number; readonly out: number; readonly sourceIn: number; readonly sourceOut: number; readonly transition?: Transition }>(piece: T, out: number): T {
  const length = out - piece.in;
  const short = { ...piece, out, sourceOut: piece.sourceIn + scale(piece.sourceOut - piece.sourceIn, length, piece.out - piece.in) };
  return piece.transition === undefined ? short : { ...short, transition: { ...piece.transition, frames: Math.min(piece.transition.frames, length) } };
}

/** What shots and pieces of sound share. */
const pointsOf = ({ source, in: from, out, sourceIn, sourceOut, transition, speed, file }: Span): Omit<AudioPiece, 'tracks' | 'channels' | 'withPicture'> => ({
  source,
  in: from,
  out,
  sourceIn,
  sourceOut,
  take: 0,
  ...(transition === undefined ? {} : { transition }),
  ...(speed === undefined ? {} : { speed }),
  ...(file === undefined ? {} : { file }),
});

/** The stretch goes on in the next event: a list was divided there. The source labels may have passed midnight in between. */
const goesOn = (before: { readonly source: string; readonly out: number }, span: Span): boolean =>
  span.continued && span.transition === undefined && before.out === span.in && before.source === span.source;

const longer = <T extends { readonly sourceOut: number }>(before: T, span: Span): T => ({ ...before, out: span.out, sourceOut: before.sourceOut + span.sourceOut - span.sourceIn });

const black = (from: number, to: number): Shot => ({ source: BLACK, in: from, out: to, sourceIn: 0, sourceOut: to - from, take: 0 });

/** Shots, and for each the event that brings it on; there is none for black in a hole. */
export interface Shown {
  readonly shots: readonly Shot[];
  readonly begun: readonly (PlacedEvent | undefined)[];
}

export class Picture {
  readonly #shots: Shot[] = [];
  readonly #begun: (PlacedEvent | undefined)[] = [];
  /** The latest event, until something else than it is on at its end. */
  #last: Span | undefined;

  /** Takes the next event in order of time. `from` is the source its first line names, where it has one. */
  add(span: Span, from: From | undefined, label: Label, say: SayAt): void {
    const shots = this.#shots;
    const end = shots.at(-1)?.out ?? 0;
    if (span.in > end) {
      const where = shots.length === 0 ? 'only sound before the first picture' : `nothing from ${label(end)} to ${label(span.in)}`;
      say('hole', 'record-in', `${where}: ${framesText(span.in - end)} of black`, 'warning');
      this.#push(black(end, span.in));
    } else {
      if (span.in < end) this.#overlap(span, end, label, say);
      this.#checkFrom(span, from, say);
    }
    this.#last = span;
    const before = shots.at(-1);
    if (before !== undefined && goesOn(before, span)) {
      shots[shots.length - 1] = { ...longer(before, span), ...(span.comments.length === 0 ? {} : { comments: [...(before.comments ?? []), ...span.comments] }) };
      return;
    }
    const { comments, clipName } = span;
    this.#push({ ...pointsOf(span), ...(clipName === undefined ? {} : { clipName }), ...(comments.length === 0 ? {} : { comments }) }, span.placed);
  }

  /** All shots, black to the end where sound goes on without picture. */
  close(length: number, label: Label, say: SayAt): Shown {
    const shots = this.#shots;
    const end = shots.at(-1)?.out ?? 0;
    if (end < length) {
      say('hole', 'record-out', `no picture from ${label(end)} to the end of the sound: ${framesText(length - end)} of black`, 'warning');
      this.#push(black(end, length));
    }
    return { shots, begun: this.#begun };
  }

  #push(shot: Shot, by?: PlacedEvent): void {
    this.#shots.push(shot);
    this.#begun.push(by);
  }

  #overlap(span: Span, end: number, label: Label, say: SayAt): void {
    say('overlap', 'record-in', `begins at ${label(span.in)}, ${framesText(end - span.in)} before the event before it ends; the later event counts`);
    const shots = this.#shots;
    this.#last = undefined;
    while ((shots.at(-1)?.in ?? -1) >= span.in) shots.pop();
    this.#begun.length = shots.length;
    const before = shots.at(-1);
    if (before !== undefined) shots[shots.length - 1] = cutAt(before, span.in);
  }

  #checkFrom(span: Span, from: From | undefined, say: SayAt): void {
    if (span.transition === undefined || from === undefined) return;
    const before = this.#shots.at(-1)?.source ?? BLACK;
    if (before === from.source) {
      if (this.#last !== undefined && before !== BLACK) checkPoint(this.#last, from, say);
      return;
    }
    if (this.#shots.length === 0) say('bad-event', 'record-in', `the list opens with a mix from ${from.reel}; read as a mix from black`, 'warning');
    else say('bad-event', 'record-in', `mixes from ${from.reel}, which is not what is on before it`, 'warning');
  }
}

/**
 * Whether a mix comes from the point at which the event before it ends. Some lists have that event's in-point there, or label
 * zero, and mean nothing by it (common practice, no source). Out-points that were worked out from a rate or speed may be a frame beside.
 */
function checkPoint({ placed: { event }, sourceIn, sourceOut }: Span, { reel, at, count }: From, say: SayAt): void {
  if (at === 0 || event.sourceCount.dropFrame !== count.dropFrame || event.sourceCount.rate !== count.rate) return;
  const day = framesPerDay(count);
  const away = (point: number): number => {
    const gap = Math.abs(point - at) % day;
    return Math.min(gap, day - gap);
  };
  const exact = event.speed === undefined && event.sourceOut - event.sourceIn === event.recordOut - event.recordIn;
  if (away(sourceIn) === 0 || Math.min(away(sourceOut), away(event.sourceOut)) <= (exact ? 0 : 1)) return;
  say('bad-event', 'record-in', `mixes from ${reel} at ${formatTimecode(at, count)}, and the event before it ends at ${formatTimecode(sourceOut % day, count)}; that counts`, 'warning');
}

/** A piece, and how to speak of its event. */
interface Heard {
  piece: AudioPiece;
  readonly say: SayAt;
}

export class Sound {
  readonly #heard: (Heard | undefined)[] = [];
  /** Index of the latest piece on each channel. */
  readonly #latest = new Map<number, number>();

  /** Takes the next event in order of time, with the program channels it records and the source's channels that feed them. */
  add(span: Span, { tracks, channels = tracks, picture }: Pick<EdlEvent, 'tracks' | 'channels' | 'picture'>, label: Label, say: SayAt): void {
    for (const track of tracks) this.#makeRoom(track, span, label, say);
    const last = this.#latest.get(tracks[0] as number);
    const before = last === undefined ? undefined : this.#heard[last];
    if (before !== undefined && goesOn(before.piece, span) && String(before.piece.tracks) === String(tracks)) {
      before.piece = longer(before.piece, span);
      return;
    }
    const own = channels.length === tracks.length ? channels : tracks;
    this.#heard.push({ piece: { ...pointsOf(span), tracks, channels: own, withPicture: picture }, say });
    for (const track of tracks) this.#latest.set(track, this.#heard.length - 1);
  }

  /** All pieces, in order of `in`, then of channel. Only sound that comes on with the picture has the picture's mix. */
  close(shots: readonly Shot[]): AudioPiece[] {
    const heard = this.#heard.filter((one) => one !== undefined).sort((a, b) => a.piece.in - b.piece.in || (a.piece.tracks[0] as number) - (b.piece.tracks[0] as number));
    let next = 0;
    return heard.map(({ piece, say }) => {
      while (next < shots.length && (shots[next] as Shot).in < piece.in) next += 1;
      const { transition, ...plain } = piece;
      if (transition === undefined && !piece.withPicture) return piece;
      if (isSoundOf(piece, shots[next])) return { ...piece, withPicture: true };
      if (comesOnWith(piece, shots[next])) return { ...piece, withPicture: false };
      if (transition !== undefined) say('left-out', 'record-in', `sound mixes in where the picture does not; read as a cut`);
      return { ...plain, withPicture: false };
    });
  }

  #makeRoom(track: number, span: Span, label: Label, say: SayAt): void {
    const last = this.#latest.get(track);
    const before = last === undefined ? undefined : this.#heard[last]?.piece;
    if (last === undefined || before === undefined || before.out <= span.in) return;
    say('overlap', 'record-in', `sound ${String(track)} begins at ${label(span.in)}, ${framesText(before.out - span.in)} before the event before it ends; the later event counts`);
    this.#heard[last] = before.in < span.in ? { piece: cutAt(before, span.in), say } : undefined;
  }
}
