/** Chapters of a cut list: where they begin and end, and what they are called. Every format is written from these. */
import { BLACK, type CutList } from '../../cutlist/model.js';
import { findSource, sourceWords } from '../../cutlist/naming.js';
import { didYouMean } from '../../nearest.js';
import { problem, type Report } from '../../problems.js';
import { framesIn } from '../../timecode/duration.js';
import { parseDecimal, roundFraction } from '../../timecode/exact.js';
import type { Rate } from '../../timecode/rate.js';

/** Where chapters come from. */
export type ChaptersFrom =
  | { readonly by: 'markers' | 'takes' }
  /** Each time a source (id, alias or name) comes on. */
  | { readonly by: 'source'; readonly source: string }
  /** At zero and every so many seconds, on the first frame that is not before it. */
  | { readonly by: 'every'; readonly seconds: number };

/** Which chapters a list has. */
export interface ChaptersWanted {
  /** Default: markers. */
  readonly from?: ChaptersFrom;
  /** Least real time between two chapters, in seconds; a chapter that comes sooner is left out. Default none. */
  readonly least?: number;
}

/** Record frames [at, end), counted from the list's first; real time is frames × den / num of its rate. `end` is above `at`. */
export interface Chapter {
  readonly at: number;
  readonly end: number;
  readonly title: string;
}

type Point = Pick<Chapter, 'at' | 'title'>;

/**
 * The chapters of a list, in order. A chapter ends where the next later one begins, the last with the list. Where none
 * falls in the first second of real time, one at zero carries the list's title; none is ever moved. Problems: those of `chapterSource`, and
 * then it is undefined; `left-out` for those that come sooner than `least`.
 */
export function chaptersOf(list: CutList, { from = { by: 'markers' }, least = 0 }: ChaptersWanted, report: Report): Chapter[] | undefined {
  const { rate } = list.count;
  const found = pointsOf(list, from, report);
  if (found === undefined) return undefined;
  const first = found[0];
  const opened = first !== undefined && first.at * rate.den < rate.num ? found : [{ at: 0, title: list.title }, ...found];
  const points = apart(opened, wholeFrames(least, rate), least, report);
  const chapters: Chapter[] = [];
  let end = list.frames;
  for (let index = points.length - 1; index >= 0; index -= 1) {
    const { at, title } = points[index] as Point;
    const next = points[index + 1]?.at ?? at;
    if (next > at) end = next;
    // A marker on the list's very end still takes a frame.
    chapters.push({ at, end: Math.max(end, at + 1), title });
  }
  return chapters.reverse();
}

function pointsOf(list: CutList, from: ChaptersFrom, report: Report): Point[] | undefined {
  switch (from.by) {
    case 'markers': return list.markers.map(({ at, note }) => ({ at, title: note }));
    case 'takes': return takesOf(list);
    case 'every': return regular(list.frames, from.seconds, list.count.rate);
    case 'source': return entrances(list, from.source, report);
  }
}

/** Where each take begins, by its number in the log; a take that a correction divided is one. */
function takesOf({ takes }: CutList): Point[] {
  const numbered = takes.map(({ in: at, number }, index) => ({ at, number: number ?? index + 1 }));
  return numbered.filter(({ number }, index) => number !== numbered[index - 1]?.number).map(({ at, number }) => ({ at, title: `Take ${String(number)}` }));
}

/** The id of the source that begins chapters; undefined, and reported as `unknown-source`, where the list has none that is called so. */
export function chapterSource({ sources }: CutList, word: string, report: Report): string | undefined {
  const id = findSource(sources, word);
  if (id !== undefined) return id;
  const words = sourceWords(sources);
  const near = didYouMean(word, words) || `; expected one of ${words.join(', ')}`;
  report(problem('unknown-source', `there is no source '${word}'${near}`, { option: '--chapters-from' }));
  return undefined;
}

/** Every time a source comes on: what goes on in the next file or take is no entrance. */
function entrances(list: CutList, word: string, report: Report): Point[] | undefined {
  const { sources, shots } = list;
  const id = chapterSource(list, word, report);
  if (id === undefined) return undefined;
  const name = id === BLACK ? 'Black' : (sources.find((source) => source.id === id)?.name ?? id);
  const points: Point[] = [];
  let before: string | undefined;
  for (const { source, instead, in: at, event } of shots) {
    const onAir = instead ?? source;
    if (onAir === id && before !== id) points.push({ at, title: event?.note ?? name });
    before = onAir;
  }
  return points;
}

function regular(frames: number, seconds: number, rate: Rate): Point[] {
  const points: Point[] = [];
  for (let part = 0; ; part += 1) {
    const at = wholeFrames(seconds, rate, part);
    if (at >= frames) return points;
    if (at > (points.at(-1)?.at ?? -1)) points.push({ at, title: `Part ${String(points.length + 1)}` });
  }
}

/** The least whole number of frames that last `times` × `seconds` or longer, exact on the decimal digits of `seconds`. */
function wholeFrames(seconds: number, rate: Rate, times = 1): number {
  const { num, den } = parseDecimal(String(seconds)) ?? { num: BigInt(Math.ceil(seconds)), den: 1n };
  return Number(roundFraction(framesIn({ num: num * BigInt(times), den }, 1, rate), 'ceil'));
}

/** Leaves out what comes less than `frames` after the last that was kept. */
function apart(points: readonly Point[], frames: number, seconds: number, report: Report): Point[] {
  if (frames <= 0) return [...points];
  const kept: Point[] = [];
  for (const point of points) {
    const last = kept.at(-1);
    if (last === undefined || point.at - last.at >= frames) kept.push(point);
  }
  const gone = points.length - kept.length;
  if (gone > 0) report(problem('left-out', `${String(gone)} of ${String(points.length)} chapters come less than ${String(seconds)} s after the one before`, { option: '--chapters-min' }, 'note'));
  return kept;
}
