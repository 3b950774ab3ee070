/** The order of a source's files, and what lies between them. */
import { framesText } from '../frames-text.js';
import { problem, type Problem } from '../problems.js';
import type { Count } from '../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';
import { extentIn, type Extent, type Recording } from './recording.js';

/** A recording with its place in its source. */
export interface Placed {
  readonly recording: Recording;
  /** Its path below the folder that was read, with `/`. */
  readonly name: string;
  /** The same with the folder's own name before it, where several folders were read. */
  readonly longName?: string;
  readonly extent?: Extent;
}

/** Places a recording; sound without timecode of its own is put on frames of `count`. */
export function placed(recording: Recording, name: string, count: Count | undefined, longName?: string): Placed {
  const extent = extentIn(recording, count);
  return { recording, name, ...(longName === undefined ? {} : { longName }), ...(extent === undefined ? {} : { extent }) };
}

/** Names as people sort them: `wide-2` before `wide-10`. The same order on every machine. */
const collator = new Intl.Collator('en', { numeric: true });

export const byName = (a: string, b: string): number => collator.compare(a, b) || (a < b ? -1 : a > b ? 1 : 0);

/** A file whose start and length are known, as frames since label zero. */
interface Span {
  readonly file: Placed;
  readonly start: number;
  readonly end: number;
  readonly count: Count;
}

/**
 * The files of one source in order of timecode; those without one follow, in order of name. Where a file runs past midnight (or up to
 * it, and another begins there) the order begins behind the longest pause, so that the evening comes before the night.
 */
export function inOrder(files: readonly Placed[]): Placed[] {
  const spans = spansOf(files);
  const starts = files.filter(({ extent }) => extent?.start !== undefined);
  starts.sort((a, b) => (a.extent?.start ?? 0) - (b.extent?.start ?? 0) || byName(a.name, b.name));
  const others = files.filter(({ extent }) => extent?.start === undefined).sort((a, b) => byName(a.name, b.name));
  const first = afterMidnight(spans);
  const turn = first === undefined ? 0 : starts.indexOf(first);
  return [...starts.slice(turn), ...starts.slice(0, turn), ...others];
}

const spansOf = (files: readonly Placed[]): Span[] =>
  files
    .flatMap((file) => (file.extent?.start === undefined ? [] : [{ file, start: file.extent.start, end: file.extent.start + (file.extent.frames ?? 0), count: file.extent.count }]))
    .sort((a, b) => a.start - b.start || byName(a.file.name, b.file.name));

/** The file that comes first in a recording that passes midnight: the one behind the longest pause. */
function afterMidnight(spans: readonly Span[]): Placed | undefined {
  const [first] = spans;
  if (first === undefined || spans.length === 1) return undefined;
  const day = framesPerDay(first.count);
  const latest = Math.max(...spans.map(({ end }) => end));
  const passes = latest > day || (latest === day && first.start === 0);
  if (!passes) return undefined;
  let longest = first.start + day - latest;
  let found: Placed | undefined;
  let end = first.end;
  for (const span of spans.slice(1)) {
    if (span.start - end > longest) {
      longest = span.start - end;
      found = span.file;
    }
    end = Math.max(end, span.end);
  }
  return found;
}

/** Frames that two files hold both. */
export interface Shared {
  readonly file: Placed;
  readonly before: Placed;
  readonly frames: number;
  /** At most two seconds, and under a tenth of the shorter file: some recorders begin a part before they end the one before it (common practice, no source). */
  readonly isShort: boolean;
}

/** Which of these files hold the same frames: each that begins before those before it have ended, once. */
export function sharedFrames(files: readonly Placed[]): Shared[] {
  const found: Shared[] = [];
  let before: Span | undefined;
  for (const span of spansOf(files)) {
    if (before !== undefined && span.start < before.end) {
      const frames = Math.min(before.end, span.end) - span.start;
      const shorter = Math.min(before.end - before.start, span.end - span.start);
      const { num, den } = span.count.rate;
      found.push({ file: span.file, before: before.file, frames, isShort: frames * den <= 2 * num && frames * 10 < shorter });
    }
    if (before === undefined || span.end > before.end) before = span;
  }
  return found;
}

/**
 * Whether files can be parts of one recording. Not (`no`) where two of them hold the same frames, or count in different ways. `overlaps`: they could
 * be, but for short stretches that two of them share (`Shared`).
 */
export function canBeOne(files: readonly Placed[]): 'yes' | 'overlaps' | 'no' {
  const extents = files.flatMap(({ extent }) => (extent === undefined ? [] : [extent]));
  const rates = new Set(extents.map(({ count }) => count.rate.name));
  const marks = new Set(extents.filter(({ start }) => start !== undefined).map(({ count }) => count.dropFrame));
  if (rates.size > 1 || marks.size > 1) return 'no';
  const shared = sharedFrames(files);
  if (shared.some(({ isShort }) => !isShort)) return 'no';
  const spans = spansOf(files);
  const [first] = spans;
  const end = spans.reduce((latest, span) => Math.max(latest, span.end), 0);
  if (first !== undefined && spans.length > 1 && end - framesPerDay(first.count) > first.start) return 'no';
  return shared.length > 0 ? 'overlaps' : 'yes';
}

const firstText = (frames: number): string => (frames === 1 ? 'its first frame is' : `its first ${framesText(frames)} are`);

/** What lies between the files of a source, in the order given: `recording-overlap` (warning), `recording-hole` (note). */
export function between(files: readonly Placed[]): Problem[] {
  const problems: Problem[] = [];
  let before: Span | undefined;
  for (const file of files) {
    const { extent } = file;
    if (extent?.start === undefined || extent.frames === undefined) {
      before = undefined;
      continue;
    }
    let start = extent.start;
    const day = framesPerDay(extent.count);
    if (before !== undefined) while (start + day / 2 < before.start) start += day;
    if (before !== undefined && start !== before.end) {
      const missing = start - before.end;
      const place = { file: file.recording.path };
      const last = formatTimecode(before.end - 1, extent.count);
      const first = formatTimecode(start, extent.count);
      problems.push(
        missing > 0
          ? problem('recording-hole', `${framesText(missing)} ${missing === 1 ? 'is' : 'are'} missing between ${before.file.name} (to ${last}) and this file (from ${first})`, place, 'note')
          : problem('recording-overlap', `${firstText(Math.min(-missing, extent.frames))} in ${before.file.name} too (which goes to ${last}, and this file begins at ${first})`, place),
      );
    }
    before = { file, start, end: start + extent.frames, count: extent.count };
  }
  return problems;
}
