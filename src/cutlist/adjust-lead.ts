/** Lead and lag: the operator was late, or early, by some frames. */
import type { FramesOf } from './adjust.js';
import type { IsGap } from './gap.js';
import { isSwitchedTo, type Follow, type Made } from './shift.js';

/**
 * Moves switches earlier (`lead`) or later (`lag`), and nothing else (`isSwitchedTo`). A switch stops one frame after the one before
 * it, and one frame before the one after it or the end of its take. `frames` is the list's length.
 */
export function moveSwitches(
  made: readonly Made[],
  frames: number,
  which: 'lead' | 'lag',
  framesOf: FramesOf,
  isGap: IsGap,
  follow: Follow,
  say: (option: string, message: string) => void,
): Made[] {
  const starts = made.map(({ shot }) => shot.in);
  const count = { moved: 0, short: 0 };
  const move = (index: number): void => {
    const { shot } = made[index] as Made;
    const wanted = framesOf(shot.source);
    if (wanted === 0 || !isSwitchedTo(made, index, isGap)) return;
    const from = starts[index] as number;
    const to = which === 'lead'
      ? Math.max(from - wanted, (starts[index - 1] as number) + 1)
      : Math.min(from + wanted, (starts[index + 1] ?? frames) - 1);
    starts[index] = to;
    if (to !== from) count.moved += 1;
    if (Math.abs(to - from) < wanted) count.short += 1;
  };
  // Earlier: from the front, so that each meets the one before where that came to lie. Later: from the back.
  if (which === 'lead') for (let index = 0; index < made.length; index += 1) move(index);
  else for (let index = made.length - 1; index >= 0; index -= 1) move(index);
  let mixes = 0;
  const out = made.map(({ shot, from }, index) => {
    const moved = follow(shot, starts[index] as number, starts[index + 1] ?? frames);
    if (moved.transition?.frames !== shot.transition?.frames) mixes += 1;
    return { shot: moved, from };
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
