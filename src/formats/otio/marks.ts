/** Markers of compositions that are laid flat: each goes with the first item of its composition. */
import type { Rate } from '../../timecode/rate.js';
import { objectsAt, type At, type Document } from './document.js';
import type { Item } from './items.js';
import { markerStart } from './markers.js';
import { inFrames, rangeAt } from './times.js';

/** Times in frames of the list, not rounded. */
export interface Mark {
  readonly marker: At;
  /** As written, in the time of what it is on. */
  readonly start: number;
  /** From the first frame of the item, below zero before it; undefined where the marker lies outside what is shown. */
  readonly into: number | undefined;
}

const lengthOf = (items: readonly Item[]): number => items.reduce((sum, item) => sum + item.length, 0);

/** The items of a composition, the first with the composition's markers. */
export function marked(document: Document, at: At, items: Item[], rate: Rate): Item[] {
  const [first, ...rest] = items;
  if (first === undefined || objectsAt(at, 'markers').next().done === true) return items;
  const range = rangeAt(document, at, 'source_range');
  const marks = own(document, at, range === undefined ? 0 : inFrames(range.start, rate), lengthOf(items), rate);
  return [{ ...first, marks: [...(first.marks ?? []), ...marks] }, ...rest];
}

/** All markers of items and on them, counted from the first of the items. */
export function marksOf(document: Document, items: readonly Item[], rate: Rate): Mark[] {
  let position = 0;
  return items.flatMap((item) => {
    const at = position;
    position += item.length;
    const ofItem = own(document, item.at, (item.start === undefined ? 0 : inFrames(item.start, rate)) + item.skip, item.length, rate);
    return [...(item.marks ?? []), ...ofItem].map((mark) => moved(mark, at));
  });
}

/** An item with all markers of the one before it, which is left out. */
export function withMarksBefore(document: Document, item: Item, before: Item, rate: Rate): Item {
  const marks = marksOf(document, [before], rate).map((mark) => moved(mark, -before.length));
  return marks.length === 0 ? item : { ...item, marks: [...marks, ...(item.marks ?? [])] };
}

/** The markers on an object whose time `from` is its first frame, and which lasts `length` frames. */
function own(document: Document, at: At, from: number, length: number, rate: Rate): Mark[] {
  return [...objectsAt(at, 'markers')].flatMap((marker) => {
    const start = markerStart(document, marker, rate);
    if (start === undefined) return [];
    const into = start - from;
    return [{ marker, start, into: into >= 0 && into <= length ? into : undefined }];
  });
}

const moved = (mark: Mark, by: number): Mark => (mark.into === undefined ? mark : { ...mark, into: mark.into + by });

/** Gives the first of the items that are left of `all` the marks of all, which lie in the frames [from, to] of all. */
export function withMarks(kept: Item[], all: readonly Item[], from: number, to: number): Item[] {
  const [first, ...rest] = kept;
  if (first === undefined) return kept;
  let position = 0;
  const marks = all.flatMap((item) => {
    const at = position - from;
    position += item.length;
    return (item.marks ?? []).map((mark): Mark => {
      const { into, ...plain } = moved(mark, at);
      return { ...plain, into: into !== undefined && into >= 0 && into <= to - from ? into : undefined };
    });
  });
  return [{ ...first, marks }, ...rest];
}
