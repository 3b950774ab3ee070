/**
 * Recordings that begin on different labels, in a log that is counted from the recording (contract, rule 5): each is taken to begin
 * with the log. That is right where every recorder has labels of its own and all were started together, and wrong where they share
 * the time of day and were not.
 */
import { problem, type Report } from '../problems.js';
import { scale } from '../timecode/exact.js';
import { nearestRepeat } from '../timecode/day.js';
import { labelNumber } from '../timecode/label.js';
import { formatTimecode } from '../timecode/timecode.js';
import { listOf } from '../visible.js';
import type { CutList, Source } from './model.js';
import { recordingEnd, Recordings } from './recording.js';

/** Milliseconds. Recorders that are started and stopped together differ by less in length. */
const SAME_LENGTH = 2000;
const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** The label that a recording begins on, as milliseconds of its day, and its length, where that is known. */
interface Begun {
  readonly id: string;
  readonly label: string;
  readonly at: number;
  readonly length?: number;
}

/**
 * Reports `starts-differ` once where sources that the lists use begin on different labels, and neither `sync` nor a list of starts says
 * how they belong together. Whole hours between them are labels of their own, given by number. A warning where the labels, read as the time of
 * day, lie over one another for the most part, and the lengths show that they were not both started and stopped together; else a note. `isClock`: the log has
 * clock times, which can be tied to labels.
 */
export function reportStarts(lists: readonly CutList[], sources: readonly Source[], isClock: boolean, report: Report): void {
  const begun = sources.flatMap(begunOf);
  if (!differ(begun)) return;
  const used = new Set(lists.flatMap(({ shots, audio }) => [shots, audio]).flatMap((played) => played.map(({ source }) => source)));
  const seen = begun.filter(({ id }) => used.has(id));
  if (!differ(seen)) return;
  const longest = longestOf(seen);
  const apart = seen.some((one) => longest !== undefined && sharesDay(one, longest));
  const how = `${isClock ? 'say --anchor CLOCK=TIMECODE, or ' : ''}give sources sync in the show file`;
  const labels = listOf(seen.map(({ id, label }) => `'${id}' ${label}`), 6);
  const what = `recordings begin on different labels (${labels}), and each is taken to begin with the log`;
  const message = apart ? `${what}; their lengths say that they were not all started and stopped together: where they share the time of day, ${how}` : `${what}; where they share timecode instead, ${how}`;
  report(problem('starts-differ', message, undefined, apart ? 'warning' : 'note'));
}

function begunOf(source: Source): Begun[] {
  const [start] = source.starts;
  if (start === undefined || source.starts.length > 1 || source.sync !== undefined || !source.recorded) return [];
  const { count } = source;
  const at = scale(labelNumber(start, count), 1000, count.rate.nominal);
  const end = recordingEnd(new Recordings().of(source, undefined));
  return [{ id: source.id, label: formatTimecode(start, count), at, ...(end === undefined ? {} : { length: scale(end - start, 1000 * count.rate.den, count.rate.num) }) }];
}

/** Milliseconds from the label of one to that of the other, nearest way round the day. */
const between = (one: Begun, other: Begun): number => nearestRepeat(other.at - one.at, DAY, 0);

const differ = ([first, ...more]: readonly Begun[]): boolean => first !== undefined && more.some((one) => between(first, one) % HOUR !== 0);

const longestOf = (seen: readonly Begun[]): Begun | undefined =>
  seen.reduce<Begun | undefined>((most, one) => ((one.length ?? -1) > (most?.length ?? -1) ? one : most), undefined);

/** Whether the two look like recordings of one time of day, of which one began or ended without the other. */
function sharesDay({ length, ...one }: Begun, longest: Begun): boolean {
  if (length === undefined || longest.length === undefined || longest.length - length <= SAME_LENGTH) return false;
  const from = between(longest, one);
  const common = Math.min(from + length, longest.length) - Math.max(from, 0);
  return from % HOUR !== 0 && 2 * common >= length;
}
