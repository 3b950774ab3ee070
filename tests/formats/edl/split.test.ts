import { describe, expect, it } from 'vitest';
import { BLACK, type CutList, type Shot } from '../../../src/cutlist/model.js';
import { readEdlParts } from '../../../src/formats/edl/read.js';
import { formatTimecode, framesPerDay } from '../../../src/timecode/timecode.js';
import { comparable } from './comparable.js';
import { count, frame, listOf, sound, source, written } from './small.js';

const DF = count('29.97df');
const SOURCES = [source('1', 'Wide', DF), source('2', 'Close', DF), source('3', 'Sound desk', DF, { picture: false })];

/** Shots of 10 frames; those that `mixed` picks come on by a dissolve of so many frames. */
function show(shots: number, mixed: (index: number) => number = () => 0, more: Partial<CutList> = {}): CutList {
  return listOf(DF, '01:00:00;00', SOURCES, Array.from({ length: shots }, (_, index) => {
    const frames = mixed(index);
    return { source: index % 2 === 0 ? '1' : '2', sourceIn: 1000 + 10 * index, frames: 10, ...(frames === 0 ? {} : { transition: { kind: 'dissolve' as const, frames, inOffset: 0 } }) };
  }), more);
}

const firstLines = (texts: readonly string[]): string[] => texts.map((text) => text.split('\r\n').find((line) => line.startsWith('001')) ?? '');

function again(texts: readonly string[]): CutList {
  const list = readEdlParts(texts.map((text, index) => ({ file: `show-${String(index + 1)}.edl`, text })), {}, ({ severity, message }) => {
    if (severity !== 'note') throw new Error(message);
  });
  if (list === undefined) throw new Error('nothing was read');
  return list;
}

describe('a list', () => {
  it('of 999 events is one file, of 1000 two', () => {
    expect(written(show(999)).suffixes).toEqual(['.edl']);
    expect(written(show(1000)).suffixes).toEqual(['-1.edl', '-2.edl']);
  });

  it('in parts runs on in record timecode, and begins each at a cut', () => {
    const { texts, problems } = written(show(2500, (index) => ((index >= 990 && index < 1006) || (index >= 1985 && index < 2000) ? 5 : 0)));
    expect(problems).toEqual([]);
    expect(texts).toHaveLength(3);
    // Event 1000 of the list and event 1000 of its second part come on by a mix: the cut before is the last.
    expect(firstLines(texts).map((line) => line.slice(53))).toEqual([0, 989, 1984].map((shot) => `${formatTimecode(107_892 + 10 * shot, DF)} ${formatTimecode(107_892 + 10 * shot + 10, DF)}`));
    for (const line of firstLines(texts)) expect(line).toMatch(/ C {8}/);
  });

  it('has sound divided where a part begins, and read back whole', () => {
    const list = show(1500, () => 0, { audio: [sound('3', 0, 15_000, 5000)] });
    const { texts } = written(list);
    expect(texts[0]).toContain('002  SOUNDDES AA    C        00:02:46;24 00:08:19;26 01:00:00;00 01:05:33;00\r\n* FROM CLIP NAME: Sound desk\r\n');
    expect(texts[1]).toContain('002  SOUNDDES AA    C        00:08:19;26 00:11:07;10 01:05:33;00 01:08:20;16\r\n* FROM CLIP NAME: Sound desk\r\n* CONTINUED\r\n');
    expect(comparable(again(texts))).toEqual(comparable(list));
  });

  it('may have its parts put into one file, and a part that is missing is a hole', () => {
    const list = show(2500, () => 0, { audio: [sound('3', 0, 25_000, 5000)] });
    const { texts } = written(list);
    expect(texts).toHaveLength(3);
    expect(comparable(again([texts.join('')]))).toEqual(comparable(list));
    const found: string[] = [];
    readEdlParts([{ file: 'show.edl', text: `${texts[0] ?? ''}${texts[2] ?? ''}` }], {}, ({ code, severity }) => { if (severity !== 'note') found.push(code); });
    expect(found).toEqual(['hole']);
    // Lists of two names are not parts of one.
    const other = (texts[1] ?? '').replace(/^TITLE: .*/, 'TITLE: Another');
    readEdlParts([{ file: 'show.edl', text: `${texts[0] ?? ''}${other}` }], {}, ({ code, severity }) => { if (severity !== 'note') found.push(code); });
    expect(found).toEqual(['hole', 'event-number']);
  });

  it('without a cut for long has a shot divided after its mix', () => {
    const list = show(1200, (index) => (index === 0 ? 0 : 4));
    const { texts, problems } = written(list);
    expect(problems).toEqual([]);
    expect(firstLines(texts)[1]).toBe(`001  WIDE     V     C        ${[10_984, 10_990].map((at) => formatTimecode(at, DF)).join(' ')} ${[9984, 9990].map((at) => formatTimecode(107_892 + at, DF)).join(' ')}`);
    expect(comparable(again(texts))).toEqual(comparable(list));
  });

  it('of nothing but mixes has a part that begins with one, which is said', () => {
    const list = show(1200, () => 10);
    const { texts, problems } = written(list);
    expect(problems.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['warning part-in-mix']);
    expect(texts).toHaveLength(2);
    expect(comparable(again(texts))).toEqual(comparable(list));
  });

  it('with more sound changes in one shot than a part holds has the shot divided', () => {
    const list = listOf(DF, '01:00:00;00', SOURCES, [{ source: '1', sourceIn: 0, frames: 3000 }], {
      audio: Array.from({ length: 1500 }, (_, index) => sound(String(1 + (index % 2)), 2 * index, 2 * index + 2, 7 * index)),
    });
    const { texts, problems } = written(list);
    expect(problems).toEqual([]);
    expect(texts).toHaveLength(2);
    expect(comparable(again(texts))).toEqual(comparable(list));
  });

  it('longer than a day is divided where labels would not tell', () => {
    const day = framesPerDay(DF);
    const list = listOf(DF, '23:00:00;00', SOURCES, [{ source: '1', sourceIn: frame('12:00:00;00', DF), frames: 2 * day + 5 }, { source: BLACK, sourceIn: 0, frames: day }, { source: '2', sourceIn: 0, frames: 5 }], {
      audio: [sound('3', 0, 3 * day + 10, 77)],
    });
    const { texts } = written(list);
    expect(comparable(again(texts))).toEqual(comparable(list));
  });
});

describe('a million shots', () => {
  it('are written a chunk at a time', () => {
    const shot: Shot = { source: '1', in: 0, out: 10, sourceIn: 0, sourceOut: 10, take: 0 };
    const shots = 1_000_000;
    const list: CutList = { ...show(1), frames: 10 * shots, shots: Array.from({ length: shots }, (_, index) => ({ ...shot, in: 10 * index, out: 10 * index + 10 })) };
    let longest = 0;
    for (const text of written(list, { newline: 'lf' }).texts) longest = Math.max(longest, text.length);
    expect(longest).toBeLessThan(250_000);
  });
});
