/** Shots that are too short: a double tap goes to a neighbour. */
import type { IsGap } from './gap.js';
import { BLACK, type Shot } from './model.js';
import { without, type Follow, type Made } from './shift.js';

/** Who takes the frames of a shot that is too short. */
export type Absorb = 'previous' | 'next' | 'longer';

/**
 * Gives every shot of fewer than `least` frames to a neighbour in its take: to the previous one, the next one, or the
 * longer of the two (the previous when they are equal); a take's first goes to the next, its last to the previous. In order
 * of time, with the lengths as they have become. Where the neighbours on both sides then are one source that runs on, they become one shot.
 * A shot alone in its take stays, and is counted; pieces of one shot in several files stay as well, and so does the black between takes.
 * A transition whose outgoing shot went with nothing before it in its take becomes a cut.
 */
export function absorbShort(made: readonly Made[], least: number, absorb: Absorb, isGap: IsGap, follow: Follow, say: (option: string, message: string) => void): Made[] {
  const out: Made[] = [];
  const count = { previous: 0, next: 0, alone: 0, joined: 0, cuts: 0 };
  let begin: number | undefined;
  let seam = false;
  made.forEach((item, index) => {
    const given = item.shot;
    if (isGap(given)) {
      out.push(item);
      seam = false;
      return;
    }
    const grown = begin === undefined ? given : follow(given, begin, given.out);
    const last = out.at(-1);
    const before = last?.shot.take === given.take ? last : undefined;
    const next = made[index + 1]?.shot;
    const after = next?.take === given.take && !isGap(next) ? next : undefined;
    // What a mix came from is gone with the first shot of the take.
    const lone = begin !== undefined && before === undefined && grown.transition !== undefined;
    const shot = lone ? without(grown, 'transition') : grown;
    begin = undefined;
    const piece = given.continues === true || next?.continues === true;
    if (shot.out - shot.in < least && !piece) {
      const to = neighbour(absorb, before && before.shot.out - before.shot.in, after && after.out - after.in);
      if (to !== undefined) {
        count[to] += 1;
        seam = true;
        if (to === 'next') begin = shot.in;
        else if (before !== undefined) out[out.length - 1] = { shot: follow(before.shot, before.shot.in, shot.out), from: before.from };
        return;
      }
      count.alone += 1;
    }
    const whole = seam && before !== undefined ? joined(before.shot, shot, follow) : undefined;
    if (whole !== undefined && before !== undefined) {
      count.joined += 1;
      out[out.length - 1] = { shot: whole, from: before.from };
    } else {
      out.push({ shot, from: item.from });
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

/** The two as one shot when the second is the first going on: one source, and the points meet (to a frame, where rates differ). */
function joined(left: Shot, right: Shot, follow: Follow): Shot | undefined {
  if (left.source !== right.source || left.file !== right.file || left.instead !== right.instead) return undefined;
  const whole = follow(left, left.in, right.out);
  if (left.source === BLACK) return whole;
  const unity = left.sourceOut - left.sourceIn === left.out - left.in && right.sourceOut - right.sourceIn === right.out - right.in;
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= (unity ? 0 : 1);
  return near(left.sourceOut, right.sourceIn) && near(whole.sourceOut, right.sourceOut) ? whole : undefined;
}
