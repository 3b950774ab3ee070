/** Titles that fit on one line of any chapter format. */
import { oneLine } from '../../cutlist/line.js';
import type { Chapter } from './chapters.js';

/** The title of a chapter on one line, with single blanks; `Chapter 3` where nothing is left of it. `index` counts from 0. */
export function titleLine({ title }: Chapter, index: number): string {
  const line = oneLine(title).replace(/\s+/gu, ' ').trim();
  return line === '' ? `Chapter ${String(index + 1)}` : line;
}
