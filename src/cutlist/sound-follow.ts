/** Sound after the shots changed: what follows the picture goes with its shot, all other sound and chosen silence stay where they were. */
import { convertFrames, type Count } from '../timecode/rate.js';
import { without } from '../without.js';
import { byTrack, goingOn, heardAt, regrouped, uncovered, type Heard } from './heard.js';
import { heldSound } from './held-sound.js';
import { BLACK, type AudioPiece, type CutList, type FrameRange, type Shot, type Source } from './model.js';
import { shotIndexAt } from './record.js';
import { follower, type Follow, type Made } from './shift.js';
import { sortedSound } from './sound-order.js';
import { isRealSpeed, playedFrames } from './speed.js';
import { Run } from './sync.js';
import { bounds, wholeShots, type WholeShot } from './whole-shots.js';
import { comesOnWith, soundWith } from './with-picture.js';

/**
 * The sound after the shots changed. Pieces that were cut with the picture get the points of what their shot became; of one that is
 * heard in a part of its shot only, the ends that lie on the shot's move with them. All others stay apart: what follows a shot
 * gives way to them and to silence that is held (`heldSound`), and a shot that comes to lie where sound followed another one is heard there. So sound never
 * overlaps, and no hole comes to be where there was none. `made` is in record order and covers the list.
 */
export function soundFollowing(list: CutList, made: readonly Made[]): AudioPiece[] {
  const owned = new Map<number, AudioPiece[]>();
  const apart: AudioPiece[] = [];
  let whole = true;
  ownersOf(list).forEach((index, nr) => {
    const piece = list.audio[nr] as AudioPiece;
    if (index === undefined) apart.push(piece);
    else {
      whole &&= piece.withPicture;
      if (owned.get(index)?.push(piece) === undefined) owned.set(index, [piece]);
    }
  });
  if (owned.size === 0) return apart;
  heardAgain(list, made, owned);
  const out = [...apart];
  const held = heldSound(list, apart);
  const parted = whole && held.size === 0 ? undefined : new Following(list, owned, held);
  for (const { shot, from } of made) {
    const pieces = owned.get(from) ?? [];
    if (shot === list.shots[from]) out.push(...pieces);
    else if (parted === undefined) out.push(...pieces.map((piece) => withPoints(piece, shot)));
    else out.push(...parted.of(shot, from));
  }
  return parted === undefined ? sortedSound(out) : goingOn(sortedSound(out));
}

/** For each piece of sound the index of the shot that it follows; undefined where it stands apart. */
function ownersOf(list: CutList): (number | undefined)[] {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const { shots } = list;
  const wholes = wholeShots(shots).flatMap((whole) => whole.map(() => whole));
  const ranges = soundRanges(list.audio);
  let index = 0;
  return list.audio.map((piece, nr) => {
    if (list.follows !== undefined && heardAt(list.follows, piece.in) === undefined) return undefined;
    while ((shots[index + 1]?.in ?? Infinity) <= piece.in) index += 1;
    const [shot, whole, range] = [shots[index], wholes[index], ranges[nr]];
    if (shot === undefined || whole === undefined || range === undefined) return undefined;
    const follows = piece.withPicture ? piece.in === shot.in : isPartOf(piece, range, shot, whole, list, sources.get(piece.source));
    return follows ? index : undefined;
  });
}

/** Where the sound begins and ends that a piece is of, in however many files it was recorded. */
function soundRanges(audio: readonly AudioPiece[]): FrameRange[] {
  const last = new Map<string, { in: number; out: number }>();
  return audio.map((piece) => {
    const tracks = piece.tracks.join(' ');
    const before = last.get(tracks);
    if (piece.continues === true && before?.out === piece.in) {
      before.out = piece.out;
      return before;
    }
    const range = { in: piece.in, out: piece.out };
    last.set(tracks, range);
    return range;
  });
}

/**
 * Whether a piece that was not cut with the picture is its shot's own sound, from the shot's beginning on or up to its end. Other sound begins and
 * ends where a row of the log says; the whole of a shot that is cut in would be cut with the picture if it followed. `range` is that of the
 * sound, `whole` the shot with all its pieces: a seam between two files is no beginning and no end.
 */
function isPartOf(piece: AudioPiece, range: FrameRange, shot: Shot, whole: WholeShot, list: CutList, source: Source | undefined): boolean {
  if (piece.transition !== undefined) return comesOnWith(piece, shot);
  const { in: into, out } = bounds(whole);
  const [begins, ends] = [range.in === into, range.out === out];
  if (range.in < into || range.out > out) return false;
  if (source === undefined || piece.source !== shot.source || piece.file !== shot.file || piece.take !== shot.take || piece.out > shot.out) return false;
  if (begins && ends && whole[0].shot.transition === undefined) return false;
  if (!begins && !ends) return false;
  return piece.sourceIn === new Run(shot, list.count, source.count).at(piece.in) || (!begins && isInSync(piece, shot, list.count, source.count));
}

/** Whether sound that begins inside a shot shows the moment that the picture does at real speed: each of the two begins on its own nearest source frame. */
function isInSync({ in: into, sourceIn }: AudioPiece, shot: Shot, list: Count, { rate }: Count): boolean {
  const isReal = isRealSpeed(shot.sourceOut - shot.sourceIn, playedFrames(shot.out - shot.in, rate, list.rate), rate, list.rate);
  return isReal && Math.abs(sourceIn - shot.sourceIn - convertFrames(into - shot.in, list.rate, rate)) <= (rate === list.rate ? 0 : 1);
}

/** Sound of shots in a list in which other sound, or silence, is held. */
class Following {
  readonly #follow: Follow;
  readonly #held: ReadonlyMap<number, readonly FrameRange[]>;
  /** All that follows a shot, by track. */
  readonly #following: ReadonlyMap<number, readonly Heard[]>;

  constructor(
    readonly list: CutList,
    readonly owned: ReadonlyMap<number, readonly AudioPiece[]>,
    held: ReadonlyMap<number, readonly FrameRange[]>,
  ) {
    this.#follow = follower(list);
    this.#held = held;
    this.#following = byTrack(sortedSound([...owned.values()].flat()));
  }

  /** The sound that follows what the shot at `from` became. */
  of(shot: Shot, from: number): AudioPiece[] {
    const old = this.list.shots[from] as Shot;
    const moved = this.#follow(old, shot.in, shot.out);
    const slip = shot.sourceIn - moved.sourceIn;
    const runsOn = shot.source === old.source && shot.file === old.file && shot.sourceOut - moved.sourceOut === slip;
    const wanted: Heard[] = [];
    for (const piece of this.owned.get(from) ?? []) {
      const into = piece.in === old.in ? shot.in : Math.max(piece.in, shot.in);
      const out = piece.out === old.out ? shot.out : Math.min(piece.out, shot.out);
      if (into < out) wanted.push(...heardOf(piece.withPicture || !runsOn ? withPoints(piece, shot) : slipped(piece, slip), into, out));
    }
    wanted.push(...this.#taken(shot, old));
    const left: Heard[] = [];
    for (const [track, heard] of tracksOf(wanted)) left.push(...uncovered(heard, this.#held.get(track) ?? []));
    return regrouped(joined(left)).map(({ heard: [first], tracks, channels }) => this.#piece(first, tracks, channels, shot)).filter((piece) => piece !== undefined);
  }

  /** Where the shot took frames in which sound followed another shot, and where what is held stands between them and its own. */
  #taken(shot: Shot, old: Shot): Heard[] {
    const sides = [
      { in: shot.in, out: Math.min(shot.out, old.in), edge: old.in },
      { in: Math.max(shot.in, old.out), out: shot.out, edge: old.out - 1 },
    ].filter((side) => side.in < side.out);
    const out: Heard[] = [];
    let piece: AudioPiece | undefined;
    for (const [track, following] of sides.length === 0 ? [] : this.#following) {
      for (const side of sides) {
        if (heardAt(this.#held.get(track) ?? [], side.edge) === undefined) continue;
        for (let index = shotIndexAt(following, side.in); index < following.length; index += 1) {
          const there = following[index] as Heard;
          const [into, end] = [Math.max(there.in, side.in), Math.min(there.out, side.out)];
          if (there.in >= side.out) break;
          if (into >= end) continue;
          piece ??= { ...without(withPoints(there.piece, shot), 'transition'), withPicture: false };
          out.push({ ...there, in: into, out: end, piece });
        }
      }
    }
    return out;
  }

  /** What is heard on some tracks; black is silence, but where the mix of sound to it is heard. */
  #piece(heard: Heard, tracks: readonly number[], channels: readonly number[], shot: Shot): AudioPiece | undefined {
    const { in: into, out, piece } = heard;
    const whole = into === shot.in && out === shot.out;
    if (piece.withPicture && whole) return tracks.length === piece.tracks.length ? piece : { ...piece, tracks, channels };
    const part: AudioPiece = { ...this.#follow(without(piece, 'transition', 'continues'), into, out), tracks, channels, take: shot.take, withPicture: false };
    if (into > shot.in) return part.source === BLACK ? undefined : part;
    const first = { ...part, sourceIn: shot.sourceIn, sourceOut: part.sourceOut + shot.sourceIn - part.sourceIn, ...(shot.continues === true ? { continues: true } : {}) };
    const mixed = { ...first, ...(shot.transition === undefined ? {} : { transition: shot.transition }) };
    if (piece.transition !== undefined && comesOnWith(mixed, shot)) return mixed;
    return part.source === BLACK ? undefined : first;
  }
}

const slipped = (piece: AudioPiece, frames: number): AudioPiece =>
  frames === 0 ? piece : { ...piece, sourceIn: piece.sourceIn + frames, sourceOut: piece.sourceOut + frames };

const heardOf = (piece: AudioPiece, into: number, out: number): Heard[] =>
  piece.tracks.map((track, index) => ({ in: into, out, track, channel: piece.channels[index] ?? track, piece }));

/** By track, each in order. */
function tracksOf(heard: readonly Heard[]): Map<number, Heard[]> {
  const tracks = new Map<number, Heard[]>();
  for (const one of heard) if (tracks.get(one.track)?.push(one) === undefined) tracks.set(one.track, [one]);
  for (const of of tracks.values()) of.sort((a, b) => a.in - b.in);
  return tracks;
}

/** Stretches of one piece that meet, as one. Those of a track are in order, and together. */
function joined(heard: readonly Heard[]): Heard[] {
  const out: Heard[] = [];
  for (const one of heard) {
    const before = out.at(-1);
    const goesOn = before?.piece === one.piece && before.track === one.track && before.channel === one.channel && before.out === one.in;
    if (goesOn) out[out.length - 1] = { ...before, out: one.out };
    else out.push(one);
  }
  return out;
}

/** Gives sound of the program, where the source that it stood for takes its place again, the channels from which that feeds the same tracks elsewhere. */
function heardAgain(list: CutList, made: readonly Made[], owned: Map<number, AudioPiece[]>): void {
  const again = made.filter(({ shot, from }) => shot.instead === undefined && list.shots[from]?.instead === shot.source);
  if (again.length === 0) return;
  const own = new Map([...list.audio].reverse().filter(({ withPicture }) => withPicture).map((piece) => [piece.source, piece]));
  for (const { shot, from } of again) {
    const feeds = own.get(shot.source);
    if (feeds === undefined) continue;
    owned.set(from, (owned.get(from) ?? []).map((piece) => ({
      ...piece, channels: piece.tracks.map((track, index) => feeds.channels[feeds.tracks.indexOf(track)] ?? piece.channels[index] ?? track),
    })));
  }
}

/** A piece with the points of the shot that it belongs to now. Sound that is heard in a part of its shot has the mix only where it had one. */
function withPoints(piece: AudioPiece, shot: Shot): AudioPiece {
  const whole = soundWith(shot, piece);
  return piece.withPicture ? whole : { ...(piece.transition === undefined ? without(whole, 'transition') : whole), withPicture: false };
}
