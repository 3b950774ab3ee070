/** What a composition's own range leaves of its items. */
import type { Rate } from '../../timecode/rate.js';
import type { At, Document } from './document.js';
import type { Item, Mix } from './items.js';
import { withMarks } from './marks.js';
import { inFrames, rangeAt } from './times.js';

/** Nothing, for `length` frames. */
export const nothing = ({ where }: At, length: number): Item => ({ kind: 'gap', at: { members: {}, where }, start: undefined, skip: 0, length });

/** Differences of sums below this are none, in frames. */
const NONE = 1e-6;

/** The items with nothing behind them, up to `length` frames. */
export function filled(at: At, items: Item[], length: number): Item[] {
  const rest = length - items.reduce((sum, item) => sum + item.length, 0);
  return rest > NONE ? [...items, nothing(at, rest)] : items;
}

/** A part of a composition, in frames from its first. */
interface Window {
  readonly from: number;
  readonly to: number;
}

/**
 * The items inside a composition's `source_range`, filled up to its length with gaps: behind them, and before them where it begins
 * below zero. A mix that it cuts is kept as far as there are clips on both its sides, reported.
 */
export function trimmed(document: Document, at: At, items: Item[], rate: Rate): Item[] {
  const range = rangeAt(document, at, 'source_range');
  if (range === undefined) return items;
  const from = inFrames(range.start, rate);
  const window = { from, to: from + inFrames(range.duration, rate) };
  const { to } = window;
  const lead = Math.min(-from, to - from);
  const kept: Item[] = lead > NONE ? [nothing(at, lead)] : [];
  let first = lead > NONE ? from : undefined;
  let position = 0;
  let isOver = false;
  let tail: number | undefined;
  let hasMarks = false;
  for (const [index, item] of items.entries()) {
    const { mix: own, marks, headroom, tailroom, ...plain } = item;
    const end = position + item.length;
    const mix = own === undefined || isOver ? undefined : mixInside(document, own, position, window, index === 0);
    const shows = Math.min(end, to) > Math.max(position, from) || (item.length === 0 && position >= from && position < to);
    if (!isOver && (shows || (mix !== undefined && position >= to))) {
      const start = Math.min(Math.max(position, from), to);
      const stop = Math.max(start, Math.min(end, to));
      const head = first !== undefined ? undefined : index === 0 ? plus(headroom, start - position) : start - position;
      kept.push({ ...plain, skip: item.skip + start - position, length: stop - start, ...(mix === undefined ? {} : { mix }), ...(head === undefined ? {} : { headroom: head }) });
      first ??= start;
      tail = index === items.length - 1 ? plus(tailroom, end - stop) : end - stop;
      // Behind the range a single mix reaches into it.
      isOver = position >= to;
    }
    hasMarks ||= marks !== undefined;
    position = end;
  }
  const rest = to - Math.max(position, from);
  const last = kept.at(-1);
  if (rest > NONE) kept.push(nothing(at, rest));
  else if (last !== undefined && tail !== undefined) kept[kept.length - 1] = { ...last, tailroom: tail };
  return hasMarks ? withMarks(kept, items, first ?? from, to) : kept;
}

const plus = (room: number | undefined, more: number): number | undefined => (room === undefined ? undefined : room + more);

/** What a window shows of the mix that brings on an item at `position`, as long as something comes before it there. */
function mixInside(document: Document, mix: Mix, position: number, { from, to }: Window, isFirst: boolean): Mix | undefined {
  const [begin, end] = [position - mix.before, position + mix.after];
  if (begin >= to - NONE || end <= from + NONE) return undefined;
  if (to <= position + NONE) {
    const before = to - Math.max(begin, from);
    if (end > to + NONE) say(document, mix, `the range of a composition ends inside a transition; ${count(before)} of its ${count(end - begin)} frames are shown`);
    return { at: mix.at, before, after: 0 };
  }
  // What comes before the first item is nothing, which lasts as long as it is wanted.
  if (from < position - NONE || (isFirst && from <= position + NONE)) return mix;
  say(document, mix, 'the range of a composition begins inside a transition; it is left out');
  return undefined;
}

const count = (frames: number): string => String(Math.round(frames));

function say(document: Document, mix: Mix, message: string): void {
  document.add('transition-cut-short', mix.at.where, message);
}
