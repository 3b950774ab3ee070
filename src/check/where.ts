/** Where on the record side a line of a file lies: what a reader says of a line is then shown at its place. */
import type { LogEvent } from '../cutlist/event.js';
import { BLACK, type CutList } from '../cutlist/model.js';
import type { EdlDocument } from '../formats/edl/document.js';
import type { Place } from '../problems.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';

/** Record frame (0 ≤ frame ≤ the list's length) of a line, from 1; undefined for lines that have none. */
export type FrameOf = (line: number) => number | undefined;

/** The lines of an EDL: an event's own, and its comments, lie where the event begins. */
export function edlFrames({ events, labels }: EdlDocument, list: CutList): FrameOf {
  const starts = events.map(({ from, line, recordIn }) => ({ line: Math.min(from?.line ?? line, line), recordIn })).sort((a, b) => a.line - b.line);
  const day = framesPerDay(labels);
  return (line) => {
    const event = starts[lastUpTo(starts, line)];
    if (event === undefined) return undefined;
    const frame = event.recordIn - list.recordStart;
    const inList = frame < 0 ? frame + day : frame;
    return inList <= list.frames ? inList : undefined;
  };
}

/** Where the event that brings a shot on, by its index, stands in the parts of an EDL; undefined where none does. */
export function edlPlaces(parts: readonly EdlDocument[], list: CutList): (shot: number) => Place | undefined {
  const places = new Map<number, Place>();
  for (const { events, file, labels } of parts) {
    for (const { picture, recordIn, line } of events) {
      const key = labelKey(recordIn, labels);
      if (picture && !places.has(key)) places.set(key, { file, line, column: 1 });
    }
  }
  return (shot) => {
    const [first] = parts;
    return first === undefined ? undefined : places.get(labelKey(list.recordStart + (list.shots[shot]?.in ?? -1), first.labels));
  };
}

/** The label without its day, by which events and shots find one another. */
const labelKey = (frame: number, labels: EdlDocument['labels']): number => Number(formatTimecode(frame, labels).replace(/\D/g, ''));

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
