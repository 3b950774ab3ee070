/** Record labels begin again at zero every 24 h; this puts events back on one line of time. */
import type { EdlDocument, EdlEvent } from './document.js';
import { nearestRepeat, withinDay } from '../../timecode/day.js';
import { framesPerDay } from '../../timecode/timecode.js';

/** An event with its record in-point on the line of time: frames since label zero of some day. */
export interface PlacedEvent {
  readonly event: EdlEvent;
  readonly document: EdlDocument;
  readonly at: number;
}

/**
 * The events of all documents (parts of one list, in order) in order of their record in-points, those on one
 * frame in file order. In record order each label belongs to the day that brings it nearest the event before, so that a
 * list may last for days. A list in source order is taken to begin after the longest stretch of the day that it leaves free.
 */
export function placeEvents(documents: readonly EdlDocument[]): PlacedEvent[] {
  const day = framesPerDay((documents[0] as EdlDocument).labels);
  const placed: PlacedEvent[] = [];
  let before: number | undefined;
  let inOrder = true;
  let covered = 0;
  for (const document of documents) {
    for (const event of document.events) {
      const at: number = before === undefined ? event.recordIn : nearestRepeat(event.recordIn, day, before);
      if (before !== undefined && at < before) inOrder = false;
      if (event.picture) covered += event.recordOut - event.recordIn;
      placed.push({ event, document, at });
      before = at;
    }
  }
  if (inOrder) return placed;
  const start = covered <= day ? startOfDay(placed, day) : undefined;
  const moved = start === undefined ? placed : placed.map((one) => ({ ...one, at: start + withinDay(one.event.recordIn - start, day) }));
  return moved.sort((a, b) => a.at - b.at);
}

/** The record in-point after the longest stretch of the day without any event, or undefined where there is none. */
function startOfDay(placed: readonly PlacedEvent[], day: number): number | undefined {
  const sorted = placed.map(({ event }) => [event.recordIn, event.recordOut] as const).sort((a, b) => a[0] - b[0]);
  let longest = 0;
  let start: number | undefined;
  // What passes midnight comes in again at zero; what does not leaves the stretch from the last event round to the first.
  let reached = sorted.reduce((latest, [, out]) => Math.max(latest, out), 0) - day;
  for (const [from, to] of sorted) {
    if (from - reached > longest) {
      longest = from - reached;
      start = from;
    }
    reached = Math.max(reached, to);
  }
  return start;
}
