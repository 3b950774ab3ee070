/** Sources at another rate than the list (rule 12): how far they run away from it. */
import { countName, type Count } from '../timecode/rate.js';

interface Drift {
  /** Source frames in an hour of real time more than the list has; negative when fewer. */
  readonly framesAnHour: number;
  /** The same in seconds of the source: framesAnHour ÷ the source's rate. */
  readonly secondsAnHour: number;
  /** Real seconds in which it gains or loses one frame. */
  readonly secondsAFrame: number;
}

/** By how many frames and seconds an hour a source at one rate leaves a list at another, when both are played frame for frame. */
function driftOf(source: Count, list: Count): Drift {
  const [a, b] = [source.rate, list.rate];
  // 3,600 × (a − b), kept whole as long as possible: 30 beside 30000/1001 gives 107.892…
  const framesAnHour = (3600 * (a.num * b.den - b.num * a.den)) / (a.den * b.den);
  return { framesAnHour, secondsAnHour: (framesAnHour * a.den) / a.num, secondsAFrame: 3600 / Math.abs(framesAnHour) };
}

/**
 * One sentence on a source at another rate: with the same nominal count it is played frame for frame, and runs away from the
 * list; other rates are converted, and do not. `frames` is the list's length.
 */
export function rateText(name: string, source: Count, list: Count, frames: number): string {
  const rates = `${name} runs at ${countName(source)}, the list at ${countName(list)}`;
  if (source.rate.nominal !== list.rate.nominal) {
    const speed = ((100 * source.rate.num * list.rate.den) / (source.rate.den * list.rate.num)).toFixed(3);
    return `${rates}: in-points lie on the nearest source frame, and lengths are converted (${speed} % of the frames), so it does not drift`;
  }
  const { framesAnHour, secondsAnHour, secondsAFrame } = driftOf(source, list);
  const hours = (frames * list.rate.den) / list.rate.num / 3600;
  const [each, overall] = [amount(framesAnHour, secondsAnHour), amount(framesAnHour * hours, secondsAnHour * hours)];
  const way = framesAnHour > 0 ? 'gains' : 'loses';
  return `${rates}: it ${way} ${each} an hour, a frame each ${secondsAFrame.toFixed(2)} s, and ${overall} over this show; each shot begins in sync and is played frame for frame`;
}

const amount = (frames: number, seconds: number): string => `${Math.abs(frames).toFixed(3)} frames (${Math.abs(seconds).toFixed(3)} s)`;

/** Non-drop labels of 30000/1001 and its like fall behind the clock by 3.6 s an hour (SMPTE ST 12-1). */
const fallsBehind = ({ rate, dropFrame }: Count): boolean => rate.den !== 1 && !dropFrame;

/** What to know of a source whose labels lie beside its recording, where only one of it and the list keeps to the clock; empty where both do, or neither. */
export const labelHint = (source: Count, list: Count): string =>
  fallsBehind(source) === fallsBehind(list) ? '' : `; it counts ${countName(source)} and the list ${countName(list)}, and equal labels of the two are not one moment: sync says which are`;
