/** One event as the lines it takes: event lines, channels, speed, comments, and the FCM lines around them. */
import { BLACK, type CutList, type Source } from '../../cutlist/model.js';
import { recordLabel } from '../../cutlist/record.js';
import { saidSpeed } from '../../cutlist/speed.js';
import { scale } from '../../timecode/exact.js';
import { convertFrames, type Count } from '../../timecode/rate.js';
import { formatTimecode } from '../../timecode/timecode.js';
import type { PictureStretch, SoundStretch, EventStretch, WithPicture } from './arrange.js';
import { AUXILIARY_REEL, audLine, channelCode, CUT, DISSOLVE, eventLine, fcmLine, labels, speedLine, speedTenths, wipeType } from './columns.js';
import { channelsComment, CONTINUED, fileComment, fromComment, otherComment, toComment } from './comments.js';

/** What an event line shows of a source. */
interface Reel {
  readonly source: Source | undefined;
  /** The comments that name it, where its clips have no names of their own. */
  readonly from: string | undefined;
  readonly to: string | undefined;
  /** Filled up to the width of its column. */
  readonly column: string;
}

/** Labels, the last of them kept: an event mostly begins where the one before ended. */
class Labels {
  #frame: number | undefined;
  #count: Count | undefined;
  #label = '';

  of(frame: number, count: Count): string {
    if (frame === this.#frame && count === this.#count) return this.#label;
    this.#frame = frame;
    this.#count = count;
    return (this.#label = formatTimecode(frame, count));
  }
}

/** What every event of a list needs. */
export class EventText {
  readonly #list: CutList;
  readonly #reels: ReadonlyMap<string, Reel>;
  readonly #unknown: Reel;
  readonly #record = new Labels();
  readonly #source = new Labels();

  /** `width` is that of the reel column. */
  constructor(list: CutList, reels: ReadonlyMap<string, string>, width: number) {
    this.#list = list;
    const sources = new Map(list.sources.map((source) => [source.id, source]));
    this.#reels = new Map([...reels].map(([id, reel]) => [id, reelOf(sources.get(id), reel.padEnd(width))]));
    this.#unknown = reelOf(undefined, AUXILIARY_REEL.padEnd(width));
  }

  /** Adds the lines of a shot's event. `before` is the shot before, for a mix; `more` are lines to stand behind its comments. */
  picture(out: string[], number: number, shot: PictureStretch, sound: WithPicture | undefined, before: PictureStretch | undefined, more: readonly string[]): void {
    const { transition } = shot;
    this.#lines(out, number, shot, true, sound, transition === undefined ? undefined : (before ?? NOTHING));
    this.#clips(out, shot, before);
    this.#facts(out, shot, sound);
    if (shot.comments !== undefined) for (const comment of shot.comments) out.push(otherComment(comment));
    for (const line of more) out.push(line);
    this.#restore(out, shot);
  }

  /** Adds the lines of an event that records sound alone. */
  sound(out: string[], number: number, piece: SoundStretch): void {
    const { transition, from } = piece;
    this.#lines(out, number, piece, false, piece, transition === undefined ? undefined : (from ?? NOTHING));
    this.#clips(out, piece, from);
    this.#facts(out, piece, piece);
    this.#restore(out, piece);
  }

  /** The record label of a frame of the list. */
  label(frame: number): string {
    return recordLabel(this.#list, frame);
  }

  #lines(out: string[], number: number, piece: EventStretch, picture: boolean, sound: WithPicture | undefined, before: EventStretch | undefined): void {
    const tracks = sound?.tracks ?? [];
    const channels = channelCode({ picture, tracks });
    const aud = audLine(tracks);
    const { recordStart, count: own } = this.#list;
    const recordIn = this.#record.of(recordStart + piece.in, own);
    const line = (side: EventStretch, type: string, frames: number, from: number, to: number, recordOut: string): void => {
      const { source, column } = this.#reel(side);
      const count = source?.count ?? own;
      const points = labels(this.#source.of(from, count), this.#source.of(to, count), recordIn, recordOut);
      out.push(eventLine(number, column, channels, type, frames, points));
      if (aud !== undefined) out.push(aud);
    };
    // The FCM line before an event says how its source columns count.
    this.#count(out, before ?? piece, own.dropFrame);
    if (before !== undefined) {
      // Black counts from label zero, however long it was on.
      const at = before.source === BLACK ? 0 : before.sourceOut;
      line(before, CUT, 0, at, at, recordIn);
      this.#count(out, piece, this.#drops(before));
    }
    const { transition } = piece;
    const type = transition === undefined ? CUT : transition.kind === 'dissolve' ? DISSOLVE : wipeType(transition.wipe ?? 0);
    const black = piece.source === BLACK;
    line(piece, type, transition?.frames ?? 0, black ? 0 : piece.sourceIn, black ? piece.out - piece.in : piece.sourceOut, this.#record.of(recordStart + piece.out, own));
    if (before !== undefined && !this.#isOnePoint(before, piece)) this.#speed(out, before, before.sourceOut);
    this.#speed(out, piece, piece.sourceIn);
  }

  /** A speed line for the end of `before` would be taken for that of `piece`: it names the same reel and label. The speed of `before` stands in its own event. */
  #isOnePoint(before: EventStretch, piece: EventStretch): boolean {
    const [from, to] = [this.#reel(before), this.#reel(piece)];
    const line = ({ source, column }: Reel, at: number): string => speedLine(column, 0, formatTimecode(at, source?.count ?? this.#list.count));
    return from.column === to.column && line(from, before.sourceOut) === line(to, piece.sourceIn);
  }

  #speed(out: string[], piece: EventStretch, at: number): void {
    const { source, column } = this.#reel(piece);
    const { count } = this.#list;
    const played = piece.sourceOut - piece.sourceIn;
    const recorded = piece.out - piece.in;
    if (source === undefined || recorded === 0) return;
    const { rate } = source.count;
    // Another rate at real speed is told by the rate itself, which rounding of the length would blur.
    const said = saidSpeed(piece, rate, count.rate);
    const own = said === undefined && rate.nominal !== count.rate.nominal && Math.abs(played - convertFrames(recorded, count.rate, rate)) <= 1;
    if (own) out.push(speedLine(column, scale(10, rate.num, rate.den), formatTimecode(at, source.count)));
    else if (said !== undefined) out.push(speedLine(column, Math.round((10 * said * rate.num) / rate.den), formatTimecode(at, source.count)));
    else if (played !== recorded) out.push(speedLine(column, speedTenths(played, recorded, count.rate), formatTimecode(at, source.count)));
  }

  #facts(out: string[], piece: EventStretch, sound: WithPicture | undefined): void {
    if (sound?.channels.some((channel, index) => channel !== sound.tracks[index]) === true) out.push(channelsComment(sound.channels));
    if (piece.continued === true) out.push(CONTINUED);
  }

  #count(out: string[], piece: EventStretch, current: boolean): void {
    if (this.#drops(piece) !== current) out.push(fcmLine(!current));
  }

  /** The list's own count follows after an event whose source counts otherwise. */
  #restore(out: string[], piece: EventStretch): void {
    const { dropFrame } = this.#list.count;
    if (this.#drops(piece) !== dropFrame) out.push(fcmLine(dropFrame));
  }

  #drops(piece: EventStretch): boolean {
    return (this.#reel(piece).source?.count ?? this.#list.count).dropFrame;
  }

  #reel(piece: EventStretch): Reel {
    return this.#reels.get(piece.source) ?? this.#unknown;
  }

  #to(piece: PictureStretch): string | undefined {
    return piece.clipName === undefined ? this.#reel(piece).to : nameComment(piece.clipName, toComment);
  }

  /** The names of the clips, and the file of the one that comes on: behind its name, or where it has none before the other's, whose file it would be taken for. */
  #clips(out: string[], piece: PictureStretch, before: PictureStretch | undefined): void {
    const file = piece.file === undefined ? undefined : this.#reel(piece).source?.files[piece.file];
    const first = file !== undefined && piece.transition !== undefined && this.#to(piece) === undefined;
    if (file !== undefined && first) out.push(fileComment(file.path));
    this.#names(out, piece, before);
    if (file !== undefined && !first) out.push(fileComment(file.path));
  }

  /** The comments that say what an event shows, and what a mix comes from. Black has no name. */
  #names(out: string[], piece: PictureStretch, before: PictureStretch | undefined): void {
    const from = piece.transition === undefined ? piece : before;
    if (from !== undefined && from.source !== BLACK) push(out, from.clipName === undefined ? this.#reel(from).from : nameComment(from.clipName, fromComment));
    if (piece.transition === undefined || piece.source === BLACK) return;
    push(out, this.#to(piece));
  }
}

/** What was on before the list begins. */
const NOTHING: EventStretch = { source: BLACK, in: 0, out: 0, sourceIn: 0, sourceOut: 0 };

const reelOf = (source: Source | undefined, column: string): Reel => ({
  source,
  from: nameComment(source?.name, fromComment),
  to: nameComment(source?.name, toComment),
  column,
});

const nameComment = (name: string | undefined, comment: (name: string) => string): string | undefined =>
  name === undefined || name.trim() === '' ? undefined : comment(name);

function push(out: string[], line: string | undefined): void {
  if (line !== undefined) out.push(line);
}
