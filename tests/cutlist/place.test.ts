import { describe, expect, it } from 'vitest';
import { BLACK, PROGRAM, type CutList, type MediaFile, type Shot, type Source } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import { follower } from '../../src/cutlist/shift.js';
import { listFaults } from '../../src/cutlist/validate.js';
import type { Problem } from '../../src/problems.js';
import { build, countNamed, heard, points, rows, said, shown, source, type Built } from './rows.js';

/** `a 0+100`: path, start, frames. */
const files = (...texts: string[]): MediaFile[] => texts.map((text) => {
  const [path = '', start = '', frames] = text.split(/[ +]/);
  return { path, start: Number(start), ...(frames === undefined ? {} : { frames: Number(frames) }) };
});

const on = (id: string, ...texts: string[]): Source => source(id, { files: files(...texts) });

interface Placed {
  readonly list: CutList;
  readonly problems: Problem[];
}

function place(list: CutList | undefined): Placed {
  if (list === undefined) throw new Error('the log gave no list');
  const problems: Problem[] = [];
  const placed = placeOnRecordings(list, (found) => problems.push(found));
  expect(listFaults(placed)).toEqual([]);
  expect(placeOnRecordings(placed, () => undefined)).toEqual(placed);
  return { list: placed, problems };
}

function placeLog(log: string, sources: readonly Source[], options: Parameters<typeof build>[1] = {}): Placed {
  const built: Built = build(rows(log), options, sources);
  expect(built.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  return place(built.lists[0]);
}

const LOG = '0 start | 0 cut 1 | 100 cut 2 | 200 cut 1 | 300 stop';
const MIX = '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 dissolve 1 d20 | 300 stop';
const program = (...texts: string[]): Source => source(PROGRAM, { files: files(...texts) });

describe('files', () => {
  it('is not known where there are none', () => {
    const { list, problems } = placeLog(LOG, [source('1'), source('2')]);
    expect(shown(list)).toBe('1 0-100, 2 100-200, 1 200-300');
    expect(problems).toEqual([]);
  });
  it('counts as having everything where nothing else is known', () => {
    const { list, problems } = placeLog(LOG, [source('1', { files: [{ path: 'a' }] }), source('2', { files: [{ path: 'b' }] })]);
    expect(shown(list)).toBe('1 0-100 f0, 2 100-200 f0, 1 200-300 f0');
    expect(problems).toEqual([]);
  });
  it('of several nobody can place none is chosen, which is reported', () => {
    const { list, problems } = placeLog(LOG, [source('1', { files: [{ path: 'a' }, { path: 'b' }] }), source('2')]);
    expect(shown(list)).toBe('1 0-100, 2 100-200, 1 200-300');
    expect(said(problems)).toEqual(['unplaced-file']);
  });
  describe('that was measured, and has no timecode', () => {
    const measured = (more: Partial<Source> = {}): Source => source('2', { name: 'Cheap', files: [{ path: 'b', frames: 1800 }], ...more });
    it('is tied to a log of labels by nothing, which is reported', () => {
      const { problems } = placeLog('0 start | 0 cut 1 | 100 cut 2 | 200 cut 1 | 300 stop | 400 start | 400 cut 2 | 500 stop', [source('1'), measured()]);
      expect(problems.map(({ code, severity, message }) => `${severity} ${code}: ${message}`)).toEqual(["warning unplaced-file: Cheap (2): b has 1800 frames, and nothing says at which timecode they begin: that of the log is written for it; give the source's start or sync"]);
    });
    it('is tied to it by its start, by that of the source, and by sync', () => {
      for (const more of [{ files: [{ path: 'b', frames: 1800, start: 0 }] }, { starts: [0] }, { sync: { this: 0, is: 0 } }]) expect(placeLog(LOG, [source('1'), measured(more)]).problems).toEqual([]);
    });
    it('is tied to a log that is counted from it, and does not matter where it is not used', () => {
      expect(placeLog(LOG, [source('1'), measured()], { origin: 'recording' }).problems).toEqual([]);
      expect(said(placeLog('0 start | 0 cut 1 | 300 stop', [source('1'), measured()]).problems)).not.toContain('unplaced-file');
    });
  });
  it('divides a shot where a file ends', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 0+50', 'b 50+200', 'c 250+100'), on('2', 'd 0')]);
    expect(shown(list)).toBe('1 0-50 f0, 1 50-100 f1 +, 2 100-200 f0, 1 200-250 f1, 1 250-300 f2 +');
    expect(points(list.shots)).toBe('0-50, 50-100, 100-200, 200-250, 250-300');
    expect(list.shots.map(({ event }) => event?.number)).toEqual([2, undefined, 3, 4, undefined]);
    expect(problems).toEqual([]);
  });
  it('begin where the one before ends, when they have no start', () => {
    const one = source('1', { starts: [0], files: [{ path: 'a', frames: 50 }, { path: 'b', frames: 500 }] });
    expect(shown(placeLog(LOG, [one, source('2')]).list)).toBe('1 0-50 f0, 1 50-100 f1 +, 2 100-200, 1 200-300 f1');
  });
  it('overlapping: the one that goes on longer is used, which is reported', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 0+60', 'b 50+300'), source('2')]);
    expect(shown(list)).toBe('1 0-50 f0, 1 50-100 f1 +, 2 100-200, 1 200-300 f1');
    expect(said(problems)).toEqual(['recording-overlap']);
    expect(problems[0]?.message).toBe('1: b holds 10 frames that a holds too; the one that goes on longer is used');
  });
  it('overlapping: a mix out of them has the handle of the one that goes on longer', () => {
    const { list, problems } = placeLog('0 start | 0 cut 1 | 100 dissolve 2 d10 | 200 stop', [on('1', 'a 0+100', 'b 75+200'), source('2')]);
    expect(shown(list)).toBe('1 0-75 f0, 1 75-100 f1 +, 2 100-200 D10');
    expect(said(problems)).toEqual(['recording-overlap']);
  });
  it('within another is not used', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 0+400', 'b 50+10'), source('2')]);
    expect(shown(list)).toBe('1 0-100 f0, 2 100-200, 1 200-300 f0');
    expect(problems[0]?.message).toMatch(/b holds 10 frames that a holds too/);
  });
  it('of a take each are used for their take', () => {
    const log = '0 start | 0 cut 1 | 10 stop | 0 start | 10 stop';
    const one = source('1', { starts: [0, 0], files: files('a 0+50', 'b 0+50') });
    const { list, problems } = placeLog(log, [one], { origin: 'recording' });
    expect(shown(list)).toBe('1 0-10 f0, 1 10-20 f1');
    expect(problems).toEqual([]);
  });
  it('are found across midnight, on whichever day the recording began', () => {
    const day = 86_400 * 25;
    const late = on('1', `a ${String(day - 50)}+100`, 'b 50+1000');
    for (const from of [day - 20, -20 + day]) {
      const { list, problems } = placeLog(`${String(from)} start | ${String(from)} cut 1 | ${String(from + 100)} stop`, [late]);
      expect(shown(list)).toBe('1 0-70 f0, 1 70-100 f1 +');
      // Each in the labels of its own file.
      expect(points(list.shots)).toBe(`${String(day - 20)}-${String(day + 50)}, 50-80`);
      expect(problems).toEqual([]);
    }
    const morning = placeLog('10 start | 10 cut 1 | 100 stop', [late]);
    expect(shown(morning.list)).toBe('1 0-40 f0, 1 40-90 f1 +');
    expect(points(morning.list.shots)).toBe(`${String(day + 10)}-${String(day + 50)}, 50-100`);
  });
});

describe('what a recording does not have', () => {
  it('becomes black, counted, at each end', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 30+240'), on('2', 'b 0')]);
    expect(shown(list)).toBe('black 0-30 for 1, 1 30-100 f0 +, 2 100-200 f0, 1 200-270 f0, black 270-300 + for 1');
    expect(problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'beyond-recording: the shot on 1 at 01:00:00:00: 30 frames lie before its recording starts; black',
      'beyond-recording: the shot on 1 at 01:00:08:00: 30 frames, from 01:00:10:20 on, lie behind the end of its recording; black',
    ]);
  });
  it('comes from the program recording, in sync', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 30+240'), on('2', 'b 0'), source(PROGRAM, { sync: { this: 5000, is: 0 }, files: files('p 5000') })]);
    expect(shown(list)).toBe('program 0-30 f0 for 1, 1 30-100 f0 +, 2 100-200 f0, 1 200-270 f0, program 270-300 f0 + for 1');
    expect(points(list.shots)).toBe('5000-5030, 30-100, 100-200, 200-270, 5270-5300');
    expect(problems[0]?.message).toMatch(/30 frames lie before its recording starts; taken from the program recording$/);
  });
  it('is black where the program lacks it too', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 0+260'), on('2', 'b 0'), program('p 0+280')]);
    expect(shown(list)).toBe('1 0-100 f0, 2 100-200 f0, 1 200-260 f0, program 260-280 f0 + for 1, black 280-300 + for 1');
    expect(problems[0]?.message).toMatch(/40 frames, from 01:00:10:10 on, lie behind the end of its recording; taken from the program recording, but for 20 black, which the program recording lacks too$/);
  });
  it('lies in a hole between two files', () => {
    const { list, problems } = placeLog(LOG, [on('1', 'a 0+40', 'b 60+300'), on('2', 'c 0'), program('p 0')]);
    expect(shown(list)).toBe('1 0-40 f0, program 40-60 f0 + for 1, 1 60-100 f1 +, 2 100-200 f0, 1 200-300 f1');
    expect(said(problems)).toEqual(['recording-hole']);
    expect(problems[0]?.message).toBe('the shot on 1 at 01:00:00:00: 20 frames, from 01:00:01:15 on, are missing between a and b, a hole of 20 frames; taken from the program recording');
  });
  it('is one piece of black, where two holes leave no whole frame of the list between them', () => {
    const count = countNamed('59.94');
    const holes = source('1', { count, files: files('a 0+1', 'b 2+1') });
    const { list } = placeLog('0 start | 0 cut 1 | 4 stop', [holes], { count: countNamed('23.976') });
    expect(shown(list)).toBe('black 0-4 for 1');
  });
  it('lies before its start, also where nothing is known of files', () => {
    const { list, problems } = placeLog(LOG, [source('1', { starts: [30] }), source('2')]);
    expect(shown(list)).toBe('black 0-30 for 1, 1 30-100 +, 2 100-200, 1 200-300');
    expect(said(problems)).toEqual(['beyond-recording']);
  });
  it('lies before the start of its own take, where there is one for each', () => {
    const log = '1000 start | 1000 cut 1 | 1100 cut 2 | 1200 stop | 5000 start | 5000 cut 2 | 5100 stop | 9000 start | 9000 cut 1 | 9100 stop';
    const of = (one: number[], two: number[]): ReturnType<typeof placeLog> => placeLog(log, [source('1', { starts: one }), source('2', { starts: two }), source(PROGRAM)]);
    const late = of([1020, 5000, 9030], [1000, 5040, 9000]);
    expect(shown(late.list)).toBe('program 0-20 for 1, 1 20-100 +, 2 100-200, program 200-240 for 2, 2 240-300 +, program 300-330 for 1, 1 330-400 +');
    expect(points(late.list.shots)).toBe('1000-1020, 1020-1100, 1100-1200, 5000-5040, 5040-5100, 9000-9030, 9030-9100');
    expect(said(late.problems)).toEqual(['beyond-recording', 'beyond-recording', 'beyond-recording']);
    // Where there are not as many as takes, it is not known which is whose: the camera may have run through two of them.
    const few = build(rows(log), {}, [source('1', { starts: [1050, 9000] }), source('2', { starts: [1000, 9000] })]);
    expect(shown(place(few.lists[0]).list)).toBe('black 0-50 for 1, 1 50-100 +, 2 100-200, 2 200-300, 1 300-400');
    expect(few.problems.filter(({ severity }) => severity === 'warning').map(({ message }) => message)[0]).toBe("source '1' has 2 starts, and the log 3 takes: which belongs to which is not known, and only what lies before all of them counts as missing; give a start for each take");
    // Files have labels of their own, which say what they hold.
    const filed = placeLog(log, [source('1', { starts: [1000, 5000], files: files('a 1000+4000', 'b 5000+9000') }), source('2', { starts: [1000, 5040], files: files('c 1000+4020', 'd 5040+9000') })]);
    expect(shown(filed.list)).toBe('1 0-100 f0, 2 100-200 f0, 2 200-220 f0, black 220-240 + for 2, 2 240-300 f1 +, 1 300-400 f1');
  });
  it('lies before it, and not a day later in a recording without a known end', () => {
    const early = source('1', { starts: [3], offset: -2, files: [{ path: 'a' }] });
    expect(shown(placeLog('0 start | 0 cut 1 | 10 stop', [early], { origin: 'recording' }).list)).toBe('black 0-2 for 1, 1 2-10 f0 +');
  });
  describe('lies before label zero', () => {
    const log = '0 start | 0 cut 1 | 50 cut 2 | 100 stop';
    const early = (more: Partial<Source>, origin: 'timecode' | 'recording', ...others: Source[]): string =>
      shown(placeLog(log, [source('1', { offset: -3, ...more }), source('2'), ...others], { origin }).list);
    it('in a log that is counted from it, with a start or without', () => {
      expect(early({}, 'recording')).toBe('black 0-3 for 1, 1 3-50 +, 2 50-100');
      expect(early({ files: [{ path: 'a' }] }, 'recording')).toBe('black 0-3 for 1, 1 3-50 f0 +, 2 50-100');
      expect(early({ starts: [1] }, 'recording')).toBe('black 0-3 for 1, 1 3-50 +, 2 50-100');
      expect(early({ starts: [1], offset: -60 }, 'recording')).toBe('black 0-50 for 1, 2 50-100');
      expect(early({}, 'recording', source(PROGRAM))).toBe('program 0-3 for 1, 1 3-50 +, 2 50-100');
      // The program's first frames are as little there.
      expect(early({}, 'recording', source(PROGRAM, { offset: -2 }))).toBe('black 0-2 for 1, program 2-3 + for 1, 1 3-50 +, 2 50-100');
    });
    it('in a log of labels, where something says that it begins there', () => {
      expect(early({ starts: [0] }, 'timecode')).toBe('black 0-3 for 1, 1 3-50 +, 2 50-100');
      expect(early({ files: [{ path: 'a', start: 0 }] }, 'timecode')).toBe('black 0-3 for 1, 1 3-50 f0 +, 2 50-100');
      expect(early({ starts: [1] }, 'timecode')).toBe('black 0-4 for 1, 1 4-50 +, 2 50-100');
    });
    it('on the day before, where nothing says where it begins, or it begins then', () => {
      const day = 86_400 * 25;
      for (const more of [{}, { starts: [day - 100] }, { files: files(`a ${String(day - 100)}`) }, { files: [{ path: 'a' }, { path: 'b' }], starts: [0] }]) {
        const { list } = placeLog(log, [source('1', { offset: -3, ...more }), source('2')]);
        expect(shown(list).replace(' f0', '')).toBe('1 0-50, 2 50-100');
        expect(list.shots[0]).toMatchObject({ sourceIn: day - 3, sourceOut: day + 47 });
      }
    });
    it('in several takes, each on its own', () => {
      const two = '0 start | 0 cut 1 | 50 stop | 0 start | 0 cut 1 | 50 stop';
      const each = source('1', { offset: -3, starts: [0, 10] });
      for (const takes of ['joined', 'gaps'] as const) {
        expect(shown(placeLog(two, [each], { origin: 'recording', takes }).list)).toBe('black 0-3 for 1, 1 3-50 +, black 50-53 for 1, 1 53-100 +');
        // With one file for both takes nothing is known of it; a start is no bound for the other take.
        expect(shown(placeLog(two, [source('1', { starts: [1000, 0], files: [{ path: 'a' }] })], { origin: 'recording', takes }).list)).toBe('1 0-50 f0, 1 50-100 f0');
        expect(shown(placeLog(two, [source('1', { offset: -3 })], { origin: 'recording', takes }).list)).toBe('black 0-3 for 1, 1 3-50 +, black 50-53 for 1, 1 53-100 +');
      }
    });
    it('at another rate, and where a mix brings it on', () => {
      const fast = source('1', { offset: -3, count: countNamed('50') });
      const { list } = placeLog(log, [fast, source('2')], { origin: 'recording' });
      expect(shown(list)).toBe('black 0-2 for 1, 1 2-50 +, 2 50-100');
      expect(points(list.shots.slice(1, 2))).toBe('1-97');
      expect(shown(placeLog('0 start | 0 cut 2 | 4 dissolve 1 d10 | 50 stop', [source('1', { offset: -8 }), source('2')], { origin: 'recording' }).list)).toBe('2 0-8, 1 8-50 D6');
    });
    it('is heard no more than seen', () => {
      const sound = (from: string): string => heard(placeLog(log, [source('1', { offset: -3 }), source('2')], { origin: 'recording', audio: { from } }).list);
      expect(sound('1')).toBe('1 3-100@0');
      expect(sound('follow')).toBe('black 0-3@0 V, 1 3-50@0 V +, 2 50-100@50 V');
    });
    it('after a correction that moves the boundary, too', () => {
      const { list } = placeLog('0 start | 0 cut 2 | 5 cut 1 | 50 stop', [source('1', { offset: -3 }), source('2')], { origin: 'recording' });
      const follow = follower(list);
      const [first, second] = list.shots as [Shot, Shot];
      expect(shown(place({ ...list, shots: [follow(first, 0, 1), follow(second, 1, 50)] }).list)).toBe('2 0-1, black 1-3 for 1, 1 3-50 +');
    });
    it('leaves a boundary that moves in sync, also where the day before is meant', () => {
      const [day, fast] = [86_400 * 60, countNamed('60')];
      const { list } = placeLog('0 start | 0 cut 2 | 5 cut 1 | 50 stop', [source('1', { offset: -30, count: fast, starts: [day - 100] }), source('2', { count: countNamed('24') })], { count: countNamed('24') });
      const follow = follower(list);
      const [first, second] = list.shots as [Shot, Shot];
      // 5 × 2.5 is 12.5, rounded up; 8 × 2.5 is 20, and not 13 + 3 × 2.5 rounded.
      expect(second.sourceIn).toBe(day - 30 + 13);
      expect(follow(second, 8, 50).sourceIn).toBe(day - 30 + 20);
      expect(shown(place({ ...list, shots: [follow(first, 0, 8), follow(second, 8, 50)] }).list)).toBe('2 0-8, 1 8-50');
    });
  });
  it('goes on past midnight in a recording without a known end', () => {
    const day = 86_400 * 25;
    const late = on('1', `a ${String(day - 1000)}`);
    const { list, problems } = placeLog('10 start | 10 cut 1 | 20 stop', [late]);
    expect(shown(list)).toBe('1 0-10 f0');
    expect(points(list.shots)).toBe(`${String(day + 10)}-${String(day + 20)}`);
    expect(problems).toEqual([]);
  });
  it('in a hole that no shot shows is a note', () => {
    const { problems } = placeLog(LOG, [on('1', 'a 0+120', 'b 150+300'), source('2')]);
    expect(problems.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['recording-hole note']);
  });
  it('between the files of two takes is no hole', () => {
    const log = '0 start | 0 cut 1 | 10 stop | 100 start | 110 stop';
    expect(placeLog(log, [on('1', 'a 0+20', 'b 90+30')]).problems).toEqual([]);
  });
  it('is everything where a source was not recorded', () => {
    const { list, problems } = placeLog(LOG, [source('1'), source('2', { recorded: false }), program('p 0')]);
    expect(shown(list)).toBe('1 0-100, program 100-200 f0 for 2, 1 200-300');
    expect(list.shots[1]?.event).toEqual({ number: 3, action: 'cut' });
    expect(problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'not-recorded: the shot on 2 at 01:00:04:00 was not recorded: all 100 frames taken from the program recording',
    ]);
  });
  it('is black without a program recording, or when that was not recorded either', () => {
    expect(shown(placeLog(LOG, [source('1'), source('2', { recorded: false })]).list)).toBe('1 0-100, black 100-200 for 2, 1 200-300');
    expect(shown(placeLog(LOG, [source('1'), source('2', { recorded: false }), source(PROGRAM, { recorded: false })]).list)).toBe('1 0-100, black 100-200 for 2, 1 200-300');
  });
  it('is in sync at other rates, starts and offsets', () => {
    const list29 = countNamed('29.97');
    const at50 = source('2', { recorded: false, count: countNamed('50'), starts: [77], offset: 9 });
    const pgm = source(PROGRAM, { count: list29, starts: [1000], offset: -3 });
    const placed = placeLog('50 start | 50 cut 1 | 150 cut 2 | 250 stop', [source('1', { count: list29 }), at50, pgm], { count: list29, origin: 'recording' });
    expect(points(placed.list.shots)).toBe('0-100, 1097-1197');
  });
});

describe('a list that was changed', () => {
  it('has the program in sync with what a shot shows, not with where it lies', () => {
    const sources = [source('1'), source('2', { recorded: false, starts: [500] }), program('p 0')];
    const { lists } = build(rows(LOG), { origin: 'recording' }, sources);
    const [list] = lists;
    const slipped = list && { ...list, shots: list.shots.map((shot) => (shot.source === '2' ? { ...shot, sourceIn: shot.sourceIn + 7, sourceOut: shot.sourceOut + 7 } : shot)) };
    expect(points(place(slipped).list.shots)).toBe('0-100, 107-207, 200-300');
  });
  it('still says what a replacement stands for, when that becomes black', () => {
    const { list } = placeLog(LOG, [source('1'), source('2', { recorded: false }), program('p 0')]);
    const shorter = { ...list, sources: list.sources.map((one) => (one.id === PROGRAM ? { ...one, files: files('p 0+150') } : one)) };
    expect(shown(place(shorter).list)).toBe('1 0-100, program 100-150 f0 for 2, black 150-200 + for 2, 1 200-300');
  });
});

describe('transitions that touch the program recording', () => {
  const cases: [string, string, Source[], string, string[]][] = [
    ['the incoming source was not recorded', '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop', [source('1'), source('2', { recorded: false })],
      '1 0-100, program 100-200 f0 for 2', ['not-recorded', 'transition-replaced']],
    ['the outgoing source was not recorded', '0 start | 0 cut 2 | 100 dissolve 1 d20 | 200 stop', [source('1'), source('2', { recorded: false })],
      'program 0-100 f0 for 2, program 100-120 f0 for 1, 1 120-200 +', ['not-recorded', 'transition-replaced']],
    ['both sides', MIX, [source('1'), source('2', { recorded: false })],
      '1 0-100, program 100-200 f0 for 2, program 200-220 f0 for 1, 1 220-300 +', ['not-recorded', 'transition-replaced', 'transition-replaced']],
    ['the mix is the whole shot', '0 start | 0 cut 2 | 100 dissolve 1 d20 | 120 cut 3 | 200 stop', [source('1'), source('2', { recorded: false }), source('3')],
      'program 0-100 f0 for 2, program 100-120 f0 for 1, 3 120-200', ['not-recorded', 'transition-replaced']],
    ['back to back', '0 start | 0 cut 1 | 100 dissolve 2 d20 | 120 dissolve 3 d30 | 200 stop', [source('1'), source('2', { recorded: false }), source('3')],
      '1 0-100, program 100-120 f0 for 2, program 120-150 f0 for 3, 3 150-200 +', ['not-recorded', 'transition-replaced', 'transition-replaced']],
    ['the incoming recording begins in the mix', '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop', [source('1'), on('2', 'b 110')],
      '1 0-100, program 100-120 f0 for 2, 2 120-200 f0 +', ['beyond-recording', 'transition-replaced']],
    ['the incoming recording begins after the mix', '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop', [source('1'), on('2', 'b 140')],
      '1 0-100, program 100-140 f0 for 2, 2 140-200 f0 +', ['beyond-recording', 'transition-replaced']],
    ['the outgoing recording ended before the mix', '0 start | 0 cut 1 | 100 wipe 2 d20 w1 | 200 stop', [on('1', 'a 0+90'), source('2')],
      '1 0-90 f0, program 90-100 f0 + for 1, program 100-120 f0 for 2, 2 120-200 +', ['beyond-recording', 'transition-replaced']],
  ];
  it.each(cases)('become cuts: %s', (_name, log, sources, expected, codes) => {
    const { list, problems } = placeLog(log, [...sources, program('p 0')]);
    expect(shown(list)).toBe(expected);
    expect(said(problems).sort()).toEqual(codes);
    // Program is in sync, frame for frame.
    for (const shot of list.shots) expect(shot.sourceIn).toBe(shot.in);
  });
  it('stay where the program begins on the frame on which they are complete', () => {
    const { list } = placeLog('0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop', [source('1'), on('2', 'b 100+20'), program('p 0')]);
    expect(shown(list)).toBe('1 0-100, 2 100-120 D20 f0, program 120-200 f0 + for 2');
  });
  it('stay where only the handle is missing: they are shortened', () => {
    expect(shown(placeLog('0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop', [on('1', 'a 0+110'), source('2'), program('p 0')]).list)).toBe('1 0-100 f0, 2 100-200 D10');
  });
  it('stay where black is the replacement', () => {
    const { list } = placeLog(MIX, [source('1'), source('2', { recorded: false })]);
    expect(shown(list)).toBe('1 0-100, black 100-200 D20 for 2, 1 200-300 D20');
  });
});

describe('a mix to black from the program recording', () => {
  const unrecorded = source('1', { recorded: false });
  const fade = '0 start | 0 cut 1 | 100 dissolve black d20 | 200 cut 2 | 300 stop';
  const cases: [string, string, Source[], string][] = [
    ['a dissolve', fade, [unrecorded, source('2')], 'program 0-100 f0 for 1, program 100-120 f0 for black, black 120-200 +, 2 200-300'],
    ['a wipe', '0 start | 0 cut 1 | 100 wipe black d20 w1 | 200 stop', [unrecorded], 'program 0-100 f0 for 1, program 100-120 f0 for black, black 120-200 +'],
    ['the whole shot is the mix', '0 start | 0 cut 1 | 100 dissolve black d20 | 120 cut 2 | 200 stop', [unrecorded, source('2')],
      'program 0-100 f0 for 1, program 100-120 f0 for black, 2 120-200'],
    ['the recording ends just before it', fade, [on('1', 'a 0+95'), source('2')],
      '1 0-95 f0, program 95-100 f0 + for 1, program 100-120 f0 for black, black 120-200 +, 2 200-300'],
    ['behind another mix', '0 start | 0 cut 2 | 50 dissolve 1 d10 | 100 dissolve black d20 | 200 stop', [unrecorded, source('2')],
      '2 0-50, program 50-100 f0 for 1, program 100-120 f0 for black, black 120-200 +'],
    ['it interrupts another mix', '0 start | 0 cut 1 | 50 dissolve 2 d20 | 60 dissolve black d20 | 200 stop', [unrecorded, source('2')],
      'program 0-50 f0 for 1, program 50-60 f0 for 2, program 60-80 f0 for black, black 80-200 +'],
    ['it is interrupted', '0 start | 0 cut 1 | 50 dissolve black d20 | 60 dissolve 2 d20 | 200 stop', [unrecorded, source('2')],
      'program 0-50 f0 for 1, program 50-60 f0 for black, program 60-80 f0 for 2, 2 80-200 +'],
  ];
  it.each(cases)('is in it: %s', (_name, log, sources, expected) => {
    for (const dissolveAt of ['start', 'center', 'end'] as const) {
      const { list, problems } = placeLog(log, [...sources, program('p 0')], { dissolveAt });
      expect(shown(list)).toBe(expected);
      for (const shot of list.shots) if (shot.source === PROGRAM) expect(shot.sourceIn).toBe(shot.in);
      expect(problems.findLast(({ code }) => code === 'transition-replaced')?.message).toMatch(/ touches frames from the program recording: its \d+ frames come from there$/);
    }
  });
  it('is black as far as the program lacks it, which is said, and one with the black behind it', () => {
    const { list, problems } = placeLog(fade, [unrecorded, source('2'), program('p 0+110')]);
    expect(shown(list)).toBe('program 0-100 f0 for 1, program 100-110 f0 for black, black 110-200 +, 2 200-300');
    expect(problems.find(({ code }) => code === 'transition-replaced')?.message).toMatch(/its 20 frames come from there, 10 frames of it black, which the program lacks$/);
    expect(shown(placeLog(fade, [unrecorded, source('2'), program('p 0+100')]).list)).toBe('program 0-100 f0 for 1, black 100-200, 2 200-300');
    expect(shown(placeLog(fade, [unrecorded, source('2'), program('p 0+105', 'q 110+5')]).list))
      .toBe('program 0-100 f0 for 1, program 100-105 f0 for black, black 105-110 +, program 110-115 f1 + for black, black 115-200 +, 2 200-300');
  });
  it('stays a mix where the source was recorded, and becomes a cut where it is black already', () => {
    expect(shown(placeLog(fade, [source('1'), source('2'), program('p 0')]).list)).toBe('1 0-100, black 100-200 D20, 2 200-300');
    expect(shown(placeLog(fade, [unrecorded, source('2')]).list)).toBe('black 0-100 for 1, black 100-200, 2 200-300');
  });
  it('is heard in it, too', () => {
    const sound = (log: string, from: string): string => heard(placeLog(log, [unrecorded, source('2'), source('desk', { picture: false }), program('p 0')], { audio: { from } }).list);
    expect(sound(fade, 'follow')).toBe('program 0-100@0 V f0, program 100-120@100 V f0, black 120-200@0 V +, 2 200-300@200 V');
    expect(sound(fade, PROGRAM)).toBe('program 0-300@0 f0');
    expect(sound('0 start | 0 cut 1 | 100 dissolve black d20 | 150 audio desk | 200 stop', 'follow')).toBe('program 0-100@0 V f0, program 100-120@100 V f0, desk 150-200@150');
  });
  it('is in sync in a later take, at another rate and with an offset', () => {
    const pgm = source(PROGRAM, { count: countNamed('50'), offset: 3 });
    const log = '0 start | 0 cut 2 | 50 stop | 1000 start | 1000 cut 1 | 1100 dissolve black d20 | 1200 stop';
    for (const takes of ['joined', 'gaps'] as const) {
      const { list } = placeLog(log, [unrecorded, source('2'), pgm], { takes });
      expect(points(list.shots.slice(-3))).toBe('2003-2203, 2203-2243, 0-80');
    }
  });
  it('goes on where the shot before ends, in a list that no log explains', () => {
    const { list } = placeLog(fade, [source('1'), source('2')]);
    const read: CutList = {
      ...list,
      takes: [{ in: 0, out: 300, logIn: 0 }],
      sources: [unrecorded, source('2'), program('p 90000+1000')],
      shots: list.shots.map((shot) => (shot.source === BLACK ? shot : { ...shot, sourceIn: shot.sourceIn + 90_000, sourceOut: shot.sourceOut + 90_000 })),
    };
    const placed = place(read);
    expect(shown(placed.list)).toBe('program 0-100 f0 for 1, program 100-120 f0 for black, black 120-200 +, 2 200-300');
    expect(points(placed.list.shots)).toBe('90000-90100, 90100-90120, 0-80, 90200-90300');
  });
  it('is in it as well when a correction puts a mix between two shots from the program', () => {
    const { list } = placeLog('0 start | 0 cut 1 | 100 cut 2 | 200 stop', [unrecorded, source('2', { recorded: false }), program('p 0')]);
    const mixed: CutList = { ...list, shots: list.shots.map((shot) => (shot.in === 100 ? { ...shot, transition: { kind: 'dissolve', frames: 20, inOffset: 0 } } : shot)) };
    expect(shown(place(mixed).list)).toBe('program 0-100 f0 for 1, program 100-200 f0 for 2');
  });
});

describe('handles', () => {
  const one = '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 stop';
  const cases: [string, string, Source[], string, string | undefined, Parameters<typeof build>[1]?][] = [
    ['enough on both sides', one, [on('1', 'a 0+120'), on('2', 'b 100+100')], '1 0-100 f0, 2 100-200 D20 f0', undefined],
    ['the outgoing side has some of it', one, [on('1', 'a 0+112'), source('2')], '1 0-100 f0, 2 100-200 D12',
      'the dissolve to 2 at 01:00:04:00 has 20 frames, and the file of 1 ends 8 frames before the mix does; it is shortened to 12'],
    ['the outgoing side has nothing', one, [on('1', 'a 0+100'), source('2')], '1 0-100 f0, 2 100-200',
      'the dissolve to 2 at 01:00:04:00 has 20 frames, and the file of 1 ends 20 frames before the mix does; it became a cut'],
    ['the outgoing side goes on in another file', one, [on('1', 'a 0+105', 'b 105+300'), source('2')], '1 0-100 f0, 2 100-200 D5', 'the file of 1 ends 15 frames before the mix does'],
    ['the incoming side goes on in another file', one, [source('1'), on('2', 'a 0+107', 'b 107+300')], '1 0-100, 2 100-107 D7 f0, 2 107-200 f1 +', 'the file of 2 ends 13 frames before the mix does; it is shortened to 7'],
    ['the incoming recording begins in the mix', one, [source('1'), on('2', 'b 108')], '1 0-108, 2 108-200 D12 f0', 'has 20 frames, and the recording of 2 begins 8 frames into it; it is shortened to 12'],
    ['it begins in the mix, and the outgoing one ends in it', one, [on('1', 'a 0+115'), on('2', 'b 108')], '1 0-108 f0, 2 108-200 D7 f0', 'has 20 frames, and the recording of 2 begins 8 frames into it; it is shortened to 7'],
    ['it begins where the outgoing one has ended', one, [on('1', 'a 0+105'), on('2', 'b 108')], '1 0-100 f0, black 100-108 D5 for 2, 2 108-200 f0 +', 'the file of 1 ends 15 frames before the mix does; it is shortened to 5'],
    ['a fade from black into a recording that begins in it', '0 start | 0 dissolve 1 d20 | 100 stop', [on('1', 'a 8')], 'black 0-8 for 1, 1 8-100 D12 f0', 'it is shortened to 12'],
    ['a fade from black into frames that the recording lacks', '0 start | 0 dissolve 1 d20 | 100 stop', [on('1', 'a 40')], 'black 0-40 for 1, 1 40-100 f0 +', 'has 20 frames, and there is black on both sides of it; it became a cut'],
    ['the same behind black', '0 start | 0 cut black | 50 dissolve 1 d20 | 100 stop', [on('1', 'a 0+30')], 'black 0-50, black 50-100 for 1', 'there is black on both sides of it; it became a cut'],
    ['the boundary stays at the centre', one, [on('1', 'a 0+111'), source('2')], '1 0-100 f0, 2 100-200 D11/5', 'shortened to 11', { dissolveAt: 'center' }],
    ['the boundary stays at the end', one, [on('1', 'a 0+111'), source('2')], '1 0-100 f0, 2 100-200 D11/11', 'shortened to 11', { dissolveAt: 'end' }],
    ['the centre is that of the frames that are left', '0 start | 0 cut 1 | 100 dissolve 2 d25 | 200 stop', [on('1', 'a 0+112'), source('2')], '1 0-100 f0, 2 100-200 D12/6', 'shortened to 12', { dissolveAt: 'center' }],
    ['the end too, where the mix was its whole shot', '0 start | 0 cut 1 | 100 dissolve 2 d25 | 125 cut 1 | 200 stop', [on('1', 'a 0+112', 'b 112+300'), source('2')], '1 0-100 f0, 2 100-125 D12/12, 1 125-200 f1', 'shortened to 12', { dissolveAt: 'end' }],
    ['the centre, where the incoming recording begins in it', '0 start | 0 cut 1 | 100 dissolve 2 d25 | 200 stop', [source('1'), on('2', 'b 113')], '1 0-113, 2 113-200 D12/6 f0', 'shortened to 12', { dissolveAt: 'center' }],
    ['the boundary keeps a frame of its file behind it', one, [source('1'), on('2', 'a 0+110', 'b 110+300')], '1 0-100, 2 100-110 D10/9 f0, 2 110-200 f1 +', 'shortened to 10', { dissolveAt: 'end' }],
  ];
  it.each(cases)('%s', (_name, log, sources, expected, message, options) => {
    const { list, problems } = placeLog(log, sources, options);
    expect(shown(list)).toBe(expected);
    const short = problems.filter(({ code }) => code === 'short-handle');
    if (message === undefined) expect(problems).toEqual([]);
    else expect(short.map((found) => found.message).join('\n')).toContain(message);
    expect(short).toHaveLength(message === undefined ? 0 : 1);
  });
});

describe('sound', () => {
  const fixed = (sources: readonly Source[], from = 'desk'): { audio: string; codes: string[]; list: CutList } => {
    const { list, problems } = placeLog(LOG, [source('1'), source('2'), ...sources], { audio: { from } });
    return { audio: heard(list), codes: said(problems), list };
  };
  const desk = (...texts: string[]): Source => source('desk', { picture: false, files: files(...texts) });
  it('goes on in the next file', () => {
    expect(fixed([desk('a 0+120', 'b 120+200')])).toMatchObject({ audio: 'desk 0-120@0 f0, desk 120-300@120 + f1', codes: [] });
  });
  it('comes from the program where its recording has none', () => {
    const { audio, codes, list } = fixed([desk('a 0+120', 'b 150+100'), program('p 0+290')]);
    expect(audio).toBe('desk 0-120@0 f0, program 120-150@120 + f0, desk 150-250@150 + f1, program 250-290@250 + f0');
    expect(codes).toEqual(['recording-hole', 'beyond-recording']);
    expect(list.audio.map(({ channels }) => channels)).toEqual([[1, 2], [1, 2], [1, 2], [1, 2]]);
  });
  it('is silent where there is nothing', () => {
    const { audio, codes } = fixed([desk('a 10+120', 'b 150+100')]);
    expect(audio).toBe('desk 10-130@10 f0, desk 150-250@150 f1');
    expect(codes).toEqual(['beyond-recording', 'recording-hole', 'beyond-recording']);
  });
  it('was not recorded', () => {
    expect(fixed([source('desk', { picture: false, recorded: false })])).toMatchObject({ audio: '', codes: ['not-recorded'] });
  });
  it('that follows goes with what became of its shot', () => {
    const { list } = placeLog(MIX, [on('1', 'a 0+50', 'b 50+300'), source('2', { recorded: false }), program('p 0')], { audio: { from: 'follow', channels: [3, 4] } });
    expect(heard(list)).toBe('1 0-50@0 V f0, 1 50-100@50 V + f1, program 100-200@100 V f0, program 200-220@200 V f0, 1 220-300@220 V + f1');
    // The program feeds A1 and A2 from its first channels.
    expect(list.audio.map(({ channels }) => channels.join(' '))).toEqual(['3 4', '3 4', '1 2', '1 2', '3 4']);
  });
  describe('that comes on with the picture, and leaves it early,', () => {
    const log = '0 start | 0 cut 1 | 100 dissolve 2 d20 | 200 audio desk | 300 stop';
    const early = (...sources: Source[]): string => heard(placeLog(log, [source('desk', { picture: false }), ...sources], { audio: { from: 'follow' } }).list);
    it('has the files of the picture', () => {
      expect(early(source('1'), on('2', 'a 90+300'))).toBe('1 0-100@0 V, 2 100-200@100 D20 f0, desk 200-300@200');
      expect(early(source('1'), on('2', 'a 90+60', 'b 150+300'))).toBe('1 0-100@0 V, 2 100-150@100 V D20 f0, 2 150-200@150 + f1, desk 200-300@200');
      expect(early(source('1'), on('2', 'a 90+150'))).toBe('1 0-100@0 V, 2 100-200@100 D20 f0, desk 200-300@200');
    });
    it('mixes as the picture does', () => {
      expect(early(on('1', 'a 0+112'), source('2'))).toBe('1 0-100@0 V f0, 2 100-200@100 D12, desk 200-300@200');
      expect(early(on('1', 'a 0+100'), source('2'))).toBe('1 0-100@0 V f0, 2 100-200@100, desk 200-300@200');
      expect(early(source('1'), on('2', 'b 108'))).toBe('1 0-108@0 V, 2 108-200@108 D12 f0, desk 200-300@200');
      expect(early(source('1'), source('2', { recorded: false }), program('p 0'))).toBe('1 0-100@0 V, program 100-200@100 f0, desk 200-300@200');
      expect(early(source('1', { recorded: false }), source('2'), program('p 0'))).toBe('program 0-100@0 V f0, program 100-120@100 V f0, 2 120-200@120 +, desk 200-300@200');
    });
  });
  it('has only the channels that the file has', () => {
    const mono = source('desk', { picture: false, files: [{ path: 'a', start: 0, frames: 100, channels: 1 }, { path: 'b', start: 100, channels: 2 }] });
    const { list, codes } = fixed([mono]);
    expect(list.audio.map(({ tracks, channels }) => [tracks, channels])).toEqual([[[1], [1]], [[1, 2], [1, 2]]]);
    expect(codes).toEqual(['missing-channel']);
    expect(fixed([source('desk', { picture: false, files: [{ path: 'a', channels: 0 }] })])).toMatchObject({ audio: '', codes: ['missing-channel'] });
  });
  it.each([
    [1, [1, 2, 3, 4], 'has 1 channel, and channels 2, 3 and 4 are asked for; these tracks are silent'],
    [1, [2, 1], 'has 1 channel, and channel 2 is asked for; that track is silent'],
    [2, [4, 1, 3, 4], 'has 2 channels, and channels 3 and 4 are asked for; these tracks are silent'],
    [1, [2, 2], 'has 1 channel, and channel 2 is asked for; these tracks are silent'],
    [0, [1, 2], 'has no sound, and channels 1 and 2 are asked for; these tracks are silent'],
  ])('with %i channels, asked for %j, names every channel that is missing', (has, channels, message) => {
    const few = source('desk', { picture: false, files: [{ path: 'a', channels: has }] });
    const { problems } = placeLog(LOG, [source('1'), source('2'), few], { audio: { from: 'desk', channels } });
    expect(problems.map((found) => found.message)).toEqual([`the recording of desk ${message}`]);
  });
});

describe('rates', () => {
  const df = countNamed('29.97df');
  const hour = 107_892;
  it('says how far a 30.00 source runs away from a 29.97 list: 107.892 frames, 3.596 s an hour, one frame each 33.37 s', () => {
    const log = `0 start | 0 cut 1 | ${String(hour / 2)} cut 2 | ${String(2 * hour)} stop`;
    const { list, problems } = placeLog(log, [source('1', { count: df }), source('2', { count: countNamed('30') })], { count: df });
    expect(problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'rate-differs: 2 runs at 30, the list at 29.97df: it gains 107.892 frames (3.596 s) an hour, a frame each 33.37 s, and 215.784 frames (7.193 s) over this show; each shot begins in sync and is played frame for frame',
    ]);
    // Exact real time of the moment, 53,946 × 1001 ÷ 30,000 s = 1,799.9982 s, at 30.
    expect(list.shots[1]).toMatchObject({ sourceIn: 54_000, sourceOut: 54_000 + hour + hour / 2 });
  });
  it('says that other rates are converted', () => {
    const { problems } = placeLog(LOG, [source('1', { count: countNamed('50') }), source('2')]);
    expect(problems[0]?.message).toBe('1 runs at 50, the list at 25: in-points lie on the nearest source frame, and lengths are converted (200.000 % of the frames), so it does not drift');
  });
  it('ends one frame early where a faster recording has only a part of the last one', () => {
    const log = '0 start | 0 cut 1 | 10 cut 2 | 40 stop';
    const fast = (count: string, ...texts: string[]): Source => source('2', { count: countNamed(count), files: files(...texts) });
    const early = placeLog(log, [source('1'), fast('60', 'a 0+27')]);
    expect(shown(early.list)).toBe('1 0-10, 2 10-11 f0, black 11-40 + for 2');
    expect(points(early.list.shots)).toBe('0-10, 24-26, 0-29');
    expect(early.problems[0]?.message).toMatch(/29 frames, from 01:00:00:11 on, lie behind the end of its recording; black$/);
    // Of its only frame a part: nothing of it.
    expect(shown(placeLog(log, [source('1'), fast('60', 'a 0+25')]).list)).toBe('1 0-10, black 10-40 for 2');
    // One frame too few is rounding.
    expect(shown(placeLog(log, [source('1'), fast('50', 'a 0+23')]).list)).toBe('1 0-10, 2 10-12 f0, black 12-40 + for 2');
    // In a hole, and at a seam.
    expect(shown(placeLog(log, [source('1'), fast('60', 'a 0+27', 'b 40+100')]).list)).toBe('1 0-10, 2 10-11 f0, black 11-17 + for 2, 2 17-40 f1 +');
    const seam = placeLog(log, [source('1'), fast('60', 'a 0+27', 'b 27+100')]);
    expect(shown(seam.list)).toBe('1 0-10, 2 10-12 f0, 2 12-40 f1 +');
    expect(points(seam.list.shots)).toBe('0-10, 24-29, 29-96');
  });
  it('has handles of whole frames only', () => {
    const fast = source('1', { count: countNamed('60'), files: files('a 0+27') });
    expect(shown(placeLog('0 start | 0 cut 1 | 10 dissolve 2 d4 | 40 stop', [fast, source('2')]).list)).toBe('1 0-10 f0, 2 10-40 D1');
  });
  it('divides and bounds a source at another rate on its own frames', () => {
    const half = source('1', { count: countNamed('50'), files: files('a 0+61', 'b 61+300') });
    const { list } = placeLog(LOG, [half, source('2')]);
    expect(shown(list)).toBe('1 0-31 f0, 1 31-100 f1 +, 2 100-200, black 200-300 for 1');
    expect(points(list.shots)).toBe('0-62, 62-200, 100-200, 0-100');
  });
});

describe('recordings', () => {
  it('never used are noted', () => {
    const { problems } = placeLog(LOG, [source('1'), source('2'), on('3', 'c 0'), source('4'), program('p 0')]);
    expect(problems.map(({ code, severity, message }) => `${code} ${severity}: ${message}`)).toEqual(['unused-recording note: the recording of 3 is neither seen nor heard in this list']);
  });
});
