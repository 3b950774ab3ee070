/** Which frames of a stretch a recording holds, and in which file. */
import type { Count } from '../timecode/rate.js';
import type { Source } from './model.js';
import { daysTo, spanAt, spansBefore, type Recording, type Span } from './recording.js';
import { runOf, sourceLength, type Played } from './sync.js';

/** Where frames are missing: before the recording, behind it, in a hole between two files, or everywhere (not recorded). */
export type Why = 'before' | 'after' | 'hole' | 'unrecorded';

/** A part of a stretch that plays from one file, or that no file holds. */
export interface Part extends Played {
  readonly file: number | undefined;
  readonly missing: Why | undefined;
  /** The spans on both sides of a hole. */
  readonly hole?: readonly [Span, Span];
  /** Record frame (exclusive) up to which the file could go on: its handle. */
  readonly reach: () => number;
}

const endless = (): number => Infinity;

/**
 * Divides a stretch of the record side, from `from` on, into parts. Where nothing is known of the recording, all is there. Source
 * points of a part are in the labels of its file: whole days are taken off where labels wrapped. Every record frame of a
 * part has a source frame within the file.
 */
export function cover(stretch: Played & { readonly file?: number }, source: Source, recording: Recording, list: Count, from = stretch.in): Part[] {
  const { spans } = recording;
  const { at, reaching } = runOf(stretch, list, source.count);
  const isSteady = stretch.sourceOut - stretch.sourceIn === sourceLength(stretch.out - stretch.in, list, source.count);
  const lengthOf = (start: number, end: number): number => (isSteady ? sourceLength(end - start, list, source.count) : at(end) - at(start));
  if (spans === undefined) {
    const sourceIn = at(from);
    const sourceOut = from === stretch.in ? stretch.sourceOut : sourceIn + lengthOf(from, stretch.out);
    return [{ in: from, out: stretch.out, sourceIn, sourceOut, file: recording.onlyFile ?? stretch.file, missing: undefined, reach: endless }];
  }
  const days = daysOf(stretch, recording);
  const parts: Part[] = [];
  let start = from;
  while (start < stretch.out) {
    const here = at(start) + days;
    const index = spanAt(spans, here);
    const span = spans[index];
    const end = Math.max(start + 1, Math.min(stretch.out, reaching((span?.end ?? spans[spansBefore(spans, here)]?.start ?? Infinity) - days)));
    if (span === undefined) {
      const next = spansBefore(spans, here);
      const [before, after] = [spans[next - 1], spans[next]];
      const missing: Why = before === undefined ? 'before' : after === undefined ? 'after' : 'hole';
      const hole = before === undefined || after === undefined ? {} : { hole: [before, after] as const };
      parts.push({ in: start, out: end, sourceIn: at(start), sourceOut: at(start) + lengthOf(start, end), file: undefined, missing, ...hole, reach: endless });
    } else {
      const sourceOut = Math.min(start === stretch.in && end === stretch.out ? stretch.sourceOut + days : here + lengthOf(start, end), span.end);
      parts.push({ in: start, out: end, sourceIn: here - span.days, sourceOut: sourceOut - span.days, file: span.file, missing: undefined, reach: () => reaching(span.end - days) });
    }
    start = end;
  }
  return parts;
}

/** Whole days between the stretch's labels and the recording's: as its file says where that is known, else what brings them nearest. */
function daysOf(stretch: Played & { readonly file?: number }, recording: Recording): number {
  const own: Span | undefined = stretch.file === undefined ? undefined : recording.byFile.get(stretch.file);
  if (own !== undefined && stretch.sourceIn + own.days >= own.start && stretch.sourceIn + own.days < own.end) return own.days;
  return daysTo(recording, stretch.sourceIn, Math.max(stretch.sourceOut, stretch.sourceIn + 1));
}
