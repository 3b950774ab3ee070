import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCutLists, type BuildOptions } from '../../src/cutlist/build.js';
import { PROGRAM } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import type { Problem } from '../../src/problems.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { build, C25, countNamed, heard, points, rows, said, shown, source, SOURCES, WITH_PROGRAM } from './rows.js';

/** A rule in a small case: the log, the shots that come of it, what is said about it (code and line). */
type Case = readonly [name: string, log: string, shots: string, problems?: readonly string[], options?: Partial<BuildOptions>];

function check([, log, expected, problems = [], options = {}]: Case): void {
  const { lists, problems: found } = build(rows(log), options);
  expect(shown(lists[0])).toBe(expected);
  expect(said(found)).toEqual(problems);
  for (const list of lists) expect(listFaults(list)).toEqual([]);
  for (const { severity, place } of found) if (severity === 'error' || severity === 'warning') expect(place?.file ?? place?.option).toBeDefined();
}

const table = (cases: readonly Case[]): void => {
  for (const given of cases) {
    it(given[0], () => {
      check(given);
    });
  }
};

describe('order of rows (rule 1)', () => {
  table([
    ['rows in order', '0 start | 0 cut 1 | 10 cut 2 | 20 stop', '1 0-10, 2 10-20'],
    ['a row out of order is sorted and reported', '0 start | 0 cut 1 | 10 cut 2 | 5 cut 3 | 20 stop', '1 0-5, 3 5-10, 2 10-20', ['out-of-order 4']],
    ['each row before an earlier one is reported', '0 start | 20 stop | 10 cut 2 | 0 cut 1', '1 0-10, 2 10-20', ['out-of-order 3', 'out-of-order 4']],
    ['start comes first on its frame', '0 cut 1 | 0 start | 20 stop', '1 0-20'],
    ['stop comes last on its frame', '0 start | 0 cut 1 | 10 stop | 10 marker "end"', '1 0-10'],
    ['the order on one frame is the log\'s', '0 start | 0 cut 1 | 5 cue 2 | 5 cue 3 | 5 cut | 20 stop', '1 0-5, 3 5-20'],
  ]);
});

describe('a log that names no source', () => {
  const messages = (log: string): string[] => build(rows(log)).problems.filter(({ code }) => code === 'missing-source').map(({ message, place }) => `${String(place?.line)} ${message}`);

  it('is told of once, where no row names one', () => {
    const [one, ...more] = messages('0 start | 0 cut | 5 cut | 9 dissolve d4 | 20 stop');
    expect([one?.startsWith('2 none of the 3 rows that switch names a source'), more]).toEqual([true, []]);
  });

  it('is told of row by row, where another does', () => {
    expect(messages('0 start | 0 cut | 5 cut | 9 cut 1 | 20 stop')).toEqual(['2 this cut names no source, and none is cued', '3 this cut names no source, and none is cued']);
    expect(messages('0 start | 0 cut | 5 cue 1 | 9 cut | 20 stop')).toEqual(['2 this cut names no source, and none is cued']);
    expect(messages('0 start | 0 cut | 20 stop')).toEqual(['2 this cut names no source, and none is cued']);
  });
});

describe('switches one by one (rule 2)', () => {
  table([
    ['a re-tap is dropped', '0 start | 0 cut 1 | 5 cut 1 | 10 cut 2 | 20 stop', '1 0-10, 2 10-20'],
    ['a dissolve to the source on air is dropped', '0 start | 0 cut 1 | 5 dissolve 1 d3 | 20 stop', '1 0-20'],
    ['a re-tap does not end a running transition', '0 start | 0 cut 1 | 5 dissolve 2 d10 | 8 cut 2 | 20 stop', '1 0-5, 2 5-20 D10'],
    ['back to the outgoing source is a switch', '0 start | 0 cut 1 | 5 dissolve 2 d10 | 8 cut 1 | 20 stop', '1 0-5, 2 5-8 D3, 1 8-20', ['transition-cut-short 3']],
    ['the later of two on a frame counts', '0 start | 0 cut 1 | 5 cut 2 | 5 cut 3 | 20 stop', '1 0-5, 3 5-20', ['same-frame 4']],
    ['three on a frame', '0 start | 0 cut 1 | 5 cut 2 | 5 cut 3 | 5 dissolve 2 d4 | 20 stop', '1 0-5, 2 5-20 D4', ['same-frame 4', 'same-frame 5']],
    ['there and back on one frame is nothing', '0 start | 0 cut 1 | 5 cut 2 | 5 cut 1 | 20 stop', '1 0-20', ['same-frame 4']],
    ['there and back leaves a running transition alone', '0 start | 0 cut 1 | 5 dissolve 2 d10 | 8 cut 3 | 8 cut 2 | 20 stop', '1 0-5, 2 5-20 D10', ['same-frame 5']],
    ['there, back and there again on one frame', '0 start | 0 cut 1 | 5 cut 2 | 5 cut 1 | 5 cut 3 | 20 stop', '1 0-5, 3 5-20', ['same-frame 4']],
    ['the same source twice on a frame is a re-tap', '0 start | 0 cut 1 | 5 dissolve 2 d4 | 5 cut 2 | 20 stop', '1 0-5, 2 5-20 D4'],
    ['two on a take\'s first frame', '0 start | 0 cut 1 | 0 cut 2 | 20 stop', '2 0-20', ['same-frame 3']],
  ]);
});

describe('cues (rule 3)', () => {
  table([
    ['a cue changes nothing', '0 start | 0 cut 1 | 5 cue 2 | 20 stop', '1 0-20'],
    ['a switch without a source takes the cued one', '0 start | 0 cut 1 | 5 cue 2 | 10 cut | 20 stop', '1 0-10, 2 10-20'],
    ['so does a dissolve', '0 start | 0 cut 1 | 5 cue 2 | 10 dissolve - d4 | 20 stop', '1 0-10, 2 10-20 D4'],
    ['the last cue counts', '0 start | 0 cut 1 | 5 cue 2 | 6 cue 3 | 10 cut | 20 stop', '1 0-10, 3 10-20'],
    ['a cue stays when another source is switched to', '0 start | 0 cut 1 | 5 cue 2 | 7 cut 3 | 10 cut | 20 stop', '1 0-7, 3 7-10, 2 10-20'],
    ['a cue before the start counts', '0 cue 2 | 5 start | 5 cut | 20 stop', '2 0-15'],
    ['nothing cued', '0 start | 0 cut 1 | 10 cut | 20 stop', '', ['missing-source 3']],
    ['a cue is taken once', '0 start | 0 cut 1 | 5 cue 2 | 10 cut | 15 cut | 20 stop', '', ['missing-source 5']],
    ['a cue that was switched to by name is taken', '0 start | 0 cut 1 | 5 cue 2 | 10 cut 2 | 15 wipe w1 d2 | 20 stop', '', ['missing-source 5']],
    ['black can be cued', '0 start | 0 cut 1 | 5 cue black | 10 cut | 20 stop', '1 0-10, black 10-20'],
    ['an unknown source', '0 start | 0 cut 1 | 10 cut 9 | 20 stop', '', ['unknown-source 3']],
    ['a sound-only recording', '0 start | 0 cut 1 | 10 cut desk | 20 stop', '', ['unknown-source 3']],
  ]);
});

describe('transitions (rules 4 and 10)', () => {
  const at = (dissolveAt: 'start' | 'center' | 'end'): Partial<BuildOptions> => ({ dissolveAt });
  table([
    ['a dissolve and a wipe', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 10 wipe 3 d5 w17 | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20 W17:5'],
    ['the next switch interrupts', '0 start | 0 cut 1 | 5 dissolve 2 d6 | 10 cut 3 | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20', ['transition-cut-short 3']],
    ['a stop interrupts', '0 start | 0 cut 1 | 5 wipe 2 d30 w1 | 20 stop', '1 0-5, 2 5-20 W1:15', ['transition-cut-short 3']],
    ['--end interrupts', '0 start | 0 cut 1 | 5 dissolve 2 d10 | 20 stop', '1 0-5, 2 5-12 D7', ['transition-cut-short 3'], { endAt: 12 }],
    ['a transition by hand', '0 start | 0 cut 1 | 5 dissolve 2 e12 | 20 stop', '1 0-5, 2 5-20 D7'],
    ['a transition by hand without frames', '0 start | 0 cut 1 | 5 dissolve 2 e5 | 20 stop', '1 0-5, 2 5-20', ['empty-transition 3']],
    ['a duration of zero', '0 start | 0 cut 1 | 5 wipe 2 d0 w1 | 20 stop', '1 0-5, 2 5-20', ['empty-transition 3']],
    ['begin and end as two rows', '0 start | 0 cut 1 | 5 dissolve 2 | 12 dissolve-end | 20 stop', '1 0-5, 2 5-20 D7'],
    ['begin and end on one frame', '0 start | 0 cut 1 | 5 dissolve 2 | 5 dissolve-end | 20 stop', '1 0-5, 2 5-20', ['empty-transition 3']],
    ['the end row of a transition, behind the begin row of the next', '0 start | 0 cut 1 | 5 dissolve 2 | 10 dissolve 3 | 10 dissolve-end | 15 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20 D5'],
    ['an end row on the frame on which a transition interrupts a timed one', '0 start | 0 cut 1 | 5 dissolve 2 d60 | 10 dissolve 3 | 10 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20', ['transition-cut-short 3', 'empty-transition 4']],
    ['the same with an end row of its own behind it', '0 start | 0 cut 1 | 5 dissolve 2 d60 | 10 dissolve 3 | 10 dissolve-end | 15 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20 D5'],
    ['the same with its end row before the next shot only', '0 start | 0 cut 1 | 5 dissolve 2 d60 | 10 dissolve 3 | 10 dissolve-end | 14 cut 1 | 15 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-14, 1 14-20', ['stray-row 7', 'transition-cut-short 3', 'empty-transition 4']],
    ['the same where the timed one is complete there', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 10 dissolve 3 | 10 dissolve-end | 15 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20 D5'],
    ['the same where the new one has a length of its own', '0 start | 0 cut 1 | 5 dissolve 2 d60 | 10 dissolve 3 d5 | 10 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20 D5'],
    ['the same where a cut comes', '0 start | 0 cut 1 | 5 dissolve 2 d60 | 10 cut 3 | 10 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20'],
    ['the end row shortens a timed transition', '0 start | 0 cut 1 | 5 dissolve 2 d10 | 12 dissolve-end | 20 stop', '1 0-5, 2 5-20 D7'],
    ['the end row on the frame on which a timed transition is complete', '0 start | 0 cut 1 | 5 dissolve 2 d7 | 12 dissolve-end | 20 stop', '1 0-5, 2 5-20 D7'],
    ['an end row without a transition', '0 start | 0 cut 1 | 12 dissolve-end | 20 stop', '1 0-20', ['stray-row 3']],
    ['an end row after the transition was complete', '0 start | 0 cut 1 | 5 dissolve 2 d3 | 12 dissolve-end | 20 stop', '1 0-5, 2 5-20 D3', ['stray-row 4']],
    ['the end row of a re-tap', '0 start | 0 cut 1 | 5 dissolve 1 | 12 dissolve-end | 20 stop', '1 0-20'],
    ['interrupted before its end row', '0 start | 0 cut 1 | 5 dissolve 2 | 10 cut 3 | 12 dissolve-end | 20 stop', '1 0-5, 2 5-10 D5, 3 10-20', ['stray-row 5', 'transition-cut-short 3']],
    ['complete before it begins', '0 start | 0 cut 1 | 5 dissolve 2 e3 | 20 stop', '', ['bad-duration 3']],
    ['no length at all', '0 start | 0 cut 1 | 5 dissolve 2 | 20 stop', '', ['missing-field 3']],
    ['back-to-back transitions', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 10 dissolve 3 d5 | 15 dissolve 1 d5 | 20 stop', '1 0-5, 2 5-10 D5, 3 10-15 D5, 1 15-20 D5'],
    ['a fade to black and up again', '0 start | 0 cut 1 | 5 dissolve black d5 | 12 dissolve 2 d4 | 20 stop', '1 0-5, black 5-12 D5, 2 12-20 D4'],
    ['a transition with nothing before it comes from black', '0 start | 0 dissolve 1 d5 | 20 stop', '1 0-20 D5'],
    ['a transition on the first frame of a take, from a source', '0 cut 2 | 5 start | 5 dissolve 1 d5 | 20 stop', '1 0-15', ['outside-take 1', 'transition-cut-short 3']],
    ['a transition on the first frame of a take, from black', '0 cut black | 5 start | 5 dissolve 1 d5 | 20 stop', '1 0-15 D5', ['outside-take 1']],
    ['the boundary at the centre', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 20 stop', '1 0-5, 2 5-20 D5/2', [], at('center')],
    ['the boundary at the end', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 20 stop', '1 0-5, 2 5-20 D5/5', [], at('end')],
    ['the boundary at the end, a frame of the shot kept', '0 start | 0 cut 1 | 5 dissolve 2 d5 | 10 cut 3 | 20 stop', '1 0-5, 2 5-10 D5/4, 3 10-20', [], at('end')],
    ['a boundary needs a frame behind it', '0 start | 0 cut 1 | 5 dissolve 2 d1 | 6 cut 3 | 20 stop', '1 0-5, 2 5-6 D1, 3 6-20', [], at('end')],
  ]);
});

describe('in-points (rule 5)', () => {
  const log = rows('1000 start | 1000 cut 1 | 1100 cut 2 | 1200 stop | 1500 start | 1600 cut 1 | 1700 stop');
  const pointsWith = (options: Partial<BuildOptions>, ...more: Parameters<typeof source>[1][]): string =>
    points(build(log, options, [source('1', more[0]), source('2', more[1])]).lists[0]?.shots ?? []);

  it('are the log\'s labels in a timecode log, whatever the sources\' starts', () => {
    expect(pointsWith({})).toBe('1000-1100, 1100-1200, 1500-1600, 1600-1700');
    expect(pointsWith({}, { starts: [5] })).toBe('1000-1100, 1100-1200, 1500-1600, 1600-1700');
  });
  it('take an offset', () => {
    expect(pointsWith({}, { offset: 3 }, { offset: -2 })).toBe('1003-1103, 1098-1198, 1498-1598, 1603-1703');
  });
  it('follow two points that show the same moment', () => {
    expect(pointsWith({}, { sync: { this: 50, is: 1000 } })).toBe('50-150, 1100-1200, 1500-1600, 650-750');
    expect(pointsWith({ origin: 'recording' }, { sync: { this: 50, is: 1000 }, offset: 1 })).toBe('51-151, 100-200, 500-600, 651-751');
  });
  it('count from the start of the first take in other logs', () => {
    expect(pointsWith({ origin: 'recording' })).toBe('0-100, 100-200, 500-600, 600-700');
    expect(pointsWith({ origin: 'recording' }, { starts: [900_000] })).toBe('900000-900100, 100-200, 500-600, 900600-900700');
  });
  it('count from each take where there is a list of starts', () => {
    expect(pointsWith({ origin: 'recording' }, { starts: [900_000, 950_000] })).toBe('900000-900100, 100-200, 500-600, 950100-950200');
  });
  it('need a start for each take in such a list', () => {
    const { lists, problems } = build(rows('0 start | 0 cut 1 | 10 stop | 20 start | 30 stop | 40 start | 50 stop'), { origin: 'recording' }, [source('1', { starts: [0, 100] })]);
    expect(lists).toEqual([]);
    expect(said(problems)).toEqual(['bad-show-file']);
  });
  it('begin where the first file begins, when nothing else is said', () => {
    expect(pointsWith({ origin: 'recording' }, { files: [{ path: '1.mov', start: 77 }] })).toBe('77-177, 100-200, 500-600, 677-777');
  });
  it('lie a day on where they would be negative', () => {
    const day = 86_400 * 25;
    expect(points(build(rows('0 start | 0 cut 1 | 10 stop'), {}, [source('1', { offset: -4 })]).lists[0]?.shots ?? [])).toBe(`${String(day - 4)}-${String(day + 6)}`);
  });
});

describe('takes (rules 6 and 8)', () => {
  const two = '100 start | 100 cut 1 | 110 cut 2 | 120 stop | 150 start | 155 cut 3 | 160 stop';
  table([
    ['joined', two, '1 0-10, 2 10-20, 2 20-25, 3 25-30'],
    ['with gaps', two, '1 0-10, 2 10-20, black 20-50, 2 50-55, 3 55-60', [], { takes: 'gaps' }],
    ['no start row: from the first switch', '100 cut 1 | 110 cut 2 | 120 stop', '1 0-10, 2 10-20'],
    ['no start row, counted from the recording', '100 cut 1 | 110 cut 2 | 120 stop', '1 0-10, 2 10-20', [], { origin: 'recording' }],
    ['nothing known before the first switch', '100 start | 110 cut 1 | 120 stop', 'black 0-10, 1 10-20', ['black-until-first-switch 1']],
    ['no switch at all in a take', '100 start | 110 marker "a" | 120 stop | 130 cut 1', 'black 0-20', ['black-until-first-switch 1', 'outside-take 4']],
    ['what was on air before the start shows until the first switch', '90 cut 2 | 100 start | 110 cut 1 | 120 stop', '2 0-10, 1 10-20', ['outside-take 1']],
    ['what was on air in the take before, too', '0 start | 0 cut 1 | 10 stop | 20 start | 25 cut 2 | 30 stop', '1 0-10, 1 10-15, 2 15-20'],
    ['a switch between takes sets what is on air next', '0 start | 0 cut 1 | 10 stop | 15 dissolve 3 d9 | 20 start | 25 cut 2 | 30 stop', '1 0-10, 3 10-15, 2 15-20', ['outside-take 4']],
    ['the end row of a transition between takes', '0 start | 0 cut 1 | 10 stop | 15 dissolve 3 | 17 dissolve-end | 20 start | 30 stop', '1 0-10, 3 10-20', ['outside-take 4']],
    ['a switch on the frame of the stop is on air next', '0 start | 0 cut 1 | 10 cut 2 | 10 stop | 20 start | 30 stop', '1 0-10, 2 10-20', ['outside-take 3']],
    ['a second start ends the take before it', '0 start | 0 cut 1 | 10 start | 15 cut 2 | 20 stop', '1 0-10, 1 10-15, 2 15-20', ['missing-stop 3']],
    ['stop and start on one frame', '0 start | 0 cut 1 | 10 stop | 10 start | 15 cut 2 | 20 stop', '1 0-10, 1 10-15, 2 15-20'],
    ['start and stop on one frame, the other way round', '0 start | 0 cut 1 | 10 start | 10 cut 2 | 10 stop | 20 stop', '1 0-10, 2 10-20'],
    ['two starts on one frame', '0 start | 0 start | 0 cut 1 | 20 stop', '1 0-20', ['stray-row 2']],
    ['a take without frames', '0 start | 0 cut 1 | 10 stop | 15 start | 15 cut 2 | 15 stop | 20 start | 30 stop', '1 0-10, 2 10-20', ['stray-row 6', 'outside-take 5']],
    ['a stop without a start: from the first switch', '0 start | 0 cut 1 | 10 stop | 15 cut 2 | 20 stop', '1 0-10, 2 10-15', ['missing-start 5']],
    ['a stop without a start or a switch', '0 start | 0 cut 1 | 10 stop | 20 stop', '1 0-10', ['stray-row 4']],
    ['rows after the last stop', '0 start | 0 cut 1 | 10 stop | 20 cut 2 | 30 marker "x"', '1 0-10', ['outside-take 4', 'outside-take 5']],
    ['a transition on the first frame of a later take', '0 start | 0 cut 1 | 10 stop | 20 start | 20 dissolve 2 d4 | 30 stop', '1 0-10, 2 10-20', ['transition-cut-short 5']],
    ['from black to a later take', '0 start | 0 cut 1 | 5 cut black | 10 stop | 20 start | 20 dissolve 2 d4 | 30 stop', '1 0-5, black 5-10, 2 10-20 D4'],
    ['a transition that runs into the stop', '0 start | 0 cut 1 | 5 dissolve 2 d9 | 10 stop | 20 start | 30 stop', '1 0-5, 2 5-10 D5, 2 10-20', ['transition-cut-short 3']],
    ['a counter that starts again opens a take', '0 start | 0 cut 1 | 10 stop | 3 start | 5 cut 2 | 20 stop', '1 0-10, 1 10-12, 2 12-27', [], { origin: 'recording' }],
    ['gaps are not known where the counter starts again', '0 start | 0 cut 1 | 10 stop | 3 start | 5 cut 2 | 20 stop', '1 0-10, 1 10-12, 2 12-27', [], { origin: 'recording', takes: 'gaps' }],
    ['labels do not start again', '10 start | 10 cut 1 | 20 stop | 0 start | 0 cut 2 | 5 stop', '2 0-5, 1 5-15', ['out-of-order 4', 'out-of-order 5', 'out-of-order 6']],
    ['a counter that starts again without a stop', '0 start | 0 cut 1 | 10 cut 2 | 0 start | 0 cut 3 | 20 stop', '', ['no-end 1'], { origin: 'recording' }],
  ]);

  it('says in notes what it takes for granted', () => {
    expect(said(build(rows('100 cut 1 | 120 stop')).problems, true)).toEqual(['found 1']);
    expect(said(build(rows('0 start | 0 cut 1 | 9 stop | 0 start | 9 stop'), { origin: 'recording', takes: 'gaps' }).problems, true)).toEqual(['found 4']);
  });

  it('become a list each', () => {
    const { lists } = build(rows(two), { takes: 'separate' });
    expect(lists.map(shown)).toEqual(['1 0-10, 2 10-20', '2 0-5, 3 5-10']);
    expect(lists.map(({ title, takes }) => [title, takes[0]?.number])).toEqual([['Harbour Kitchen, take 1', 1], ['Harbour Kitchen, take 2', 2]]);
    expect(lists.map(({ shots }) => points(shots))).toEqual(['100-110, 110-120', '150-155, 155-160']);
  });

  it('play each from its own file where the counter starts again', () => {
    const files = [{ path: 'a.mov', start: 500, frames: 100 }, { path: 'b.mov', start: 9000, frames: 100 }];
    const log = rows('0 start | 0 cut 1 | 10 stop | 0 start | 5 cut 2 | 20 stop');
    const { lists, problems } = build(log, { origin: 'recording' }, [source('1', { starts: [500], files }), source('2', { starts: [70] })]);
    expect(points(lists[0]?.shots ?? [])).toBe('500-510, 9000-9005, 75-90');
    expect(said(problems, true)).toEqual(['found']);
  });

  it('keep the number that they have in the log', () => {
    const { lists } = build(rows(two));
    expect(lists[0]?.takes.map(({ in: into, out, logIn, number }) => [into, out, logIn, number])).toEqual([[0, 20, 100, 1], [20, 30, 150, 2]]);
  });
});

describe('the end (rule 7)', () => {
  const open = '0 start | 0 cut 1 | 10 cut 2 | 15 marker "m"';
  const lasting = (id: string, frames: number) => source(id, { files: [{ path: `${id}.mov`, start: 0, frames }] });
  table([
    ['no end at all', open, '', ['no-end 1']],
    ['--end', open, '1 0-10, 2 10-30', [], { endAt: 30 }],
    ['--end before the stop', '0 start | 0 cut 1 | 10 cut 2 | 50 stop', '1 0-10, 2 10-30', [], { endAt: 30 }],
    ['--end after the stop', '0 start | 0 cut 1 | 10 cut 2 | 20 stop', '1 0-10, 2 10-20', [], { endAt: 30 }],
    ['what lies behind --end is left out, which is said once', '0 start | 0 cut 1 | 10 cut 2 | 20 cut 3 | 30 stop | 40 start | 50 stop | 60 cut 1', '1 0-10, 2 10-15', ['outside-take 4'], { endAt: 15 }],
    ['--end on a switch', '0 start | 0 cut 1 | 10 cut 2 | 30 stop', '1 0-10', ['outside-take 3'], { endAt: 10 }],
    ['--end between takes', '0 start | 0 cut 1 | 10 stop | 40 start | 50 stop', '1 0-10', [], { endAt: 20 }],
    ['--end before everything', '10 start | 10 cut 1 | 20 stop', '', ['bad-option --end'], { endAt: 5 }],
    ['no switch', '0 start | 5 marker "x" | 10 stop', '', ['no-events']],
    ['no row', '', '', ['no-events']],
    ['no take with frames', '10 start | 10 cut 1 | 10 stop', '', ['stray-row 3', 'outside-take 2', 'no-events']],
  ]);

  it('is the earliest end of the recordings that are used', () => {
    const sources = [lasting('1', 40), lasting('2', 25), lasting('3', 12)];
    const { lists, problems } = build(rows(open), {}, sources);
    expect(shown(lists[0])).toBe('1 0-10, 2 10-25');
    expect(said(problems, true)).toEqual(['found']);
    expect(shown(build(rows(open), { audio: { from: '3' } }, sources).lists[0])).toBe('1 0-10, 2 10-12');
  });

  it('is not the end of a recording that is only used behind it, or had ended before it was used', () => {
    const sources = [lasting('1', 40), lasting('2', 25), lasting('3', 12), lasting('4', 39)];
    const ends = (log: string, audio?: string): string => shown(build(rows(log), audio === undefined ? {} : { audio: { from: audio } }, sources).lists[0]);
    // 3 had ended on frame 12; 4 comes on behind the end of 1; and sound that is replaced on its first frame is not heard.
    expect(ends('0 start | 0 cut 1 | 15 cut 3')).toBe('1 0-15, 3 15-40');
    expect(ends('0 start | 0 cut 3 | 5 cut 2 | 13 cut 1 | 30 cut 4')).toBe('3 0-5, 2 5-12');
    expect(ends('0 start | 0 cut 1 | 26 cut 2 | 41 cut 4')).toBe('1 0-26, 2 26-40');
    expect(ends('0 start | 0 cut 1 | 0 audio 1', '3')).toBe('1 0-40');
    expect(ends('0 start | 0 cut 1 | 20 audio 3')).toBe('1 0-40');
    expect(ends('0 start | 0 cut 1 | 10 audio 3')).toBe('1 0-12');
    expect(build(rows('0 start | 0 cut 5 | 15 cut 3'), {}, [source('5'), ...sources]).problems.map(({ code }) => code)).toContain('no-end');
  });

  it('does not move with what the log has behind it (law)', () => {
    const ids = fc.constantFrom('1', '2', '3', '4');
    const row = fc.tuple(fc.integer({ min: 1, max: 60 }), fc.constantFrom('cut', 'audio'), ids);
    const ends = fc.tuple(...['1', '2', '3', '4'].map((id) => fc.integer({ min: 1, max: 60 }).map((frames) => lasting(id, frames))));
    let ended = 0;
    fc.assert(fc.property(ends, ids, fc.array(row, { maxLength: 6 }), (sources, first, more) => {
      const sorted = more.sort((a, b) => a[0] - b[0]);
      const log = (given: typeof sorted): string => ['0 start', `0 cut ${first}`, ...given.map((one) => one.join(' '))].join(' | ');
      const list = build(rows(log(sorted)), {}, [...sources]).lists[0];
      if (list === undefined) return;
      ended += 1;
      const before = build(rows(log(sorted.filter(([at]) => at < list.frames))), {}, [...sources]).lists[0];
      expect(before && shown(before)).toBe(shown(list));
      expect(before?.audio).toEqual(list.audio);
    }));
    expect(ended).toBeGreaterThan(0);
  });

  it('leaves out and reports what lies behind it', () => {
    const { lists, problems } = build(rows('0 start | 0 cut 1 | 10 cut 2 | 30 cut 1 | 31 marker "m"'), {}, [lasting('1', 40), lasting('2', 25)]);
    expect(shown(lists[0])).toBe('1 0-10, 2 10-25');
    expect(lists[0]?.markers).toEqual([]);
    expect(said(problems)).toEqual(['outside-take 4', 'outside-take 5']);
  });

  it('that was asked for is said once, with the number of rows that lie behind it, as a note', () => {
    const behind = (log: string, endAt: number, takes?: 'separate'): string[] =>
      build(rows(log), { origin: 'recording', endAt, ...(takes === undefined ? {} : { takes }) }).problems
        .filter(({ code }) => code === 'outside-take').map(({ severity, place, message }) => `${severity} ${String(place?.line)}: ${message}`);
    expect(behind('0 start | 0 cut 1 | 10 cut 2 | 30 cut 3', 20)).toEqual(['note 4: this row lies behind the end that was asked for, frame 20, and is left out']);
    const two = '0 start | 0 cut 1 | 10 cue 2 | 12 cut 2 | 13 marker "m" | 20 stop | 25 cut 3 | 30 start | 31 cut 1 | 40 stop';
    for (const takes of [undefined, 'separate'] as const) {
      expect(behind(two, 5, takes)).toEqual(['note 4: this row and 3 more (switches, markers) lie behind the end that was asked for, frame 5, and are left out']);
    }
    expect(behind('0 start | 0 cut 1 | 10 marker "m" | 20 stop', 10)).toEqual([]);
    expect(behind('0 start | 0 cut 1 | 20 stop', 10)).toEqual([]);
  });

  it('comes from the program recording for what was not recorded', () => {
    const sources = [source('1', { recorded: false }), source('2'), { ...lasting('1', 33), id: PROGRAM }];
    expect(shown(build(rows(open), {}, sources).lists[0])).toBe('1 0-10, 2 10-33');
  });

  it('is found across midnight', () => {
    const day = 86_400 * 25;
    const late = source('1', { files: [{ path: '1.mov', start: day - 100, frames: 300 }] });
    expect(shown(build(rows(`${String(day + 10)} start | ${String(day + 10)} cut 1`), {}, [late]).lists[0])).toBe('1 0-190');
    expect(shown(build(rows('10 start | 10 cut 1'), {}, [late]).lists[0])).toBe('1 0-190');
  });
  it('leaves no last frame that the recording does not have, at any rate', () => {
    for (const rate of ['23.976', '24', '29.97', '30', '50', '59.94', '60']) {
      for (let frames = 30; frames < 60; frames += 1) {
        const sources = [source('1'), source('2', { count: countNamed(rate), files: [{ path: 'b', start: 0, frames }] })];
        const list = build(rows('0 start | 0 cut 1 | 7 cut 2'), {}, sources).lists[0];
        expect(list && shown(placeOnRecordings(list, () => undefined))).not.toContain('black');
        expect(list?.frames).toBeGreaterThan((frames * 25) / Number(rate) - 2);
      }
    }
  });
  it('is the end of the last frame that a faster recording has as a whole', () => {
    const fast = source('2', { count: countNamed('60'), files: [{ path: 'b', start: 0, frames: 27 }] });
    const whole = source('2', { count: countNamed('60'), files: [{ path: 'b', start: 0, frames: 28 }] });
    const log = rows('0 start | 0 cut 1 | 10 cut 2');
    expect(shown(build(log, {}, [source('1'), fast]).lists[0])).toBe('1 0-10, 2 10-11');
    expect(shown(build(log, {}, [source('1'), whole]).lists[0])).toBe('1 0-10, 2 10-12');
    // What is heard to the end counts too, from where it begins.
    const desk = source('desk', { picture: false, count: countNamed('60'), files: [{ path: 'd', start: 0, frames: 27 }] });
    expect(heard(build(rows('0 start | 0 cut 1'), { audio: { from: 'desk' } }, [source('1'), desk]).lists[0])).toBe('desk 0-11@0');
  });
});

describe('a mix on the first frame of a take', () => {
  const made = (log: string, takes: 'joined' | 'gaps' | 'separate'): string[] => {
    const { lists, problems } = build(rows(log), { takes });
    return [...lists.map(shown), ...problems.filter(({ code }) => code === 'transition-cut-short').map(({ message }) => message)];
  };
  const BETWEEN = '0 start | 0 cut 1 | 10 stop | 15 cut black | 20 start | 20 dissolve 2 d5 | 30 stop';
  const CAMERA = '0 start | 0 cut 1 | 10 stop | 20 start | 20 dissolve 2 d5 | 30 stop';
  it('comes from black that was set between takes, where the list shows black or nothing before it', () => {
    expect(made(BETWEEN, 'gaps')).toEqual(['1 0-10, black 10-20, 2 20-30 D5']);
    expect(made(BETWEEN, 'separate')).toEqual(['1 0-10', '2 0-10 D5']);
    expect(made(BETWEEN, 'joined')).toEqual(['1 0-10, 2 10-20', 'this dissolve begins on the first frame of its take: it comes from black, and in this list the take before it ends on a picture; it became a cut']);
  });
  it('cannot come from a source, of which nothing is known before the take', () => {
    const why = 'this dissolve begins on the first frame of its take: nothing says that what it comes from was recorded before; it became a cut';
    expect(made(CAMERA, 'joined')).toEqual(['1 0-10, 2 10-20', why]);
    expect(made(CAMERA, 'gaps')).toEqual(['1 0-10, black 10-20, 2 20-30', why]);
    expect(made(CAMERA, 'separate')).toEqual(['1 0-10', '2 0-10', why]);
  });
});

describe('markers', () => {
  it('lie on the frame of the list that shows their moment, and stay with their take', () => {
    const { lists, problems } = build(rows('5 marker "before" | 10 start | 10 cut 1 | 10 marker "a" | 20 marker "b" | 20 stop | 25 marker "between" | 30 start | 33 marker "c" | 40 stop'));
    expect(lists[0]?.markers).toEqual([{ at: 0, note: 'a' }, { at: 10, note: 'b' }, { at: 13, note: 'c' }]);
    expect(said(problems)).toEqual(['outside-take 1', 'outside-take 7']);
  });
  it('on the frame of an implied start are in', () => {
    expect(build(rows('10 marker "a" | 10 cut 1 | 20 stop')).lists[0]?.markers).toEqual([{ at: 0, note: 'a' }]);
  });
  it('on the frame of --end are in', () => {
    expect(build(rows('0 start | 0 cut 1 | 10 marker "a" | 20 stop'), { endAt: 10 }).lists[0]?.markers).toEqual([{ at: 10, note: 'a' }]);
  });
});

describe('what a shot says of its row', () => {
  it('is its number, action and note; never its line', () => {
    const { lists } = build(rows('0 start | 0 cut 1 "opening" | 5 dissolve 2 d3 | 10 stop | 20 start | 25 cut 3 | 30 stop'));
    expect(lists[0]?.shots.map(({ event }) => event)).toEqual([
      { number: 2, action: 'cut', note: 'opening' }, { number: 3, action: 'dissolve' }, undefined, { number: 6, action: 'cut' },
    ]);
  });
  it('is the row that names what is on air already on a take\'s first frame', () => {
    const { lists } = build(rows('0 start | 0 cut 1 | 10 stop | 20 start | 20 cut 1 "again" | 30 stop'));
    expect(lists[0]?.shots[1]).toMatchObject({ source: '1', event: { number: 5, action: 'cut', note: 'again' } });
  });
});

describe('sound (rule 9)', () => {
  const log = '0 start | 0 cut 1 | 10 dissolve 2 d4 | 20 cut black | 25 cut 3 | 30 stop';
  const sound = (text: string, from: string, options: Partial<BuildOptions> = {}): string => {
    const { lists, problems } = build(rows(text), { audio: { from }, ...options }, WITH_PROGRAM);
    for (const list of lists) expect(listFaults(list)).toEqual([]);
    return [heard(lists[0]), ...said(problems)].join(' ! ');
  };
  it('is none where none is asked for', () => {
    expect(sound(log, 'none')).toBe('');
  });
  it('says so when nobody asked', () => {
    const problems: Problem[] = [];
    buildCutLists(rows(log), SOURCES, { title: '', count: C25, recordStart: 0, origin: 'timecode', file: 'show.csv' }, (found) => problems.push(found));
    expect(said(problems)).toEqual(['no-audio']);
  });
  it('comes from one source, the program, or the shot\'s own', () => {
    expect(sound(log, 'desk')).toBe('desk 0-30@0');
    expect(sound(log, PROGRAM)).toBe('program 0-30@0');
    expect(sound(log, 'follow')).toBe('1 0-10@0 V, 2 10-20@10 V D4, black 20-25@0 V, 3 25-30@25 V');
  });
  it('changes where a row says so', () => {
    expect(sound('0 start | 0 cut 1 | 10 audio desk | 20 audio none | 25 audio 2 | 30 stop', '1')).toBe('1 0-10@0, desk 10-20@10, 2 25-30@25');
    expect(sound('0 start | 0 cut 1 | 10 audio desk | 10 audio 2 | 20 audio 2 | 30 stop', '1')).toBe('1 0-10@0, 2 10-30@10');
  });
  it('follows in part of a shot without being cut with it', () => {
    expect(sound('0 start | 0 cut 1 | 5 audio follow | 10 cut 2 | 15 audio desk | 20 cut 3 | 25 audio follow | 30 stop', 'none')).toBe('1 5-10@5, 2 10-15@10, desk 15-25@15, 3 25-30@25');
  });
  it('does not mix with what did not follow', () => {
    expect(sound('0 start | 0 cut 1 | 10 audio follow | 10 dissolve 2 d4 | 20 dissolve 1 d4 | 30 stop', 'desk')).toBe('desk 0-10@0, 2 10-20@10, 1 20-30@20 V D4');
  });
  it('mixes with the picture where it changes later in the shot', () => {
    expect(sound('0 start | 0 cut 1 | 10 dissolve 2 d4 | 20 audio 1 | 30 stop', 'follow')).toBe('1 0-10@0 V, 2 10-20@10 D4, 1 20-30@20');
    expect(sound('0 start | 0 cut 1 | 10 wipe 2 d4 w7 | 14 audio none | 30 stop', 'follow')).toBe('1 0-10@0 V, 2 10-14@10 W7:4');
    expect(sound('0 start | 0 cut 1 | 10 dissolve black d4 | 20 audio 2 | 30 stop', 'follow')).toBe('1 0-10@0 V, black 10-20@0 D4, 2 20-30@20');
    expect(sound('0 start | 0 dissolve 1 d4 | 20 audio 2 | 30 stop', 'follow')).toBe('1 0-20@0 D4, 2 20-30@20');
  });
  it('is cut where it changes in the mix', () => {
    expect(sound('0 start | 0 cut 1 | 10 dissolve 2 d4 | 13 audio 1 | 30 stop', 'follow')).toBe('1 0-10@0 V, 2 10-13@10, 1 13-30@13');
  });
  it('has no sound in black that follows in part', () => {
    expect(sound('0 start | 0 cut black | 5 audio follow | 10 cut 2 | 20 stop', 'none')).toBe('2 10-20@10 V');
  });
  it('is a piece a take', () => {
    const takes = '0 start | 0 cut 1 | 10 stop | 15 audio 2 | 20 start | 25 audio desk | 30 stop';
    expect(sound(takes, 'desk')).toBe('desk 0-10@0, 2 10-15@20, desk 15-20@25');
    expect(sound(takes, 'desk', { takes: 'gaps' })).toBe('desk 0-10@0, 2 20-25@20, desk 25-30@25');
    expect(sound(takes, 'follow', { takes: 'gaps' })).toBe('1 0-10@0 V, black 10-20@0 V, 2 20-25@20, desk 25-30@25');
  });
  it('takes the channels that were chosen', () => {
    const piece = build(rows(log), { audio: { from: 'desk', channels: [3, 4, 4] } }).lists[0]?.audio[0];
    expect([piece?.tracks, piece?.channels]).toEqual([[1, 2, 3], [3, 4, 4]]);
    const changed = build(rows('0 start | 0 cut 1 | 10 audio 1 | 20 stop'), { audio: { from: 'desk', channels: [3, 4] } }).lists[0]?.audio;
    expect(changed?.map(({ channels }) => channels)).toEqual([[3, 4], [1, 2]]);
  });
  it('cannot come from what is not there', () => {
    expect(said(build(rows(log), { audio: { from: PROGRAM } }).problems)).toEqual(['unknown-source --audio']);
    expect(said(build(rows('0 start | 0 cut 1 | 5 audio 9 | 10 stop')).problems)).toEqual(['unknown-source 3']);
    const message = (sources: typeof SOURCES): string | undefined => build(rows('0 start | 0 cut 1 | 5 audio 9 | 10 stop'), {}, sources).problems[0]?.message;
    expect(message(SOURCES)).toContain('expected a source, follow or none');
    expect(message(WITH_PROGRAM)).toContain('expected a source, program, follow or none');
  });
});

describe('what problems say', () => {
  const message = (log: string, options: Partial<BuildOptions> = {}): string => build(rows(log), options, SOURCES).problems.map((found) => found.message).join('\n');
  it('names counts, and the other row', () => {
    expect(message('0 start | 0 cut 1 | 5 dissolve 2 d30 | 15 cut 3 | 20 stop')).toBe('this dissolve was interrupted: it was to have 30 frames, and 10 frames were on air; it is cut short to these');
    expect(message('0 start | 0 cut 1 | 5 cut 2 | 5 cut 3 | 20 stop')).toBe('this switch lies on the frame of the one in line 3; this one counts');
    expect(message('0 start | 0 cut 1 | 5 cut 2 | 4 cut 3 | 20 stop')).toBe('this row lies 1 frame before line 3; rows are taken in order of time');
    expect(message('0 start | 7 cut 1 | 20 stop')).toBe('nothing says what was on air before the first switch: 7 frames of black');
  });
});
