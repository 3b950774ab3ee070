/** The two small charts of a picture: screen time a source, and how long shots are. */
import { realSeconds } from '../timecode/rate.js';
import type { CutList } from '../cutlist/model.js';
import { goesOn } from '../cutlist/goes-on.js';
import type { Lane, Laned } from './lanes.js';
import { coord, escape } from './markup.js';
import { INK, RULE } from './palette.js';
import { clockText } from './scale.js';
import { operatorShots } from './shots.js';

export const FIGURE_WIDTH = 560;

/** Upper bounds of the length classes, seconds; the last class is open. */
const BOUNDS = [1, 2, 5, 10, 20, 60];

export interface ScreenTime {
  readonly name: string;
  readonly frames: number;
  readonly shots: number;
  readonly share: number;
}

/** Frames and shots of each lane, in the lanes' order. */
export function screenTime({ list, laneOf }: Laned, lanes: readonly Lane[]): ScreenTime[] {
  const sums = new Map<string, { frames: number; shots: number }>();
  for (const [index, shot] of list.shots.entries()) {
    const lane = laneOf(shot.source);
    const sum = sums.get(lane) ?? { frames: 0, shots: 0 };
    sum.frames += shot.out - shot.in;
    // A part of a shot that comes from elsewhere is on screen too.
    if (!goesOn(list.shots[index - 1], shot)) sum.shots += 1;
    sums.set(lane, sum);
  }
  return lanes.map(({ key, name }) => {
    const { frames, shots } = sums.get(key) ?? { frames: 0, shots: 0 };
    return { name, frames, shots, share: list.frames === 0 ? 0 : frames / list.frames };
  });
}

/** Horizontal bars, one a source. */
export function drawScreenTime(side: Laned, lanes: readonly Lane[], heading = 'Screen time'): { readonly svg: string; readonly height: number } {
  const { list } = side;
  const times = screenTime(side, lanes);
  const most = Math.max(...times.map((time) => time.share), 0.0001);
  const rows = times.map((time, index) => {
    const y = 24 + index * 24;
    const width = (time.share / most) * 210;
    const text = `${clockText(realSeconds(time.frames, list.count.rate))}  ${(time.share * 100).toFixed(1)} %  ${String(time.shots)} ${time.shots === 1 ? 'shot' : 'shots'}`;
    return `<g><title>${escape(time.name)}</title><text x="4" y="${String(y + 14)}">${escape(lanes[index]?.short ?? time.name)}</text></g><rect x="132" y="${String(y)}" width="${coord(Math.max(1, width))}" height="18" fill="${lanes[index]?.fill ?? INK}" stroke="${INK}" stroke-width=".75"/><text x="${coord(140 + width)}" y="${String(y + 14)}">${text}</text>`;
  });
  return { svg: `<g class="screen-time" font-size="12" fill="${INK}"><text x="4" y="12" font-weight="bold">${heading}</text>${rows.join('')}</g>`, height: 30 + times.length * 24 };
}

export interface LengthClass {
  readonly name: string;
  readonly shots: number;
}

/** How many shots fall in each class of length: lower bound included, upper bound not. */
export function lengthClasses(list: CutList): LengthClass[] {
  const counts = [...BOUNDS, Number.POSITIVE_INFINITY].map(() => 0);
  for (const shot of operatorShots(list)) {
    const length = realSeconds(shot.frames, list.count.rate);
    const index = BOUNDS.findIndex((bound) => length < bound);
    const at = index === -1 ? BOUNDS.length : index;
    counts[at] = (counts[at] ?? 0) + 1;
  }
  return counts.map((shots, index) => ({ shots, name: className(index) }));
}

function className(index: number): string {
  const low = BOUNDS[index - 1];
  const high = BOUNDS[index];
  if (low === undefined) return `under ${String(high)} s`;
  return high === undefined ? `${String(low)} s and over` : `${String(low)}–${String(high)} s`;
}

/** Upright bars, one a class of length. */
export function drawLengths(list: CutList, heading = 'Shots by length'): { readonly svg: string; readonly height: number } {
  const classes = lengthClasses(list);
  const most = Math.max(1, ...classes.map((one) => one.shots));
  const base = 150;
  const bars = classes.map((one, index) => {
    const height = (one.shots / most) * 100;
    const x = 12 + index * 76;
    return `<rect x="${String(x)}" y="${coord(base - height)}" width="60" height="${coord(height)}" fill="#8c8c8c" stroke="${INK}" stroke-width=".75"/><text x="${String(x + 30)}" y="${coord(base - height - 4)}" text-anchor="middle">${String(one.shots)}</text><text x="${String(x + 30)}" y="${String(base + 15)}" text-anchor="middle" font-size="11">${one.name}</text>`;
  });
  return {
    svg: `<g class="lengths" font-size="12" fill="${INK}"><text x="4" y="12" font-weight="bold">${heading}</text><path d="M4 ${String(base)}h540" stroke="${RULE}"/>${bars.join('')}</g>`,
    height: base + 24,
  };
}
