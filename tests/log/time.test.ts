/** What a time can be (contract §3), found by itself or told, and how it becomes a frame (§2). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isFault } from '../../src/problems.js';
import { findKind, shapeOf, unitOf } from '../../src/log/kinds.js';
import { plainNumber } from '../../src/log/numbers.js';
import { RATES } from '../../src/timecode/rate.js';
import { rateSpec, read } from '../support/logs.js';

const log = (times: readonly string[], column = 'time', delimiter = ';'): string =>
  [`${column}${delimiter}source`, ...times.map((time, index) => `${time}${delimiter}${String((index % 2) + 1)}`)].join('\n');

const frames = (times: readonly string[], options: Parameters<typeof read>[1] = {}, column = 'time'): (number | undefined)[] =>
  read(log(times, column), options).reading?.events.map(({ at }) => at) ?? [];

describe('the kind of time, by its look', () => {
  it.each([
    ['10:04:11:20', 'timecode'],
    ['10:04:11;20', 'timecode'],
    ['10:04:11,20', 'timecode'],
    ['1:04:11:20', 'timecode'],
    ['10;04;11;20', 'timecode'],
    ['10:04:11.20', 'clock'],
    ['10:04:11.2', 'clock'],
    ['10:04:11:200', 'clock'],
    ['10:04:11,200', 'clock'],
    ['10:04:11', 'clock'],
    ['10:04', 'clock'],
    ['2026-01-15T10:04:11Z', 'clock'],
    ['2026-01-15 10:04:11.5', 'clock'],
    ['20260115T100411', 'clock'],
    ['10:04:11+01:00', 'clock'],
    ['7543', 'number'],
    ['-3', 'number'],
    ['251.43', 'number'],
    ['251,43', 'number'],
    ['1.234.567,8', 'number'],
    ["1'234", 'number'],
    ['noon', undefined],
    ['15.01.2026 10:04', undefined],
    ['NaN', undefined],
    ['1e309', undefined],
  ])('%s is %s', (text, shape) => {
    expect(shapeOf(text)).toBe(shape);
  });

  it.each([
    ['time_ms', 'milliseconds'],
    ['timeMs', 'milliseconds'],
    ['Milliseconds', 'milliseconds'],
    ['sec', 'seconds'],
    ['Time (s)', 'seconds'],
    ['s', 'seconds'],
    ['elapsed seconds', 'seconds'],
    ['frame', 'frames'],
    ['at/@frames', 'frames'],
    ['frames/@at', undefined],
    ['s of camera', undefined],
    ['time', undefined],
    ['timecode', undefined],
    ['clock', undefined],
    ['constructor', undefined],
  ])('the column %s says %s', (name, unit) => {
    expect(unitOf(name)).toBe(unit);
  });

  it('takes whole numbers for frames, and all for seconds where one has decimals', () => {
    expect(findKind(['10', '20'], undefined)?.kind).toBe('frames');
    expect(findKind(['10', '20.5'], undefined)?.kind).toBe('seconds');
    expect(findKind(['', 'x', '1.234.567'], undefined)).toMatchObject({ kind: 'frames', sign: ',' });
    expect(findKind(['soon', 'later'], undefined)).toBeUndefined();
  });

  it('says what it found', () => {
    expect(read(log(['10:00:00:00'])).lines).toContain("log: note: times are timecode, by the look of '10:00:00:00'; say --time-as otherwise [found]");
    expect(read(log(['7543'])).lines).toContain("log: note: times are frames, by the look of '7543'; say --time-as otherwise [found]");
    expect(read(log(['1', '251.43'])).lines).toContain("log: note: times are seconds, by the look of '251.43'; say --time-as otherwise [found]");
    expect(read(log(['1500'], 'ms')).lines).toContain("log: note: times are milliseconds, as the name 'ms' says; say --time-as otherwise [found]");
    expect(read(log(['10:00:00.5'])).lines).toContain("log: note: times are clock times, by the look of '10:00:00.5'; say --time-as otherwise [found]");
    expect(read(log(['251,43'])).lines).toContain(`log: note: ',' is the decimal sign; say "decimal" in a mapping otherwise [found]`);
  });

  it('lets the unit in a name win over the look, and --time-as over both', () => {
    expect(frames(['2'], {}, 'seconds')).toEqual([50]);
    expect(frames(['2'], { timeAs: 'frames' }, 'seconds')).toEqual([2]);
    expect(frames(['2'], { map: { timeAs: 'milliseconds' } })).toEqual([0]);
    expect(frames(['2000'], { map: { timeAs: 'milliseconds' }, timeAs: 'seconds' })).toEqual([50_000]);
  });

  it('reports a mixture, with its place', () => {
    expect(read(log(['10:00:00:00', '7543'])).loud).toEqual(["log:3:1: error: '7543' looks like a number in a log of timecode; say the kind with --time-as [mixed-times]"]);
    expect(read(log(['10:00:00:00', '10:00:01'])).loud).toEqual(["log:3:1: error: '10:00:01' has no frames, in a log of timecode; mend the row: expected HH:MM:SS:FF, such as 10:00:01:00 [mixed-times]"]);
    expect(read(log(['10:00:00:00', '10:00:01.5'])).loud).toEqual(["log:3:1: error: '10:00:01.5' looks like a clock time in a log of timecode; say the kind with --time-as [mixed-times]"]);
    expect(read(log(['10:00:01.5', '10:00:02:00'])).loud.filter((line) => line.includes('error'))).toEqual(["log:3:1: error: '10:00:02:00' looks like a timecode in a log of clock times; say the kind with --time-as [mixed-times]"]);
    expect(read(log(['75', '10:00:00:00'])).loud).toEqual(["log:3:1: error: '10:00:00:00' looks like a timecode in a log of frames; say the kind with --time-as [mixed-times]"]);
  });

  it('reports decimals that turn up after a thousand whole numbers, and never takes them for frames', () => {
    const times = Array.from({ length: 1200 }, (_, index) => (index === 1100 ? '1100.5' : String(index)));
    const { reading, loud } = read(log(times));
    expect(reading).toBeUndefined();
    expect(loud).toEqual(['log:1102:1: error: 1100.5 has decimals, and the times before are whole numbers, taken for frames; say --time-as seconds or frames [mixed-times]']);
    expect(frames(times, { timeAs: 'seconds' })[1100]).toBe(27_513);
    expect(frames(times, { timeAs: 'frames' })[1100]).toBe(1101);
  });

  it('does not let rows to ignore decide', () => {
    const text = 'time,action,source\n12:00:00.5,STATUS,\n7543,cut,1\n';
    expect(read(text, { map: { actions: { status: 'ignore' } } }).events).toEqual(['7543 cut 1']);
  });
});

describe('numbers of many habits', () => {
  it.each([
    ['1234', undefined, '1234'],
    ['1234.5', '.', '1234.5'],
    ['1,234.5', '.', '1234.5'],
    ['1,234,567', '.', '1234567'],
    ['1,234', '.', '1234'],
    ['1.234,5', ',', '1234.5'],
    ['1.234', ',', '1234'],
    ['1.234', '.', '1.234'],
    ['1234.567', undefined, '1234.567'],
    ['0.500', undefined, '0.500'],
    ['1,234', ',', '1.234'],
    ['251,43', undefined, '251.43'],
    ['251,43', ',', '251.43'],
    ['1 234,5', ',', '1234.5'],
    ['1\u00a0234\u00a0567', undefined, '1234567'],
    ["1'234.5", '.', '1234.5'],
    ['0,5', ',', '0.5'],
    [',5', ',', '.5'],
    ['-1,5', ',', '-1.5'],
  ] as const)('%s with %s is %s', (text, sign, plain) => {
    expect(plainNumber(text, sign)).toBe(plain);
  });

  it.each([
    ['1,234', undefined, 'can be a decimal or thousands'],
    ['1.234', undefined, 'can be a decimal or thousands'],
    ['251,43', '.', "with '.' before the decimals"],
    ['251.43', ',', "with ',' before the decimals"],
    ['1.2.3', '.', "with '.' before the decimals"],
    ['1,23,456', '.', "with '.' before the decimals"],
    ['12.34.567', ',', "with ',' before the decimals"],
    ['1,234,567', ',', "with ',' before the decimals"],
    ['1.234.5', '.', "with '.' before the decimals"],
    ['', '.', ''],
    ['five', '.', 'is not a number'],
    ['1e5', '.', 'is not a number'],
  ] as const)('%s with %s is refused', (text, sign, message) => {
    const plain = plainNumber(text, sign);
    if (text === '') expect(plain).toBe('');
    else expect(isFault(plain) ? plain.message : plain).toContain(message);
  });

  it('reads what it writes in any habit', () => {
    const habits = [[',', '.'], ['.', ','], [' ', ','], ["'", '.'], ['', '.'], ['', ',']] as const;
    fc.assert(fc.property(fc.nat(99_999_999), fc.nat(9999), fc.constantFrom(...habits), (whole, part, [group, sign]) => {
      const digits = String(whole).replace(/\B(?=(\d{3})+$)/g, group);
      return plainNumber(`${digits}${sign}${String(part)}`, sign) === `${String(whole)}.${String(part)}`;
    }));
  });

  it('agrees on the sign over the whole log', () => {
    expect(frames(['1.234', '2.345,5'], { timeAs: 'seconds' })).toEqual([30_850, 58_638]);
    expect(frames(['1,234', '2,345.5'], { timeAs: 'seconds' })).toEqual([30_850, 58_638]);
    expect(frames(['0,5', '1,234'], { timeAs: 'seconds' })).toEqual([13, 31]);
    expect(read(log(['1,234', '5,678']), { timeAs: 'seconds' }).loud[0]).toContain(`'1,234' can be a decimal or thousands; say "decimal" in a mapping [bad-time]`);
    expect(frames(['1,234', '5,678'], { timeAs: 'seconds', map: { decimal: ',' } })).toEqual([31, 142]);
    expect(frames(['1,234', '5,678'], { map: { decimal: '.' } })).toEqual([1234, 5678]);
  });
});

// A frame has no thousandths that a log would write, and thousands are parted by points in half of Europe.
describe('thousands in frames and milliseconds', () => {
  it.each(['frames', 'milliseconds'] as const)('are not taken for decimals of %s', (timeAs) => {
    const { reading, loud } = read(log(['0', '1.000', '7.543']), { timeAs });
    expect(reading).toBeUndefined();
    expect(loud).toEqual(['1.000', '7.543'].map((text, index) => `log:${String(index + 3)}:1: error: '${text}' can be a decimal or thousands; say "decimal" in a mapping [bad-time]`));
  });

  it('are told by the unit in the name of a column, too', () => {
    expect(read('frames;source\n1.000;1\n7.543;2\n').loud).toHaveLength(2);
    expect(read('ms;source\n1.000;1\n7.543;2\n').loud).toHaveLength(2);
    expect(read('time;source\n1.000;1\n7.543;2\n').events).toEqual(['25 cut 1', '189 cut 2']);
  });

  it('are what a mapping says, or what other times show', () => {
    expect(frames(['1.000', '7.543'], { timeAs: 'frames', map: { decimal: ',' } })).toEqual([1000, 7543]);
    expect(frames(['1.000', '7.543'], { timeAs: 'frames', map: { decimal: '.' } })).toEqual([1, 8]);
    expect(frames(['1.000', '7543.5'], { timeAs: 'frames' })).toEqual([1, 7544]);
    expect(frames(['1.5', '7.543'], { timeAs: 'frames' })).toEqual([2, 8]);
    expect(frames(['0.000', '40.000'], { timeAs: 'milliseconds' })).toEqual([0, 1]);
    expect(frames(['999', '1.234.567'], { timeAs: 'frames' })).toEqual([999, 1_234_567]);
    expect(frames(['7.543', '1.234'], { timeAs: 'seconds' })).toEqual([189, 31]);
  });
});

describe('rounding', () => {
  it('goes to the nearest frame, halves up, by the digits', () => {
    // At 25: 0.02 s is half a frame.
    expect(frames(['0.02', '0.0199999999999999999', '0.0600'])).toEqual([1, 0, 2]);
    expect(frames(['0.02', '0.06'], { rounding: 'floor' })).toEqual([0, 1]);
    expect(frames(['0.02', '0.0400000000000000000001'], { rounding: 'ceil' })).toEqual([1, 2]);
    // 1.1 × 30000/1001 and its like are no doubles: the digits count.
    expect(frames(['1.1011', '0.0166833333333333'], { rate: '29.97' })).toEqual([33, 0]);
    expect(frames(['0.01668333333333333333334'], { rate: '29.97' })).toEqual([1]);
  });

  it('says how far times were moved, and nothing where none was', () => {
    expect(read(log(['0.04', '1.00'])).reading?.moved).toBeUndefined();
    const { reading, lines } = read(log(['0.04', '1.013', '2.01']));
    expect(reading?.moved).toEqual({ frames: 0.325, line: 3 });
    expect(lines).toContain('log:3: note: times were moved to whole frames, by at most 0.325 frames [found]');
    expect(read(log(['0.02'])).reading?.moved?.frames).toBe(0.5);
    expect(read(log(['0.0399999999999999']), { rounding: 'floor' }).reading?.moved?.frames).toBeCloseTo(1, 5);
    expect(read(log(['1', '2.0000000000000000001'])).lines.join('\n')).toContain('by less than 0.001 frames');
  });

  it('is exact for any digits at any rate', () => {
    const digits = fc.tuple(fc.nat(200_000), fc.stringMatching(/^\d{1,15}$/));
    fc.assert(fc.property(digits, fc.constantFrom(...RATES), fc.constantFrom('nearest', 'floor', 'ceil'), ([whole, part], rate, rounding) => {
      const [at] = frames([`${String(whole)}.${part}`], { rate: rate.name, rounding, timeAs: 'seconds' });
      const exact = BigInt(`${String(whole)}${part}`) * BigInt(rate.num);
      const div = 10n ** BigInt(part.length) * BigInt(rate.den);
      const off = BigInt(at ?? -1) * div - exact;
      if (rounding === 'floor') return off <= 0n && -off < div;
      if (rounding === 'ceil') return off >= 0n && off < div;
      return 2n * off <= div && -2n * off < div;
    }), { numRuns: 300 });
  });

  it('gives every frame back that was written as milliseconds, at every rate', () => {
    for (const rate of RATES) {
      const times = Array.from({ length: 900 }, (_, frame) => String(Math.round((frame * 1000 * rate.den) / rate.num)));
      expect(frames(times, { rate: rate.name, timeAs: 'milliseconds' })).toEqual(times.map((_, frame) => frame));
    }
  });
});

describe('labels', () => {
  it('belong to the day that brings them nearest the row before', () => {
    const day = 24 * 3600 * 25;
    expect(frames(['23:59:58:00', '00:00:02:00', '23:59:59:00', '00:00:03:00'])).toEqual([day - 50, day + 50, day - 25, day + 75]);
    // Twelve hours away either way: forward.
    expect(frames(['00:00:00:00', '12:00:00:00', '00:00:00:00'])).toEqual([0, day / 2, day]);
  });

  it('count from the earliest row’s day, also where rows are out of order', () => {
    const day = 24 * 3600 * 25;
    expect(frames(['00:00:02:00', '23:59:58:00'])).toEqual([day + 50, day - 50]);
  });

  it('let `end` be nearest its own time', () => {
    const { events } = read('time,action,source,end\n23:59:59:00,dissolve,1,00:00:01:00\n00:00:10:00,stop,,\n');
    const day = 24 * 3600 * 25;
    expect(events).toEqual([`${String(day - 25)} dissolve 1 →${String(day + 25)}`, `${String(day + 250)} stop`]);
  });

  it('say when the log goes past midnight: labels in a note, counters in a warning', () => {
    expect(read(log(['23:59:58:00', '00:00:02:00'])).lines).toContain('log:3:1: note: the log goes on past midnight from here [past-midnight]');
    expect(read(log(['86399', '86400', '90000']), { timeAs: 'seconds' }).loud).toEqual(['log:3:1: warning: from here on, times pass 24 hours, and labels begin again at zero [past-midnight]']);
  });

  it('are read by their own mark, and a mixture is warned of', () => {
    const { reading, loud } = read(log(['01:00:00;00', '01:00:01:00'], 'time', ','), { rate: '29.97' });
    expect(reading?.events.map(({ at }) => at)).toEqual([107_892, 108_030]);
    expect(loud).toEqual(["log:3: warning: labels are marked with ';' and with ':': each is read by its own mark [found]"]);
  });

  it.each([
    ['29.97', '10:00:00;00', true],
    ['29.97', '10:00:00:00', false],
    ['29.97ndf', '10:00:00;00', false],
    ['29.97df', '10:00:00:00', true],
    ['59.94', '10:00:00;00', true],
    ['59.94', '10:00:00:00', false],
    ['25', '10:00:00:00', false],
  ])('at %s with %s are written drop-frame: %s', (rate, label, drop) => {
    const { reading, lines } = read(log([label], 'time', ','), { rate });
    expect(reading?.count.dropFrame).toBe(drop);
    const bare = rate === '29.97' || rate === '59.94';
    expect(lines.filter((line) => / is written (?:drop-frame|non-drop), /.test(line)).length).toBe(bare ? 1 : 0);
  });

  it.each(['00:00:00;15', '00;00;00;15', '00,00,00,15', '0;00;00;15'])('may have a duration with its marks in every place: %s', (duration) => {
    const text = `time,action,source,duration\n10:00:00;00,dissolve,1,"${duration}"\n`;
    expect(read(text, { rate: '59.94', logRate: rateSpec('29.97') }).reading?.events[0]?.duration).toBe(30);
    expect(read(text, { rate: '29.97' }).reading?.events[0]?.duration).toBe(15);
  });

  it.each([
    ['timecode', (time: string) => `${time}:00`],
    ['clock', (time: string) => `${time}.000`],
  ] as const)('belongs to the day nearest the row before, an ignored one too: %s', (timeAs, form) => {
    const row = (time: string, rest: string): string => `${time === '' || time === 'soon' ? time : form(time)},${rest}\n`;
    const text = `time,action,source\n${row('09:59:00', 'KEY,')}${row('10:00:00', 'cut,1')}${row('14:00:00', 'KEY,')}${row('', 'KEY,')}${row('18:00:00', 'KEY,')}${row('soon', 'KEY,')}${row('23:00:00', 'cut,2')}`;
    const { reading, loud } = read(text, { timeAs, map: { actions: { KEY: 'ignore' } } });
    const [first = NaN, second = NaN] = reading?.events.map(({ at }) => at) ?? [];
    expect(second - first).toBe(13 * 3600 * 25);
    expect(reading?.ignored).toBe(5);
    expect(loud.filter((line) => !line.includes('no start row'))).toEqual([]);
  });

  it('is of the first day where a row that is ignored comes before midnight', () => {
    const text = 'time,action,source\n23:59:59:00,KEY,\n00:00:01:00,cut,1\n00:00:02:00,cut,2\n';
    const { reading, problems } = read(text, { map: { actions: { KEY: 'ignore' } } });
    expect(reading?.events.map(({ at }) => at)).toEqual([25, 50]);
    expect(problems.map(({ code }) => code)).not.toContain('past-midnight');
  });

  it('of a row that is ignored does not decide how labels are written', () => {
    const text = 'time,action,source\n10:00:00:00,cut,1\n10:00:01;00,KEY,\n10:00:02;00,KEY,\n';
    const { reading, loud } = read(text, { rate: '29.97', map: { actions: { KEY: 'ignore' } } });
    expect([reading?.count.dropFrame, loud]).toEqual([false, []]);
  });

  it('may count frame pairs: two frames of the list a label', () => {
    const text = log(['10:00:00;00', '10:00:00;01', '10:01:00;02'], 'time', ',');
    const { reading, lines } = read(text, { rate: '59.94df', map: { rate: '29.97df' } });
    const first = 2 * 1_078_920;
    expect(reading?.events.map(({ at }) => at)).toEqual([first, first + 2, first + 3600]);
    expect(lines).toContain('log: note: labels count frame pairs: each is two frames at 59.94 [found]');
    expect(reading?.map.rate).toBe('29.97df');
    expect(read(text, { rate: '59.94', map: { rate: '29.97' } }).reading?.count.dropFrame).toBe(true);
    expect(read(text, { rate: '50', map: { rate: '29.97' } }).loud).toEqual(["log: error: labels at 29.97 in a list at 50: labels count at the list's rate, or at half of it [bad-rate]"]);
    const timed = read('time,action,source,duration\n10:00:00:00,dissolve,1,00:00:01:00\n10:00:05:00,dissolve,2,10\n', { rate: '50', map: { rate: '25' } });
    expect(timed.events).toEqual(['1800000 dissolve 1 +50', '1800250 dissolve 2 +10']);
  });

  it.each([
    // 10 h: 1,080,000 labels, of which drop-frame skips 2 in 540 minutes; 2 min: 3,600 labels, of which it skips 4.
    ['29.97df', true, 2 * 1_078_920, 2 * (3600 - 4)],
    ['29.97ndf', false, 2 * 1_080_000, 2 * 3600],
    ['29.97', false, 2 * 1_080_000, 2 * 3600],
  ] as const)('written with colons count pairs as the rate that is given for them says: %s', (given, drop, at, later) => {
    const logRate = rateSpec(given);
    const text = log(['10:00:00:00', '10:02:00:00'].map((label) => (drop ? label.replace('2:00:00', '2:00:02') : label)), 'time', ',');
    const first = read(text, { rate: '59.94', logRate });
    expect(first.reading?.events.map((event) => event.at)).toEqual([at, at + later + (drop ? 4 : 0)]);
    // As the log's labels are.
    expect(first.reading?.count.dropFrame).toBe(drop);
    const map = first.reading?.map;
    expect(map?.rate).toBe(given);
    const again = read(text, { rate: '59.94', ...(map === undefined ? {} : { map }) });
    expect([again.reading?.events, again.reading?.count]).toEqual([first.reading?.events, first.reading?.count]);
    // A rate that is given now counts more than the mapping's.
    expect(read(text, { rate: '59.94', logRate, map: { rate: '59.94' } }).reading?.map.rate).toBe(given);
  });

  it.each([
    ['25', '10:00:01.10', 900_035],
    ['29.97', '10:01:00.00', 1_081_800],
    // ':' counts as the rate says, and so does '.'.
    ['29.97df', '10:01:00.02', 1_080_720],
  ])('may have a point before their frames where they are said to be timecode: %s, %s', (rate, label, frame) => {
    const text = `time,action,source,duration,end\n10:00:00.00,cut,1,,\n${label},dissolve,2,00:00:01.05,\n10:02:00.02,dissolve,1,,10:02:01.02\n`;
    const colons = text.replaceAll('.', ':');
    const [first, , last] = read(colons, { rate }).events;
    for (const given of [{ timeAs: 'timecode' as const }, { map: { timeAs: 'timecode' as const } }]) {
      const { events, loud, lines } = read(text, { rate, ...given });
      expect(events).toEqual([first, `${String(frame)} dissolve 2 +${String(Math.round(Number(rate.replace('df', ''))) + 5)}`, last]);
      expect(loud).toEqual([]);
      expect(lines.filter((line) => line.includes("'.'"))).toEqual(["log:2: note: labels have '.' before the frames; it is read as ':' is [found]"]);
      expect(read(colons, { rate, ...given, end: '10:03:00.02' }).reading?.endAt).toBe(read(colons, { rate, end: '10:03:00:02' }).reading?.endAt);
    }
    expect(read(text, { rate }).loud.join()).toContain("'00:00:01.05' is not a duration");
  });

  it.each([
    ['timecode', '10:00:00:00', '10:00:01.500', "'10:00:01.500' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF; it looks like a clock time, and the times were said to be timecode"],
    ['timecode', '10:00:00:00', '7543', "'7543' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF; it looks like a number, and the times were said to be timecode"],
    ['frames', '5', '10:00:00:00', "'10:00:00:00' is not a number of frames; it looks like a timecode, and the times were said to be frames"],
    ['clock', '10:00:00', '10:00:01:00', "'10:00:01:00' is not a clock time; expected 10:04:11.200 or 2026-03-29T10:04:11.200, or its form as clockFormat in a mapping; it looks like a timecode, and the times were said to be clock times"],
  ] as const)('of another kind than was said are wrong by what was said: %s, %s', (timeAs, good, wrong, message) => {
    expect(read(log([good, wrong]), { timeAs }).loud.filter((line) => line.includes('error'))).toEqual([`log:3:1: error: ${message} [bad-time]`]);
  });

  it.each([
    ['frames', 'frame', ['25', '50']],
    ['seconds', 'time', ['1.0', '2.5']],
    ['milliseconds', 'ms', ['1000', '2500']],
    ['clock times', 'time', ['10:00:01.000', '10:00:02.500']],
  ] as const)('are no %s: a rate that is said for labels is not used, which is said', (kinds, column, times) => {
    const given = log(times, column, ',');
    const plain = read(given, { rate: '50' });
    const idle = `is a rate of labels, and the times of this log are ${kinds}; it is not used for them`;
    for (const rate of ['25', '50', '24']) {
      const asked = read(given, { rate: '50', logRate: rateSpec(rate) });
      expect(asked.events).toEqual(plain.events);
      expect(asked.lines.filter((line) => !plain.lines.includes(line))).toEqual([`--log-rate: warning: ${rate} ${idle} [bad-option]`]);
      const mapped = read(given, { rate: '50', map: { rate } });
      expect(mapped.events).toEqual(plain.events);
      expect(mapped.lines.filter((line) => !plain.lines.includes(line))).toEqual(rate === '50' ? [] : [`log: note: ${rate} ${idle} [found]`]);
    }
    // Where nothing else says the rate, it is the list's.
    expect(read(given, { rate: undefined, logRate: rateSpec('50') }).events).toEqual(plain.events);
    expect(read(given, { rate: undefined, logRate: rateSpec('50') }).loud).toEqual(plain.loud);
  });

  it('of an anchor may count frame pairs, in a log of clock times', () => {
    const text = 'time,action,source\n10:00:00.000,cut,1\n10:00:01.000,cut,2\n';
    const { events, lines, loud } = read(text, { rate: '50', logRate: rateSpec('25'), anchor: { clock: '10:00:00', timecode: '00:00:10:10' } });
    expect(events).toEqual(['520 cut 1', '570 cut 2']);
    expect(loud).toEqual([]);
    expect(lines).toContain('log: note: labels count frame pairs: each is two frames at 50 [found]');
  });

  it.each([
    ['10:01:00;00', '29.97df', '10:01:00;00 does not exist in drop-frame; beside it are 10:00:59;29 and 10:01:00;02 [dropped-label]'],
    ['24:00:00:00', '25', '24:00:00:00 is not a time of day; labels go from 00:00:00 to 23:59:59 [bad-time]'],
    ['10:00:00:25', '25', '10:00:00:25 has frame 25; at 25 frames go from 00 to 24 [bad-time]'],
    ['10:00:00;00', '25', "10:00:00;00 is a drop-frame label, and there is no drop-frame at 25; write ':' before the frames [bad-time]"],
    ['15.01.2026 10:04:11', '25', "'15.01.2026 10:04:11' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF; clock times in a form of their own need clockFormat in a mapping [bad-time]"],
    ['soon', '25', "'soon' is not a timecode; expected HH:MM:SS:FF or HH:MM:SS;FF [bad-time]"],
  ])('that do not exist are refused: %s at %s', (label, rate, message) => {
    expect(read(log([label], 'time', ','), { rate }).loud).toEqual([`log:2:1: error: ${message}`]);
  });
});

describe('counters', () => {
  it.each(['-1', '-0.5', '1e309', 'NaN', 'Infinity', '0x10', '1_000', '99999999999999', '1,2,3'])('refuse %s', (time) => {
    const { reading, loud } = read(log(['5', time]), { timeAs: 'frames' });
    expect(reading).toBeUndefined();
    expect(loud).toHaveLength(1);
    expect(loud[0]).toMatch(/^log:3:1: error: .*\[bad-time\]$/);
  });

  it('take whole frames with decimals of zero', () => {
    expect(frames(['5.0', '7.00'], { timeAs: 'frames' })).toEqual([5, 7]);
  });
});
