/** Lead and lag: the operator was late, or early, by some frames. */
import type { IsGap } from './gap.js';
import type { Refit } from './shift.js';
import { fitted, isSwitchedTo, type WholeShot } from './whole-shots.js';

/** How far a switch to each source moves. */
export type FramesOf = (source: string) => number;

/** The list around the shots: its length, which of its shots are no switch, and how shots follow their bounds. */
export interface Bounds {
  readonly frames: number;
  readonly isGap: IsGap;
  readonly refit: Refit;
}

/**
 * Moves switches earlier (`lead`) or later (`lag`), and nothing else (`isSwitchedTo`). A switch stops one frame after the one before
 * it, and one frame before the one after it or the end of its take; a seam between two files of one shot does not stop it.
 */
export function moveSwitches(
  shots: readonly WholeShot[],
  which: 'lead' | 'lag',
  framesOf: FramesOf,
  { frames, isGap, refit }: Bounds,
  say: (option: string, message: string) => void,
): WholeShot[] {
  const starts = shots.map(([{ shot }]) => shot.in);
  const count = { moved: 0, short: 0 };
  const move = (index: number): void => {
    const { source, instead } = (shots[index] as WholeShot)[0].shot;
    const wanted = framesOf(instead ?? source);
    if (wanted === 0 || !isSwitchedTo(shots, index, isGap)) return;
    const from = starts[index] as number;
    const to = which === 'lead'
      ? Math.max(from - wanted, (starts[index - 1] as number) + 1)
      : Math.min(from + wanted, (starts[index + 1] ?? frames) - 1);
    starts[index] = to;
    if (to !== from) count.moved += 1;
    if (Math.abs(to - from) < wanted) count.short += 1;
  };
  // Earlier: from the front, so that each meets the one before where that came to lie. Later: from the back.
  if (which === 'lead') for (let index = 0; index < shots.length; index += 1) move(index);
  else for (let index = shots.length - 1; index >= 0; index -= 1) move(index);
  let mixes = 0;
  const out = shots.map((whole, index) => {
    const moved = fitted(whole, starts[index] as number, starts[index + 1] ?? frames, refit);
    if (moved[0].shot.transition?.frames !== whole[0].shot.transition?.frames) mixes += 1;
    return moved;
  });
  const direction = which === 'lead' ? 'earlier' : 'later';
  say(`--${which}`, [
    `${switches(count.moved)} moved ${direction}`,
    ...(count.short > 0 ? [`${String(count.short)} by less than asked, because of a neighbour or the end of a take`] : []),
    ...(mixes > 0 ? [`${String(mixes)} ${mixes === 1 ? 'transition' : 'transitions'} shortened to a shorter shot`] : []),
  ].join(', '));
  return out;
}

const switches = (count: number): string => `${String(count)} ${count === 1 ? 'switch' : 'switches'}`;
