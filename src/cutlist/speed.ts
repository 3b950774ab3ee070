/** Speed: how fast a stretch plays its source, beside how fast its rate alone would have it. */
import type { Rate } from '../timecode/rate.js';
import type { Shot } from './model.js';

/** Source frames that `frames` of the list play at real speed, not rounded. Equal nominal counts play frame for frame. */
export const playedFrames = (frames: number, source: Rate, list: Rate): number =>
  source.nominal === list.nominal ? frames : (frames * (source.num * list.den)) / (source.den * list.num);

/** The speed that a list which was read says of a stretch, where its points are still as near to that as whole source frames come; else undefined: they say it. */
export function saidSpeed({ speed, in: into, out, sourceIn, sourceOut }: Pick<Shot, 'speed' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>, source: Rate, list: Rate): number | undefined {
  return speed !== undefined && Math.abs(speed * playedFrames(out - into, source, list) - (sourceOut - sourceIn)) < 1 ? speed : undefined;
}
