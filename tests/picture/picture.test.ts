import fc from 'fast-check';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { describe, expect, it } from 'vitest';
import { PROGRAM, type CutList, type Shot } from '../../src/cutlist/model.js';
import { shotIndexAt } from '../../src/cutlist/record.js';
import { lanesOf, type Laned } from '../../src/picture/lanes.js';
import { lengthClasses, screenTime } from '../../src/picture/figures.js';
import { drawPicture, MOST_SHOTS } from '../../src/picture/picture.js';
import type { PictureNote } from '../../src/picture/scene.js';
import { shotRows } from '../../src/picture/shots.js';
import { ProblemList } from '../../src/problems.js';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { arbitraryList } from '../support/lists.js';
import { steadyList } from '../support/steady.js';

/** One list, and each of its sources in a lane of its own. */
const alone = (list: CutList): Laned => ({ list, laneOf: (source) => source });

const draw = (list: CutList, as: 'svg' | 'html', notes: PictureNote[] = []): string => {
  const problems = new ProblemList();
  const text = drawPicture([{ list, notes }], as, problems.add);
  expect(problems.problems).toEqual([]);
  return text ?? '';
};

describe('a picture', () => {
  it('is well-formed XML (W3C XML 1.0, judged by fast-xml-parser) for any list', () => {
    fc.assert(
      fc.property(arbitraryList({ otherRates: true }), (list) => {
        expect(XMLValidator.validate(draw(list, 'svg'))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('has a row for each shot, and a bar that leads to it, in any list', () => {
    fc.assert(
      fc.property(arbitraryList(), fc.constantFrom('svg' as const, 'html' as const), (list, as) => {
        const text = draw(list, as);
        const ids = [...text.matchAll(/ id="(a\d+)"/g)].map((found) => found[1]);
        expect(ids).toEqual(list.shots.map((_, index) => `a${String(index + 1)}`));
        const links = new Set([...text.matchAll(/href="#(a\d+)"/g)].map((found) => found[1]));
        expect(links).toEqual(new Set(ids));
      }),
      { numRuns: 60 },
    );
  });

  it('gives the same bytes for the same list', () => {
    const list = steadyList(50);
    expect(draw(list, 'html')).toBe(draw(list, 'html'));
  });

  it('needs no network and no script', () => {
    for (const as of ['svg', 'html'] as const) {
      const text = draw(steadyList(50), as).replace('xmlns="http://www.w3.org/2000/svg"', '');
      expect(text).not.toMatch(/<script|https?:|url\(|@import|src=/);
    }
  });

  it('stays under 1 MB for an hour of 600 shots', () => {
    const list = steadyList(600);
    expect(draw(list, 'svg').length).toBeLessThan(1_000_000);
    expect(draw(list, 'html').length).toBeLessThan(1_000_000);
  });

  it('refuses a list that is too long to draw, and one without shots', () => {
    const problems = new ProblemList();
    expect(drawPicture([{ list: steadyList(MOST_SHOTS + 1), notes: [] }], 'svg', problems.add)).toBeUndefined();
    expect(drawPicture([{ list: { ...steadyList(1), shots: [] }, notes: [] }], 'svg', problems.add)).toBeUndefined();
    expect(problems.problems.map((found) => found.code)).toEqual(['too-large', 'no-events']);
  });

  it('shows text from a log as text, never as markup', () => {
    const list = steadyList(3);
    const nasty = { ...list, title: '</title><script>', markers: [{ at: 1, note: '"><b>&' }] };
    const page = draw(nasty, 'html', [{ at: 0, code: 'hole', text: '<i>\u0000', severity: 'error' }]);
    expect(page).not.toMatch(/<script|<b>|<i>|\0/);
    expect(page).toContain('&lt;script&gt;');
  });

  it('writes record in and out of each shot into the table', () => {
    const list = steadyList(3);
    const page = draw(list, 'html');
    for (const shot of list.shots) {
      expect(page).toContain(`<td>${formatTimecode(list.recordStart + shot.in, list.count)}</td><td>${formatTimecode(list.recordStart + shot.out, list.count)}</td>`);
    }
  });

  it('puts a finding at its place on the axis and in the remarks of its shot', () => {
    const list = steadyList(4);
    const at = list.shots[2]?.in ?? 0;
    const page = draw(list, 'html', [{ at, code: 'short-shot', text: 'only a blink', severity: 'warning' }]);
    const row = new RegExp(`<tr id="a3">.*only a blink`);
    expect(page).toMatch(row);
    expect(page).toContain('>short-shot</text>');
  });

  it('draws two lists under one another on one axis', () => {
    const problems = new ProblemList();
    const text = drawPicture([{ list: steadyList(4), notes: [] }, { list: steadyList(5), notes: [] }], 'svg', problems.add) ?? '';
    expect(XMLValidator.validate(text)).toBe(true);
    expect([...text.matchAll(/ id="(b\d+)"/g)]).toHaveLength(5);
    const sheet = new XMLParser({ ignoreAttributes: false }).parse(text) as { svg: { title: string } };
    expect(sheet.svg.title).toBe('Harbour Kitchen 14 / Harbour Kitchen 14');
  });
});

describe('figures', () => {
  it('screen time adds up to the whole list', () => {
    fc.assert(
      fc.property(arbitraryList(), (list) => {
        const times = screenTime(alone(list), lanesOf([alone(list)]));
        expect(times.reduce((sum, time) => sum + time.frames, 0)).toBe(list.frames);
        expect(times.reduce((sum, time) => sum + time.shots, 0)).toBe(list.shots.length);
        expect(lengthClasses(list).reduce((sum, one) => sum + one.shots, 0)).toBe(list.shots.length);
      }),
    );
  });

  it('a shot that goes on in the next file counts once', () => {
    const list = steadyList(3);
    const shots = list.shots.map((shot, index) => (index === 1 ? { ...shot, source: list.shots[0]?.source ?? '1', continues: true } : shot));
    expect(screenTime(alone({ ...list, shots }), lanesOf([alone(list)])).reduce((sum, time) => sum + time.shots, 0)).toBe(2);
  });

  it('a shot that goes on after frames of the program counts for both, each with its own frames', () => {
    const list = steadyList(2);
    const [first, second] = list.shots as [Shot, Shot];
    const { take } = first;
    const part = { source: PROGRAM, in: second.in, out: second.in + 5, sourceIn: 0, sourceOut: 5, take, instead: second.source };
    const program = { id: PROGRAM, name: 'Program', aliases: [], picture: true, recorded: true, count: list.count, starts: [], offset: 0, files: [] };
    const mixed = { ...list, sources: [...list.sources, program], shots: [first, part, { ...second, in: second.in + 5, continues: true }] };
    const times = new Map(screenTime(alone(mixed), lanesOf([alone(mixed)])).map(({ name, frames, shots }) => [name, { frames, shots }]));
    expect(times.get('Program')).toEqual({ frames: 5, shots: 1 });
    expect([...times.values()].reduce((sum, { frames }) => sum + frames, 0)).toBe(list.frames);
    expect([...times.values()].reduce((sum, { shots }) => sum + shots, 0)).toBe(3);
    expect(shotRows(mixed, new Map()).map(({ cells }) => cells.at(-1))).toEqual(['', `instead of ${list.sources.find(({ id }) => id === second.source)?.name ?? ''}`, '']);
  });

  it('finds the shot that holds a frame', () => {
    fc.assert(
      fc.property(arbitraryList(), fc.nat(), (list, seed) => {
        const frame = seed % list.frames;
        const shot = list.shots[shotIndexAt(list.shots, frame)];
        expect(shot !== undefined && shot.in <= frame && frame < shot.out).toBe(true);
      }),
    );
  });
});
