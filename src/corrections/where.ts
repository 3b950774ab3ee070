/** Where a correction points: the shot, the time or the marker that it names, if it still is what the correction expects. */
import { fault, isFault, type Fault } from '../problems.js';
import { withinDay } from '../timecode/day.js';
import { framesPerDay, parseTimecode } from '../timecode/timecode.js';
import type { Correction } from './model.js';
import type { ShotSpot } from './edits.js';
import type { CutList } from '../cutlist/model.js';
import { findSource, sourceText } from '../cutlist/naming.js';
import { recordLabel, shotIndexAt } from '../cutlist/record.js';

/** The frame of the list, ≥ 0, that a record time names; it may lie past the end. Faults: `bad-time`, `dropped-label`, `correction-mismatch`. */
export function recordFrame(list: CutList, text: string): number | Fault {
  const given = text.trim();
  if (/^\d+$/.test(given)) return Number(given);
  const label = parseTimecode(given, list.count);
  if (isFault(label)) return label.fault === 'bad-time' ? fault('bad-time', `${label.message}, or a number of frames from the start of the list`) : label;
  const day = framesPerDay(list.count);
  const frame = withinDay(label - list.recordStart, day);
  // Labels before the start come out just under a day.
  if (frame > list.frames && frame > day / 2) {
    return fault('correction-mismatch', `${given} lies before the list, which begins at ${recordLabel(list, 0)}`);
  }
  return frame;
}

/** The place that a record time, or `#12+250`, names. Faults as `recordFrame`. */
export function spotAt(list: CutList, text: string): ShotSpot | Fault {
  const parts = /^#(\d+)\s*\+\s*(\d+)$/.exec(text.trim());
  if (parts !== null) {
    const shot = Number(parts[1]) - 1;
    if (list.shots[shot] === undefined) return fault('correction-mismatch', `there is no shot ${parts[1] ?? ''}; the list has ${String(list.shots.length)}`);
    return { shot, offset: Number(parts[2]) };
  }
  const frame = recordFrame(list, text);
  if (isFault(frame)) return frame;
  const shot = shotIndexAt(list.shots, frame);
  return { shot, offset: frame - (list.shots[shot]?.in ?? 0) };
}

/** The index of the shot that a correction names. Faults: `correction-mismatch`, `unknown-source`, `bad-corrections`, faults of times. */
export function namedShot(list: CutList, { shot, at, expect = '', was }: Correction): number | Fault {
  const byTime = at === undefined ? undefined : shotBeginningAt(list, at, expect);
  if (byTime !== undefined && isFault(byTime)) return byTime;
  const index = shot === undefined ? byTime : shot - 1;
  if (index === undefined) return fault('bad-corrections', 'it does not say which shot; give at (the record timecode of its first frame) or shot and was (its number and frames)');
  const found = list.shots[index];
  if (found === undefined) return fault('correction-mismatch', `there is no shot ${String(shot)}; the list has ${String(list.shots.length)}`);
  const name = shotText(list, index);
  if (byTime !== undefined && byTime !== index) {
    return fault('correction-mismatch', `shot ${String(shot)} begins at ${recordLabel(list, found.in)}, not at ${at ?? ''}; there shot ${String(byTime + 1)} begins`);
  }
  const id = findSource(list.sources, expect);
  if (id === undefined) return fault('unknown-source', `it expects '${expect}', which is no source of the list`);
  if (found.source !== id && found.instead !== id) return fault('correction-mismatch', `it expects ${sourceText(list.sources, id)}, and ${name}`);
  const frames = found.out - found.in;
  if (was !== undefined && was !== frames) return fault('correction-mismatch', `it expects a shot of ${String(was)} frames, and ${name}, has ${String(frames)}`);
  if (at === undefined && was === undefined) {
    return fault('bad-corrections', `a number alone could hit another shot when the list changes; give also at: ${recordLabel(list, found.in)}, or was: ${String(frames)}`);
  }
  return index;
}

function shotBeginningAt(list: CutList, at: string, expect: string): number | Fault {
  const frame = recordFrame(list, at);
  if (isFault(frame)) return frame;
  const index = shotIndexAt(list.shots, frame);
  const shot = list.shots[index];
  if (shot?.in === frame) return index;
  if (shot === undefined || frame >= list.frames) return fault('correction-mismatch', `${at.trim()} lies after the list, which ends at ${recordLabel(list, list.frames)}`);
  const fits = findSource(list.sources, expect) === shot.source ? `; if that one is meant, write at: ${recordLabel(list, shot.in)}` : '';
  return fault('correction-mismatch', `no shot begins at ${at.trim()}: ${shotText(list, index)}${fits}`);
}

/** `shot 12 is Close-up (2) from 01:00:04:00`. */
export function shotText(list: CutList, index: number): string {
  const shot = list.shots[index];
  return shot === undefined ? `shot ${String(index + 1)}` : `shot ${String(index + 1)} is ${sourceText(list.sources, shot.source)} from ${recordLabel(list, shot.in)}`;
}

/** `5 later`, `+5` as 5; `5 earlier`, `-5` as −5, with the words given; undefined for anything else. */
export function signed(text: string, more: string, less: string): number | undefined {
  const parts = /^([+-])?\s*(\d{1,9})\s*(?:f|frames?)?\s*([a-z]+)?$/i.exec(text.trim());
  if (parts === null) return undefined;
  const [, sign, digits, word] = parts;
  const direction = word?.toLowerCase();
  if (sign === undefined) return direction === more ? Number(digits) : direction === less ? -Number(digits) : undefined;
  return direction !== undefined ? undefined : sign === '+' ? Number(digits) : -Number(digits);
}
