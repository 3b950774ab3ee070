/** The lines of figures above a picture. */
import type { CutList } from '../cutlist/model.js';
import { countName } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import { clockText, seconds } from './scale.js';
import { operatorShots } from './shots.js';

/** What a reader wants first: how long, how many, where on the record side, at which rate. */
export function summaryText(list: CutList): string {
  const shots = operatorShots(list);
  const lengths = shots.map((shot) => shot.frames).sort((a, b) => a - b);
  const middle = lengths[Math.floor(lengths.length / 2)] ?? 0;
  const mixes = list.shots.filter((shot) => shot.transition !== undefined).length;
  const label = (frame: number): string => formatTimecode(list.recordStart + frame, list.count);
  const some = (count: number, one: string, many: string): string => `${String(count)} ${count === 1 ? one : many}`;
  return [
    some(shots.length, 'shot', 'shots'),
    some(mixes, 'transition', 'transitions'),
    some(list.markers.length, 'marker', 'markers'),
    `running time ${clockText(seconds(list.frames, list.count.rate), true)}`,
    `record ${label(0)} to ${label(list.frames)} at ${countName(list.count)}`,
    `median shot ${seconds(middle, list.count.rate).toFixed(2)} s`,
  ].join(', ');
}
