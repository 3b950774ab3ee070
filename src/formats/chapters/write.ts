/** Writes the chapters of a list in one of their forms. */
import type { CutList } from '../../cutlist/model.js';
import type { Report } from '../../problems.js';
import type { Output } from '../output.js';
import { chaptersOf, type ChaptersWanted } from './chapters.js';
import { FORMS, type ChapterForm } from './forms.js';

export interface ChapterOptions extends ChaptersWanted {
  /** Default: text. */
  readonly as?: ChapterForm;
}

/**
 * The chapters of a list as a file. Times are real elapsed time from the start of the list, never labels, so that an hour of
 * 29.97 non-drop does not drift by 3.6 s. Problems: those of `chaptersOf`.
 */
export async function writeChapters(list: CutList, options: ChapterOptions, report: Report): Promise<Output> {
  const { ending, load } = FORMS[options.as ?? 'text'];
  const write = await load();
  const chapters = chaptersOf(list, options, report);
  return { format: 'chapters', suffix: ending, chunks: write(chapters, list) };
}
