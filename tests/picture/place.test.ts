/** Everything at its place: findings on the frame of their line, lists of other rates in real time, texts in the room they have. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitNames, fitText, textWidth, wrapText } from '../../src/picture/places.js';
import { drawPicture } from '../../src/picture/picture.js';
import type { PictureInput, PictureNote } from '../../src/picture/scene.js';
import { AXIS_WIDTH, GUTTER } from '../../src/picture/scale.js';
import { ProblemList } from '../../src/problems.js';
import { RATES, type Rate } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';
import type { CutList } from '../../src/cutlist/model.js';
import { cli, folderWith } from '../support/cli.js';
import { steadyList } from '../support/steady.js';

const EDL = `TITLE: Kitchen
FCM: NON-DROP FRAME

001  WIDE     V     C        10:00:00:00 10:00:10:00 01:00:00:00 01:00:10:00
002  CLOSE    V     C        10:00:10:00 10:00:15:00 01:00:11:00 01:00:16:00
004  WIDE     V     C        10:00:16:00 10:00:20:00 01:00:15:00 01:00:19:00
005  WIDE     V     C        10:00:16:00 10:00:20:00 01:00:19:00 01:00:24:00
`;

const LOG = `time,action,source,duration,note
00:00:00:00,start,,,
00:00:00:00,cut,1,,
00:00:10:00,cut,2,,
00:00:10:00,cut,3,,
00:00:30:00,stop,,,
00:00:35:00,marker,,,Lost
00:01:00:00,start,,,
00:01:00:00,cut,2,,
00:01:05:00,dissolve,1,0,
00:01:10:00,stop,,,
`;

/** The first columns of the table of findings: record label, severity, code. */
const findings = (page: string): string[] =>
  [...page.matchAll(/<tr><td>([^<]*)<\/td><td>(error|warning|note|change)<\/td><td>([^<]*)<\/td>/g)].map(([, at, severity, code]) => `${at ?? ''} ${severity ?? ''} ${code ?? ''}`);

const pictureOf = async (name: string, text: string, ...more: string[]): Promise<string> => {
  const { status, out } = await cli(['picture', name, '--rate', '25', '-o', '-', ...more], { cwd: folderWith({ [name]: text }) });
  expect(status).toBe(0);
  return out;
};

describe('findings', () => {
  it('of an EDL lie where its events do; a hole where it begins', async () => {
    const page = await pictureOf('kitchen.edl', EDL);
    expect(findings(page)).toEqual(['01:00:10:00 error hole', '01:00:15:00 warning event-number', '01:00:15:00 error overlap', '01:00:19:00 error length-differs']);
    const notes = /<g class="notes">[\s\S]*?<\/g><\/g>/.exec(page)?.[0] ?? '';
    for (const code of ['hole', 'event-number', 'overlap', 'length-differs']) expect(notes).toContain(`>${code}</text>`);
  });

  it('of a log lie where its rows do, also in the second take; a row outside every take lies nowhere', async () => {
    // The second take begins at 30 s on the record side: 1:05 of the log is 35 s.
    expect(findings(await pictureOf('kitchen.csv', LOG)).filter((line) => !line.includes('note'))).toEqual([
      '– warning outside-take', '01:00:10:00 warning same-frame', '01:00:35:00 warning empty-transition',
    ]);
  });

  it('stand in a sheet in words too, and so do markers', async () => {
    const sheet = await pictureOf('kitchen.edl', `${EDL}* MARKER: 01:00:20:00 ${'The stock comes to the boil. '.repeat(12)}\n`, '--as', 'svg');
    expect(sheet).toContain('>line 5: nothing from 01:00:10:00 to 01:00:11:00: 25 frames of black</text>');
    expect(sheet.match(/The stock comes to the boil\./g)?.length).toBeGreaterThanOrEqual(12);
  });
});

describe('the title', () => {
  it('is that of the lists that convert makes', async () => {
    expect(await pictureOf('kitchen.csv', LOG)).toContain('<title>kitchen</title>');
  });
});

describe('separate takes', () => {
  it('are several lists, and a picture is of one: they are not offered', async () => {
    const { status, err } = await cli(['picture', 'kitchen.csv', '--rate', '25', '--takes', 'separate'], { cwd: folderWith({ 'kitchen.csv': LOG }) });
    expect([status, err]).toEqual([2, expect.stringContaining('--takes: error: separate takes are several lists, and one is wanted')]);
    const help = (await cli(['help', 'picture'])).out;
    expect(help).toContain('several takes: joined, gaps');
    expect(help).not.toContain('separate');
    const two = `${LOG}11:00:00:00,start,\n11:00:00:00,cut,2\n11:00:10:00,stop,\n`;
    expect(await pictureOf('kitchen.csv', two, '--takes', 'gaps')).not.toBe(await pictureOf('kitchen.csv', two));
  });
});

const rateOf = (name: string): Rate => RATES.find((rate) => rate.name === name) as Rate;

const plain = (rate: string, seconds: number[], recordStart = 0): CutList => {
  const list = steadyList(1);
  const count = countOf(rateOf(rate), false);
  const bounds = [0, ...seconds].map((one) => one * rateOf(rate).num / rateOf(rate).den);
  const shots = seconds.map((_, index) => ({ source: '1', in: bounds[index] ?? 0, out: bounds[index + 1] ?? 0, sourceIn: 0, sourceOut: (bounds[index + 1] ?? 0) - (bounds[index] ?? 0), take: 0 }));
  return { ...list, count, recordStart, frames: bounds.at(-1) ?? 0, shots, markers: [], takes: [{ in: 0, out: bounds.at(-1) ?? 0, logIn: 0 }] };
};

const drawn = (...inputs: PictureInput[]): string => {
  const problems = new ProblemList();
  const text = drawPicture(inputs, 'html', problems.add) ?? '';
  expect(problems.problems).toEqual([]);
  return text;
};

/** Left and right end of each bar of a list, in parts of the axis. */
const bars = (page: string, key: 'a' | 'b'): number[][] =>
  [...page.matchAll(new RegExp(`href="#${key}\\d+"><title>[^<]*</title><rect x="([\\d.]+)" y="[\\d.]+" width="([\\d.]+)"`, 'g'))].map(([, x, width]) => [(Number(x) - GUTTER) / AXIS_WIDTH, (Number(x) + Number(width) - GUTTER) / AXIS_WIDTH]);

describe('two lists', () => {
  it('of different rates share the axis of real time', () => {
    for (const [one, other] of [['25', '50'], ['50', '25'], ['60', '24']] as const) {
      const page = drawn({ list: plain(one, [10, 20]), notes: [] }, { list: plain(other, [15, 40]), notes: [] });
      const expected = { a: [[0, 0.25], [0.25, 0.5]], b: [[0, 0.375], [0.375, 1]] };
      for (const key of ['a', 'b'] as const) {
        bars(page, key).forEach((bar, index) => { bar.forEach((end, side) => { expect(end).toBeCloseTo(expected[key][index]?.[side] ?? Number.NaN, 3); }); });
        expect(bars(page, key)).toHaveLength(2);
      }
    }
  });

  it('have an axis each where their labels differ, and one where they do not', () => {
    const axes = (page: string): number => page.match(/class="axis timecode"/g)?.length ?? 0;
    const one = { list: plain('25', [10, 20]), notes: [] };
    expect(axes(drawn(one, { list: plain('25', [15, 20]), notes: [] }))).toBe(1);
    const page = drawn(one, { list: plain('25', [15, 20], 90_000), notes: [] });
    expect(axes(page)).toBe(2);
    expect(page).toMatch(/>00:00:10:00<\/text>[\s\S]*>01:00:10:00<\/text>/);
    expect(axes(drawn(one, { list: plain('24', [15, 20]), notes: [] }))).toBe(2);
  });

  it('say each thing once, also behind the end of the shorter one', () => {
    const note = (at: number): PictureNote => ({ at, code: 'moved', text: `at ${String(at)}`, severity: 'change' });
    const long = { ...steadyList(300), markers: [] };
    const short = steadyList(100);
    const marks = [0, short.frames - 1, short.frames, short.frames + 10_000];
    const page = drawn({ list: long, notes: [] }, { list: { ...short, markers: [{ at: short.frames, note: 'The end' }] }, notes: marks.map(note) });
    for (const at of marks) expect(page.split(`<title>change: at ${String(at)}</title>`)).toHaveLength(2);
    expect(page.split('<title>Marker 1: The end</title>')).toHaveLength(2);
    const strips = page.replace(/<ul class="legend">[\s\S]*?<\/ul>/, '');
    const left = [...strips.matchAll(/<circle cx="([\d.-]+)"/g)].map(([, x]) => Number(x));
    expect(left).toHaveLength(4);
    for (const x of left) expect(x).toBeGreaterThanOrEqual(GUTTER);
  });
});

describe('texts', () => {
  it('fit into their room, and are whole where there is enough', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), fc.integer({ min: 20, max: 400 }), (text, width) => {
        const fitted = fitText(text, width, 12);
        if (textWidth(text, 12) <= width) expect(fitted).toBe(text);
        else expect(textWidth(fitted, 12)).toBeLessThanOrEqual(width);
      }),
    );
  });

  it('in lines keep every word', () => {
    const text = 'a word and another one, and one that is far-too-long-for-any-line-of-this-width';
    const lines = wrapText(text, 120, 12);
    for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(120);
    expect(lines.join(' ')).toMatch(/^a word and another one, and one that is far-.*…$/);
  });

  it('are measured by their letters', () => {
    expect(textWidth('WWWW', 10)).toBeGreaterThan(2 * textWidth('iiii', 10));
    expect(textWidth('厨房', 10)).toBeGreaterThanOrEqual(20);
    expect(textWidth('e\u0301', 10)).toBe(textWidth('e', 10));
  });

  it('have room in Indian scripts, too, whose vowel signs stand beside their letters', () => {
    // Widths at size 1 in the Lohit fonts (Debian's fonts-lohit-*, 2.91 and 2.95), as Chromium measures them.
    const measured = {
      'कैमरा हिन्दी नाम लंबा': 7.75, 'ऊपर का कैमरा': 5.44, 'ক্যামেরা বাংলা নাম': 7.45, 'கேமரா தமிழ் பெயர்': 9.15, 'மேடை அகலம்': 6.95, 'కెమెరా తెలుగు పేరు': 6.7,
      'ಕ್ಯಾಮೆರಾ ಕನ್ನಡ': 5.49, 'ക്യാമറ മലയാളം': 7.62, 'വേദി ഇടത്': 5.11, 'કેમેરા ગુજરાતી નામ': 7.38, 'ਕੈਮਰਾ ਪੰਜਾਬੀ': 4.94,
    };
    for (const [text, width] of Object.entries(measured)) {
      expect(textWidth(text, 1), text).toBeGreaterThanOrEqual(width);
      expect(textWidth(text, 1), text).toBeLessThan(1.5 * width);
    }
  });
});

describe('markers', () => {
  it('without words stand in a row of their own', () => {
    const list = { ...steadyList(3), markers: Array.from({ length: 5 }, (_, index) => ({ at: 10 + index, note: `Step ${String(index + 1)}` })) };
    const group = /<g class="markers">[\s\S]*?<\/g><\/g>/.exec(drawn({ list, notes: [] }))?.[0] ?? '';
    const rows = [...group.matchAll(/<path d="M[\d.]+ ([\d.]+)l5 5/g)].map(([, y]) => Number(y));
    const worded = [...group.matchAll(/<text x="[\d.]+" y="([\d.]+)"/g)].map(([, y]) => Number(y) - 9);
    // The last of those without words still has room for its number.
    expect(worded).toHaveLength(3);
    expect([...rows.slice(0, 2), rows[4]]).toEqual(worded);
    for (const y of rows.slice(2)) expect(y).toBeGreaterThan(Math.max(...worded.slice(0, 2)) + 10);
  });

  it('have a number beside their own diamond only, before the next one; those on one frame all of theirs', () => {
    const list = steadyList(10);
    const markers = (at: readonly number[]): string[] => {
      const group = /<g class="markers">[\s\S]*?<\/g><\/g>/.exec(drawn({ list: { ...list, markers: at.map((frame) => ({ at: frame, note: 'Same' })) }, notes: [] }))?.[0] ?? '';
      const shapes = [...group.matchAll(/<path d="M([\d.]+) ([\d.]+)l5 5[^>]*>(?:<text x="([\d.]+)" [^>]*>([^<]*)<)?/g)];
      for (const [, , y, left, text] of shapes) {
        if (left === undefined) continue;
        const [from, to] = [Number(left) - 8, Number(left) + textWidth(text ?? '', 11)];
        expect(shapes.filter(([, x, other]) => other === y && Number(x) > from + 0.01 && Number(x) - 5 < to)).toEqual([]);
      }
      return shapes.flatMap(([, , , , text]) => (text === undefined ? [] : [text]));
    };
    expect(markers([...Array.from({ length: 40 }, () => 100), 103])).toEqual(['1 Same', '2 Same', '41']);
    expect(markers(Array.from({ length: 40 }, () => 100))).toEqual(['1 Same', '2 Same', '3\u201340']);
    fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: list.frames }), { maxLength: 60 }), (at) => { markers(at.sort((a, b) => a - b)); }), { numRuns: 60 });
  });

  it('at the right end have as many of their words as there is room for', () => {
    const list = steadyList(3);
    const group = drawn({ list: { ...list, markers: [{ at: Math.floor(list.frames * 0.93), note: 'The stock comes to the boil' }] }, notes: [] });
    expect(/>(1 [^<]*)<\/text>/.exec(group)?.[1]).toMatch(/^1 The.*\u2026$/);
  });
});

describe('lanes', () => {
  const names = (...given: string[]): string[] => {
    const list = steadyList(12);
    const sources = list.sources.map((source, index) => ({ ...source, name: given[index] ?? source.name }));
    return [...drawn({ list: { ...list, sources }, notes: [] }).matchAll(/<g><title>([^<]*)<\/title><text class="lane"[^>]*>([^<]*)</g)].map(([, , short]) => short ?? '').slice(0, given.length);
  };

  it('can be told apart where their names begin alike', () => {
    const [left = '', back = ''] = names('Camera stage left front', 'Camera stage left back', 'Overhead');
    expect([left, back]).toEqual([expect.stringMatching(/^Cam.*\u2026.*front$/), expect.stringMatching(/^Cam.*\u2026.*back$/)]);
  });

  it('show what differs in the middle of long names, cut once', () => {
    const many = Array.from({ length: 400 }, (_, index) => `Camera number ${String(index)} of the whole building`);
    const short = fitNames(many, 122, 12);
    short.forEach((one, index) => { expect(one).toMatch(new RegExp(`^\u2026n?umber ${String(index)} of.*\u2026$`)); });
    expect(fitNames(['Kitchen', 'Kitchen'], 122, 12)).toEqual(['Kitchen', 'Kitchen']);
    const [left = ''] = fitNames(['x'.repeat(40) + 'a'.repeat(40) + 'y'.repeat(40), 'x'.repeat(40) + 'a'.repeat(39) + 'b' + 'y'.repeat(40), 'x'.repeat(40) + 'b' + 'y'.repeat(40)], 122, 12);
    expect(left).toMatch(/^[^\u2026]*\u2026 \(1\)$/);
  });

  it('that hold nothing are left out of a strip where there are many of them, and it says how many', () => {
    const count = (sources: number): { lanes: number[]; without: (string | undefined)[] } => {
      const list = plain('25', Array.from({ length: 200 }, (_, index) => (index + 1) * 2));
      const shots = list.shots.map((shot, index) => ({ ...shot, source: String(1 + (index % sources)), ...(index % 7 === 4 ? { transition: { kind: 'dissolve' as const, frames: 20, inOffset: 0 } } : {}) }));
      const all = Array.from({ length: sources }, (_, index) => ({ ...(list.sources[0] as CutList['sources'][number]), id: String(index + 1), name: `Camera ${String(index + 1)}` }));
      const strips = drawn({ list: { ...list, sources: all, shots }, notes: [] }).split('<g class="list">').slice(1);
      for (const strip of strips) expect(strip.match(/<rect /g)?.length).toBeGreaterThan(0);
      // The wedges of both shots of every mix are there, whatever strip its shots began in.
      expect(strips.join('').match(/class="mix"/g)?.length).toBe(2 * shots.filter(({ transition }) => transition !== undefined).length);
      return { lanes: strips.map((strip) => strip.match(/class="lane"/g)?.length ?? 0), without: strips.map((strip) => /class="without"[^>]*>([^<]*)</.exec(strip)?.[1]) };
    };
    expect(count(16)).toEqual({ lanes: [16, 16, 16, 16], without: [undefined, undefined, undefined, undefined] });
    // The second part begins with a mix, which shows the shot before it as well.
    expect(count(200)).toEqual({ lanes: [60, 61, 60, 20], without: [140, 139, 140, 180].map((lanes) => `${String(lanes)} more lanes hold nothing in this part`) });
  });

  it('differ wherever their names do', () => {
    fc.assert(fc.property(fc.uniqueArray(fc.tuple(fc.constantFrom('Camera stage left ', 'Kitchen Kitchen Kitchen ', 'A'), fc.constantFrom('', 'front of the house', 'front of the horse', '2'), fc.string({ unit: 'grapheme-ascii', maxLength: 30 })).map((parts) => parts.join('')), { minLength: 2, maxLength: 9 }), (given) => {
      const short = fitNames(given, 122, 12);
      expect(new Set(short).size).toBe(given.length);
      for (const one of short) expect(textWidth(one, 12)).toBeLessThanOrEqual(122);
    }), { numRuns: 300 });
  });
});

describe('the summary', () => {
  it('has the median shot, half way between two in the middle', () => {
    const medianOf = (...bounds: number[]): string => /median shot ([\d.]+) s/.exec(drawn({ list: plain('25', bounds), notes: [] }))?.[1] ?? '';
    expect([medianOf(7), medianOf(1, 10), medianOf(1, 10, 12), medianOf(1, 10, 12, 16)]).toEqual(['7.00', '5.00', '2.00', '3.00']);
  });
});

describe('the legend', () => {
  const legend = (input: Parameters<typeof drawn>[0]): string[] =>
    [...(/<ul class="legend">[\s\S]*?<\/ul>/.exec(drawn(input))?.[0] ?? '').matchAll(/<\/svg> ([^<]*)</g)].map(([, text]) => text ?? '');

  it('tells of what is drawn, and of nothing else', () => {
    const list = plain('25', [15, 20]);
    expect(legend({ list, notes: [] })).toEqual(['shot']);
    const notes: PictureNote[] = (['warning', 'change'] as const).map((severity) => ({ at: 1, code: 'x', text: 'x', severity }));
    expect(legend({ list: { ...list, markers: [{ at: 3, note: 'x' }], takes: [...list.takes, ...list.takes] }, notes })).toEqual(['shot', 'marker', 'begin of a take', 'warning', 'change']);
  });
});
