/** Where recordings start, take by take (contract, rule 5). */
import { problem, type Report } from '../problems.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { Source } from './model.js';

/**
 * Sources whose recordings start anew with each of `takes` takes, where the log's counter starts again with each. A source with one
 * file a take and no start for each has the starts of its files; a note says so. Others stay as they are: one start serves
 * every take.
 */
export function startsByFiles(sources: readonly Source[], takes: number, report: Report): readonly Source[] {
  return sources.map((source) => {
    const starts = source.files.map(({ start }) => start);
    if (takes < 2 || source.starts.length > 1 || source.sync !== undefined || starts.length !== takes) return source;
    if (!starts.every((start) => start !== undefined)) return source;
    report(problem('found', `'${source.id}' has one file a take: each take plays from its own; a list of starts says otherwise`));
    return { ...source, starts };
  });
}

/**
 * The same for a log of the recorders' own labels, which needs starts only as bounds. Where a list of them is not one a take, it is not known which
 * take each belongs to: what is left is the earliest, and a warning says so.
 */
export function startsByTakes(sources: readonly Source[], takes: number, report: Report): readonly Source[] {
  return sources.map((source) => {
    const { id, starts, files, sync } = source;
    if (starts.length < 2 || starts.length === takes || files.length > 0 || sync !== undefined) return source;
    const what = `source '${id}' has ${String(starts.length)} starts, and the log ${takes === 1 ? '1 take' : `${String(takes)} takes`}`;
    report(problem('bad-show-file', `${what}: which belongs to which is not known, and only what lies before all of them counts as missing; give a start for each take`, undefined, 'warning'));
    const earliest = earliestOf(starts, framesPerDay(source.count));
    return { ...source, starts: earliest === undefined ? [] : [earliest] };
  });
}

/** Where it is not known which take a start belongs to, only what lies before all of them is not there. Starts half a day apart may lie on any side of a label, which wraps. */
export function earliestOf(starts: readonly number[], day: number): number | undefined {
  const first = Math.min(...starts);
  return starts.length === 0 || (Math.max(...starts) - first) * 2 >= day ? undefined : first;
}

/** True when a source has a list of starts, but none for take `number`. */
export const lacksStart = (source: Source, number: number): boolean =>
  source.sync === undefined && source.starts.length > 1 && source.starts.length < number;
