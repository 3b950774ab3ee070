/** Which frames of a stretch a recording holds, and in which file. */
import { scale } from '../timecode/exact.js';
import type { Count } from '../timecode/rate.js';
import type { Source } from './model.js';
import { daysTo, spanAt, spansBefore, type SourceRecording, type Span } from './recording.js';
import { fromLabelZero, Run, type Played } from './sync.js';

/** Where frames are missing: before the recording, behind it, in a hole between two files, or everywhere (not recorded). */
export type Why = 'before' | 'after' | 'hole' | 'unrecorded';

/** Frames of a stretch that its recording lacks. */
export interface Missing extends Pick<Played, 'in' | 'out'> {
  readonly why: Why;
  /** The source that was asked for. */
  readonly source: Source;
  /** The spans on both sides of a hole. */
  readonly hole: readonly [Span, Span] | undefined;
}

/** Frames of a mix that comes from the program as a whole, whether their recording has them or not. */
export interface InMix {
  readonly why: 'mix';
}

/** A part of a stretch that plays from one file. With `missing` it is not what was asked for: nothing, or a replacement. */
export interface Part extends Played {
  readonly source: string;
  readonly file: number | undefined;
  readonly missing: Missing | InMix | undefined;
  /** How what was asked for runs, and the source frame, in the file's labels, on which the file ends; undefined where that is not known, or there is no end. */
  readonly run: Run | undefined;
  readonly end: number;
}

/** Whether the only part of what was asked for is that itself. */
export const isAsIs = (asked: Played & { readonly source: string; readonly file?: number }, part: Part): boolean =>
  asked.in === part.in && asked.source === part.source && asked.sourceIn === part.sourceIn && asked.sourceOut === part.sourceOut
  && asked.file === part.file && part.missing === undefined;

/** The record frame (exclusive) up to which the file of a part could go on: its handle. As the part runs by itself, so that it is the same when the list is placed again. */
export function reachOf(part: Part): number {
  const { run, end } = part;
  return run === undefined || end === Infinity ? Infinity : heldTo(new Run(part, run.list, run.source), part.in, Infinity, end);
}

/**
 * The record frame ≤ `to` (exclusive) up to which a recording that ends on source frame `end` holds what a run shows from `from` on. A
 * source at a faster rate has several frames to each of the list: the last record frame is not held where the source side
 * would pass the end by more than one frame, which is what rounding explains.
 */
export function heldTo(run: Run, from: number, to: number, end: number): number {
  const out = Math.min(to, run.reaching(end));
  // A still frame never ends.
  return Number.isFinite(out) && out > from && run.at(from) + run.atMost(from, out) > end + 1 ? out - 1 : out;
}

/**
 * Divides a stretch of the record side, from `from` on, into parts. Where nothing is known of the recording, all is there. Source
 * points of a part are in the labels of its file: whole days are taken off where labels wrapped. Every record frame of a
 * part that is not missing has a source frame within the file. Where the next file begins before one ends, it is gone over to where that begins:
 * the handle of a mix is then that of the file that goes on longer. A source that is faster than the frames it is played by (30 in 29.97) leaves its files in real time, and each part
 * begins at its own (`Run.moment`). A record frame of which the file has only a part (`heldTo`) is missing,
 * unless the next file begins where this one ends: going over to that one a frame early would put it out of sync.
 */
export function cover(stretch: Played & { readonly file?: number }, source: Source, recording: SourceRecording, list: Count, from = stretch.in): Part[] {
  const { spans } = recording;
  const run = new Run(stretch, list, source.count);
  const { id } = source;
  if (spans === undefined) {
    const sourceIn = fromLabelZero(run.moment(from), source.count);
    const sourceOut = from === stretch.in ? sourceIn + stretch.sourceOut - stretch.sourceIn : sourceIn + run.lengthOf(from, stretch.out);
    return [{ source: id, in: from, out: stretch.out, sourceIn, sourceOut, file: recording.onlyFile ?? stretch.file, missing: undefined, run: undefined, end: Infinity }];
  }
  const days = daysOf(stretch, recording);
  const parts: Part[] = [];
  let start = from;
  // The span that was left a record frame early: the rest of that frame still lies in it.
  let left = -1;
  // Where files are left in real time, no part goes back to frames of the file before.
  let least = -Infinity;
  while (start < stretch.out) {
    const here = Math.max(run.moment(start) + days, least);
    const index = spanAt(spans, here);
    const span = index === left ? undefined : spans[index];
    if (span === undefined) {
      const part = missingPart({ stretch, run, spans, days }, source, start, here);
      parts.push(part);
      start = part.out;
      continue;
    }
    const next = spans[index + 1]?.start ?? Infinity;
    const isSeam = next <= span.end;
    const until = Math.min(next, span.end);
    const own = run.isAhead ? run.from(start, here - days) : run;
    const reach = Math.max(start + 1, Math.min(stretch.out, run.isAhead ? aheadTo(run, own, until - days) : run.reaching(until - days)));
    const out = isSeam || run.isAhead ? reach : heldTo(run, start, stretch.out, span.end - days);
    if (out < reach) left = index;
    if (out <= start) continue;
    if (run.isAhead) least = until;
    // Rule 12: the nearest frame, where the file has enough behind it.
    const nearest = own.nearest(start) + days;
    const sourceIn = isSeam || nearest + own.lengthOf(start, out) <= span.end ? Math.min(nearest, span.end - 1, next - 1) : here;
    const wanted = start === stretch.in && out === stretch.out ? stretch.sourceOut + days : sourceIn + own.lengthOf(start, out);
    const sourceOut = isSeam ? atSeam({ in: start, out, sourceIn, sourceOut: wanted }, next) : Math.min(wanted, span.end);
    parts.push({ source: id, in: start, out, sourceIn: sourceIn - span.days, sourceOut: sourceOut - span.days, file: span.file ?? stretch.file, missing: undefined, run, end: span.end - span.days });
    start = out;
  }
  return parts;
}

/**
 * Where the rest of a stretch, `own`, leaves a file in real time: on the nearest frame, but not before its own end where that is the one after: each part
 * begins on a rounded frame, and would else be a frame shorter when it is placed again.
 */
const aheadTo = (run: Run, own: Run, end: number): number => (run.stretch.out <= own.passing(end) ? run.stretch.out : run.reaching(end));

/**
 * The source out-point of a part that ends on `end`, where its file does, or the next one begins: as the rates have it, though the file may hold a
 * part only of the last record frame. No further than that this frame begins before `end`, so that the part is the same when it is placed again.
 */
function atSeam({ in: into, out, sourceIn, sourceOut }: Played, end: number): number {
  const length = out - into;
  let last = sourceOut;
  while (last > end && sourceIn + scale(length - 1, last - sourceIn, length, 'floor') >= end) last -= 1;
  return last;
}

/** A stretch beside what its recording has: how it runs, and the whole days from its labels to those of the spans. */
interface OnSpans {
  readonly stretch: Played;
  readonly run: Run;
  readonly spans: readonly Span[];
  readonly days: number;
}

/** What a stretch lacks from record frame `start` on, which is on `here`, and no span holds, up to the next span. */
function missingPart({ stretch, run, spans, days }: OnSpans, source: Source, start: number, here: number): Part {
  const next = spansBefore(spans, here);
  const [before, after] = [spans[next - 1], spans[next]];
  const out = Math.max(start + 1, Math.min(stretch.out, run.reaching((after?.start ?? Infinity) - days)));
  const why: Why = before === undefined ? 'before' : after === undefined ? 'after' : 'hole';
  const hole = before === undefined || after === undefined ? undefined : ([before, after] as const);
  const sourceIn = run.moment(start);
  const missing: Missing = { in: start, out, why, source, hole };
  return { source: source.id, in: start, out, sourceIn, sourceOut: sourceIn + run.lengthOf(start, out), file: undefined, missing, run: undefined, end: Infinity };
}

/** Whole days between the stretch's labels and the recording's: as its file says where that is known, else what brings them nearest. */
function daysOf(stretch: Played & { readonly file?: number }, recording: SourceRecording): number {
  const own: Span | undefined = stretch.file === undefined ? undefined : recording.byFile.get(stretch.file);
  if (own !== undefined && stretch.sourceIn + own.days >= own.start && stretch.sourceIn + own.days < own.end) return own.days;
  return daysTo(recording, stretch.sourceIn, Math.max(stretch.sourceOut, stretch.sourceIn + 1));
}
