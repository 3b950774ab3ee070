/** Every switch a dissolve, or every switch a cut. */
import type { IsGap } from './gap.js';
import type { Transition } from './model.js';
import { isSwitchedTo, without, type Made } from './shift.js';
import { inOffsetAt, type DissolveAt } from './transitions.js';

type Say = (option: string, message: string) => void;

/**
 * Every switch comes on by a dissolve of `frames`, or of its shot's length where that is less; wipes and dissolves of other
 * lengths too. What no switch brings on (`isSwitchedTo`) stays as it is.
 */
export function dissolveAll(made: readonly Made[], frames: number, place: DissolveAt, isGap: IsGap, say: Say): Made[] {
  const count = { cuts: 0, others: 0, short: 0 };
  const out = made.map((item, index): Made => {
    const { shot, from } = item;
    if (!isSwitchedTo(made, index, isGap)) return item;
    const fit = Math.min(frames, shot.out - shot.in);
    if (fit < frames) count.short += 1;
    const old = shot.transition;
    if (old?.kind === 'dissolve' && old.frames === fit) return item;
    count[old === undefined ? 'cuts' : 'others'] += 1;
    const transition: Transition = { kind: 'dissolve', frames: fit, inOffset: inOffsetAt(fit, place) };
    return { shot: { ...shot, transition }, from };
  });
  say('--dissolve-all', [
    `${String(count.cuts)} ${count.cuts === 1 ? 'cut' : 'cuts'} became dissolves of ${String(frames)} frames`,
    ...(count.others > 0 ? [`${String(count.others)} other ${count.others === 1 ? 'transition was' : 'transitions were'} changed`] : []),
    ...(count.short > 0 ? [`${String(count.short)} ${count.short === 1 ? 'is shorter, because its shot is' : 'are shorter, because their shots are'}`] : []),
  ].join(', '));
  return out;
}

/** Every transition becomes a cut where its mix begins, a fade from black at the start too. */
export function cutAll(made: readonly Made[], say: Say): Made[] {
  let count = 0;
  const out = made.map((item): Made => {
    if (item.shot.transition === undefined) return item;
    count += 1;
    return { shot: without(item.shot, 'transition'), from: item.from };
  });
  say('--cuts-only', `${String(count)} ${count === 1 ? 'transition' : 'transitions'} became ${count === 1 ? 'a cut' : 'cuts'}`);
  return out;
}
