/** Reads a text of chapters: a line each, a time and a title. */
import { withoutMark } from '../../byte-order-mark.js';
import { problem, type Report } from '../../problems.js';
import { elapsedText } from '../../timecode/elapsed.js';

/** One line of a chapter text. */
export interface ChapterLine {
  /** Line in the file, from 1. */
  readonly line: number;
  /** Real time from the start, in milliseconds. */
  readonly at: number;
  readonly title: string;
}

export interface ReadChaptersOptions {
  /** Name for messages. */
  readonly file: string;
  /** Length of what the chapters belong to, in seconds: none may begin after it. */
  readonly seconds?: number;
}

/** Blanks or a list mark, maybe a bracket, hours, minutes, seconds, maybe a fraction; then the title, maybe behind a dash. */
const LINE = /^(\s*(?:[-*\u2022]\s+)?[([]?)(\d{1,4}:)?(\d{1,4}):(\d{1,2})(?:[.,](\d{1,3})\d*)?(?=$|[\s)\]\-\u2013\u2014|])[)\]]?\s*(?:[-\u2013\u2014|:]+\s+)?(.*)$/;

/**
 * The chapters of a text, in the order of its lines. Tolerant: a byte order mark, any line ends, empty lines and lines that
 * begin with `#`, list marks, brackets and dashes around the time, fractions of a second. Reported: lines without a time, minutes and
 * seconds past 59 (`bad-time`), chapters that lie before the one above or after the end (`chapter-order`), a text without
 * any (`no-events`). Undefined after an error that leaves a chapter without its time; what is out of order is given back.
 */
export function readChapters(text: string, { file, seconds }: ReadChaptersOptions, report: Report): ChapterLine[] | undefined {
  const chapters: ChapterLine[] = [];
  let unread = 0;
  const lines = withoutMark(text).split(/\r\n|\n|\r/);
  for (const [index, content] of lines.entries()) {
    const line = index + 1;
    if (content.trim() === '' || content.trimStart().startsWith('#')) continue;
    const parts = LINE.exec(content.slice(0, 2000));
    if (parts === null) {
      report(problem('bad-time', `expected a time (H:MM:SS or MM:SS) and a title, found '${content.trim().slice(0, 40)}'`, { file, line, column: content.length - content.trimStart().length + 1 }));
      unread += 1;
      continue;
    }
    const [, before = '', hours, minutes = '', second = '', fraction = '', title = ''] = parts;
    const place = { file, line, column: before.length + 1 };
    if (Number(second) > 59 || (hours !== undefined && Number(minutes) > 59)) {
      report(problem('bad-time', `${parts[0].slice(before.length).split(/\s/)[0] ?? ''} is not a time; minutes and seconds go from 00 to 59`, place));
      unread += 1;
      continue;
    }
    const whole = (hours === undefined ? 0 : Number.parseInt(hours, 10) * 3600) + Number(minutes) * 60 + Number(second);
    const at = whole * 1000 + Number(fraction.padEnd(3, '0'));
    const last = chapters.at(-1);
    if (last !== undefined && at < last.at) report(problem('chapter-order', `a chapter lies before the one on line ${String(last.line)}`, place));
    if (seconds !== undefined && at > seconds * 1000) report(problem('chapter-order', `a chapter lies after the end (${elapsedText(Math.floor(seconds), 1)})`, place));
    chapters.push({ line, at, title: title.trim() });
  }
  if (chapters.length === 0 && unread === 0) report(problem('no-events', 'the text has no chapters', { file }));
  return unread > 0 || chapters.length === 0 ? undefined : chapters;
}
