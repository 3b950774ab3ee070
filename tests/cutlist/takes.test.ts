import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LogEvent } from '../../src/cutlist/event.js';
import type { CutList } from '../../src/cutlist/model.js';
import { build, rows, said, shown } from './rows.js';

const RUNS = Number(process.env.LINECUT_RUNS ?? 150);

describe('a take that nothing starts, and the next one on the frame of its stop', () => {
  const made = (log: string): string[] => {
    const { lists, problems } = build(rows(log));
    return [...lists.map(shown), ...said(problems)];
  };
  it('are two takes', () => {
    expect(made('0 cut 1 | 5 cut 2 | 10 stop | 10 start | 10 cut 1 | 20 stop | 90 start | 90 cut 2 | 95 stop')).toEqual(['1 0-5, 2 5-10, 1 10-20, 2 20-25', 'missing-start 3']);
    expect(made('0 cut 1 | 10 stop | 10 start | 15 cut 2 | 20 stop')).toEqual(['1 0-10, 1 10-15, 2 15-20', 'missing-start 2']);
    expect(made('0 start | 0 cut 3 | 5 stop | 7 cut 1 | 10 stop | 10 start | 20 stop')).toEqual(['3 0-5, 1 5-8, 1 8-18', 'missing-start 5']);
  });
  it('are two takes whichever of the two rows was written first', () => {
    expect(made('0 cut 1 | 10 start | 10 cut 2 | 10 stop | 20 stop')).toEqual(['1 0-10, 2 10-20', 'missing-start 4']);
    expect(made('0 cut 1 | 10 start | 10 start | 10 stop | 20 stop')).toEqual(['1 0-10, 1 10-20', 'missing-start 4', 'stray-row 3']);
  });
  it('are takes where the machine writes each start before the stop', () => {
    expect(made('0 cut 1 | 5 start | 5 stop | 5 cut 2 | 8 start | 8 stop | 8 cut 3 | 10 stop')).toEqual(['1 0-5, 2 5-8, 3 8-10', 'missing-start 3']);
    expect(made('0 start | 0 cut 1 | 5 start | 5 stop | 5 cut 2 | 8 start | 8 stop | 8 cut 3 | 10 stop')).toEqual(['1 0-5, 2 5-8, 3 8-10']);
  });
  it('are not ended by a second stop before the start', () => {
    for (const start of ['0 start | ', '']) {
      const expected = start === '' ? ['missing-start 2', 'stray-row 3'] : ['stray-row 4'];
      expect(made(`${start}0 cut 1 | 5 stop | 5 stop | 5 start | 5 cut 2 | 10 stop`)).toEqual(['1 0-5, 2 5-10', ...expected]);
    }
    expect(made('5 stop | 5 start | 5 cut 2 | 10 stop')).toEqual(['2 0-5', 'stray-row 1']);
  });
  it('leave a take that stops on the frame on which it started what it is', () => {
    expect(made('0 start | 0 cut 1 | 10 stop | 12 cut 2 | 15 start | 15 stop | 20 start | 30 stop')).toEqual(['1 0-10, 2 10-20', 'stray-row 6', 'outside-take 4']);
    expect(made('0 cut 1 | 10 start | 10 stop | 10 stop | 20 start | 30 stop')).toEqual(['1 0-10, 1 10-20', 'missing-start 3', 'stray-row 4']);
  });
});

interface RandomTake {
  readonly frames: number;
  readonly rows: readonly { readonly at: number; readonly source: string; readonly mix: number }[];
}

/** Takes that begin with a cut on their first frame. */
const takes: fc.Arbitrary<RandomTake[]> = fc.array(
  fc.record({
    frames: fc.integer({ min: 1, max: 40 }),
    first: fc.constantFrom('1', '2', '3'),
    rows: fc.array(fc.record({ at: fc.nat({ max: 39 }), source: fc.constantFrom('1', '2', '3', 'black'), mix: fc.constantFrom(0, 0, 4) }), { maxLength: 6 }),
  }).map(({ frames, first, rows: more }) => ({
    frames,
    rows: [{ at: 0, source: first, mix: 0 }, ...more.filter(({ at }) => at < frames).sort((a, b) => a.at - b.at)],
  })),
  { minLength: 2, maxLength: 4 },
);

/** Takes one after the other, `apart` frames between them, the first one with its `start` or without. */
function logOf(given: readonly RandomTake[], base: number, apart: number, isStarted: boolean): LogEvent[] {
  const events: LogEvent[] = [];
  const push = (at: number, action: LogEvent['action'], more: Partial<LogEvent> = {}): void => {
    const number = events.length + 1;
    events.push({ number, action, at, line: number, column: 1, ...more });
  };
  let at = base;
  given.forEach(({ frames, rows: switches }, index) => {
    if (index > 0 || isStarted) push(at, 'start');
    for (const { at: after, source, mix } of switches) push(at + after, mix === 0 ? 'cut' : 'dissolve', { source, ...(mix === 0 ? {} : { duration: mix }) });
    at += frames;
    push(at, 'stop');
    at += apart;
  });
  return events;
}

/** A list without what depends on where in the log its takes lie, `apart` frames further on each. */
const moved = (list: CutList | undefined, apart: number): unknown => list && {
  ...list,
  takes: list.takes.map(({ recordingIn, ...take }, index) => ({
    ...take,
    logIn: take.logIn - apart * index,
    ...(recordingIn === undefined ? {} : { recordingIn: recordingIn - apart * index }),
  })),
  shots: list.shots.map(({ event, ...shot }) => ({
    ...shot,
    ...(event === undefined ? {} : { action: event.action }),
    ...(shot.source === 'black' ? {} : { sourceIn: shot.sourceIn - apart * shot.take, sourceOut: shot.sourceOut - apart * shot.take }),
  })),
};

describe('takes that meet on a frame', () => {
  const law = (check: (given: readonly RandomTake[], origin: 'timecode' | 'recording') => void): void => {
    fc.assert(fc.property(takes, fc.constantFrom('timecode', 'recording'), check), { numRuns: RUNS });
  };
  // A recording without a `start` begins with the count.
  const baseOf = (origin: 'timecode' | 'recording'): number => (origin === 'timecode' ? 1000 : 0);

  it('give the same list with the first start row and without', () => {
    law((given, origin) => {
      const started = build(logOf(given, baseOf(origin), 0, true), { origin });
      const unstarted = build(logOf(given, baseOf(origin), 0, false), { origin });
      expect(moved(unstarted.lists[0], 0)).toEqual(moved(started.lists[0], 0));
      expect(started.lists[0]?.takes).toHaveLength(given.length);
      expect(unstarted.problems.filter(({ code }) => code === 'missing-start')).toHaveLength(1);
      const others = unstarted.problems.filter(({ code }) => code !== 'missing-start').map(({ code }) => code);
      expect(others).toEqual(started.problems.map(({ code }) => code));
    });
  });

  it('give the same list whichever of stop and start is written first, and however often a stop is', () => {
    fc.assert(fc.property(takes, fc.nat({ max: 50 }), fc.boolean(), fc.constantFrom('swapped', 'doubled'), (given, base, isStarted, how) => {
      const log = logOf(given, base, 0, isStarted);
      const changed = log.flatMap((event, index) => {
        const [before, next] = [log[index - 1], log[index + 1]];
        if (event.action === 'stop') return how === 'doubled' ? [event, event] : next?.action === 'start' ? [next] : [event];
        return how === 'swapped' && event.action === 'start' && before?.action === 'stop' ? [before] : [event];
      }).map((event, index) => ({ ...event, number: index + 1, line: index + 1 }));
      expect(build(changed).lists.map(shown)).toEqual(build(log).lists.map(shown));
    }), { numRuns: RUNS });
  });

  it('give the same list as with a frame between them, but for that frame', () => {
    law((given, origin) => {
      for (const isStarted of [true, false]) {
        const [meeting] = build(logOf(given, baseOf(origin), 0, isStarted), { origin }).lists;
        const [apart] = build(logOf(given, baseOf(origin), 1, isStarted), { origin }).lists;
        expect(moved(meeting, 0)).toEqual(moved(apart, 1));
      }
    });
  });
});
