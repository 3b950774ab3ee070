/** Any show, logged in any way, gives the same events: every rate, every kind of time, every form. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
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

const essences = ({ reading }: Read): string[] | undefined => reading?.events.map((event) => essence(event, reading.events[0]?.at ?? NaN));

describe('random shows in random dialects', () => {
  it('give the events of the show', () => {
    const seen = new Map<string, number>();
    fc.assert(fc.property(arbitraryShow, arbitraryDialect, (show, choice) => {
      const got = readDialect(choice, show);
      expect(got.loud.filter((line) => line.includes('error'))).toEqual([]);
      expect(essences(got)).toEqual(expected(show));
      for (const key of [choice.time, choice.form, show.count.rate.name]) seen.set(key, (seen.get(key) ?? 0) + 1);
    }), { numRuns: RUNS });
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
