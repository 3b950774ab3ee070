import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readChapters } from '../../../src/formats/chapters/read.js';
import { problemLine, type Problem } from '../../../src/problems.js';

function read(text: string, seconds?: number): { found: (readonly [number, string])[] | undefined; lines: string[] } {
  const problems: Problem[] = [];
  const chapters = readChapters(text, { file: 'show.txt', ...(seconds === undefined ? {} : { seconds }) }, (problem) => problems.push(problem));
  return { found: chapters?.map(({ at, title }) => [at, title]), lines: problems.map(problemLine) };
}

describe('chapter texts', () => {
  it.each([
    ['0:00:00 Start', 0, 'Start'],
    ['00:00 Start', 0, 'Start'],
    ['75:10 Long minutes', 4_510_000, 'Long minutes'],
    ['12:03:04 Late', 43_384_000, 'Late'],
    ['  1:02:03.5 Half', 3_723_500, 'Half'],
    ['1:02:03,045 Comma', 3_723_045, 'Comma'],
    ['- 01:02 Listed', 62_000, 'Listed'],
    ['[01:02] Bracket', 62_000, 'Bracket'],
    ['(01:02) – Dash', 62_000, 'Dash'],
    ['01:02 - Dash - two', 62_000, 'Dash - two'],
    ['01:02 | Bar', 62_000, 'Bar'],
    ['01:02', 62_000, ''],
    ['01:02\tTab', 62_000, 'Tab'],
    ['01:02 3 eggs', 62_000, '3 eggs'],
  ])('%s', (line, at, title) => {
    expect(read(line)).toEqual({ found: [[at, title]], lines: [] });
  });

  it('skip empty lines and comments, and take any line ends and a byte order mark', () => {
    expect(read('\uFEFF# chapters\r\n\r\n00:00 a\r00:01 b\n').found).toEqual([[0, 'a'], [1000, 'b']]);
  });

  it.each([
    ['00:00 a\n  Intro', "show.txt:2:3: error: expected a time (H:MM:SS or MM:SS) and a title, found 'Intro' [bad-time]"],
    ['00:75 a', 'show.txt:1:1: error: 00:75 is not a time; minutes and seconds go from 00 to 59 [bad-time]'],
    ['- 1:60:00 a', 'show.txt:1:3: error: 1:60:00 is not a time; minutes and seconds go from 00 to 59 [bad-time]'],
    ['10 a', "show.txt:1:1: error: expected a time (H:MM:SS or MM:SS) and a title, found '10 a' [bad-time]"],
    ['01:02x', "show.txt:1:1: error: expected a time (H:MM:SS or MM:SS) and a title, found '01:02x' [bad-time]"],
    ['-01:02 a', "show.txt:1:1: error: expected a time (H:MM:SS or MM:SS) and a title, found '-01:02 a' [bad-time]"],
    ['', 'show.txt: error: the text has no chapters [no-events]'],
    ['# nothing', 'show.txt: error: the text has no chapters [no-events]'],
  ])('%j is reported', (text, line) => {
    expect(read(text)).toEqual({ found: undefined, lines: [line] });
  });

  it('report order and end, and give what was read', () => {
    const { found, lines } = read('00:00 a\n00:10 b\n00:10 c\n00:05 d\n01:01 e', 60);
    expect(found).toHaveLength(5);
    expect(lines).toEqual([
      'show.txt:4:1: error: a chapter lies before the one on line 3 [chapter-order]',
      'show.txt:5:1: error: a chapter lies after the end (0:01:00) [chapter-order]',
    ]);
  });

  it('never throw, nor hang with odd text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
      read(text);
    }), { numRuns: 500 });
    const { found, lines } = read(`${'[('.repeat(500_000)}\n${' '.repeat(1_000_000)}x\n${'1:'.repeat(500_000)}`);
    expect([found, lines.length > 0]).toEqual([undefined, true]);
  });
});
