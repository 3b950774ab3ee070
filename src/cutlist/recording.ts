/** A source's recording as stretches of its own frames: which file holds which. */
import { framesPerDay } from '../timecode/timecode.js';
import type { MediaFile, Source } from './model.js';
import { earliestOf } from './starts.js';
import { firstFrame, isCounted, sourceLength, type NumberedTake } from './sync.js';

/** A file's stretch of the recording, [start, end), in source frames that run on past midnight. `end` may be Infinity. */
export interface Span {
  /** Index into the source's `files`; undefined where a start is known, but no file. */
  readonly file: number | undefined;
  readonly start: number;
  readonly end: number;
  /** What to take off `start` to get the file's own start: whole days, where the labels wrapped before this file. */
  readonly days: number;
}

/**
 * What is known of a source's recording. `spans` is undefined when nothing is (any frame may be there): neither a start nor a
 * file whose start somebody gave, nor a log that is counted from it. Else the spans are in order, none within another.
 */
export interface SourceRecording {
  readonly spans: readonly Span[] | undefined;
  /** The same by file. */
  readonly byFile: ReadonlyMap<number, Span>;
  /** Stretches that two files hold, as frames and the later file; not those of files that are a take each. */
  readonly overlaps: readonly { readonly file: number; readonly with: number; readonly frames: number }[];
  /** The source has files, and nothing says which frames each of them holds. */
  readonly unplaced: boolean;
  /** The file that everything plays from where they are unplaced; undefined when there is none, or more than one. */
  readonly onlyFile: number | undefined;
  /** Frames of 24 h of the source's labels. */
  readonly day: number;
}

/**
 * The index of the start, and of the file, that is a take's own; undefined where every take may play from all there is. A list of starts has one a take. So do as many
 * files, in a log counted from the recording; in others it is their labels that say what they hold.
 */
function ownOf(source: Source, take: NumberedTake): number | undefined {
  const { files, starts, sync } = source;
  if (sync !== undefined || starts.length < 2) return undefined;
  const isEach = take.origin === 'recording' ? files.length === 0 || starts.length === files.length : take.origin === 'timecode' && files.length === 0 && take.number <= starts.length;
  return isEach ? take.number - 1 : undefined;
}

/**
 * The recording of a source; with `only`, of that file or start alone. Without files it goes on from its start. A file without a start begins where the one before it ends,
 * the first on the source's only start; a file without a length goes on to the next one, the last without end.
 */
function recordingOf(source: Source, only?: number): SourceRecording {
  const day = framesPerDay(source.count);
  const { files } = source;
  const unknown: SourceRecording = { spans: undefined, byFile: new Map(), overlaps: [], unplaced: files.length > 0, onlyFile: files.length === 1 ? 0 : files.length === 0 ? undefined : only, day };
  const spans: Span[] = [];
  const begins = only !== undefined ? source.starts[only] : earliestOf(source.starts, day);
  if (files.length === 0 && begins !== undefined) return goingOn(unknown, begins);
  for (const [file, media] of files.entries()) {
    if (only !== undefined && file !== only) continue;
    const before = spans.at(-1);
    const own = media.start === undefined ? undefined : toSource(media.start, media, source);
    let start = own ?? (before === undefined ? firstStart(source, only) : before.end);
    if (start === undefined || start === Infinity) return unknown;
    let days = 0;
    // A label far below the one before it lies on the next day.
    while (before !== undefined && own !== undefined && start + day / 2 < before.start) {
      start += day;
      days += day;
    }
    const frames = media.frames === undefined ? Infinity : toSource(media.frames, media, source);
    spans.push({ file, start, end: start + frames, days });
  }
  if (spans.length === 0) return unknown;
  const { kept, overlaps } = inOrder(spans);
  return { ...unknown, unplaced: false, spans: kept, overlaps, byFile: new Map(kept.map((span) => [span.file ?? -1, span])) };
}

/** A recording of which only its first frame is known: it goes on from there. */
const goingOn = (recording: SourceRecording, start: number): SourceRecording => ({ ...recording, spans: [{ file: recording.onlyFile, start, end: Infinity, days: 0 }] });

const firstStart = ({ starts }: Source, only: number | undefined): number | undefined =>
  only !== undefined ? starts[only] : starts.length === 1 ? starts[0] : undefined;

/** Frames of a file at its own rate as frames of the source: the same number for one nominal count (labels agree), else real time. */
export const toSource = (frames: number, { count }: MediaFile, source: Source): number => (count === undefined ? frames : sourceLength(frames, count, source.count));

/** In order of start, without empty ones and those that lie within another; a file of unknown length ends where the next begins. */
function inOrder(spans: readonly Span[]): { kept: Span[]; overlaps: SourceRecording['overlaps'] } {
  const sorted = [...spans].sort((a, b) => a.start - b.start || b.end - a.end);
  const kept: Span[] = [];
  const overlaps: { file: number; with: number; frames: number }[] = [];
  for (const [index, span] of sorted.entries()) {
    const next = sorted[index + 1];
    const end = span.end === Infinity && next !== undefined ? next.start : span.end;
    const before = kept.at(-1);
    const frames = before === undefined ? 0 : Math.min(before.end, end) - span.start;
    if (before !== undefined && frames > 0) overlaps.push({ file: span.file ?? 0, with: before.file ?? 0, frames });
    if (end > span.start && end > (before?.end ?? -Infinity)) kept.push(end === span.end ? span : { ...span, end });
  }
  return { kept, overlaps };
}

/** The path of a span's file, for messages. */
export const pathOf = (source: Source, { file }: Span): string => (file === undefined ? '' : (source.files[file]?.path ?? ''));

/** Index of the span that holds `frame`, the later one where two do; −1 when none does. */
export function spanAt(spans: readonly Span[], frame: number): number {
  const index = spansBefore(spans, frame) - 1;
  const span = spans[index];
  return span !== undefined && frame < span.end ? index : -1;
}

/** How many spans begin on `frame` or before. */
export function spansBefore(spans: readonly Span[], frame: number): number {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((spans[middle]?.start ?? Infinity) <= frame) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Whole days to add to the source frames [from, to) so that they come to lie in the recording, or nearest to it: labels
 * wrap at 24 h, and a recording may begin on the day before the log does. Zero where that is as near. A recording without a known
 * end is taken for half a day, or frames just before it would come to lie in it a day later.
 */
export function daysTo(recording: SourceRecording, from: number, to: number): number {
  const first = recording.spans?.[0];
  const last = recording.spans?.at(-1);
  if (first === undefined || last === undefined) return 0;
  if (to > first.start && from < last.end) return 0;
  const end = last.end === Infinity ? last.start + recording.day / 2 : last.end;
  const distance = (days: number): number => Math.max(first.start - (to - 1 + days), from + days - (end - 1), 0);
  let best = 0;
  const near = Math.floor((first.start - from) / recording.day) * recording.day;
  for (const days of [near, near + recording.day]) if (distance(days) < distance(best)) best = days;
  return best;
}

/** The end of the recording (exclusive), in source frames; undefined when it is not known. */
export function recordingEnd(recording: SourceRecording): number | undefined {
  const end = recording.spans?.at(-1)?.end;
  return end === Infinity ? undefined : end;
}

/** The recordings of a list's sources, each looked up once. */
export class Recordings {
  readonly #found = new Map<string, SourceRecording>();

  /** What is known of the recording of `source` in a take: of all its files, or of the one that is this take's own. */
  of(source: Source, take: NumberedTake | undefined): SourceRecording {
    const only = take === undefined ? undefined : ownOf(source, take);
    const key = only === undefined ? source.id : `${source.id} ${String(only)}`;
    let found = this.#found.get(key);
    if (found !== undefined) return found;
    found = recordingOf(source, only);
    // Of several starts each is its own take's: none is a bound for all of them.
    if (found.spans === undefined && source.starts.length < 2 && take !== undefined && isCounted(source, take)) found = goingOn(found, firstFrame(source));
    this.#found.set(key, found);
    return found;
  }

  /** What is known of one file of a source, whatever else it has. */
  ofFile(source: Source, file: number): SourceRecording {
    const key = `${source.id} file ${String(file)}`;
    const found = this.#found.get(key) ?? recordingOf(source, file);
    this.#found.set(key, found);
    return found;
  }
}
