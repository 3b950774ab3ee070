/** Logs with one row a shot (contract §3, rowsAre): holes become black, the last end is a stop. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCutLists } from '../../src/cutlist/build.js';
import type { LogReading } from '../../src/log/reading.js';
import { plainSources } from '../../src/show/sources.js';
import { read } from '../support/logs.js';

const shots = (text: string, map = {}): ReturnType<typeof read> => read(`time,end,source,action,duration,note\n${text}`, { map: { rowsAre: 'shots', ...map } });

/** The list that comes of it: source, and record frames. */
function listOf(reading: LogReading | undefined): string {
  if (reading === undefined) throw new Error('not read');
  const { events, sources, count, origin, restarts } = reading;
  const [list] = buildCutLists(events, plainSources(sources, count), { title: '', count, recordStart: 0, origin, restarts, file: 'log' }, () => undefined);
  return (list?.shots ?? []).map((shot) => `${shot.source} ${String(shot.in)}-${String(shot.out)}`).join(', ');
}

describe('one row a shot', () => {
  it('becomes switches, with a stop where the last one ends', () => {
    const { events, loud, reading } = shots('0,100,1\n100,200,2\n200,300,1\n');
    expect(events).toEqual(['0 cut 1', '100 cut 2', '200 cut 1', '300 stop']);
    expect(loud).toEqual([]);
    expect(reading?.events.map(({ number }) => number)).toEqual([1, 2, 3, 3]);
  });

  it('fills holes with black', () => {
    expect(shots('0,100,1\n150,200,2\n').events).toEqual(['0 cut 1', '100 cut black', '150 cut 2', '200 stop']);
  });

  it('takes rows in any order', () => {
    expect(shots('150,200,2\n0,100,1\n').events).toEqual(['0 cut 1', '100 cut black', '150 cut 2', '200 stop']);
  });

  it('lets the later of two that overlap count, and reports it', () => {
    const { events, loud } = shots('0,101,1\n100,200,2\n');
    expect(events).toEqual(['0 cut 1', '100 cut 2', '200 stop']);
    expect(loud).toEqual(['log:2:1: warning: this shot ends 1 frame after the next one begins; the next one counts [overlap]']);
  });

  it('lets a shot come back behind one that lies in it', () => {
    const { events, loud } = shots('0,100,1\n40,60,2\n100,150,3\n');
    expect(events).toEqual(['0 cut 1', '40 cut 2', '60 cut 1', '100 cut 3', '150 stop']);
    expect(loud).toEqual(['log:2:1: warning: this shot ends 60 frames after the next one begins; the next one counts, and behind it this one again for 40 frames [overlap]']);
    expect(shots('0,100,1\n20,80,2\n40,60,3\n').events).toEqual(['0 cut 1', '20 cut 2', '40 cut 3', '60 cut 2', '80 cut 1', '100 stop']);
    expect(shots('0,,,start\n0,100,1\n40,60,2\n120,,,stop\n').events).toEqual(['0 start', '0 cut 1', '40 cut 2', '60 cut 1', '100 cut black', '120 stop']);
    expect(shots('0,,,start\n0,100,1\n40,60,2\n50,,,stop\n').events).toEqual(['0 start', '0 cut 1', '40 cut 2', '50 stop']);
  });

  it('shows on every frame the shot that began last of those that run (law)', () => {
    const row = fc.record({ at: fc.integer({ min: 0, max: 60 }), length: fc.integer({ min: 1, max: 40 }) });
    fc.assert(fc.property(fc.array(row, { minLength: 1, maxLength: 8 }), (rows) => {
      const sorted = [...rows].sort((a, b) => a.at - b.at);
      const { reading } = shots(sorted.map(({ at, length }, index) => `${String(at)},${String(at + length)},s${String(index)}`).join('\n'));
      const first = sorted[0]?.at ?? 0;
      const end = Math.max(...sorted.map(({ at, length }) => at + length));
      const expected = Array.from({ length: end - first }, (_, index) => {
        const on = sorted.findLastIndex(({ at, length }) => at <= first + index && first + index < at + length);
        return on < 0 ? 'black' : `s${String(on)}`;
      });
      const seen = listOf(reading).split(', ').flatMap((text) => {
        const [source = '', range = ''] = text.split(' ');
        const [into = 0, out = 0] = range.split('-').map(Number);
        return Array.from({ length: out - into }, () => source);
      });
      expect(seen).toEqual(expected);
    }));
  });

  it('takes a duration for a shot without an end, and for the mix of one with a transition', () => {
    expect(shots('0,,1,,100\n100,200,2,dissolve,25\n').events).toEqual(['0 cut 1', '100 dissolve 2 +25', '200 stop']);
  });

  it('keeps other rows, and puts a hole before what lies in it', () => {
    expect(shots('0,,,start\n0,100,1\n50,,,marker,,Salt\n120,,,marker,,Pepper\n150,200,2\n').events).toEqual([
      '0 start', '0 cut 1', "50 marker 'Salt'", '100 cut black', "120 marker 'Pepper'", '150 cut 2', '200 stop',
    ]);
  });

  it('adds no stop where the log has one, and black up to it', () => {
    expect(shots('0,100,1\n100,,,stop\n').events).toEqual(['0 cut 1', '100 stop']);
    expect(shots('0,100,1\n120,,,stop\n').events).toEqual(['0 cut 1', '100 cut black', '120 stop']);
    expect(shots('0,100,1\n90,,,stop\n').events).toEqual(['0 cut 1', '90 stop']);
    expect(shots('0,100,1\n100,,,stop\n200,,,start\n200,300,2\n').events).toEqual(['0 cut 1', '100 stop', '200 start', '200 cut 2', '300 stop']);
  });

  it('puts the stop before a marker that lies behind it', () => {
    expect(shots('0,100,1\n150,,,marker,,Late\n').events).toEqual(['0 cut 1', '100 stop', "150 marker 'Late'"]);
    expect(shots('0,100,1\n100,,,marker,,Last\n').events).toEqual(['0 cut 1', "100 marker 'Last'", '100 stop']);
  });

  it('opens a new take where the counter starts again, and keeps its rows apart', () => {
    const { events, loud, reading } = shots('0,,,start\n0,100,1\n100,200,2\n200,,,stop\n0,,,start\n0,50,3\n70,90,1\n');
    expect(events).toEqual(['0 start', '0 cut 1', '100 cut 2', '200 stop', '0 start', '0 cut 3', '50 cut black', '70 cut 1', '90 stop']);
    expect(loud).toEqual([]);
    expect(listOf(reading)).toBe('1 0-100, 2 100-200, 3 200-250, black 250-270, 1 270-290');
    // A shot that the counter leaves behind goes no further.
    expect(shots('0,,,start\n10,100,1\n0,,,start\n20,50,3\n').events).toEqual(['0 start', '10 cut 1', '100 stop', '0 start', '0 cut black', '20 cut 3', '50 stop']);
  });

  it('keeps counters apart also where a row lies before the start that begins one', () => {
    const { events, reading, loud } = shots('0,,,start\n0,100,1\n100,,,stop\n10,,,start\n5,,,marker,,Salt\n10,50,3\n');
    expect(events).toEqual(['0 start', '0 cut 1', '100 stop', '10 start', "5 marker 'Salt'", '10 cut 3', '50 stop']);
    expect(loud).toEqual(['log:6:1: warning: this row lies 5 frames before line 5; rows are taken in order of time [out-of-order]']);
    expect(listOf(reading)).toBe('1 0-100, 3 100-140');
  });

  it('lets no counter of labels start again', () => {
    const { events, loud } = read('time,end,source,action\n10:00:00:00,10:00:10:00,1,\n09:59:59:00,,,start\n', { map: { rowsAre: 'shots' } });
    expect(events).toEqual(['899975 start', '900000 cut 1', '900250 stop']);
    expect(loud).toEqual(['log:3:1: warning: this row lies 25 frames before line 2; rows are taken in order of time [out-of-order]']);
  });

  it.each([
    ['a take begins in a hole', '0,,,start\n0,100,1\n100,,,stop\n200,,,start\n220,300,2\n', '1 0-100, black 100-120, 2 120-200'],
    ['a take begins while a shot runs that ends in it', '0,,,start\n0,210,1\n100,,,stop\n200,,,start\n220,300,2\n', '1 0-100, 1 100-110, black 110-120, 2 120-200'],
    ['a shot ended between takes', '0,,,start\n0,150,1\n100,,,stop\n200,,,start\n220,300,2\n', '1 0-100, black 100-120, 2 120-200'],
    ['a shot lies between takes', '0,,,start\n0,100,1\n100,,,stop\n120,150,3\n200,,,start\n220,300,2\n', '1 0-100, black 100-120, 2 120-200'],
    ['a take stops and the next one starts on one frame', '0,,,start\n0,100,1\n100,,,stop\n100,,,start\n120,200,2\n200,,,stop\n', '1 0-100, black 100-120, 2 120-200'],
    ['and a shot begins there', '0,,,start\n0,100,1\n100,,,stop\n100,,,start\n100,150,2\n170,200,1\n200,,,stop\n', '1 0-100, 2 100-150, black 150-170, 1 170-200'],
    ['a start ends the take before', '0,,,start\n0,80,1\n100,,,start\n120,200,2\n', '1 0-80, black 80-100, black 100-120, 2 120-200'],
    ['a take has no start', '0,100,1\n100,,,stop\n120,150,2\n170,200,1\n200,,,stop\n', '1 0-100, 2 100-130, black 130-150, 1 150-180'],
    ['a shot passes the stop of a take, and the next one has no start', '0,110,1\n100,,,stop\n120,150,2\n150,,,stop\n', '1 0-100, 2 100-130'],
    ['an audio row lies on the start', '0,,,start\n0,100,1\n100,,,stop\n200,,,start\n200,,none,audio\n220,300,2\n', '1 0-100, black 100-120, 2 120-200'],
  ])('shows black in every hole of a take: %s', (_, text, list) => {
    const { reading, loud } = shots(text);
    expect(loud).toEqual([]);
    expect(listOf(reading)).toBe(list);
  });

  it('reports rows out of order', () => {
    expect(shots('150,200,2\n0,100,1\n').loud).toEqual(['log:3:1: warning: this row lies 150 frames before line 2; rows are taken in order of time [out-of-order]']);
  });

  it('leaves out a shot of no length, and says so', () => {
    const { events, loud } = shots('0,100,1\n100,100,2\n100,200,3\n');
    expect(events).toEqual(['0 cut 1', '100 cut 3', '200 stop']);
    expect(loud).toEqual(['log:3:1: warning: this shot has no length; it is left out [stray-row]']);
  });

  it.each([
    ['0,,1', 'log:2:3: error: a shot needs an end, or a duration [missing-field]'],
    ['50,40,1', 'log:2:4: error: the shot ends at 40, before it begins [bad-time]'],
    ['0,100,1,dissolve', 'log:2:9: error: a dissolve needs a duration [missing-field]'],
    ['0,,1,dissolve,20', 'log:2:3: error: a shot needs an end [missing-field]'],
    ['0,x,1', "log:2:3: error: 'x' is not a number of frames [bad-time]"],
  ])('refuses %s', (row, message) => {
    expect(shots(`${row}\n`).loud.map((line) => line.replace(/:2:\d+:/, ':2:n:'))).toEqual([message.replace(/:2:\d+:/, ':2:n:')]);
  });

  it('works over midnight, and with clock times', () => {
    const day = 24 * 3600 * 25;
    expect(shots('23:59:59:00,00:00:01:00,1\n00:00:02:00,00:00:03:00,2\n').events).toEqual([
      `${String(day - 25)} cut 1`, `${String(day + 25)} cut black`, `${String(day + 50)} cut 2`, `${String(day + 75)} stop`,
    ]);
    expect(shots('23:59:59.000,00:00:01.000,1\n00:00:02.000,00:00:03.000,2\n').events).toEqual(['0 cut 1', '50 cut black', '75 cut 2', '100 stop']);
  });
});
