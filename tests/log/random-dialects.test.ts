/** Any show, logged in any way, gives the same events: every rate, every kind of time, every form. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildCutLists } from '../../src/cutlist/build.js';
import type { LogEvent } from '../../src/cutlist/event.js';
import type { LogReading } from '../../src/log/reading.js';
import { plainSources } from '../../src/show/sources.js';
import { loadClock } from '../../src/timecode/luxon.js';
import { arbitraryDialect, arbitraryShow, TIME_FORMS, writeDialect, type DialectChoice, type RandomShow } from '../support/dialects.js';
import { essence, read, type Read } from '../support/logs.js';

beforeAll(async () => {
  await loadClock({ zone: 'UTC' });
});

const RUNS = Number(process.env['LINECUT_DIALECTS'] ?? 600);

const expected = ({ rows }: RandomShow): string[] =>
  rows.map(({ at, action, source, duration, end, wipe, note }) => JSON.stringify([at, action, source, duration ?? (end === undefined ? undefined : end - at), wipe, note]));

function readDialect(choice: DialectChoice, show: RandomShow): Read {
  const { log, map } = writeDialect(choice, show);
  const { rate, dropFrame } = show.count;
  return read(log, { rate: `${rate.name}${dropFrame ? 'df' : ''}`, map });
}

/** The cut lists of events, but for where in the log's own counting their takes lie. Recordings begin with the log. */
function lists(events: readonly LogEvent[], origin: 'timecode' | 'recording', named: LogReading['sources'], { count, start }: RandomShow): object[] {
  const sources = plainSources(named, count).map((source) => ({ ...source, starts: [start] }));
  const endAt = Math.max(...events.map(({ at }) => at)) + 50;
  return buildCutLists(events, sources, { title: 'x', count, recordStart: 0, origin, endAt, audio: { from: 'follow' }, file: 'log' }, () => undefined)
    .map((list) => ({ ...list, takes: list.takes.map((take) => [take.in, take.out]) }));
}

/** The show as events, made without any log. */
const eventsOf = ({ rows, start }: RandomShow): LogEvent[] =>
  rows.map(({ at, end, ...row }, index) => ({ ...row, action: row.action as LogEvent['action'], at: start + at, ...(end === undefined ? {} : { end: start + end }), number: index + 1, line: 1, column: 1 }));

const essences = ({ reading }: Read): string[] | undefined => reading?.events.map((event) => essence(event, reading.events[0]?.at ?? NaN));

describe('random shows in random dialects', () => {
  it('give the events and the cut list of the show', () => {
    const seen = new Map<string, number>();
    let listed = 0;
    fc.assert(fc.property(arbitraryShow, arbitraryDialect, (show, choice) => {
      const got = readDialect(choice, show);
      expect(got.loud.filter((line) => line.includes('error'))).toEqual([]);
      expect(essences(got)).toEqual(expected(show));
      const { events = [], origin = 'timecode', sources = [] } = got.reading ?? {};
      const made = lists(events, origin, sources, show);
      expect(made).toEqual(lists(eventsOf(show), 'timecode', sources, show));
      listed += made.length;
      for (const key of [choice.time, choice.form, show.count.rate.name]) seen.set(key, (seen.get(key) ?? 0) + 1);
    }), { numRuns: RUNS });
    // Some shows switch without a source and without a cue: these give no list.
    expect(listed).toBeGreaterThan(RUNS / 4);
    // Every kind of time, form and rate had its turn.
    for (const form of [...TIME_FORMS, 'csv', 'own', 'ownChildren', 'foreign']) expect([form, (seen.get(form) ?? 0) > 0]).toEqual([form, true]);
    expect(seen.size).toBe(TIME_FORMS.length + 4 + 10);
  });

  it('give them again with the mapping that was found', () => {
    fc.assert(fc.property(arbitraryShow, arbitraryDialect, (show, choice) => {
      const first = readDialect(choice, show);
      const { log } = writeDialect(choice, show);
      const { rate, dropFrame } = show.count;
      const again = read(log, { rate: `${rate.name}${dropFrame ? 'df' : ''}`, ...(first.reading === undefined ? {} : { map: first.reading.map }) });
      expect(again.reading?.events).toEqual(first.reading?.events);
    }), { numRuns: RUNS / 4 });
  });
});
