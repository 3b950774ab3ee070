/** A list against its log, frame by frame: who was on air, at which source frame, and how each shot came on. */
import { matchSources } from '../compare/sources.js';
import { apart, digits, pairOf, sameCount, sameMix, type Pair } from '../compare/points.js';
import { recordLabel } from '../cutlist/corrections-where.js';
import { BLACK, type CutList, type Shot } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { Run } from '../cutlist/sync.js';
import { framesText } from '../cutlist/transitions.js';
import { problem } from '../problems.js';
import { countName, type Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { Findings } from './finding.js';
import type { PlacedList } from './list.js';

/** How many of the log's switches the list shows on their frame, in their way. */
export interface Accounted {
  readonly switches: number;
  readonly found: number;
}

/**
 * Reports (`not-as-logged`) every stretch of the record side where the list shows another source, or another frame of it, than
 * the log's own list; every transition that is not the log's; and running times that differ. Both count frames from their start.
 */
export function checkAgainst({ list, placeOf }: PlacedList, logged: CutList, findings: Findings): Accounted {
  const pair = pairOf(logged, list, matchSources(logged, list));
  const say = (message: string, shot: number, frame: number): void => { findings.at(problem('not-as-logged', message, placeOf(shot)), frame); };
  const switches = logged.shots.filter((shot) => shot.continues !== true).length;
  if (logged.count.rate !== list.count.rate) {
    say(`the log runs at ${countName(logged.count)}, the list at ${countName(list.count)}`, 0, 0);
    return { switches, found: 0 };
  }
  for (const one of stretches(pair)) {
    say(`from ${recordLabel(list, one.in)}, for ${framesText(one.out - one.in)}: ${one.text}`, one.shot, one.in);
  }
  const longer = list.frames - logged.frames;
  if (longer !== 0) say(`the list ends ${String(Math.abs(longer))} frames ${longer > 0 ? 'after' : 'before'} the log`, list.shots.length - 1, Math.min(list.frames, logged.frames));
  return { switches, found: countFound(pair, say) };
}

interface Stretch {
  readonly in: number;
  readonly out: number;
  /** Index of the list's shot. */
  readonly shot: number;
  readonly text: string;
}

/** Walks both lists from seam to seam; neighbours that differ alike are one stretch. */
function* stretches(pair: Pair): Generator<Stretch> {
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
      open = text === undefined ? undefined : { in: at, out, shot: j, text };
    }
    at = out;
    if (was.out === at) i += 1;
    if (is.out === at) j += 1;
  }
  if (open !== undefined) yield open;
}

function differenceAt(pair: Pair, was: Shot, is: Shot, at: number): string | undefined {
  const [onAir, shown] = [sourceText(pair.a.sources, was.source), sourceText(pair.b.sources, is.source)];
  if (pair.key.a(was.source) !== pair.key.b(is.source)) return `the log has ${onAir} on air, the list ${shown}`;
  if (was.source === BLACK) return undefined;
  const [from, to] = [frameOf(pair.a, was, pair.countA(was.source), at), frameOf(pair.b, is, pair.countB(is.source), at)];
  const [countA, countB] = [pair.countA(was.source), pair.countB(is.source)];
  const away = sameCount(countA, countB) ? apart(from, to, framesPerDay(countB)) : digits(from, countA) === digits(to, countB) ? 0 : Infinity;
  // Where rates differ, each shot begins on its own nearest frame.
  if (Math.abs(away) <= (countA.rate.nominal === pair.a.count.rate.nominal ? 0 : 1)) return undefined;
  const by = Number.isFinite(away) ? ` (${framesText(Math.abs(away))} ${away > 0 ? 'later' : 'earlier'})` : '';
  return `${shown} does not show the source frames that the log says${by}`;
}

const frameOf = (list: CutList, shot: Shot, count: Count, at: number): number => new Run(shot, list.count, count).at(at);

function countFound({ a: logged, b: list, key }: Pair, say: (message: string, shot: number, frame: number) => void): number {
  const byIn = new Map(list.shots.map((shot, index) => [shot.in, index]));
  let found = 0;
  for (const shot of logged.shots) {
    if (shot.continues === true) continue;
    const index = byIn.get(shot.in) ?? -1;
    const is = list.shots[index];
    if (is === undefined || key.a(shot.source) !== key.b(is.source)) continue;
    if (sameMix(shot.transition, is.transition)) found += 1;
    else say(`at ${recordLabel(list, shot.in)}: ${sourceText(list.sources, is.source)} comes on by ${mixText(is)}, and in the log by ${mixText(shot)}`, index, shot.in);
  }
  return found;
}

function mixText({ transition }: Shot): string {
  if (transition === undefined) return 'a cut';
  return `a ${transition.kind}${transition.wipe === undefined ? '' : ` ${String(transition.wipe)}`} of ${framesText(transition.frames)}`;
}
