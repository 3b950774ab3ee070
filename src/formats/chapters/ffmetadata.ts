/** Chapters as FFmpeg metadata (FFmpeg Formats Documentation, chapter "Metadata"). */
import type { ChapterWriter } from './forms.js';
import { titleLine } from './titles.js';

/** Exact: times are frames, and the time base is the length of a frame. `=`, `;`, `#` and `\` are escaped by a backslash. */
export const ffmetadata: ChapterWriter = function* (chapters, { title, count: { rate } }) {
  yield ';FFMETADATA1\n';
  if (title.trim() !== '') yield `title=${escaped(titleLine({ at: 0, end: 1, title }, 0))}\n`;
  for (const [index, chapter] of chapters.entries()) {
    yield `\n[CHAPTER]\nTIMEBASE=${String(rate.den)}/${String(rate.num)}\nSTART=${String(chapter.at)}\nEND=${String(chapter.end)}\ntitle=${escaped(titleLine(chapter, index))}\n`;
  }
};

/**
 * A blank follows a backslash at the end of a line: FFmpeg 5.1 takes the second of an escaped pair there for an escape of the
 * line's end (`title=a\\` and an empty line are read as the title `a\` and a new line).
 */
const escaped = (value: string): string => value.replace(/[=;#\\]/g, '\\$&').replace(/\\$/, '\\ ');
