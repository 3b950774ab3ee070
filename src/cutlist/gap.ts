/** Black that keeps takes at their distance (`gaps`): no switch made it, and the recordings it lies between say how long it is. */
import { BLACK, type Shot, type Take } from './model.js';

/** Whether a shot is the black between two takes: it bears the take before it, and lies outside. Black that was switched to lies in its take. */
export function isBetweenTakes(shot: Pick<Shot, 'source' | 'in' | 'out' | 'take'>, takes: readonly Pick<Take, 'in' | 'out'>[]): boolean {
  const take = takes[shot.take];
  return shot.source === BLACK && take !== undefined && (shot.out <= take.in || shot.in >= take.out);
}

/** The same for the takes of one list. */
export type IsGap = (shot: Pick<Shot, 'source' | 'in' | 'out' | 'take'>) => boolean;
