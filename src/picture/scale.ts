/** Time on paper: how long a strip is, and where its ticks stand. */
import { elapsedText } from '../timecode/elapsed.js';
import { realSeconds, type Rate } from '../timecode/rate.js';
import type { CutList } from '../cutlist/model.js';

/** Drawing width of the time axis, in user units (CSS pixels at full size). */
export const AXIS_WIDTH = 1040;

/** Room to the left of the axis, for the names of the lanes. */
export const GUTTER = 132;

/** No bar is drawn thinner than this, in units. */
export const THINNEST = 1.5;

const STRIP_SECONDS = [2, 5, 10, 20, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200];
const TICK_SECONDS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];

/** Most strips that one picture has; a longer list gets longer strips. */
const MOST_STRIPS = 60;
/** Shots in one strip on the average, at the most: a shot then has some 17 units, enough for its number. */
const SHOTS_A_STRIP = 60;

/** The strips of a picture: [from, to) in record frames of the first list, all of one length in real time, to the frame, but cut at the end of the longest. */
export interface Strip {
  readonly from: number;
  readonly to: number;
  /** Frames that the whole axis stands for. */
  readonly span: number;
}

/** Cuts the record side into strips, so that shots of an ordinary show stay wide enough to read. */
export function stripsOf(lists: readonly CutList[]): Strip[] {
  const first = lists[0];
  if (first === undefined) return [];
  const { rate } = first.count;
  // Lists of other rates are as long as they are in real time.
  const frames = Math.max(1, ...lists.map((list) => (list.count.rate === rate ? list.frames : Math.ceil((realSeconds(list.frames, list.count.rate) * rate.num) / rate.den - 1e-6))));
  const shots = Math.max(1, ...lists.map((list) => list.shots.length));
  const total = realSeconds(frames, rate);
  const wanted = Math.max((total * SHOTS_A_STRIP) / shots, total / MOST_STRIPS);
  const length = total <= wanted ? total : (STRIP_SECONDS.findLast((one) => one <= wanted && total / one <= MOST_STRIPS) ?? wanted);
  const span = Math.max(1, Math.min(frames, firstFrame(length, rate)));
  const strips: Strip[] = [];
  for (let from = 0; from < frames;) {
    const to = Math.min(frames, Math.max(from + 1, firstFrame((strips.length + 1) * length, rate)));
    strips.push({ from, to, span });
    from = to;
  }
  return strips;
}

/** The first frame at or after a real time in seconds. */
const firstFrame = (time: number, rate: Rate): number => Math.max(0, Math.ceil((time * rate.num) / rate.den - 1e-6));

/** Where a record frame lies on a strip's axis, in units from its left end. */
export const xOf = (frame: number, strip: Strip): number => ((frame - strip.from) / strip.span) * AXIS_WIDTH;

export interface Tick {
  readonly frame: number;
  /** Real time since the start of the list, seconds. */
  readonly seconds: number;
}

/** Ticks at round real times, at least `apart` units from one another: the first frame at or after each time. */
export function ticksOf(strip: Strip, rate: Rate, apart: number): Tick[] {
  const unitsPerSecond = (AXIS_WIDTH / strip.span) * (rate.num / rate.den);
  const step = TICK_SECONDS.find((one) => one * unitsPerSecond >= apart) ?? Math.ceil(apart / unitsPerSecond / 3600) * 3600;
  const ticks: Tick[] = [];
  // A strip begins on the first frame at or after a round time, and its tick with it, though the time itself may lie before.
  for (let n = Math.floor(realSeconds(strip.from, rate) / step); ; n += 1) {
    const at = n * step;
    const frame = firstFrame(at, rate);
    if (frame > strip.to) break;
    if (frame >= strip.from) ticks.push({ frame, seconds: at });
  }
  return ticks;
}

/** Real time as a reader wants it: `0:04:11`, with tenths where asked. */
export const clockText = (value: number, tenths = false): string => (tenths ? elapsedText(Math.round(value * 10), 10) : elapsedText(Math.round(value), 1));
