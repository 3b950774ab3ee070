/** The forms that chapters are written in: a new one is a file beside this and a line here. */
import type { CutList } from '../../cutlist/model.js';
import type { Chapter } from './chapters.js';

/** The text of a chapter file, in pieces. */
export type ChapterWriter = (chapters: readonly Chapter[], list: CutList) => Iterable<string>;

/** `ending` is that of its files; `load` keeps a run from loading what it does not write. */
export const FORMS = {
  text: { ending: '.chapters.txt', load: async () => (await import('./text.js')).text },
  webvtt: { ending: '.chapters.vtt', load: async () => (await import('./webvtt.js')).webvtt },
  ffmetadata: { ending: '.chapters.ffmeta', load: async () => (await import('./ffmetadata.js')).ffmetadata },
  matroska: { ending: '.chapters.xml', load: async () => (await import('./matroska.js')).matroska },
} as const satisfies Readonly<Record<string, { readonly ending: string; readonly load: () => Promise<ChapterWriter> }>>;

/** The forms of chapters. */
export type ChapterForm = keyof typeof FORMS;

export const CHAPTER_FORMS = Object.keys(FORMS) as readonly ChapterForm[];
