/** Writes the chapters of a list in one of the formats. */
import type { CutList } from '../../cutlist/model.js';
import type { Report } from '../../problems.js';
import type { Output } from '../output.js';
import { chaptersOf, type Chapter, type ChaptersWanted } from './chapters.js';

/** The text of a chapter file, in pieces. */
export type ChapterWriter = (chapters: readonly Chapter[], list: CutList) => Iterable<string>;

/** The formats: a new one is a file beside this and a line here. `load` keeps a run from loading what it does not write. */
const FORMATS = {
  text: { suffix: '.chapters.txt', load: async () => (await import('./text.js')).text },
  webvtt: { suffix: '.chapters.vtt', load: async () => (await import('./webvtt.js')).webvtt },
  ffmetadata: { suffix: '.chapters.ffmeta', load: async () => (await import('./ffmetadata.js')).ffmetadata },
  matroska: { suffix: '.chapters.xml', load: async () => (await import('./matroska.js')).matroska },
} as const satisfies Record<string, { readonly suffix: string; readonly load: () => Promise<ChapterWriter> }>;

export type ChapterForm = keyof typeof FORMATS;

export const CHAPTER_FORMS = Object.keys(FORMATS) as readonly ChapterForm[];

export interface ChapterOptions extends ChaptersWanted {
  /** Default: text. */
  readonly as?: ChapterForm;
}

/**
 * The chapters of a list as a file. Times are real elapsed time from the start of the list, never labels, so that an hour of
 * 29.97 non-drop does not drift by 3.6 s. Problems: those of `chaptersOf`.
 */
export async function writeChapters(list: CutList, options: ChapterOptions, report: Report): Promise<Output> {
  const { suffix, load } = FORMATS[options.as ?? 'text'];
  const write = await load();
  const chapters = chaptersOf(list, options, report);
  return { format: 'chapters', suffix, chunks: write(chapters, list) };
}
