/** Where on the record side a line of a file lies: what a reader says of a line is then shown at its place. */
import type { LogEvent } from '../cutlist/event.js';
import { BLACK, type CutList } from '../cutlist/model.js';
import type { Assembled } from '../formats/edl/assemble.js';
import type { EdlDocument } from '../formats/edl/document.js';
import type { PlacedEvent } from '../formats/edl/unwrap.js';
import type { Place } from '../problems.js';

/** Record frame (0 ≤ frame ≤ the list's length) of a line, from 1; undefined for lines that have none. */
export type FrameOf = (line: number) => number | undefined;

/** For each part of an EDL its lines: an event's own, and its comments, lie where the event begins. */
export function edlFrames({ events, start }: Assembled): ReadonlyMap<EdlDocument, FrameOf> {
  const begins = new Map<EdlDocument, { readonly line: number; readonly frame: number }[]>();
  for (const { event: { from, line }, document, at } of events) {
    const begin = { line: Math.min(from?.line ?? line, line), frame: at - start };
    if (begins.get(document)?.push(begin) === undefined) begins.set(document, [begin]);
  }
  return new Map([...begins].map(([document, all]) => {
    const sorted = all.sort((a, b) => a.line - b.line);
    return [document, (line) => sorted[lastUpTo(sorted, line)]?.frame];
  }));
}

/** Where an event stands: its line, of two lines the second. */
export const eventPlace = ({ event: { line }, document: { file } }: PlacedEvent): Place => ({ file, line, column: 1 });

/** Events of sound, by the record frame on which they begin. */
export const soundEvents = ({ events, start }: Assembled): ReadonlyMap<number, PlacedEvent> =>
  new Map(events.filter(({ event }) => event.tracks.length > 0).map((placed) => [placed.at - start, placed]));

/** The rows of a log: each lies where its take has its moment, rows outside every take nowhere. */
export function logFrames(events: readonly LogEvent[], { takes }: CutList): FrameOf {
  const frames = new Map(events.map(({ line, at }) => [line, at]));
  return (line) => {
    const at = frames.get(line);
    const take = at === undefined ? undefined : takes.find(({ in: begin, out, logIn }) => at >= logIn && at <= logIn + out - begin);
    return at === undefined || take === undefined ? undefined : take.in + at - take.logIn;
  };
}

/** A hole begins where the black before its event does. */
export function beginOfHole(frame: number, { shots }: CutList): number {
  const black = shots.find(({ source, out }) => source === BLACK && out === frame);
  return black?.in ?? frame;
}

/** Index of the last entry whose line is not behind `line`, by halving; -1 where there is none. */
function lastUpTo(entries: readonly { readonly line: number }[], line: number): number {
  let [low, high] = [0, entries.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((entries[middle]?.line ?? 0) <= line) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
