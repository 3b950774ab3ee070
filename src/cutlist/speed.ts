/** Speed: how fast a stretch plays its source, beside how fast its rate alone would have it. */
import type { Rate } from '../timecode/rate.js';
import type { Shot } from './model.js';

/** Source frames that `frames` of the list play at real speed, not rounded. Equal nominal counts play frame for frame. */
export const playedFrames = (frames: number, source: Rate, list: Rate): number =>
  source.nominal === list.nominal ? frames : (frames * (source.num * list.den)) / (source.den * list.num);

/**
 * Whether a stretch of `played` source frames, where real speed asks for `real`, is at real speed. Whole source frames seldom fit real time
 * exactly; and where a file ends within a frame of the list, as much as that frame is missing.
 */
export const isRealSpeed = (played: number, real: number, source: Rate, list: Rate): boolean =>
  played - real < 1 && real - played < Math.max(1, playedFrames(1, source, list));

/** The speed that a list which was read says of a stretch, where its points are that one's nearest whole source frames, either of two; else undefined: they say it. */
export function saidSpeed({ speed, in: into, out, sourceIn, sourceOut }: Pick<Shot, 'speed' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>, source: Rate, list: Rate): number | undefined {
  return speed !== undefined && Math.abs(speed * playedFrames(out - into, source, list) - (sourceOut - sourceIn)) <= 0.5 + 1e-9 ? speed : undefined;
}
