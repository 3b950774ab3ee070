/** Corrections of sound: what is heard on some program channels for a stretch, laid over what was there. */
import { fault, isFault, problemOf, type Fault, type Report } from '../problems.js';
import { without } from '../without.js';
import { framesPerDay } from '../timecode/timecode.js';
import { placeText, type Edits, type SoundEdit } from './edits.js';
import type { Kept } from './length.js';
import { fileOf } from './files.js';
import { pointOf } from './points.js';
import { byTrack, goingOn, heardAt, regrouped, uncovered, type Heard } from '../cutlist/heard.js';
import { BLACK, NONE, type AudioPiece, type CutList } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { shotIndexAt } from '../cutlist/record.js';
import { follower } from '../cutlist/shift.js';
import { sortedSound } from '../cutlist/sound-order.js';
import { sourceLength } from '../cutlist/sync.js';
import { sameMix } from '../cutlist/transitions.js';
import { comesOnWith, soundWith } from '../cutlist/with-picture.js';

/**
 * Lays sound over the corrected list; `ready` is the list after changes of length, in which expectations are looked up.
 * Undefined, and reported, when one does not fit.
 */
export function withSounds(list: CutList, ready: CutList, kept: Kept, edits: Edits, report: Report): CutList | undefined {
  if (edits.sounds.length === 0) return list;
  let sound = true;
  const bad = (edit: SoundEdit, { fault: code, message }: Fault): void => {
    sound = false;
    report(problemOf({ fault: code, message: `sound: ${message}` }, edit.by.place));
  };
  const was = byTrack(ready.audio);
  const laid: { edit: SoundEdit; piece: AudioPiece }[] = [];
  for (const edit of edits.sounds) {
    const piece = pieceOf(edit, list, ready, kept, was, report);
    if (isFault(piece)) bad(edit, piece);
    else laid.push({ edit, piece });
  }
  laid.sort((a, b) => a.piece.in - b.piece.in);
  const ends = new Map<number, { out: number; edit: SoundEdit }>();
  for (const { edit, piece } of laid) {
    for (const track of piece.tracks) {
      const before = ends.get(track);
      if (before !== undefined && before.out > piece.in) bad(edit, fault('bad-corrections', `on channel ${String(track)} it begins before what ${placeText(before.edit.by.place)} lays there ends`));
      ends.set(track, { out: piece.out, edit });
    }
  }
  return sound ? { ...list, audio: overlaid(list, laid.map(({ piece }) => piece)) } : undefined;
}

/** Tracks as lists have them, in their order, each with its own channel still. */
function upwards(tracks: readonly number[], channels: readonly number[]): Pick<AudioPiece, 'tracks' | 'channels'> {
  const pairs = tracks.map((track, index) => ({ track, channel: channels[index] ?? track })).sort((one, other) => one.track - other.track);
  return { tracks: pairs.map(({ track }) => track), channels: pairs.map(({ channel }) => channel) };
}

/** The piece of sound that a correction asks for; source `none` for silence. */
function pieceOf(edit: SoundEdit, list: CutList, ready: CutList, kept: Kept, was: ReadonlyMap<number, readonly Heard[]>, report: Report): AudioPiece | Fault {
  const into = kept.frameOf(edit.spot);
  const out = into + edit.frames;
  if (out > list.frames) return fault('bad-corrections', 'it reaches past the end of the list; only length changes the running time');
  const now = [...was.values()].map((heard) => heardAt(heard, into)).find((heard) => heard !== undefined && heard.piece.source === edit.expect)?.piece;
  const tracks = edit.tracks ?? now?.tracks ?? [1, 2];
  const name = (source: string): string => (source === NONE ? 'silence' : sourceText(list.sources, source));
  for (const track of tracks) {
    const heard = heardAt(was.get(track) ?? [], into)?.piece.source ?? NONE;
    if (heard !== edit.expect && !(edit.expect === NONE && heard === BLACK)) {
      return fault('correction-mismatch', `it expects ${name(edit.expect)} on channel ${String(track)}, and there is ${name(heard)}`);
    }
  }
  const channels = edit.channels ?? tracks.map((track) => now?.channels[now.tracks.indexOf(track)] ?? track);
  if (channels.length !== tracks.length) return fault('bad-corrections', `it has ${String(channels.length)} channels for ${String(tracks.length)} tracks`);
  const { take } = list.shots[shotIndexAt(list.shots, into)] ?? { take: 0 };
  const { source } = edit;
  const base = { source, in: into, out, ...upwards(tracks, channels), take };
  if (source === NONE) return { ...base, sourceIn: 0, sourceOut: 0, withPicture: false };
  const at = edit.sourceIn ?? pointOf(ready, source, base, report, edit.by);
  if (isFault(at)) return at;
  const found = list.sources.find(({ id }) => id === source);
  const sourceOut = at + (edit.sourceFrames ?? (found === undefined ? edit.frames : sourceLength(edit.frames, list.count, found.count)));
  const piece = { ...base, sourceIn: at, sourceOut, withPicture: false };
  return withPicture({ ...piece, ...fileOf(ready, piece, report, edit.by) }, edit, list);
}

/** Sound with the very points of a shot was cut with it; such sound, and what leaves the shot early, can have its transition. */
function withPicture(piece: AudioPiece, { mix }: SoundEdit, list: CutList): AudioPiece | Fault {
  const shot = list.shots[shotIndexAt(list.shots, piece.in)];
  const day = framesPerDay(list.sources.find(({ id }) => id === piece.source)?.count ?? list.count);
  // A label says nothing of the day.
  const samePoints = shot !== undefined && shot.in === piece.in && shot.out === piece.out && shot.source === piece.source
    && (shot.sourceIn - piece.sourceIn) % day === 0 && shot.sourceOut - shot.sourceIn === piece.sourceOut - piece.sourceIn;
  const mixes = sameMix(shot?.transition, mix);
  if (shot?.transition !== undefined && !samePoints && mixes && piece.source === shot.source && (shot.sourceIn - piece.sourceIn) % day === 0) {
    const early: AudioPiece = {
      ...without(piece, 'file'), sourceIn: shot.sourceIn, sourceOut: shot.sourceIn + piece.sourceOut - piece.sourceIn, take: shot.take,
      transition: shot.transition, ...(shot.file === undefined ? {} : { file: shot.file }),
    };
    if (comesOnWith(early, shot)) return early;
  }
  if (shot === undefined || !samePoints || !mixes) {
    return mix === undefined ? piece : fault('bad-corrections', 'sound comes on by a mix only with its picture, and no shot has this source, these points and this transition');
  }
  return without(soundWith(shot, piece), 'continues');
}

/** The list's sound with the new pieces, which are in order and apart on each track, laid over it. */
function overlaid(list: CutList, laid: readonly AudioPiece[]): AudioPiece[] {
  const over = byTrack(laid);
  const left = [...byTrack(list.audio)].flatMap(([track, heard]) => uncovered(heard, over.get(track) ?? []));
  const follow = follower(list);
  const pieces = regrouped(left).map(({ heard, tracks, channels }): AudioPiece => {
    const [first] = heard;
    const { piece } = first;
    const kept = { ...piece, tracks, channels };
    if (first.in === piece.in && first.out === piece.out) return tracks.length === piece.tracks.length ? piece : kept;
    const part = { ...follow(without(kept, 'transition', 'continues'), first.in, first.out), withPicture: false };
    // The beginning keeps the mix that it comes on by, once that is complete.
    const mixed = { ...part, ...(piece.transition === undefined ? {} : { transition: piece.transition }) };
    return comesOnWith(mixed, list.shots[shotIndexAt(list.shots, first.in)]) ? mixed : part;
  });
  return goingOn(joined(list, sortedSound([...pieces, ...laid.filter(({ source }) => source !== NONE)]), new Set(laid)));
}

/** New pieces become one with what they go on from or to, but not with what comes on by a mix: that leaves its shot where it did. A label says nothing of the day. */
function joined(list: CutList, pieces: readonly AudioPiece[], fresh: ReadonlySet<AudioPiece>): AudioPiece[] {
  const out: AudioPiece[] = [];
  const lastOn = new Map<string, number>();
  const isFresh: boolean[] = [];
  const days = new Map(list.sources.map(({ id, count }) => [id, framesPerDay(count)]));
  for (const piece of pieces) {
    const key = `${piece.tracks.join(' ')}/${piece.channels.join(' ')}`;
    const index = lastOn.get(key);
    const before = index === undefined ? undefined : out[index];
    const isPlain = (one: AudioPiece): boolean => one.sourceOut - one.sourceIn === one.out - one.in && one.transition === undefined && !one.withPicture;
    const goesOn = index !== undefined && before !== undefined && before.out === piece.in && before.source === piece.source && before.file === piece.file
      && (before.sourceOut - piece.sourceIn) % (days.get(piece.source) ?? 1) === 0 && isPlain(before) && isPlain(piece);
    if (goesOn && (fresh.has(piece) || isFresh[index] === true)) {
      out[index] = { ...before, out: piece.out, sourceOut: before.sourceOut + piece.out - piece.in };
      isFresh[index] = true;
      continue;
    }
    lastOn.set(key, out.length);
    isFresh.push(fresh.has(piece));
    out.push(piece);
  }
  return out;
}
