/** The lines of figures above a picture. */
import type { CutList } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import { countName, realSeconds } from '../timecode/rate.js';
import { clockText } from './scale.js';
import { operatorShots } from './shots.js';

/** What a reader wants first: how long, how many, where on the record side, at which rate. */
export function summaryText(list: CutList): string {
  const shots = operatorShots(list);
  const mixes = list.shots.filter((shot) => shot.transition !== undefined).length;
  const label = (frame: number): string => recordLabel(list, frame);
  const some = (count: number, one: string, many: string): string => `${String(count)} ${count === 1 ? one : many}`;
  return [
    some(shots.length, 'shot', 'shots'),
    some(mixes, 'transition', 'transitions'),
    some(list.markers.length, 'marker', 'markers'),
    `running time ${clockText(realSeconds(list.frames, list.count.rate), true)}`,
    `record ${label(0)} to ${label(list.frames)} at ${countName(list.count)}`,
    `median shot ${median(shots.map(({ frames }) => realSeconds(frames, list.count.rate))).toFixed(2)} s`,
  ].join(', ');
}

/** The middle one of some values, half way between the two in the middle where their number is even. */
function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)] ?? 0, sorted[Math.floor(sorted.length / 2)] ?? 0];
  return (low + high) / 2;
}
