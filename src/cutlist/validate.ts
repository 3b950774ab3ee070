/** The rules that every cut list obeys, whoever made it. Property tests lean on them; `check` reports in its own words. */
import { isBetweenTakes } from './gap.js';
import { BLACK, PROGRAM, type CutList, type Shot, type Source } from './model.js';
import { isFrame, isInsideMix, nr, rangeFaults, type AddFault } from './validate-parts.js';
import { soundFaults } from './validate-sound.js';

/**
 * Every rule of the model that a list breaks, as one sentence each; empty for a sound list. `limit` sentences at most.
 *
 * The rules, beside the types: shots cover [0, frames) in order without hole or overlap; a take begins and ends with a
 * shot, and outside takes there is only black; sources are known; black counts from frame zero, at the list's speed; a
 * transition is no longer than its shot; sound of one track never overlaps, and sound cut with the picture has the
 * points of its shot; everything is in order and within the list.
 */
export function listFaults(list: CutList, limit = 50): string[] {
  const faults: string[] = [];
  const add = (text: string): void => {
    if (faults.length < limit) faults.push(text);
  };
  const known = new Map(list.sources.map((source) => [source.id, source]));
  if (!isFrame(list.frames)) add(`the list's length is ${String(list.frames)}`);
  if (!Number.isSafeInteger(list.recordStart)) add(`recordStart is ${String(list.recordStart)}`);
  sourceFaults(list, add);
  takeFaults(list, add);
  shotFaults(list, known, add);
  soundFaults(list, known, add);
  let last = 0;
  for (const [index, marker] of list.markers.entries()) {
    if (!isFrame(marker.at) || marker.at > list.frames) add(`marker ${nr(index)} lies on ${String(marker.at)}, outside the list`);
    if (marker.at < last) add(`marker ${nr(index)} lies before the one before it`);
    last = marker.at;
  }
  angleFaults(list, known, add);
  return faults;
}

function sourceFaults(list: CutList, add: AddFault): void {
  const seen = new Set<string>();
  for (const [index, source] of list.sources.entries()) {
    const id = source.id.toLowerCase();
    if (seen.has(id)) add(`source '${source.id}' is there twice`);
    if (id === BLACK) add(`'${source.id}' is black, and black is no source`);
    seen.add(id);
    if (source.id === PROGRAM && index !== list.sources.length - 1) add('the program recording is not the last source');
    if (!Number.isSafeInteger(source.offset)) add(`source '${source.id}' has the offset ${String(source.offset)}`);
    for (const start of source.starts) if (!Number.isSafeInteger(start)) add(`source '${source.id}' starts on ${String(start)}`);
    for (const file of source.files) {
      if (file.start !== undefined && !Number.isSafeInteger(file.start)) add(`${file.path} starts on ${String(file.start)}`);
      if (file.frames !== undefined && !isFrame(file.frames)) add(`${file.path} has ${String(file.frames)} frames`);
    }
  }
}

function takeFaults(list: CutList, add: AddFault): void {
  const bounds = new Set(list.shots.flatMap((shot) => [shot.in, shot.out]));
  let end = 0;
  for (const [index, take] of list.takes.entries()) {
    if (!isFrame(take.in) || !isFrame(take.out) || take.in >= take.out) add(`take ${nr(index)} goes from ${String(take.in)} to ${String(take.out)}`);
    if (take.in < end) add(`take ${nr(index)} begins on ${String(take.in)}, before the take before it ends`);
    if (take.out > list.frames) add(`take ${nr(index)} ends on ${String(take.out)}, after the list`);
    for (const bound of [take.in, take.out]) if (!bounds.has(bound)) add(`a bound of take ${nr(index)}, ${String(bound)}, lies inside a shot`);
    if (!Number.isSafeInteger(take.logIn)) add(`take ${nr(index)} has the log frame ${String(take.logIn)}`);
    end = take.out;
  }
}

function shotFaults(list: CutList, known: ReadonlyMap<string, Source>, add: AddFault): void {
  let end = 0;
  let before: Shot | undefined;
  for (const [index, shot] of list.shots.entries()) {
    const name = `shot ${nr(index)}`;
    if (shot.in !== end) add(`${name} begins on ${String(shot.in)}, and the shot before it ends on ${String(end)}`);
    rangeFaults(shot, name, known, add);
    const source = known.get(shot.source);
    if (source?.picture === false) add(`${name} is on '${shot.source}', which has no picture`);
    const take = list.takes[shot.take];
    if (take === undefined) add(`${name} is in take ${nr(shot.take)}, which is not there`);
    else if ((shot.in < take.in || shot.out > take.out) && !isGap(shot, list)) add(`${name} reaches out of take ${nr(shot.take)}`);
    if (before !== undefined && shot.take < before.take) add(`${name} is in an earlier take than the shot before it`);
    if (shot.transition !== undefined) isInsideMix(shot.transition, shot.out - shot.in, name, add);
    if (shot.instead !== undefined) {
      if (shot.source !== PROGRAM && shot.source !== BLACK) add(`${name} shows '${shot.source}' instead of '${shot.instead}'`);
      if (shot.instead === shot.source) add(`${name} shows '${shot.source}' instead of itself`);
      if (shot.instead !== BLACK && !known.has(shot.instead)) add(`${name} stands for '${shot.instead}', which is not known`);
    }
    if (shot.continues === true) continuesFaults(shot, before, name, add);
    if (shot.event !== undefined && !(Number.isSafeInteger(shot.event.number) && shot.event.number >= 1)) add(`${name} has the event number ${String(shot.event.number)}`);
    end = shot.out;
    before = shot;
  }
  if (end !== list.frames) add(`the shots end on ${String(end)}, and the list has ${String(list.frames)} frames`);
}

/** Black between two takes, and in none. */
const isGap = (shot: Shot, { takes }: CutList): boolean =>
  isBetweenTakes(shot, takes) && shot.in >= (takes[shot.take - 1]?.out ?? 0) && shot.out <= (takes[shot.take + 1]?.in ?? Infinity);

function continuesFaults(shot: Shot, before: Shot | undefined, name: string, add: AddFault): void {
  const onAir = shot.instead ?? shot.source;
  if (before === undefined) add(`${name} continues, and there is nothing before it`);
  else if ((before.instead ?? before.source) !== onAir) add(`${name} continues '${onAir}', and before it '${before.instead ?? before.source}' was on air`);
  else if (before.take !== shot.take) add(`${name} continues a shot of another take`);
  if (shot.transition !== undefined) add(`${name} continues, and has a transition`);
}

function angleFaults(list: CutList, known: ReadonlyMap<string, Source>, add: AddFault): void {
  for (const angle of list.angles ?? []) {
    if (!known.has(angle.source)) add(`an angle is on '${angle.source}', which is not known`);
    let end = 0;
    for (const [index, piece] of angle.pieces.entries()) {
      const name = `piece ${nr(index)} of the angle '${angle.source}'`;
      rangeFaults({ ...piece, source: angle.source }, name, known, add);
      if (piece.in < end) add(`${name} begins before the one before it ends`);
      if (piece.out > list.frames) add(`${name} ends after the list`);
      if (list.takes[piece.take] === undefined) add(`${name} is in take ${nr(piece.take)}, which is not there`);
      end = piece.out;
    }
  }
}
