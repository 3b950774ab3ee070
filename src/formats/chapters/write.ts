/** Writes the chapters of a list in one of their forms. */
import type { CutList } from '../../cutlist/model.js';
import type { Report } from '../../problems.js';
import type { Output } from '../output.js';
import { chapterSource, chaptersOf, type ChaptersWanted } from './chapters.js';
import { FORMS, type ChapterForm } from './forms.js';

/** Which chapters are written, and in what form. */
export interface ChapterOptions extends ChaptersWanted {
  /** Default: text. */
  readonly as?: ChapterForm;
}

/** False where the options ask for what the list does not have; reported as `chapterSource` does. */
export const canHaveChapters = (list: CutList, { from }: ChapterOptions, report: Report): boolean => from?.by !== 'source' || chapterSource(list, from.source, report) !== undefined;

/**
 * The chapters of a list as a file; undefined where there can be none. Times are real elapsed time from the start of the list, never labels, so that an hour of
 * 29.97 non-drop does not drift by 3.6 s. Problems: those of `chaptersOf`.
 */
export async function writeChapters(list: CutList, options: ChapterOptions, report: Report): Promise<Output | undefined> {
  const { ending, load } = FORMS[options.as ?? 'text'];
  const chapters = chaptersOf(list, options, report);
  if (chapters === undefined) return undefined;
  const write = await load();
  return { format: 'chapters', suffix: ending, chunks: write(chapters, list) };
}
