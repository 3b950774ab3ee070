/** Markers of a timeline: on the stack, on tracks, on clips. */
import type { Marker } from '../../cutlist/model.js';
import type { Rate } from '../../timecode/rate.js';
import { metadataAt, objectsAt, textAt, type At, type Document } from './document.js';
import { COLORS, EDL_KEY, OURS, PLAIN_COLOR } from './schema.js';
import type { Read } from './stretches.js';
import { inFrames, rangeAt } from './times.js';
import { toFrame } from './whole.js';

/** The record side that markers are placed on. */
export interface RecordSide {
  readonly rate: Rate;
  readonly recordStart: number;
  readonly frames: number;
}

/** The markers of a stack or track, whose time zero lies on record frame `zero`. */
export function* markersOf(document: Document, at: At, zero: number, side: RecordSide): Generator<Marker> {
  for (const marker of objectsAt(at, 'markers')) {
    const start = markerStart(document, marker, side.rate);
    if (start !== undefined) yield* placed(document, marker, [start + zero, start - side.recordStart], side);
  }
}

/**
 * The markers of a clip, at their source times; those that lie outside what is shown of it, mixes included, are left out. Those of a composition that
 * was laid flat come with its first item.
 */
export function* clipMarkers(document: Document, read: Read, side: RecordSide): Generator<Marker> {
  const { item } = read;
  if (item.marks !== undefined) for (const { marker, start, into } of item.marks) yield* shown(document, marker, start, into, read.cut, side);
  if ((item.at.members['markers'] as unknown[] | undefined)?.length === 0) return;
  for (const marker of objectsAt(item.at, 'markers')) {
    const start = markerStart(document, marker, side.rate);
    if (start === undefined) continue;
    const source = item.start === undefined ? 0 : inFrames(item.start, side.rate);
    const into = start - source - item.skip;
    yield* shown(document, marker, start, into >= read.in - read.cut && into <= item.length + read.tail ? into : undefined, read.cut, side);
  }
}

/** A marker `into` an item that begins on record frame `cut`; undefined where the item does not show it. The reference EDL adapter gives its own record times. */
function shown(document: Document, marker: At, start: number, into: number | undefined, cut: number, side: RecordSide): Iterable<Marker> {
  const recorded = metadataAt(marker, EDL_KEY) === undefined ? [] : [start - side.recordStart];
  const inside = into === undefined ? [] : [cut + into];
  return placed(document, marker, [...recorded, ...inside], side, into === undefined && recorded.length === 0 ? 'what is shown of the clip or composition that it is on' : 'the list');
}

/** Where a marker stands in the time of what it is on, in frames of `rate`; undefined, reported, where it does not say. */
export function markerStart(document: Document, marker: At, rate: Rate): number | undefined {
  const range = rangeAt(document, marker, marker.members['marked_range'] === undefined ? 'range' : 'marked_range');
  if (range === undefined) document.add('bad-otio', marker.where, 'a marker has no marked_range; it is left out', 'warning');
  return range === undefined ? undefined : inFrames(range.start, rate);
}

function* placed(document: Document, marker: At, candidates: readonly number[], side: RecordSide, of = 'the list'): Generator<Marker> {
  const at = candidates.map(toFrame).find((frame) => frame >= 0 && frame <= side.frames);
  const note = noteOf(marker);
  if (at === undefined) {
    document.add('bad-otio', marker.where, `the marker '${note.slice(0, 60)}' lies outside ${of}; it is left out`, 'warning');
    return;
  }
  const color = colorOf(marker);
  yield { at, note, ...(color === undefined ? {} : { color }) };
}

function noteOf(marker: At): string {
  const name = textAt(marker, 'name');
  const comment = textAt(marker, 'comment');
  return name === '' || comment === '' ? name + comment : `${name}: ${comment}`;
}

/** The colour, unless it is the one that the writer gives a marker without. */
function colorOf(marker: At): string | undefined {
  const color = textAt(marker, 'color').toUpperCase();
  const ours = metadataAt(marker, OURS);
  if (color === PLAIN_COLOR && ours !== undefined && 'color' in ours) return typeof ours['color'] === 'string' ? ours['color'] : undefined;
  return COLORS.includes(color) ? color : undefined;
}
