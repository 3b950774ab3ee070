/** Chapters as plain text: a line each, `H:MM:SS Title`, as video platforms take them (common practice, no source). */
import { elapsedText } from '../../timecode/elapsed.js';
import { unitsOf } from '../../timecode/rate.js';
import type { ChapterWriter } from './forms.js';
import { titleLine } from './titles.js';

/** Real time rounded down to the second; `MM:SS` when the list is shorter than an hour. */
export const text: ChapterWriter = function* (chapters, { count, frames }) {
  const hours = frames * count.rate.den >= 3600 * count.rate.num;
  for (const [index, chapter] of chapters.entries()) {
    const clock = elapsedText(unitsOf(chapter.at, count.rate, 1, 'floor'), 1);
    yield `${hours ? clock : clock.slice(2)} ${titleLine(chapter, index)}\n`;
  }
};
