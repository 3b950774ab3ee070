/** Shots that are too short: a double tap goes to a neighbour. */
import { nearestRepeat } from '../timecode/day.js';
import type { IsGap } from './gap.js';
import { BLACK, type Shot } from './model.js';
import { without, type Follow, type Made, type Refit } from './shift.js';
import { bounds, fitted, lastOf, type WholeShot } from './whole-shots.js';

/** Who takes the frames of a shot that is too short. */
export type Absorb = 'previous' | 'next' | 'longer';

/** What tells whether two shots of one source are one that runs on. */
export interface Joins {
  /** Whether shots that play from two files may be one: where it is known which frames these hold, so that it can be divided again. */
  readonly isSeam: (left: Shot, right: Shot) => boolean;
  /** Whether the second of two shots is the first going on, where a replacement of one of them, or of both, hides it. */
  readonly runsOn: (left: Made, right: Made) => boolean;
  /** Frames of 24 h of a source: labels of a list that was read wrap. */
  readonly day: (source: string) => number;
}

/**
 * Gives every shot of fewer than `least` frames to a neighbour in its take: to the previous one, the next one, or the
 * longer of the two (the previous when they are equal); a take's first goes to the next, its last to the previous. In order
 * of time, with the lengths as they have become; pieces of one shot in several files count as one. Where the neighbours on both sides
 * then are one source that runs on, they become one shot. A shot alone in its take stays, and is counted; so does the black between takes.
 * A transition whose outgoing shot went with nothing before it in its take becomes a cut.
 */
export function absorbShort(shots: readonly WholeShot[], least: number, absorb: Absorb, isGap: IsGap, follow: Follow, refit: Refit, joins: Joins, say: (option: string, message: string) => void): WholeShot[] {
  const out: WholeShot[] = [];
  const count = { previous: 0, next: 0, alone: 0, joined: 0, cuts: 0 };
  let begin: number | undefined;
  let seam = false;
  shots.forEach((given, index) => {
    if (isGap(given[0].shot)) {
      out.push(given);
      seam = false;
      return;
    }
    const { take } = given[0].shot;
    const grown = begin === undefined ? given : fitted(given, begin, bounds(given).out, refit);
    const last = out.at(-1);
    const before = last?.[0].shot.take === take ? last : undefined;
    const next = shots[index + 1];
    const after = next?.[0].shot.take === take && !isGap(next[0].shot) ? next : undefined;
    // What a mix came from is gone with the first shot of the take.
    const lone = begin !== undefined && before === undefined && grown[0].shot.transition !== undefined;
    const whole = lone ? cutIn(grown) : grown;
    begin = undefined;
    if (lengthOf(whole) < least) {
      const to = neighbour(absorb, before && lengthOf(before), after && lengthOf(after));
      if (to !== undefined) {
        count[to] += 1;
        seam = true;
        if (to === 'next') begin = bounds(whole).in;
        else if (before !== undefined) out[out.length - 1] = fitted(before, bounds(before).in, bounds(whole).out, refit);
        return;
      }
      count.alone += 1;
    }
    const one = seam && before !== undefined ? joined(before, whole, follow, joins) : undefined;
    if (one !== undefined) {
      count.joined += 1;
      out[out.length - 1] = one;
    } else {
      out.push(whole);
      if (lone) count.cuts += 1;
    }
    seam = false;
  });
  const gone = count.previous + count.next;
  say('--min-shot', [
    `${String(gone)} ${gone === 1 ? 'shot' : 'shots'} under ${String(least)} frames went to a neighbour (${String(count.previous)} to the previous one, ${String(count.next)} to the next)`,
    ...(count.joined > 0 ? [`${count.joined === 1 ? 'once' : `${String(count.joined)} times`} the shots on both sides became one`] : []),
    ...(count.cuts > 0 ? [`${String(count.cuts)} ${count.cuts === 1 ? 'transition' : 'transitions'} became ${count.cuts === 1 ? 'a cut' : 'cuts'}, because what mixed there is gone`] : []),
    ...(count.alone > 0 ? [`${String(count.alone)} stay, alone in their take`] : []),
  ].join(', '));
  return out;
}

function neighbour(absorb: Absorb, before: number | undefined, after: number | undefined): 'previous' | 'next' | undefined {
  if (before === undefined) return after === undefined ? undefined : 'next';
  if (after === undefined) return 'previous';
  if (absorb === 'longer') return after > before ? 'next' : 'previous';
  return absorb;
}

const lengthOf = (whole: WholeShot): number => bounds(whole).out - bounds(whole).in;

const cutIn = ([{ shot, from }, ...rest]: WholeShot): WholeShot => [{ shot: without(shot, 'transition'), from }, ...rest];

/** The two as one shot when the second is the first going on: where the last piece of the one and the first piece of the other are one. */
function joined(left: WholeShot, right: WholeShot, follow: Follow, joins: Joins): WholeShot | undefined {
  const end = lastOf(left);
  const shot = asOne(end.shot, right[0].shot, follow, joins);
  if (shot === undefined) {
    const [{ shot: begins, from }, ...more] = right;
    return joins.runsOn(end, right[0]) ? [...left, { shot: { ...without(begins, 'transition', 'event'), continues: true }, from }, ...more] : undefined;
  }
  const [first, ...rest] = [...left.slice(0, -1), { shot, from: end.from }, ...right.slice(1)];
  return first === undefined ? undefined : [first, ...rest];
}

/** One source, and the points meet (to a frame, where rates differ). */
function asOne(left: Shot, right: Shot, follow: Follow, joins: Joins): Shot | undefined {
  if (left.source !== right.source || left.instead !== right.instead || (left.file !== right.file && !joins.isSeam(left, right))) return undefined;
  const whole = follow(left, left.in, right.out);
  if (left.source === BLACK) return whole;
  const unity = left.sourceOut - left.sourceIn === left.out - left.in && right.sourceOut - right.sourceIn === right.out - right.in;
  const near = (a: number, b: number): boolean => Math.abs(nearestRepeat(a, joins.day(left.source), b) - b) <= (unity ? 0 : 1);
  return near(left.sourceOut, right.sourceIn) && near(whole.sourceOut, right.sourceOut) ? whole : undefined;
}
