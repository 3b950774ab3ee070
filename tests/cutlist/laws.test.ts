import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustList } from '../../src/cutlist/adjust.js';
import type { BuildOptions } from '../../src/cutlist/build.js';
import { BLACK, type CutList, type Shot } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { convertFrames } from '../../src/timecode/rate.js';
import { arbitraryLog, frameByFrame, type RandomLog } from './logs.js';
import { build } from './rows.js';

const RUNS = Number(process.env.LINECUT_RUNS ?? 150);
const check = <T>(arbitrary: fc.Arbitrary<T>, law: (value: T) => void, runs = RUNS): void => {
  fc.assert(fc.property(arbitrary, law), { numRuns: runs });
};

function listsOf(log: RandomLog, options: Partial<BuildOptions> = {}): CutList[] {
  const { count, origin, endAt } = log;
  const { lists, problems } = build(log.events, { count, origin, ...(endAt === undefined ? {} : { endAt }), ...options }, log.sources);
  const errors = problems.filter(({ severity }) => severity === 'error');
  // A log may have no switch in any take, or none at all; nothing else is wrong with it.
  for (const { code } of errors) expect(['no-events', 'bad-option']).toContain(code);
  if (errors.length > 0) expect(lists).toEqual([]);
  for (const list of lists) expect(listFaults(list)).toEqual([]);
  for (const { place } of problems) if (place?.option === undefined) expect(place === undefined || place.file === 'show.csv').toBe(true);
  return lists;
}

/** Source and mix on each record frame, as the list has it. */
function framesOf(list: CutList | undefined): string[] {
  return (list?.shots ?? []).flatMap((shot) =>
    Array.from({ length: shot.out - shot.in }, (_, index) => `${shot.source}${index < (shot.transition?.frames ?? 0) ? ' mix' : ''}`));
}

const plain = ({ source, in: into, out, sourceIn, sourceOut, transition }: Shot) => ({ source, in: into, out, sourceIn, sourceOut, transition });

describe('a list of any log', () => {
  it('is what a frame-by-frame reading of the log gives', () => {
    let frames = 0;
    check(arbitraryLog({ cues: true, ends: true, markers: true }), (log) => {
      const expected = frameByFrame(log).map(({ source, mixes }) => `${source}${mixes ? ' mix' : ''}`);
      if (!log.events.some(({ action }) => ['cut', 'dissolve', 'wipe'].includes(action))) return;
      const [list] = listsOf(log);
      expect(framesOf(list)).toEqual(expected);
      frames += expected.length;
    });
    // The property is about something.
    expect(frames).toBeGreaterThan(RUNS * 10);
  });

  it('has each shot\'s in-point on the source frame of its moment, in exact real time', () => {
    let shots = 0;
    check(arbitraryLog({ cues: true, otherRates: true }), (log) => {
      const [list] = listsOf(log);
      if (list === undefined) return;
      const onAir = frameByFrame(log);
      // Counted from the `start` row, else from zero.
      const zero = log.origin === 'timecode' ? 0 : (log.events.find(({ action }) => action === 'start')?.at ?? 0);
      for (const shot of list.shots) {
        const source = log.sources.find(({ id }) => id === shot.source);
        if (source === undefined) continue;
        const moment = BigInt((onAir[shot.in]?.at ?? NaN) - zero);
        const [a, b] = [list.count.rate, source.count.rate];
        const [num, den] = [moment * BigInt(a.den) * BigInt(b.num), BigInt(a.num) * BigInt(b.den)];
        const nearest = Number((2n * num + den) / (2n * den));
        const exact = nearest + (source.starts[0] ?? 0) + source.offset;
        // Before label zero lies the day before, but not in a recording that begins with the log.
        expect(exact < 0 && log.origin === 'timecode' ? shot.sourceIn > 0 : shot.sourceIn === exact).toBe(true);
        const length = shot.out - shot.in;
        expect(shot.sourceOut - shot.sourceIn).toBe(a.nominal === b.nominal ? length : convertFrames(length, a, b));
        shots += 1;
      }
    });
    expect(shots).toBeGreaterThan(RUNS);
  });

  it('has the sound that a frame-by-frame reading of the log gives, in sync', () => {
    let frames = 0;
    check(arbitraryLog({ cues: true, ends: true, sound: true }), (log) => {
      const [list] = listsOf(log);
      if (list === undefined) return;
      const expected = frameByFrame(log).map(({ sound, source }) => (sound === 'follow' ? source : sound === 'none' ? BLACK : sound));
      const heard = expected.map(() => BLACK);
      for (const piece of list.audio) {
        heard.fill(piece.source, piece.in, piece.out);
        const source = log.sources.find(({ id }) => id === piece.source);
        if (source === undefined) continue;
        const shot = list.shots.find(({ out }) => out > piece.in);
        const take = list.takes[piece.take];
        const moment = (take?.logIn ?? NaN) + piece.in - (take?.in ?? NaN);
        const start = log.origin === 'timecode' ? 0 : (source.starts[0] ?? 0) - (take?.counterIn ?? NaN);
        if (moment + start + source.offset >= 0) expect(piece.sourceIn).toBe(moment + start + source.offset);
        // A piece is cut with the picture only where it has the picture's points.
        if (piece.withPicture) expect([piece.in, piece.out]).toEqual([shot?.in, shot?.out]);
        frames += piece.out - piece.in;
      }
      expect(heard).toEqual(expected);
    });
    expect(frames).toBeGreaterThan(RUNS);
  });

  it('covers [0, frames) and sums up', () => {
    let lists = 0;
    check(arbitraryLog({ cues: true, ends: true, markers: true, otherRates: true }), (log) => {
      const [list] = listsOf(log, { audio: { from: 'follow' } });
      if (list === undefined) return;
      expect(list.shots.reduce((sum, shot) => sum + shot.out - shot.in, 0)).toBe(list.frames);
      expect(list.takes.reduce((sum, take) => sum + take.out - take.in, 0)).toBe(list.frames);
      expect(list.audio.length === 0 ? list.frames : list.audio.reduce((sum, piece) => sum + piece.out - piece.in, 0)).toBeLessThanOrEqual(list.frames);
      lists += 1;
    });
    expect(lists).toBeGreaterThan(RUNS / 2);
  });
});

describe('laws', () => {
  it('cues that nobody takes change nothing', () => {
    check(fc.tuple(arbitraryLog(), fc.array(fc.tuple(fc.nat(), fc.constantFrom('1', '2', '3', BLACK)), { maxLength: 5 })), ([log, cues]) => {
      const events = [...log.events];
      for (const [where, source] of cues) {
        const index = where % (events.length + 1);
        const at = events[index]?.at ?? events.at(-1)?.at ?? 0;
        events.splice(index, 0, { number: 1, action: 'cue', at, source, line: 1, column: 1 });
      }
      expect(listsOf({ ...log, events })[0]?.shots.map(plain)).toEqual(listsOf(log)[0]?.shots.map(plain));
    });
  });

  it('a switch to what is on air changes nothing, wherever it stands', () => {
    let switched = 0;
    check(fc.tuple(arbitraryLog(), fc.nat(), fc.constantFrom<'cut' | 'dissolve'>('cut', 'dissolve')), ([log, where, action]) => {
      const onAir = frameByFrame(log);
      const place = onAir[where % Math.max(1, onAir.length)];
      const taken = new Set(log.events.map(({ at }) => at));
      // On a frame of its own, after something is known of program.
      const known = log.events.some((event) => event.at < (place?.at ?? 0) && ['cut', 'dissolve', 'wipe'].includes(event.action));
      if (place === undefined || taken.has(place.at) || !known) return;
      const index = log.events.findIndex((event) => event.at > place.at);
      const events = [...log.events];
      events.splice(index < 0 ? events.length : index, 0, { number: 1, action, at: place.at, source: place.source, line: 1, column: 1, ...(action === 'cut' ? {} : { duration: 7 }) });
      expect(listsOf({ ...log, events })[0]?.shots.map(plain)).toEqual(listsOf(log)[0]?.shots.map(plain));
      switched += 1;
    });
    expect(switched).toBeGreaterThan(RUNS / 3);
  });

  it('the order of rows on different frames does not matter', () => {
    check(fc.tuple(arbitraryLog({ cues: true, ends: true, markers: true, origins: ['timecode'] }), fc.infiniteStream(fc.nat())), ([log, dice]) => {
      // Rows on one frame stay together, in their order.
      const frames = [...new Set(log.events.map(({ at }) => at))].map((at) => ({ at, key: dice.next().value }));
      const events = frames.sort((a, b) => a.key - b.key).flatMap(({ at }) => log.events.filter((event) => event.at === at));
      expect(listsOf({ ...log, events })).toEqual(listsOf(log));
    });
  });

  it('joined, with gaps and separate agree shot for shot', () => {
    let lists = 0;
    check(arbitraryLog({ cues: true, ends: true, markers: true, otherRates: true }), (log) => {
      const [joined] = listsOf(log, { audio: { from: '1' } });
      const [gaps] = listsOf(log, { audio: { from: '1' }, takes: 'gaps' });
      const separate = listsOf(log, { audio: { from: '1' }, takes: 'separate' });
      if (joined === undefined || gaps === undefined) {
        expect(separate).toEqual([]);
        return;
      }
      const perTake = (list: CutList, index: number) => {
        const take = list.takes[index];
        const shift = take?.in ?? 0;
        // Where a take begins with a mix from black, it needs that the list shows black before it: the points are the same even so.
        const mixless = ({ transition, ...shot }: Shot, nr: number): Shot => (nr === 0 || transition === undefined ? shot : { ...shot, transition });
        const moved = <T extends { in: number; out: number }>(piece: T) => ({ ...piece, in: piece.in - shift, out: piece.out - shift, take: 0 });
        return {
          shots: list.shots.filter((shot) => shot.take === index && shot.in < (take?.out ?? 0)).map(moved).map(mixless),
          audio: list.audio.filter((piece) => piece.take === index).map(moved),
        };
      };
      expect(separate).toHaveLength(joined.takes.length);
      separate.forEach((list, index) => {
        expect(perTake(joined, index)).toEqual(perTake(list, 0));
        expect(perTake(gaps, index)).toEqual(perTake(list, 0));
      });
      expect(joined.frames).toBe(separate.reduce((sum, { frames }) => sum + frames, 0));
      const [first, last] = [gaps.takes[0], gaps.takes.at(-1)];
      expect(gaps.frames).toBe((last?.logIn ?? 0) + (last?.out ?? 0) - (last?.in ?? 0) - (first?.logIn ?? 0));
      expect(joined.markers.map(({ note }) => note)).toEqual(gaps.markers.map(({ note }) => note));
      lists += 1;
    });
    expect(lists).toBeGreaterThan(RUNS / 2);
  });

  it('--dissolve-at moves boundaries only, and leaves each shot a frame', () => {
    check(fc.tuple(arbitraryLog({ ends: true }), fc.constantFrom<'center' | 'end'>('center', 'end')), ([log, dissolveAt]) => {
      const [moved] = listsOf(log, { dissolveAt });
      const [start] = listsOf(log);
      const still = (list: CutList | undefined) => list?.shots.map((shot) => ({ ...shot, transition: shot.transition && { ...shot.transition, inOffset: 0 } }));
      expect(still(moved)).toEqual(still(start));
      const boundaries = (moved?.shots ?? []).map((shot) => shot.in + (shot.transition?.inOffset ?? 0));
      boundaries.forEach((boundary, index) => {
        expect(boundary).toBeLessThan(boundaries[index + 1] ?? moved?.frames ?? 0);
      });
    });
  });

  it('--cuts-only keeps every point', () => {
    check(arbitraryLog({ ends: true }), (log) => {
      const [mixed] = listsOf(log);
      const cuts = mixed === undefined ? undefined : adjustList(mixed, { cutsOnly: true }, () => undefined);
      expect(cuts?.shots.every(({ transition }) => transition === undefined)).toBe(mixed === undefined ? undefined : true);
      expect(cuts?.shots.map((shot) => ({ ...plain(shot), transition: undefined }))).toEqual(mixed?.shots.map((shot) => ({ ...plain(shot), transition: undefined })));
    });
  });
});

