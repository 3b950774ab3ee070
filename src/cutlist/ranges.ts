/** Stretches of record frames. */
import type { FrameRange } from './model.js';

/** Stretches in any order as the frames that they cover: in order, and one where they meet. */
export function unionOf(ranges: readonly FrameRange[]): FrameRange[] {
  const out: FrameRange[] = [];
  for (const range of [...ranges].sort((a, b) => a.in - b.in)) {
    const before = out.at(-1);
    if (before === undefined || before.out < range.in) out.push({ in: range.in, out: range.out });
    else out[out.length - 1] = { in: before.in, out: Math.max(before.out, range.out) };
  }
  return out;
}
