/** Where recordings start, take by take, in logs that are counted from the recording (contract, rule 5). */
import { problem, type Report } from '../problems.js';
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

/** True when a source has a list of starts, but none for take `number`. */
export const lacksStart = (source: Source, number: number): boolean =>
  source.sync === undefined && source.starts.length > 1 && source.starts.length < number;
