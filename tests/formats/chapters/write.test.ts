import { XMLParser, XMLValidator } from 'fast-xml-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BLACK, PROGRAM, type CutList, type Shot } from '../../../src/cutlist/model.js';
import { chaptersOf, type ChaptersWanted } from '../../../src/formats/chapters/chapters.js';
import { CHAPTER_FORMS } from '../../../src/formats/chapters/forms.js';
import { writeChapters, type ChapterOptions } from '../../../src/formats/chapters/write.js';
import { readChapters } from '../../../src/formats/chapters/read.js';
import { problemLine, type Problem } from '../../../src/problems.js';
import { parseRate, type RateSpec } from '../../../src/timecode/rate.js';
import { countOf } from '../../../src/timecode/timecode.js';
import { arbitraryList } from '../../support/lists.js';

/** A list of one shot with markers: `[frame, note]`. */
function listOf(rate: string, frames: number, markers: readonly (readonly [number, string])[] = [], more: Partial<CutList> = {}): CutList {
  const { rate: found, dropFrame } = parseRate(rate) as RateSpec;
  const count = countOf(found, dropFrame ?? false);
  return {
    title: 'Harbour Kitchen 14', count, recordStart: 3600 * found.nominal, frames,
    sources: [{ id: '1', name: 'Stage wide', aliases: ['CAM 1'], picture: true, recorded: true, count, starts: [], offset: 0, files: [] }],
    takes: [{ in: 0, out: frames, logIn: 0 }],
    shots: [{ source: '1', in: 0, out: frames, sourceIn: 0, sourceOut: frames, take: 0 }],
    audio: [], markers: markers.map(([at, note]) => ({ at, note })), ...more,
  };
}

async function written(list: CutList, options: ChapterOptions = {}): Promise<{ text: string; suffix: string; lines: string[] }> {
  const problems: Problem[] = [];
  const { suffix, chunks } = await writeChapters(list, options, (problem) => problems.push(problem)) ?? { suffix: '', chunks: [] };
  return { text: [...chunks].join(''), suffix, lines: problems.map(problemLine) };
}

const chapters = (list: CutList, wanted: ChaptersWanted): (readonly [number, number, string])[] =>
  chaptersOf(list, wanted, () => undefined)?.map(({ at, end, title }) => [at, end, title]) ?? [];

describe('the plain text', () => {
  it('says MM:SS below an hour, H:MM:SS from an hour on, rounded down', async () => {
    expect((await written(listOf('25', 89_999, [[0, 'Start'], [49, 'Still in second one'], [15_000, 'Ten']]))).text).toBe('00:00 Start\n00:01 Still in second one\n10:00 Ten\n');
    expect((await written(listOf('25', 90_000, [[0, 'Start'], [89_999, 'End']]))).text).toBe('0:00:00 Start\n0:59:59 End\n');
  });

  it('tells real time, not labels: an hour of 29.97 non-drop labels takes 3603.6 s (SMPTE ST 12-1), of drop-frame 3599.9964 s', async () => {
    expect((await written(listOf('29.97', 200_000, [[0, 'Start'], [108_000, 'One hour of labels']]))).text).toContain('1:00:03 One hour of labels');
    expect((await written(listOf('29.97df', 200_000, [[0, 'Start'], [107_892, 'One hour of labels']]))).text).toContain('0:59:59 One hour of labels');
  });

  it('opens with the title where no chapter falls in the first second, and moves none', async () => {
    expect((await written(listOf('25', 1000, [[25, 'One']]))).text).toBe('00:00 Harbour Kitchen 14\n00:01 One\n');
    expect((await written(listOf('25', 1000, [[24, 'One'], [24, 'Two']]))).text).toBe('00:00 One\n00:00 Two\n');
    expect((await written(listOf('25', 1000))).text).toBe('00:00 Harbour Kitchen 14\n');
    // 29 frames at 29.97 are 0.968 s, 30 are 1.001 s.
    expect((await written(listOf('29.97', 1000, [[29, 'One']]))).text).toBe('00:00 One\n');
    expect((await written(listOf('29.97', 1000, [[30, 'One']]))).text).toBe('00:00 Harbour Kitchen 14\n00:01 One\n');
  });

  it('keeps a title on its line', async () => {
    expect((await written(listOf('25', 1000, [[0, ' two\r\nlines \t and\u2028more\u0007 '], [500, '\u0000']]))).text).toBe('00:00 two lines and more\n00:20 Chapter 2\n');
  });
});

describe('where chapters come from', () => {
  it('markers, with ends', () => {
    const list = listOf('25', 1000, [[0, 'a'], [100, 'b'], [100, 'c'], [1000, 'd']]);
    expect(chapters(list, {})).toEqual([[0, 100, 'a'], [100, 1000, 'b'], [100, 1000, 'c'], [1000, 1001, 'd']]);
  });

  it('takes', () => {
    const list = listOf('25', 1000, [], { takes: [{ in: 0, out: 300, logIn: 0 }, { in: 300, out: 1000, logIn: 5000 }] });
    expect(chapters(list, { from: { by: 'takes' } })).toEqual([[0, 300, 'Take 1'], [300, 1000, 'Take 2']]);
  });

  it('takes, by their numbers in the log', () => {
    const takes = (...numbers: number[]) => listOf('25', 1000, [], { takes: numbers.map((number, index) => ({ in: index * 100, out: index * 100 + 100, logIn: 0, number })) });
    expect(chapters(takes(2), { from: { by: 'takes' } })).toEqual([[0, 1000, 'Take 2']]);
    // A change of length inside a take divides it.
    expect(chapters(takes(1, 3, 3, 4), { from: { by: 'takes' } })).toEqual([[0, 100, 'Take 1'], [100, 300, 'Take 3'], [300, 1000, 'Take 4']]);
  });

  it('an interval, on the first frame that is not before it', () => {
    expect(chapters(listOf('29.97df', 5000), { from: { by: 'every', seconds: 60 } }).map(([at]) => at)).toEqual([0, 1799, 3597]);
    expect(chapters(listOf('25', 100), { from: { by: 'every', seconds: 0.1 } }).map(([at]) => at).slice(0, 6)).toEqual([0, 3, 5, 8, 10, 13]);
    expect(chapters(listOf('25', 4), { from: { by: 'every', seconds: 0.001 } })).toHaveLength(4);
  });

  const shot = (source: string, from: number, out: number, more: Partial<Shot> = {}): Shot => ({ source, in: from, out, sourceIn: 0, sourceOut: out - from, take: 0, ...more });
  const cut = listOf('25', 600, [], {
    shots: [shot(BLACK, 0, 50), shot('1', 50, 100), shot('1', 100, 200, { continues: true }), shot(PROGRAM, 200, 300, { instead: '1' }), shot(BLACK, 300, 400), shot('1', 400, 600, { event: { number: 7, action: 'cut', note: 'Second course' } })],
  });

  it('a source coming on, by id, alias or name, also where its place is taken', () => {
    for (const source of ['1', 'cam 1', 'STAGE WIDE']) {
      expect(chapters(cut, { from: { by: 'source', source } })).toEqual([[0, 50, 'Harbour Kitchen 14'], [50, 400, 'Stage wide'], [400, 600, 'Second course']]);
    }
    expect(chapters(cut, { from: { by: 'source', source: 'black' } })).toEqual([[0, 300, 'Black'], [300, 600, 'Black']]);
  });

  it('reports a source that is not there', async () => {
    const { lines, suffix } = await written(cut, { from: { by: 'source', source: 'Stage wid' } });
    expect(suffix).toBe('');
    expect(lines).toEqual([expect.stringMatching(/^--chapters-from: error: there is no source 'Stage wid'.*\[unknown-source\]$/)]);
  });

  it('leaves out what comes too soon, and counts it', async () => {
    const list = listOf('29.97', 9000, [[0, 'a'], [299, 'b'], [300, 'c'], [599, 'd']]);
    expect(chapters(list, { least: 10 })).toEqual([[0, 300, 'a'], [300, 9000, 'c']]);
    expect((await written(list, { least: 10 })).lines).toEqual(['--chapters-min: note: 2 of 4 chapters come less than 10 s after the one before [left-out]']);
  });
});

const PAIRS = listOf('29.97df', 107_892, [[0, 'Fish & chips <hot>; a=b #1 \\ "x" -->'], [1, 'One frame on'], [53_946, 'Überbacken 🐟']]);

describe('WebVTT', () => {
  it('writes cues to the millisecond, with markup escaped (W3C WebVTT)', async () => {
    expect(await written(PAIRS, { as: 'webvtt' })).toMatchObject({
      suffix: '.chapters.vtt',
      text: 'WEBVTT\n\n1\n00:00:00.000 --> 00:00:00.033\nFish &amp; chips &lt;hot&gt;; a=b #1 \\ "x" --&gt;\n\n2\n00:00:00.033 --> 00:29:59.998\nOne frame on\n\n3\n00:29:59.998 --> 00:59:59.996\nÜberbacken 🐟\n',
    });
  });

  it('rounds halves up: 1 frame at 48 is 20.8333 ms, 3 frames 62.5 ms', async () => {
    expect((await written(listOf('48', 480, [[0, 'a'], [1, 'b'], [3, 'c']]), { as: 'webvtt' })).text).toContain('00:00:00.021 --> 00:00:00.063\n');
  });
});

describe('FFmpeg metadata', () => {
  it('is exact: the time base is a frame', async () => {
    expect(await written(PAIRS, { as: 'ffmetadata' })).toMatchObject({
      suffix: '.chapters.ffmeta',
      text: ';FFMETADATA1\ntitle=Harbour Kitchen 14\n\n[CHAPTER]\nTIMEBASE=1001/30000\nSTART=0\nEND=1\ntitle=Fish & chips <hot>\\; a\\=b \\#1 \\\\ "x" -->\n\n[CHAPTER]\nTIMEBASE=1001/30000\nSTART=1\nEND=53946\ntitle=One frame on\n\n[CHAPTER]\nTIMEBASE=1001/30000\nSTART=53946\nEND=107892\ntitle=Überbacken 🐟\n',
    });
  });
});

describe('Matroska XML', () => {
  it('writes nanoseconds', async () => {
    const { text, suffix } = await written(PAIRS, { as: 'matroska' });
    expect(suffix).toBe('.chapters.xml');
    expect(XMLValidator.validate(text)).toBe(true);
    const { Chapters } = new XMLParser({ parseTagValue: false }).parse(text) as { Chapters: { EditionEntry: { ChapterAtom: Record<string, unknown>[] } } };
    expect(Chapters.EditionEntry.ChapterAtom).toEqual([
      ['00:00:00.000000000', '00:00:00.033366667', 'Fish & chips <hot>; a=b #1 \\ "x" -->'],
      ['00:00:00.033366667', '00:29:59.998200000', 'One frame on'],
      ['00:29:59.998200000', '00:59:59.996400000', 'Überbacken 🐟'],
    ].map(([ChapterTimeStart, ChapterTimeEnd, ChapterString]) => ({ ChapterTimeStart, ChapterTimeEnd, ChapterDisplay: { ChapterString, ChapterLanguage: 'und', ChapLanguageIETF: 'und' } })));
  });

  it('keeps what looks like a reference in a title', async () => {
    const { text } = await written(listOf('25', 100, [[0, 'Salt &amp; <pepper> &lt; &#65; &thyme; &#x110000; & more']]), { as: 'matroska' });
    expect(text).toContain('<ChapterString>Salt &amp;amp; &lt;pepper&gt; &amp;lt; &amp;#65; &amp;thyme; &amp;#x110000; &amp; more</ChapterString>');
    expect(XMLValidator.validate(text)).toBe(true);
  });
});

describe('every format', () => {
  it('writes the same chapters, in order, and never a line too many', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryList(), fc.array(fc.string({ unit: 'binary', maxLength: 30 }), { minLength: 3, maxLength: 3 }), async (list, notes) => {
        const markers = list.markers.map((marker, index) => ({ ...marker, note: notes[index % 3] ?? '' }));
        const given = { ...list, markers };
        const expected = chaptersOf(given, {}, () => undefined)?.length;
        for (const as of CHAPTER_FORMS) {
          const { text } = await written(given, { as });
          const found =
            as === 'text' ? text.split('\n').length - 1
            : as === 'webvtt' ? text.split('\n\n').length - 1
            : as === 'ffmetadata' ? text.split('[CHAPTER]\n').filter((part) => part.startsWith('TIMEBASE')).length
            : (text.match(/<ChapterAtom>/g) ?? []).length;
          expect([as, found]).toEqual([as, expected]);
          if (as === 'matroska') expect(XMLValidator.validate(text)).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('text comes back by the reader', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryList({ maxShotFrames: 40_000 }), async (list) => {
        const problems: Problem[] = [];
        const { text } = await written(list);
        const back = readChapters(text, { file: 'x', seconds: (list.frames * list.count.rate.den) / list.count.rate.num }, (problem) => problems.push(problem));
        expect(problems).toEqual([]);
        const { num, den } = list.count.rate;
        expect(back?.map(({ at, title }) => [at, title])).toEqual(chaptersOf(list, {}, () => undefined)?.map(({ at, title }) => [Math.floor((at * den) / num) * 1000, title]));
      }),
      { numRuns: 40 },
    );
  });
});
