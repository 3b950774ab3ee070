/** A list against its log, frame by frame: who was on air, at which source frame, how each shot came on, and what was heard. */
import { carriedBy } from '../compare/carried.js';
import { matchSources } from '../compare/sources.js';
import { framesApart, pairOf } from '../compare/points.js';
import { BLACK, type CutList, type Shot } from '../cutlist/model.js';
import { sourceTexts } from '../cutlist/naming.js';
import { recordLabel, shotIndexAt } from '../cutlist/record.js';
import { Run } from '../cutlist/sync.js';
import { framesText } from '../frames-text.js';
import { sameMix, transitionText } from '../cutlist/transitions.js';
import { wholeShots } from '../cutlist/whole-shots.js';
import { problem } from '../problems.js';
import { countName, type Count } from '../timecode/rate.js';
import { markersAgainst, soundAgainst, type Named, type Told } from './against-sound.js';
import type { Checked } from './check.js';
import type { Spot, Whole } from './whole.js';

/** The list that a log gives. */
export interface Logged {
  readonly list: CutList;
  /** Whether it is said what the log sounds like, be it silence (default: where its list has sound). */
  readonly hasSound?: boolean;
}

/** How many of the log's switches the list shows on their frame, in their way. */
export interface Accounted {
  readonly switches: number;
  readonly found: number;
}

/**
 * Reports every stretch of the record side where the list shows another source, or another frame of it, than the log's own list,
 * every transition that is not the log's, and running times that differ (`not-as-logged`); what sounds otherwise (`sound-not-as-logged`,
 * where it is said what the log sounds like), and markers (`markers-not-as-logged`, where the list's format carries them). Both count frames from
 * their start. Each file of the list is told of its own shots, and how many of the log's switches lie in it.
 */
export function checkAgainst(whole: Whole, { list: logged, hasSound = logged.audio.length > 0 }: Logged): void {
  const { files, list, spotOf, soundSpotOf } = whole;
  const spotAt = (frame: number): Spot => spotOf(shotIndexAt(list.shots, frame));
  const say: Say = ({ code, message, at, ...severity }) => {
    const { file, place, begin } = (code === 'sound-not-as-logged' ? soundSpotOf(at) : undefined) ?? spotAt(at);
    file.findings.add({ ...problem(code, message, place), ...severity, at: at - begin });
  };
  const found = switchesFound(whole, logged, hasSound, say);
  const accounted = new Map<Checked, Accounted>(files.map((file) => [file, { switches: 0, found: 0 }]));
  for (const [{ shot }] of wholeShots(logged.shots)) {
    const { file } = spotAt(shot.in);
    const { switches, found: before } = accounted.get(file) ?? { switches: 0, found: 0 };
    accounted.set(file, { switches: switches + 1, found: before + (found.has(shot) ? 1 : 0) });
  }
  for (const [file, counts] of accounted) file.accounted = counts;
}

type Say = (told: Told) => void;

/** Reports the differences, and gives the log's shots that the list shows on their frame, in their way. */
function switchesFound({ files: [file], list }: Whole, logged: CutList, hasSound: boolean, say: Say): ReadonlySet<Shot> {
  const wrong = (message: string, at: number): void => {
    say({ code: 'not-as-logged', message, at });
  };
  if (logged.count.rate !== list.count.rate) {
    wrong(`the log runs at ${countName(logged.count)}, the list at ${countName(list.count)}`, 0);
    return new Set();
  }
  const pair: Named = { ...pairOf(logged, list, matchSources(logged, list)), nameA: sourceTexts(logged.sources), nameB: sourceTexts(list.sources) };
  const seen = [...stretches(pair)];
  for (const one of seen) wrong(`from ${recordLabel(list, one.in)}, for ${framesText(one.out - one.in)}: ${one.text}`, one.in);
  const longer = list.frames - logged.frames;
  if (longer !== 0) wrong(`the list ends ${framesText(Math.abs(longer))} ${longer > 0 ? 'after' : 'before'} the log`, Math.min(list.frames, logged.frames));
  const shots = asLogged(pair, wrong);
  const carried = carriedBy('log', file?.kind === 'edl' ? 'edl' : 'otio', logged, list);
  for (const told of soundAgainst(pair, carried, seen, hasSound)) say(told);
  for (const told of markersAgainst(pair, carried)) say(told);
  return shots;
}

interface Stretch {
  readonly in: number;
  readonly out: number;
  readonly text: string;
}

/** Walks both lists from seam to seam; neighbours that differ alike are one stretch. */
function* stretches(pair: Named): Generator<Stretch> {
  const { a: logged, b: list } = pair;
  const end = Math.min(logged.frames, list.frames);
  let open: Stretch | undefined;
  let [i, j, at] = [0, 0, 0];
  while (at < end) {
    const [was, is] = [logged.shots[i], list.shots[j]];
    if (was === undefined || is === undefined) return;
    const out = Math.min(was.out, is.out, end);
    const text = differenceAt(pair, was, is, at);
    if (text !== undefined && open?.out === at && open.text === text) open = { ...open, out };
    else {
      if (open !== undefined) yield open;
      open = text === undefined ? undefined : { in: at, out, text };
    }
    at = out;
    if (was.out === at) i += 1;
    if (is.out === at) j += 1;
  }
  if (open !== undefined) yield open;
}

function differenceAt(pair: Named, was: Shot, is: Shot, at: number): string | undefined {
  const [onAir, shown] = [pair.nameA(was.source), pair.nameB(is.source)];
  if (pair.key.a(was.source) !== pair.key.b(is.source)) return `the log has ${onAir} on air, the list ${shown}`;
  if (was.source === BLACK) return undefined;
  const [from, to] = [frameOf(pair.a, was, pair.countA(was.source), at), frameOf(pair.b, is, pair.countB(is.source), at)];
  const away = framesApart(pair, was.source, from, is.source, to);
  // Where rates differ, each shot begins on its own nearest frame.
  if (Math.abs(away) <= (pair.countA(was.source).rate.nominal === pair.a.count.rate.nominal ? 0 : 1)) return undefined;
  return `${shown} does not show the source frames that the log says (${framesText(Math.abs(away))} ${away > 0 ? 'later' : 'earlier'})`;
}

const frameOf = (list: CutList, shot: Shot, count: Count, at: number): number => new Run(shot, list.count, count).at(at);

function asLogged({ a: logged, b: list, key, nameB }: Named, wrong: (message: string, frame: number) => void): ReadonlySet<Shot> {
  const byIn = new Map(list.shots.map((shot) => [shot.in, shot]));
  const found = new Set<Shot>();
  for (const [{ shot }] of wholeShots(logged.shots)) {
    const is = byIn.get(shot.in);
    if (is === undefined || key.a(shot.source) !== key.b(is.source)) continue;
    if (sameMix(shot.transition, is.transition)) found.add(shot);
    else wrong(`at ${recordLabel(list, shot.in)}: ${nameB(is.source)} comes on by a ${transitionText(is.transition)}, and in the log by a ${transitionText(shot.transition)}`, shot.in);
  }
  return found;
}
