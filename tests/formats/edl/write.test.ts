import { describe, expect, it } from 'vitest';
import { BLACK, type CutList, type Shot, type Transition } from '../../../src/cutlist/model.js';
import { readEdl } from '../../../src/formats/edl/read.js';
import type { Problem } from '../../../src/problems.js';
import { count, events, follow, frame, listOf, sound, source, written } from './small.js';

const DF = count('29.97df');
const PAL = count('25');
const WIDE = source('1', 'Stage wide', DF, { reel: 'WIDE' });
const CLOSE = source('2', 'Close-up', DF, { reel: 'CLOSE', files: [{ path: 'media/close.mov' }] });
const dissolve = (frames: number): Transition => ({ kind: 'dissolve', frames, inOffset: 0 });
const wipe = (frames: number, code: number): Transition => ({ kind: 'wipe', frames, wipe: code, inOffset: 0 });
const ten = frame('10:00:00;00', DF);

describe('the layout', () => {
  // The example of the contract, clause 6 (columns from memory of SMPTE 258M).
  it('is that of the contract, to the character', () => {
    const list = listOf(DF, '01:00:00;00', [WIDE, CLOSE], [
      { source: '1', sourceIn: ten, frames: 300 },
      { source: '2', sourceIn: ten + 300, frames: 150, transition: dissolve(30), file: 0 },
    ], { markers: [{ at: 360, note: 'The stock comes to the boil' }] });
    expect(written(list).texts).toEqual([
      [
        'TITLE: Harbour Kitchen 14',
        'FCM: DROP FRAME',
        '001  WIDE     V     C        10:00:00;00 10:00:10;00 01:00:00;00 01:00:10;00',
        '* FROM CLIP NAME: Stage wide',
        '* RATE: 29.97df',
        '* REEL WIDE: id=1 name=Stage wide',
        '* REEL CLOSE: id=2 name=Close-up',
        '002  WIDE     V     C        10:00:10;00 10:00:10;00 01:00:10;00 01:00:10;00',
        '002  CLOSE    V     D    030 10:00:10;00 10:00:15;00 01:00:10;00 01:00:15;00',
        '* FROM CLIP NAME: Stage wide',
        '* TO CLIP NAME: Close-up',
        '* SOURCE FILE: media/close.mov',
        '* MARKER: 01:00:12;00 The stock comes to the boil',
        '',
      ].join('\r\n'),
    ]);
  });

  it('has 76 characters a line, 100 with reels of 32', () => {
    const list = listOf(PAL, '23:59:59:00', [source('1', 'Stage wide left of the big hot plate', PAL)], [{ source: '1', sourceIn: 0, frames: 50 }], { audio: [sound('1', 0, 50, 0)] });
    const length = (options: object): number[] => events(list, options).filter((line) => /^\d/.test(line)).map((line) => line.length);
    expect(length({})).toEqual([76, 76]);
    expect(length({ reelLength: 32 })).toEqual([100, 100]);
    expect(events(list, { reelLength: 32 })[1]).toBe('001  STAGEWIDELEFTOFTHEBIGHOTPLATE    V     C        00:00:00:00 00:00:02:00 23:59:59:00 00:00:01:00');
  });

  it('ends lines with CRLF, or LF where asked', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'Stage wide', PAL)], [{ source: '1', sourceIn: 0, frames: 50 }]);
    expect(written(list).texts[0]).toMatch(/^([^\r\n]+\r\n)+$/);
    expect(written(list, { newline: 'lf' }).texts[0]).toMatch(/^([^\r\n]+\n)+$/);
  });

  it('cuts a title to 70 characters of ASCII', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'Stage wide', PAL)], [{ source: '1', sourceIn: 0, frames: 50 }], { title: `Hafenküche\n001  X ${'x'.repeat(80)}` });
    expect(written(list).lines[0]).toBe(`TITLE: Hafenkuche 001  X ${'x'.repeat(52)}`);
  });
});

describe('transitions', () => {
  const shots = (given: readonly Partial<Shot>[]): string[] =>
    events(listOf(PAL, '01:00:00:00', [source('1', 'Wide', PAL), source('2', 'Close', PAL)], given.map((shot) => ({ source: '1', sourceIn: 250, frames: 50, ...shot })))).filter((line) => /^\d/.test(line));

  it('from black and to black: the BL line first, black from label zero', () => {
    expect(shots([{ source: '1', transition: dissolve(25) }, { source: BLACK, sourceIn: 0, transition: dissolve(12) }, { source: '2', transition: dissolve(10) }])).toEqual([
      '001  BL       V     C        00:00:00:00 00:00:00:00 01:00:00:00 01:00:00:00',
      '001  WIDE     V     D    025 00:00:10:00 00:00:12:00 01:00:00:00 01:00:02:00',
      '002  WIDE     V     C        00:00:12:00 00:00:12:00 01:00:02:00 01:00:02:00',
      '002  BL       V     D    012 00:00:00:00 00:00:02:00 01:00:02:00 01:00:04:00',
      '003  BL       V     C        00:00:00:00 00:00:00:00 01:00:04:00 01:00:04:00',
      '003  CLOSE    V     D    010 00:00:10:00 00:00:12:00 01:00:04:00 01:00:06:00',
    ]);
  });

  it('wipes with their code, and mixes that follow one another without a cut', () => {
    expect(shots([{ source: '1' }, { source: '2', transition: wipe(50, 17) }, { source: '1', transition: wipe(50, 0) }]).slice(1)).toEqual([
      '002  WIDE     V     C        00:00:12:00 00:00:12:00 01:00:02:00 01:00:02:00',
      '002  CLOSE    V     W017 050 00:00:10:00 00:00:12:00 01:00:02:00 01:00:04:00',
      '003  CLOSE    V     C        00:00:12:00 00:00:12:00 01:00:04:00 01:00:04:00',
      '003  WIDE     V     W000 050 00:00:10:00 00:00:12:00 01:00:04:00 01:00:06:00',
    ]);
  });

  it('to a clip without a name, whose file would else be taken for that of the clip before', () => {
    const sources = [source('1', 'Wide', PAL), source('2', ' ', PAL, { files: [{ path: 'media/close.mov' }] })];
    expect(events(listOf(PAL, '01:00:00:00', sources, [{ source: '1', sourceIn: 0, frames: 50 }, { source: '2', sourceIn: 0, frames: 50, file: 0, transition: dissolve(25) }])).slice(5)).toEqual([
      '* SOURCE FILE: media/close.mov', '* FROM CLIP NAME: Wide',
    ]);
  });

  it.each([[255, []], [256, ['warning long-transition']], [999, ['warning long-transition']], [1000, ['error long-transition']]])('of %i frames', (frames, codes) => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'Wide', PAL)], [{ source: '1', sourceIn: 0, frames: 50 }, { source: BLACK, sourceIn: 0, frames: 1000, transition: dissolve(frames) }]);
    const { problems, texts } = written(list);
    expect(problems.map(({ severity, code }) => `${severity} ${code}`)).toEqual(codes);
    expect(texts).toHaveLength(frames > 999 ? 0 : 1);
    if (frames > 255) expect(problems[0]?.message).toContain(`the dissolve to black at 01:00:02:00 takes ${String(frames)} frames`);
  });
});

describe('sound', () => {
  const sources = [source('1', 'Wide', PAL), source('2', 'Close', PAL), source('mix', 'Sound desk', PAL, { reel: 'DESK', picture: false })];
  const shots = [{ source: '1', sourceIn: 0, frames: 50 }, { source: '2', sourceIn: 50, frames: 50 }];

  it.each([
    [[1], 'B    '], [[2], 'A2/V '], [[1, 2], 'AA/V '], [[3], 'V    ', 'AUD  3'], [[4], 'V    ', 'AUD     4'], [[3, 4], 'V    ', 'AUD  3  4'], [[1, 2, 3, 4], 'AA/V ', 'AUD  3  4'],
  ])('that was cut with the picture on %j', (tracks, code, aud = undefined) => {
    const list = listOf(PAL, '01:00:00:00', sources, shots);
    const lines = events({ ...list, audio: follow(list.shots, tracks) });
    expect(lines[1]).toBe(`001  WIDE     ${code} C        00:00:00:00 00:00:02:00 01:00:00:00 01:00:02:00`);
    expect(lines[2]).toBe(aud ?? '* FROM CLIP NAME: Wide');
  });

  it.each([[[1], 'A    '], [[2], 'A2   '], [[1, 2], 'AA   '], [[3], 'NONE ', 'AUD  3'], [[4], 'NONE ', 'AUD     4'], [[1, 3, 4], 'A    ', 'AUD  3  4']])('of its own on %j comes after the picture', (tracks, code, aud = undefined) => {
    const lines = events(listOf(PAL, '01:00:00:00', sources, shots, { audio: [sound('mix', 0, 100, 500, { tracks, channels: tracks })] }));
    expect(lines[1]).toBe('001  WIDE     V     C        00:00:00:00 00:00:02:00 01:00:00:00 01:00:02:00');
    expect(lines[3]).toBe(`002  DESK     ${code} C        00:00:20:00 00:00:24:00 01:00:00:00 01:00:04:00`);
    expect(lines[4]).toBe(aud ?? '* FROM CLIP NAME: Sound desk');
  });

  it('names channels 3 and 4 behind both lines of a mix', () => {
    const list = listOf(PAL, '01:00:00:00', sources, [shots[0] as never, { source: '2', sourceIn: 50, frames: 50, transition: dissolve(10) }]);
    expect(events({ ...list, audio: follow(list.shots, [1, 3]) }).slice(4, 8)).toEqual([
      '002  WIDE     B     C        00:00:02:00 00:00:02:00 01:00:02:00 01:00:02:00',
      'AUD  3',
      '002  CLOSE    B     D    010 00:00:02:00 00:00:04:00 01:00:02:00 01:00:04:00',
      'AUD  3',
    ]);
  });

  it('that fades in where the picture mixes from something else has its own event and its own first line', () => {
    const list = listOf(PAL, '01:00:00:00', sources, [shots[0] as never, { source: '2', sourceIn: 50, frames: 50, transition: dissolve(10) }]);
    const [, second] = follow(list.shots, [1, 2]);
    expect(events({ ...list, audio: [sound('mix', 0, 50, 500), second as never] }).filter((line) => /^\d/.test(line)).slice(2)).toEqual([
      '003  WIDE     V     C        00:00:02:00 00:00:02:00 01:00:02:00 01:00:02:00',
      '003  CLOSE    V     D    010 00:00:02:00 00:00:04:00 01:00:02:00 01:00:04:00',
      '004  DESK     AA    C        00:00:22:00 00:00:22:00 01:00:02:00 01:00:02:00',
      '004  CLOSE    AA    D    010 00:00:02:00 00:00:04:00 01:00:02:00 01:00:04:00',
    ]);
  });

  it('says which channels of its source feed it, where the codes cannot', () => {
    expect(events(listOf(PAL, '01:00:00:00', sources, shots, { audio: [sound('mix', 0, 100, 500, { channels: [5, 6] })] }))).toContain('* CHANNELS: 5 6');
  });

  it('beyond four channels is left out, with a warning', () => {
    const { problems, lines } = written(listOf(PAL, '01:00:00:00', sources, shots, { audio: [sound('mix', 0, 100, 500, { tracks: [1, 5], channels: [1, 5] }), sound('1', 0, 100, 500, { tracks: [6], channels: [6] })] }));
    expect(problems.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['warning left-out']);
    expect(lines.filter((line) => /^\d.* A /.test(line))).toHaveLength(1);
    expect(lines.filter((line) => /^\d/.test(line))).toHaveLength(3);
  });
});

describe('sources that count otherwise', () => {
  const NDF = count('29.97');

  it('have FCM lines around their events, and the list its own after them', () => {
    const list = listOf(DF, '01:00:00;00', [WIDE, source('2', 'Close', NDF)], [
      { source: '1', sourceIn: ten, frames: 30 },
      { source: '2', sourceIn: 300, frames: 30 },
      { source: '1', sourceIn: ten, frames: 30, transition: dissolve(10) },
    ]);
    expect(events(list)).toEqual([
      'FCM: DROP FRAME',
      '001  WIDE     V     C        10:00:00;00 10:00:01;00 01:00:00;00 01:00:01;00',
      '* FROM CLIP NAME: Stage wide',
      'FCM: NON-DROP FRAME',
      '002  CLOSE    V     C        00:00:10:00 00:00:11:00 01:00:01;00 01:00:02;00',
      '* FROM CLIP NAME: Close',
      'FCM: DROP FRAME',
      'FCM: NON-DROP FRAME',
      '003  CLOSE    V     C        00:00:11:00 00:00:11:00 01:00:02;00 01:00:02;00',
      'FCM: DROP FRAME',
      '003  WIDE     V     D    010 10:00:00;00 10:00:01;00 01:00:02;00 01:00:03;00',
      '* FROM CLIP NAME: Close',
      '* TO CLIP NAME: Stage wide',
    ]);
  });

  it('have a speed line where their rate is another, with the label written with colons', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'Wide', PAL), source('2', 'Close', count('59.94df'))], [
      { source: '1', sourceIn: 0, frames: 25 },
      { source: '2', sourceIn: frame('00:01:00;04', count('59.94df')), frames: 25, sourceFrames: 60, transition: dissolve(5) },
      { source: '1', sourceIn: 0, frames: 25, transition: dissolve(5) },
    ]);
    const lines = events(list).filter((line) => /^(\d|M2|FCM)/.test(line));
    expect(lines.slice(2)).toEqual([
      '002  WIDE     V     C        00:00:01:00 00:00:01:00 01:00:01:00 01:00:01:00',
      'FCM: DROP FRAME',
      '002  CLOSE    V     D    005 00:01:00;04 00:01:01;04 01:00:01:00 01:00:02:00',
      'M2   CLOSE     059.9                00:01:00:04',
      'FCM: NON-DROP FRAME',
      'FCM: DROP FRAME',
      '003  CLOSE    V     C        00:01:01;04 00:01:01;04 01:00:02:00 01:00:02:00',
      'FCM: NON-DROP FRAME',
      '003  WIDE     V     D    005 00:00:00:00 00:00:01:00 01:00:02:00 01:00:03:00',
      'M2   CLOSE     059.9                00:01:01:04',
    ]);
  });

  it('have a speed line where a list that was read changes speed', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'Wide', PAL)], [{ source: '1', sourceIn: 0, frames: 50, sourceFrames: 25 }]);
    expect(events(list)).toContain('M2   WIDE      012.5                00:00:00:00');
    // At double speed a recording at 50 plays 100 frames a second, and at its own 50.
    const fast = (sourceFrames: number): CutList => listOf(PAL, '01:00:00:00', [source('1', 'Wide', count('50'))], [{ source: '1', sourceIn: 0, frames: 50, sourceFrames }]);
    expect(events(fast(200))).toContain('M2   WIDE      100.0                00:00:00:00');
    expect(events(fast(101))).toContain('M2   WIDE      050.0                00:00:00:00');
  });

  it('have none for the end of a shot that mixes into its own reel where it ends, for it would be taken for that of the mix', () => {
    const sources = [source('1', 'Wide', PAL)];
    const lengths = [[110, 100], [0, 100], [50, 25], [100, 100], [100, 50]] as const;
    for (const [sourceFrames, next] of lengths) {
      const list = listOf(PAL, '01:00:00:00', sources, [
        { source: '1', sourceIn: 900_000, frames: 100, sourceFrames },
        { source: '1', sourceIn: 900_000 + sourceFrames, frames: 100, sourceFrames: next, transition: dissolve(10) },
        { source: '1', sourceIn: 0, frames: 100, transition: dissolve(10) },
      ]);
      const problems: Problem[] = [];
      const read = readEdl(written(list).texts.join(''), { file: 'show.edl' }, (problem) => problems.push(problem));
      expect(problems.filter(({ code }) => code !== 'found')).toEqual([]);
      expect(read?.shots.map(({ sourceIn, sourceOut }) => [sourceIn, sourceOut])).toEqual(list.shots.map(({ sourceIn, sourceOut }) => [sourceIn, sourceOut]));
      const speeds = events(list).filter((line) => line.startsWith('M2'));
      // Where it mixes into another point of its reel, the label tells whose speed it is.
      expect(speeds).toHaveLength((sourceFrames === 100 ? 0 : 1) + (next === 100 ? 0 : 2));
    }
  });
});

describe('markers, names, paths and comments', () => {
  it('never begin a line of their own', () => {
    const evil = 'x\r\n002  WIDE     V     C        00:00:00:00 00:00:01:00 01:00:00:00 01:00:01:00\u2028\u0085\v\f';
    const list = listOf(PAL, '01:00:00:00', [source('1', evil, PAL, { reel: `R\n1`, files: [{ path: evil }] })], [{ source: '1', sourceIn: 0, frames: 50, file: 0, comments: [evil] }], { title: evil, markers: [{ at: 50, note: evil }] });
    const { lines } = written(list);
    expect(lines.map((line) => line.split(' ')[0])).toEqual(['TITLE:', 'FCM:', '001', '*', '*', '*', '*', '*', '*']);
    expect(lines.join('')).toMatch(/^[\x20-\x7e]*$/);
  });

  it('stand with the event they fall on, in both orders', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'B', PAL), source('2', 'A', PAL)], [{ source: '1', sourceIn: 0, frames: 50 }, { source: '2', sourceIn: 0, frames: 50 }], { markers: [{ at: 0, note: 'one' }, { at: 50, note: 'two' }, { at: 100, note: 'end' }] });
    const short = (lines: string[]): string[] => lines.filter((line) => /^(\d|\* MARKER)/.test(line)).map((line) => line.replace(/^(\d+ {2}\w).*/, '$1'));
    expect(short(events(list))).toEqual(['001  B', '* MARKER: 01:00:00:00 one', '002  A', '* MARKER: 01:00:02:00 two', '* MARKER: 01:00:04:00 end']);
    expect(short(events(list, { order: 'source' }))).toEqual(['001  A', '* MARKER: 01:00:02:00 two', '* MARKER: 01:00:04:00 end', '002  B', '* MARKER: 01:00:00:00 one']);
  });
});

describe('source order', () => {
  it('is by reel, then source in-point, then record in-point, black last, picture before sound', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'B', PAL), source('2', 'A', PAL)], [
      { source: BLACK, sourceIn: 0, frames: 10 }, { source: '1', sourceIn: 90, frames: 10 }, { source: '2', sourceIn: 0, frames: 10 }, { source: '1', sourceIn: 0, frames: 10 }, { source: '1', sourceIn: 90, frames: 10 },
    ], { audio: [sound('2', 20, 30, 0)] });
    expect(events(list, { order: 'source' }).filter((line) => /^\d/.test(line)).map((line) => line.replace(/ +/g, ' ').slice(0, 17) + line.slice(52, 64))).toEqual([
      '001 A V C 00:00:0 01:00:00:20', '002 A AA C 00:00: 01:00:00:20', '003 B V C 00:00:0 01:00:01:05', '004 B V C 00:00:0 01:00:00:10', '005 B V C 00:00:0 01:00:01:15', '006 BL V C 00:00: 01:00:00:00',
    ]);
  });

  it('is refused above 24 h, for nothing would tell the day', () => {
    const list = listOf(PAL, '01:00:00:00', [source('1', 'B', PAL)], [{ source: '1', sourceIn: 0, frames: 2_160_000 }]);
    const { problems, texts } = written(list, { order: 'source' });
    expect(problems.map(({ code, place }) => [code, place?.option])).toEqual([['bad-option', '--edl-order']]);
    expect(texts).toEqual([]);
  });
});
