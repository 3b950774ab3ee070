/** Every switch a dissolve, or every switch a cut. */
import { without } from '../without.js';
import type { IsGap } from './gap.js';
import { BLACK, type Transition } from './model.js';
import { inOffsetAt, type DissolveAt } from './transitions.js';
import { isSwitchedTo, lastOf, type WholeShot } from './whole-shots.js';

type Say = (option: string, message: string) => void;

/**
 * Every switch comes on by a dissolve of `frames`, or of its shot's length where that is less (up to its first seam); wipes and dissolves of other
 * lengths too. What no switch brings on (`isSwitchedTo`) stays as it is, and so does black that follows black.
 */
export function dissolveAll(shots: readonly WholeShot[], frames: number, place: DissolveAt, isGap: IsGap, say: Say): WholeShot[] {
  const count = { cuts: 0, others: 0, short: 0 };
  const out = shots.map((whole, index): WholeShot => {
    const [{ shot, from }, ...rest] = whole;
    const before = shots[index - 1];
    // From black to black nothing mixes.
    const isDark = shot.source === BLACK && before !== undefined && lastOf(before).shot.source === BLACK;
    if (isDark || !isSwitchedTo(shots, index, isGap)) return whole;
    const fit = Math.min(frames, shot.out - shot.in);
    if (fit < frames) count.short += 1;
    const old = shot.transition;
    if (old?.kind === 'dissolve' && old.frames === fit) return whole;
    count[old === undefined ? 'cuts' : 'others'] += 1;
    const transition: Transition = { kind: 'dissolve', frames: fit, inOffset: inOffsetAt(fit, place) };
    return [{ shot: { ...shot, transition }, from }, ...rest];
  });
  say('--dissolve-all', [
    `${String(count.cuts)} ${count.cuts === 1 ? 'cut' : 'cuts'} became dissolves of ${String(frames)} frames`,
    ...(count.others > 0 ? [`${String(count.others)} other ${count.others === 1 ? 'transition was' : 'transitions were'} changed`] : []),
    ...(count.short > 0 ? [`${String(count.short)} ${count.short === 1 ? 'is shorter, because its shot is' : 'are shorter, because their shots are'}`] : []),
  ].join(', '));
  return out;
}

/** Every transition becomes a cut where its mix begins, a fade from black at the start too. */
export function cutAll(shots: readonly WholeShot[], say: Say): WholeShot[] {
  let count = 0;
  const out = shots.map((whole): WholeShot => {
    const [{ shot, from }, ...rest] = whole;
    if (shot.transition === undefined) return whole;
    count += 1;
    return [{ shot: without(shot, 'transition'), from }, ...rest];
  });
  say('--cuts-only', `${String(count)} ${count === 1 ? 'transition' : 'transitions'} became ${count === 1 ? 'a cut' : 'cuts'}`);
  return out;
}
