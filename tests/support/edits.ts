/** Random changes of a sound list, as an editor might have made them: the second list of a comparison. */
import fc from 'fast-check';
import { adjustList } from '../../src/cutlist/adjust.js';
import { BLACK, type CutList, type Shot } from '../../src/cutlist/model.js';
import { follower, type Made } from '../../src/cutlist/shift.js';
import { soundFollowing } from '../../src/cutlist/sound-follow.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { without } from '../../src/without.js';

type Edit = (list: CutList) => CutList;

/** Shots replaced by others that still cover the list, with the sound that follows. */
function withMade(list: CutList, made: readonly Made[]): CutList {
  return { ...list, shots: made.map(({ shot }) => shot), audio: soundFollowing(list, made) };
}

const pick = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
const at = (list: CutList, where: number): number => Math.floor(where * list.shots.length);

/** One shot starts elsewhere. */
const moved = fc.tuple(pick, fc.integer({ min: -40, max: 40 })).map(([where, by]): Edit => (list) => {
  const index = at(list, where);
  const [before, shot] = [list.shots[index - 1], list.shots[index] as Shot];
  if (before === undefined || before.take !== shot.take) return list;
  const into = Math.max(before.in + 1, Math.min(shot.out - 1, shot.in + by));
  const follow = follower(list);
  return withMade(list, list.shots.map((one, from) => ({ from, shot: from === index - 1 ? follow(one, one.in, into) : from === index ? follow(one, into, one.out) : one })));
});

/** One shot shows another source, at points of its own. */
const resourced = fc.tuple(pick, pick, fc.nat({ max: 100_000 })).map(([where, which, point]): Edit => (list) => {
  const index = at(list, where);
  const source = list.sources[Math.floor(which * list.sources.length)];
  if (source === undefined) return list;
  return withMade(list, list.shots.map((one, from) => {
    if (from !== index || one.source === source.id) return { from, shot: one };
    const sourceIn = point % framesPerDay(source.count);
    return { from, shot: { ...one, source: source.id, sourceIn, sourceOut: sourceIn + one.out - one.in, file: 0 } };
  }));
});

/** One shot is slipped: other source points, and now and then another speed. */
const slipped = fc.tuple(pick, fc.integer({ min: 0, max: 50 }), fc.nat({ max: 3 })).map(([where, by, more]): Edit => (list) => {
  const index = at(list, where);
  return withMade(list, list.shots.map((one, from) => (from !== index || one.source === BLACK ? { from, shot: one } : { from, shot: { ...one, sourceIn: one.sourceIn + by, sourceOut: one.sourceOut + by + more } })));
});

/** A transition comes, goes or changes. */
const mixed = fc.tuple(pick, fc.nat({ max: 30 }), fc.boolean()).map(([where, frames, wipe]): Edit => (list) => {
  const index = at(list, where);
  return withMade(list, list.shots.map((one, from) => {
    if (from !== index || one.continues === true) return { from, shot: one };
    const fit = Math.min(frames, one.out - one.in);
    const { transition: _old, ...rest } = one;
    void _old;
    return { from, shot: fit === 0 ? rest : { ...rest, transition: wipe ? { kind: 'wipe', frames: fit, wipe: 17, inOffset: 0 } : { kind: 'dissolve', frames: fit, inOffset: fit } } };
  }));
});

/** Time goes or comes: a shot is taken out, or one grows, and the rest moves along. No takes from logs: their clock would break. */
const rippled = fc.tuple(pick, fc.integer({ min: -30, max: 30 }), fc.boolean()).map(([where, by, whole]): Edit => (list) => {
  const index = at(list, where);
  const old = list.shots[index] as Shot;
  if (list.shots.length < 2) return list;
  const length = whole ? 0 : Math.max(1, old.out - old.in + by);
  const change = length - (old.out - old.in);
  const follow = follower(list);
  const made = list.shots.flatMap((one, from): Made[] => {
    if (from === index) return length === 0 ? [] : [{ from, shot: follow(one, one.in, one.in + length) }];
    return [{ from, shot: from < index ? one : { ...one, in: one.in + change, out: one.out + change } }];
  }).map(({ from, shot }) => ({ from, shot: { ...shot, take: 0 } }));
  const frames = list.frames + change;
  const cut = list.audio.every(({ withPicture }) => withPicture);
  return {
    ...list, frames, shots: made.map(({ shot }) => shot), takes: [{ in: 0, out: frames, logIn: 0 }],
    audio: cut ? soundFollowing(list, made) : list.audio.filter(({ withPicture }) => !withPicture).flatMap((piece) => (piece.in >= frames ? [] : [{ ...follow(without(piece, 'transition'), piece.in, Math.min(piece.out, frames)), take: 0 }])),
    markers: list.markers.map((marker) => ({ ...marker, at: Math.min(frames, marker.at >= old.out ? marker.at + change : marker.at) })).sort((one, other) => one.at - other.at),
  };
});

const adjusted = fc.tuple(fc.nat({ max: 12 }), fc.nat({ max: 12 }), fc.nat({ max: 10 })).map(([lead, minShot, dissolve]): Edit => (list) =>
  adjustList(list, { lead: { all: lead }, minShot, ...(dissolve === 0 ? {} : { dissolveAll: dissolve }) }, () => undefined));

const marked = fc.tuple(pick, fc.integer({ min: -20, max: 20 }), fc.constantFrom('The stock', 'Wine, "red"', ' two\nlines ', '')).map(([where, by, note]): Edit => (list) => {
  const markers = list.markers.map((marker, index) => (index === Math.floor(where * list.markers.length) ? { at: Math.max(0, Math.min(list.frames, marker.at + by)), note: by % 2 === 0 ? note : marker.note } : marker));
  const added = by > 10 ? [{ at: Math.floor(where * list.frames), note }] : [];
  return { ...list, markers: [...markers, ...added].sort((one, other) => one.at - other.at) };
});

/** Other labels for the same thing, and facts. */
const labelled = fc.tuple(fc.nat({ max: 2_000_000 }), fc.boolean()).map(([start, title]): Edit => (list) => ({ ...list, recordStart: start % framesPerDay(list.count), ...(title ? { title: 'Harbour Kitchen 14, corrected' } : {}) }));

/** Sound of its own is cut up, comes from elsewhere for a while, or stops. */
const sounding = fc.tuple(pick, pick, pick, fc.boolean()).map(([from, to, which, silent]): Edit => (list) => {
  const [a, b] = [Math.floor(Math.min(from, to) * list.frames), Math.ceil(Math.max(from, to) * list.frames)];
  const source = list.sources[Math.floor(which * list.sources.length)];
  if (a >= b || source === undefined || list.audio.some(({ withPicture }) => withPicture)) return list;
  const follow = follower(list);
  const rest = list.audio.map((piece) => without(piece, 'transition')).flatMap((piece) => [
    ...(piece.in < a ? [follow(piece, piece.in, Math.min(piece.out, a))] : []),
    ...(piece.out > b ? [follow(piece, Math.max(piece.in, b), piece.out)] : []),
  ]);
  const tracks = list.audio[0]?.tracks ?? [1, 2];
  const fresh = silent ? [] : [{ source: source.id, in: a, out: b, sourceIn: 500, sourceOut: 500 + b - a, tracks, channels: tracks.map(() => 1), take: 0, withPicture: false }];
  return { ...list, audio: [...rest, ...fresh].sort((one, other) => one.in - other.in) };
});

/** One to six changes. */
export const arbitraryEdits: fc.Arbitrary<Edit> = fc
  .array(fc.oneof(moved, resourced, slipped, mixed, rippled, adjusted, marked, labelled, sounding), { minLength: 1, maxLength: 6 })
  .map((edits) => (list) => edits.reduce((now, edit) => edit(now), list));
