/** A shot as the operator made it: whole, in however many files it was recorded. What rules for shots work on. */
import { without } from '../without.js';
import type { IsGap } from './gap.js';
import type { Shot } from './model.js';
import { shrunk, type Made, type Refit } from './shift.js';

/** The pieces of one shot, in order, without hole; every one but the first `continues`. */
export type WholeShot = readonly [Made, ...Made[]];

/** The shots of a list with the pieces that go on in a further file behind the one they belong to. */
export function wholeShots(shots: readonly Shot[]): WholeShot[] {
  const out: [Made, ...Made[]][] = [];
  let last: [Made, ...Made[]] | undefined;
  for (const [from, shot] of shots.entries()) {
    if (last !== undefined && shot.continues === true && shot.take === last[0].shot.take) last.push({ shot, from });
    else out.push((last = [{ shot, from }]));
  }
  return out;
}

/** Where a whole shot begins and ends, [in, out). */
export const bounds = (whole: WholeShot): { readonly in: number; readonly out: number } => ({ in: whole[0].shot.in, out: lastOf(whole).shot.out });

/** Its last piece. */
export const lastOf = (whole: WholeShot): Made => whole.at(-1) ?? whole[0];

/**
 * Gives a whole shot another record range [into, out), into < out, within its take. Its seams stay where they are: pieces outside the range
 * fall away, the first and the last that are left reach to its ends. What brings the shot on comes on with the first one left; a
 * transition that no longer fits into it is shortened.
 */
export function fitted(whole: WholeShot, into: number, out: number, refit: Refit): WholeShot {
  if (whole.length === 1) {
    const shot = refit(whole[0], into, out);
    return shot === whole[0].shot ? whole : [{ shot, from: whole[0].from }];
  }
  const last = whole.length - 1;
  const kept: Made[] = [];
  for (const [index, made] of whole.entries()) {
    const { shot, from } = made;
    const [starts, ends] = [index === 0 ? into : Math.max(shot.in, into), index === last ? out : Math.min(shot.out, out)];
    if (starts < ends) kept.push({ shot: refit(made, starts, ends), from });
  }
  const [first, ...rest] = kept as [Made, ...Made[]];
  return first.from === whole[0].from ? [first, ...rest] : [{ shot: broughtOn(first.shot, whole[0].shot), from: first.from }, ...rest];
}

/** A piece that has become the first one of its shot: it has what the log said of the shot. */
function broughtOn(piece: Shot, head: Shot): Shot {
  const { transition, event } = head;
  const comments = [...(head.comments ?? []), ...(piece.comments ?? [])];
  return {
    ...without(piece, 'continues', 'transition', 'event', 'comments'),
    ...(transition === undefined ? {} : { transition: shrunk(transition, head.out - head.in, piece.out - piece.in) }),
    ...(event === undefined ? {} : { event }),
    ...(comments.length === 0 ? {} : { comments }),
  };
}

/** Whether a whole shot comes on by a switch: a take's first one does not, nor the black behind a take. */
export function isSwitchedTo(wholes: readonly WholeShot[], index: number, isGap: IsGap): boolean {
  const shot = wholes[index]?.[0].shot;
  return shot !== undefined && index > 0 && shot.continues !== true && shot.take === wholes[index - 1]?.[0].shot.take && !isGap(shot);
}
