/** Chapters as WebVTT (W3C, WebVTT: The Web Video Text Tracks Format), for `<track kind="chapters">`. */
import { elapsedText } from '../../timecode/elapsed.js';
import { unitsOf } from '../../timecode/rate.js';
import type { ChapterWriter } from './forms.js';
import { titleLine } from './titles.js';

/**
 * A cue a chapter, in milliseconds, halves up. Cue text is markup: `&`, `<` and `>` are written as escapes. A cue must
 * end after it starts (clause 4.1), so one shorter than a millisecond is given one.
 */
export const webvtt: ChapterWriter = function* (chapters, { count: { rate } }) {
  yield 'WEBVTT\n';
  for (const [index, chapter] of chapters.entries()) {
    const start = unitsOf(chapter.at, rate, 1000);
    const end = Math.max(unitsOf(chapter.end, rate, 1000), start + 1);
    const title = titleLine(chapter, index).replace(/[&<>]/g, (mark) => (mark === '&' ? '&amp;' : mark === '<' ? '&lt;' : '&gt;'));
    yield `\n${String(index + 1)}\n${elapsedText(start, 1000, 2)} --> ${elapsedText(end, 1000, 2)}\n${title}\n`;
  }
};
