/** How corrections name places of a list: the other way round from reading them. */
import type { CutList } from '../cutlist/model.js';
import { recordLabel, shotIndexAt } from '../cutlist/record.js';
import { framesPerDay } from '../timecode/timecode.js';

/** Frames of the list, after its changes of length, named as places of the list before them. */
export interface Spots {
  /** First frame of each shot after the changes of length; of one that is taken out, where it would be. */
  readonly starts: readonly number[];
  /** Length after the changes. */
  readonly frames: number;
  /** The shot that holds a frame then. */
  readonly shotAt: (frame: number) => number;
  /** The text for `at`. */
  readonly name: (frame: number) => string;
}

/** `lengths`: the new length of the shots that get one, by index. */
export function spotsOf(list: CutList, lengths: ReadonlyMap<number, number>): Spots {
  const starts: number[] = [];
  const left: { in: number; index: number }[] = [];
  let at = 0;
  list.shots.forEach((shot, index) => {
    const length = lengths.get(index) ?? shot.out - shot.in;
    starts.push(at);
    if (length > 0) left.push({ in: at, index });
    at += length;
  });
  const shotAt = (frame: number): number => left[shotIndexAt(left, frame)]?.index ?? 0;
  const name = (frame: number): string => {
    const index = shotAt(frame);
    const shot = list.shots[index];
    const offset = frame - (starts[index] ?? 0);
    if (shot === undefined) return String(frame);
    // Frames that a shot gains have no time of their own, but for the last one's.
    if (offset >= shot.out - shot.in && index < list.shots.length - 1) return `#${String(index + 1)}+${String(offset)}`;
    return timeText(list, shot.in + offset);
  };
  return { starts, frames: at, shotAt, name };
}

/** The record timecode of a frame; its number where a label could be taken for another day's, or for one before the list. */
export function timeText(list: CutList, frame: number): string {
  const day = framesPerDay(list.count);
  return frame < day && (frame <= list.frames || frame <= day / 2) ? recordLabel(list, frame) : String(frame);
}
