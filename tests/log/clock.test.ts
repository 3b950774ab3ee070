/** Logs of clock times (contract §3): frames from the first start, or from an anchor; nights that change the clocks, frame by frame. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadClock } from '../../src/timecode/luxon.js';
import { RATES, unitsOf } from '../../src/timecode/rate.js';
import { read } from '../support/logs.js';
import { wallClock } from '../support/wall-clock.js';

beforeAll(async () => {
  await loadClock({ zone: 'UTC' });
});

type Options = Parameters<typeof read>[1];

const log = (...rows: readonly string[]): string => ['time,action,source,end', ...rows].join('\n');
const frames = (text: string, options: Options = {}): (number | undefined)[] => read(text, options).reading?.events.map(({ at }) => at) ?? [];

describe('clock times', () => {
  it('count from the first start row, also what lies before it', () => {
    const text = log('10:00:00.000,cue,1', '10:00:02.000,start,', '10:00:02.000,cut,1', '10:00:03.040,cut,2', '10:00:04.000,stop,');
    const { reading, loud } = read(text);
    expect(loud).toEqual([]);
    expect(reading).toMatchObject({ origin: 'recording', timeAs: 'clock', restarts: false });
    expect(frames(text)).toEqual([-50, 0, 0, 26, 50]);
  });

  it('take the first switch for the first frame where no row starts a recording, and warn', () => {
    const { events, loud } = read(log('10:00:01.000,cue,1', '10:00:02.000,cut,1', '10:00:03.000,cut,2'));
    expect(events).toEqual(['-25 cue 1', '0 cut 1', '25 cut 2']);
    expect(loud).toEqual(['log:3:1: warning: no start row says when the recording began: the first switch is taken as its first frame; say --anchor CLOCK=TIMECODE, or add a start row [found]']);
  });

  it('become labels by an anchor', () => {
    const text = log('10:00:00.000,cut,1', '10:00:01.001,cut,2');
    const { reading, loud } = read(text, { rate: '29.97', anchor: { clock: '09:59:59.000', timecode: '01:00:00;00' } });
    expect(loud).toEqual([]);
    expect(reading).toMatchObject({ origin: 'timecode', count: { dropFrame: true } });
    expect(reading?.events.map(({ at }) => at)).toEqual([107_892 + 30, 107_892 + 60]);
    expect(read(text, { rate: '29.97', anchor: { clock: '09:59:59', timecode: '01:00:00:00' } }).reading?.count.dropFrame).toBe(false);
  });

  it('become labels of the day before where the anchor lies after them', () => {
    const day = 24 * 3600 * 25;
    expect(frames(log('10:00:00.000,cut,1', '10:00:01.000,cut,2'), { anchor: { clock: '10:00:01', timecode: '00:00:00:00' } })).toEqual([day - 25, day]);
  });

  it('have frames of the first day, as labels would, where the anchor lies before midnight', () => {
    const text = log('00:01:00.000,cut,1', '00:01:01.000,cut,2,');
    const anchor = { clock: '23:59:00', timecode: '23:59:00:00' };
    const { reading, problems } = read(text, { anchor, end: '00:01:02.000' });
    expect(reading?.events.map(({ at }) => at)).toEqual([1500, 1525]);
    expect(reading?.endAt).toBe(1550);
    expect(problems.map(({ code }) => code)).not.toContain('past-midnight');
    // Out of order: the day is the earliest row's.
    expect(frames(log('00:01:00.000,cut,1', '23:59:30.000,cut,2,'), { anchor })).toEqual([24 * 3600 * 25 + 1500, 24 * 3600 * 25 - 750]);
  });

  it('take an anchor in ISO 8601 where they have a form of their own', () => {
    const text = 'time;source\n29.03.2026 10:00:00;1\n29.03.2026 10:00:01;2\n';
    const map = { clockFormat: 'dd.MM.yyyy HH:mm:ss' };
    expect(frames(text, { map, anchor: { clock: '2026-03-29T10:00:00', timecode: '00:00:10:00' } })).toEqual([250, 275]);
    expect(frames(text, { map, anchor: { clock: '29.03.2026 09:59:59', timecode: '00:00:10:00' } })).toEqual([275, 300]);
    expect(frames(text, { map, anchor: { clock: '10:00:00', timecode: '00:00:10:00' } })).toEqual([250, 275]);
  });

  it.each([
    [{ clock: 'noon', timecode: '01:00:00:00' }, "--anchor: error: 'noon' is not a clock time; expected 10:04:11.200 or 2026-03-29T10:04:11.200, or its form as clockFormat in a mapping [bad-time]"],
    [{ clock: '10:00:00', timecode: '25:00:00:00' }, '--anchor: error: 25:00:00:00 is not a time of day; labels go from 00:00:00 to 23:59:59 [bad-time]'],
  ])('refuse a wrong anchor: %j', (anchor, message) => {
    const { reading, loud } = read(log('10:00:00.0,start,', '10:00:00.000,cut,1'), { anchor });
    expect(reading).toBeUndefined();
    expect(loud).toContain(message);
  });

  it('need no anchor in a log of another kind, and one is said to be idle', () => {
    const { loud, events } = read(log('00:00:01:00,cut,1'), { anchor: { clock: '10:00:00', timecode: '01:00:00:00' } });
    expect(events).toEqual(['25 cut 1']);
    expect(loud).toEqual(['--anchor: warning: an anchor is for clock times, and this log has timecode; it is not used [bad-option]']);
  });

  it('round as they are told, and say how far', () => {
    const text = log('10:00:00.000,start,', '10:00:00.019,cut,1', '10:00:00.020,cut,2', '10:00:00.0200000001,cut,1');
    expect(read(text).loud[0]).toContain('has more than nine digits of a second');
    const fine = log('10:00:00.000,start,', '10:00:00.019999999,cut,1', '10:00:00.020,cut,2', '10:00:00.040000001,cut,1');
    expect(frames(fine)).toEqual([0, 0, 1, 1]);
    expect(frames(fine, { rounding: 'ceil' })).toEqual([0, 1, 1, 2]);
    expect(frames(fine, { rounding: 'floor' })).toEqual([0, 0, 0, 1]);
    expect(read(fine).reading?.moved).toEqual({ frames: 0.5, line: 4 });
  });

  it('take their end nearest their own time', () => {
    const { events } = read(log('23:59:59.000,start,', '23:59:59.500,dissolve,1,00:00:00.500', '00:00:02.000,stop,'));
    expect(events).toEqual(['0 start', '13 dissolve 1 →38', '75 stop']);
  });

  it('end the list at a clock time', () => {
    const text = log('23:59:59.000,start,', '23:59:59.000,cut,1');
    expect(read(text, { end: '00:00:01.000' }).reading?.endAt).toBe(50);
    expect(read(text, { end: 'late' }).loud[0]).toContain("--end: error: 'late' is not a clock time");
  });

  it('are moments in UTC where they have no zone, on any machine', () => {
    const text = log('2026-03-29T00:30:00,start,', '2026-03-29T00:30:00,cut,1', '2026-03-29T03:30:00,cut,2');
    const before = process.env['TZ'];
    try {
      for (const zone of ['UTC', 'Europe/Berlin', 'America/New_York', 'Asia/Kathmandu']) {
        process.env['TZ'] = zone;
        expect(frames(text)).toEqual([0, 0, 3 * 3600 * 25]);
      }
    } finally {
      if (before === undefined) delete process.env['TZ'];
      else process.env['TZ'] = before;
    }
  });

  it('say so where a zone has nothing to hold on to', () => {
    expect(read(log('10:00:00.000,start,', '10:00:00.000,cut,1'), { map: { zone: 'Europe/Lisbon' } }).loud).toEqual([
      'log: warning: the times have no dates, so the zone is not used, and a change of the clocks inside the show would not be seen [found]',
    ]);
  });

  it('refuse a zone and a format that do not exist', () => {
    expect(read(log('10:00:00.000,cut,1'), { map: { zone: 'Europe/Atlantis' } }).loud).toEqual(["log: error: 'Europe/Atlantis' is not a time zone; expected a name such as Europe/Lisbon or UTC [bad-map]"]);
    expect(read(log('10:00:00.000,cut,1'), { map: { clockFormat: 'mm:ss' } }).loud).toEqual(["log: error: clockFormat 'mm:ss' has no hours; expected letters such as HH:mm:ss.SSS [bad-map]"]);
  });
});

describe('a night that changes the clocks', () => {
  const back = { map: { zone: 'Europe/Lisbon' } };

  it('moves nothing, and says which times it took for the second pass', () => {
    const text = log('2025-10-26T01:59:59.000,start,', '2025-10-26T01:59:59.000,cut,1', '2025-10-26T01:00:00.000,cut,2', '2025-10-26T01:59:59.000,cut,1', '2025-10-26T02:00:00.000,stop,');
    const { loud, lines } = read(text, back);
    expect(loud).toEqual([]);
    expect(lines).toContain('log:4: note: the clock steps back here: 2 times are read as the second pass of the hour that comes twice that night [found]');
    expect(frames(text, back)).toEqual([0, 0, 25, 25 * 3600, 25 * 3601]);
  });

  it('warns where nothing tells the first pass from the second', () => {
    const text = log('2025-10-26T01:30:00.000,start,', '2025-10-26T01:30:00.000,cut,1', '2025-10-26T02:00:00.000,stop,');
    expect(read(text, back).loud).toEqual([
      'log:2: warning: times lie in the hour that comes twice that night, and none steps back: all are read as its first pass; write offsets (+01:00) to say otherwise [found]',
    ]);
    expect(frames(text, back)).toEqual([0, 0, 90 * 60 * 25]);
    expect(frames(text.replaceAll('01:30:00.000', '01:30:00.000+00:00'), back)).toEqual([0, 0, 30 * 60 * 25]);
  });

  it('refuses a time that the clocks skip, at its place', () => {
    const { loud } = read(log('2026-03-29T00:59:59,start,', '2026-03-29T00:59:59,cut,1', '2026-03-29T01:30:00,cut,2'), back);
    expect(loud).toEqual(['log:4:1: error: 2026-03-29T01:30:00: 01:30:00 does not exist on that day in Europe/Lisbon: the clocks go forward by 60 minutes over it [bad-time]']);
  });

  const nights = [
    // Directive 2000/84/EC: the last Sundays of March and October, 1 a.m. UTC.
    ['Europe/Lisbon', '2026-03-29T00:59:30Z'],
    ['Europe/Berlin', '2026-10-25T00:59:30Z'],
    // Energy Policy Act of 2005, section 110: the first Sunday in November, 2 a.m. local time.
    ['America/New_York', '2026-11-01T05:59:30Z'],
  ] as const;
  const cases = nights.flatMap(([zone, from]) => ['23.976', '29.97', '59.94'].map((name) => [zone, name, from] as const));

  it.each(cases)('in %s counts every frame at %s over the change', (zone, name, from) => {
    const rate = RATES.find((one) => one.name === name);
    if (rate === undefined) throw new Error(name);
    const text = wallClock(zone);
    const start = Date.parse(from);
    // Each frame of a minute around the change, then one every seven seconds for two hours: the second pass and beyond.
    const wanted = Array.from({ length: rate.nominal * 60 }, (_, frame) => frame).concat(Array.from({ length: 1030 }, (_, step) => (61 + 7 * step) * rate.nominal));
    const rows = wanted.map((frame) => `${text(start + unitsOf(frame, rate, 1000))},cut,${String((frame % 2) + 1)},`);
    const got = frames(log(`${text(start)},start,,`, ...rows), { rate: name, map: { zone } });
    expect(got.length).toBe(wanted.length + 1);
    expect(got.slice(1).findIndex((at, index) => at !== wanted[index])).toBe(-1);
  });
});

// Directive 2000/84/EC: summer time ends on the last Sunday in October at 1 a.m. UTC, and begins on that of March at the same hour.
describe('in the night that changes the clocks', () => {
  const map = { timeAs: 'clock', zone: 'Europe/Lisbon' } as const;
  const night = (...rows: readonly string[]): string => log(...rows.map((row) => `2026-10-25T${row}`));

  beforeAll(async () => {
    await loadClock(map);
  });

  const placed = (text: string, clock: string): (number | undefined)[] => frames(text, { map, anchor: { clock, timecode: '10:00:00:00' } }).map((at) => (at ?? 0) / 25 - 36_000);

  it('an anchor is of the pass that the rows are read as', () => {
    const first = night('01:10:00,start,', '01:10:00,cut,1', '01:20:00,cut,2', '01:25:00,stop,');
    expect(placed(first, '2026-10-25T01:05:00')).toEqual([300, 300, 900, 1200]);
    expect(placed(first, '01:05:00')).toEqual([300, 300, 900, 1200]);
    expect(placed(first, '2026-10-25T01:10:00')).toEqual([0, 0, 600, 900]);
    // Behind the first row too.
    expect(placed(first, '2026-10-25T01:15:00')).toEqual([-300, -300, 300, 600]);
  });

  it('an anchor is of the last pass before the first row', () => {
    expect(placed(night('02:05:00,start,', '02:05:00,cut,1', '02:06:00,stop,'), '2026-10-25T01:55:00')).toEqual([600, 600, 660]);
    expect(placed(night('00:50:00,start,', '00:50:00,cut,1', '01:20:00,cut,2', '01:25:00,stop,'), '2026-10-25T00:40:00')).toEqual([600, 600, 2400, 2700]);
    // An offset says the pass.
    expect(placed(night('02:05:00,start,', '02:05:00,cut,1', '02:06:00,stop,'), '2026-10-25T01:55:00+01:00')).toEqual([4200, 4200, 4260]);
  });

  it.each(['2026-10-25T01:30:00', '01:30:00'])('the end is of the first pass after the first row: %s', (end) => {
    const text = night('00:50:00,start,', '00:50:00,cut,1', '01:20:00,cut,2', '01:40:00,cut,1', '01:45:00,stop,');
    expect(read(text, { map, end }).reading?.endAt).toBe(40 * 60 * 25);
    // The rows are in the second pass, as the first of them says.
    const later = night('01:50:00+01:00,start,', '01:50:00+01:00,cut,1', '01:20:00,cut,2', '01:45:00,stop,');
    expect(read(later, { map, end }).reading?.endAt).toBe(40 * 60 * 25);
  });

  it('a time of day that does not exist is refused, with a date and without', () => {
    const text = 'time,action,source\n2026-03-29T00:59:50,start,\n2026-03-29T00:59:50,cut,1\n01:00:10,cut,2\n2026-03-29T02:01:00,stop,\n';
    const missing = '01:00:10 does not exist on that day in Europe/Lisbon: the clocks go forward by 60 minutes over it [bad-time]';
    expect(read(text, { map }).loud).toEqual([`log:4:1: error: 01:00:10: ${missing}`]);
    const sound = text.replace('\n01:00:10', '\n02:00:10');
    expect(frames(sound, { map })).toEqual([0, 0, 500, 1750]);
    expect(read(sound, { map, end: '01:00:10' }).loud).toEqual([`--end: error: ${missing}`]);
    expect(read(sound, { map, anchor: { clock: '01:00:10', timecode: '10:00:00:00' } }).loud).toEqual([`--anchor: error: ${missing}`]);
    const mix = sound.replace('source\n', 'source,end\n').replace('02:00:10,cut,2', '00:59:55,dissolve,2,01:00:10');
    expect(read(mix, { map }).loud).toEqual([`log:4:21: error: 01:00:10: ${missing}`]);
  });
});

it('a clock time of very many digits is not printed whole', () => {
  const { loud } = read(log(`10:00:00.${'1'.repeat(900_000)},cut,1`));
  expect(loud[0]).toMatch(/^log:2:1: error: 10:00:00\.1{31}\u2026 has more than nine digits of a second \[bad-time\]$/);
  expect(loud.join('').length).toBeLessThan(1000);
});

describe('a mapping that was written for times of no known kind', () => {
  it('reads them with the clockFormat that the error advises', () => {
    const text = 'time,action,source\n10:00:00 AM,start,\n10:00:00 AM,cut,1\n10:00:10 AM,cut,2\n';
    const { reading, loud } = read(text, { partial: true });
    expect(loud[0]).toContain('clock times in a form of their own need clockFormat in a mapping');
    expect(read(text, { map: { ...reading?.map, clockFormat: 'hh:mm:ss a' } }).events).toEqual(['0 start', '0 cut 1', '250 cut 2']);
  });
});
