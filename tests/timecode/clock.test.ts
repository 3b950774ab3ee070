import { beforeAll, describe, expect, it } from 'vitest';
import { isFault, type Fault } from '../../src/problems.js';
import { clockInFormat, readIsoClock, type ClockText } from '../../src/timecode/clock.js';
import { loadClock } from '../../src/timecode/luxon.js';
import { ClockLine, zoneOf, type Zone } from '../../src/timecode/zone.js';
import { wallClock } from '../support/wall-clock.js';

beforeAll(async () => {
  await loadClock({ zone: 'UTC' });
});

const H = 3_600_000_000_000;
const MIN = 60_000_000_000;
const S = 1_000_000_000;

function read(text: string): ClockText {
  const clock = readIsoClock(text);
  if (isFault(clock)) throw new Error(clock.message);
  return clock;
}

function zone(name: string): Zone {
  const found = zoneOf(name);
  if (isFault(found)) throw new Error(found.message);
  return found;
}

const textOf = (value: number | Fault): number | string => (isFault(value) ? value.message : value);

describe('ISO 8601 texts', () => {
  it.each([
    ['10:04:11', { ns: 10 * H + 4 * MIN + 11 * S }],
    ['10:04', { ns: 10 * H + 4 * MIN }],
    ['9:04:11.2', { ns: 9 * H + 4 * MIN + 11.2 * S }],
    ['10:04:11.200417', { ns: 10 * H + 4 * MIN + 11 * S + 200_417_000 }],
    ['10:04:11,200', { ns: 10 * H + 4 * MIN + 11 * S + 200_000_000 }],
    ['10:04:11:200', { ns: 10 * H + 4 * MIN + 11 * S + 200_000_000 }],
    ['10:04:11.123456789', { ns: 10 * H + 4 * MIN + 11 * S + 123_456_789 }],
    ['1970-01-02T00:00:00Z', { day: 1, ns: 0, offset: 0 }],
    ['2026-03-29T10:04:11.200+01:00', { day: 20_541, ns: 10 * H + 4 * MIN + 11.2 * S, offset: H }],
    ['2026-03-29 10:04:11-0530', { day: 20_541, ns: 10 * H + 4 * MIN + 11 * S, offset: -5.5 * H }],
    ['20260329T100411Z', { day: 20_541, ns: 10 * H + 4 * MIN + 11 * S, offset: 0 }],
    ['T10:04:11', { ns: 10 * H + 4 * MIN + 11 * S }],
  ] as const)('reads %s', (text, expected) => {
    expect(readIsoClock(text)).toEqual(expected);
  });

  it('counts days as the platform does', () => {
    for (const text of ['1999-12-31', '2000-02-29', '2024-02-29', '2026-11-01', '2100-03-01']) {
      expect(read(`${text}T00:00:00`).day).toBe(Date.parse(`${text}T00:00:00Z`) / 86_400_000);
    }
  });

  it.each([
    ['24:00:00', 'not a time of day'],
    ['10:60:00', 'not a time of day'],
    ['10:00:60', 'not a time of day'],
    ['2026-02-29T10:00:00', 'a date that does not exist'],
    ['2026-13-01T10:00:00', 'a date that does not exist'],
    ['2026-00-10T10:00:00', 'a date that does not exist'],
    ['10:00:00.1234567891', 'more than nine digits'],
    ['10:00:00+19:00', 'offsets go from'],
    ['10:00:00+01:75', 'offsets go from'],
    ['29.03.2026 10:00:00', 'clockFormat'],
    ['', 'clockFormat'],
    ['noon', 'clockFormat'],
  ])('refuses %s', (text, message) => {
    const clock = readIsoClock(text);
    expect(isFault(clock) ? clock.message : '').toContain(message);
  });
});

describe('texts in a format', () => {
  it.each([
    ['dd.MM.yyyy HH:mm:ss.SSS', '29.03.2026 10:04:11.200', { day: 20_541, ns: 10 * H + 4 * MIN + 11.2 * S }],
    ['MM/dd/yyyy h:mm:ss.u a', '03/29/2026 1:04:11.25 PM', { day: 20_541, ns: 13 * H + 4 * MIN + 11.25 * S }],
    ['MM/dd/yyyy h:mm:ss.u a', '03/29/2026 12:00:00.0 AM', { day: 20_541, ns: 0 }],
    ["HH'h'mm'm'ss.u", '10h04m11.200417', { ns: 10 * H + 4 * MIN + 11 * S + 200_417_000 }],
    ['dd.MM.yyyy HH.mm.ss,u', '29.03.2026 10.04.11,1234567', { day: 20_541, ns: 10 * H + 4 * MIN + 11 * S + 123_456_700 }],
    ['d MMM yyyy HH:mm:ss', '1 Jan 1970 00:00:01', { day: 0, ns: S }],
    ["yyyy-MM-dd'T'HH:mm:ss.SSSZZ", '2026-03-29T10:04:11.200+01:00', { day: 20_541, ns: 10 * H + 4 * MIN + 11.2 * S, offset: H }],
    ['HH:mm:ss', '23:59:59', { ns: 24 * H - S }],
  ] as const)('reads %s', (format, text, expected) => {
    const reader = clockInFormat(format);
    if (isFault(reader)) throw new Error(reader.message);
    expect(reader(text)).toEqual(expected);
  });

  it('refuses texts in another form', () => {
    const reader = clockInFormat('dd.MM.yyyy HH:mm:ss');
    if (isFault(reader)) throw new Error(reader.message);
    for (const text of ['2026-03-29 10:00:00', '31.02.2026 10:00:00', '29.03.2026 25:00:00', '']) {
      const read = reader(text);
      expect(isFault(read) ? read.fault : read).toBe('bad-time');
    }
  });

  it.each([
    ['dd.MM. HH:mm:ss', 'a date without a year'],
    ['dd.MM.yyyy', 'has no hours'],
    ["'HH'", 'has no hours'],
  ])('refuses the format %s', (format, message) => {
    const reader = clockInFormat(format);
    expect(isFault(reader) ? `${reader.fault}: ${reader.message}` : '').toContain(message);
    expect(isFault(reader) ? reader.fault : '').toBe('bad-map');
  });
});

/** Places of the rows after the first, in seconds from it. */
function line(texts: readonly string[], where?: string): (number | string)[] {
  const clock = new ClockLine(where === undefined ? undefined : zone(where));
  const places = texts.map((text) => clock.next(read(text)));
  const [first] = places;
  return places.map((place) => (typeof place === 'number' && typeof first === 'number' ? (place - first) / S : String(textOf(place))));
}

describe('clock times on one line', () => {
  it('lets a show run over midnight, with and without dates', () => {
    expect(line(['23:59:58', '00:00:02', '23:59:59', '11:59:58'])).toEqual([0, 4, 1, 12 * 3600]);
    expect(line(['2026-03-01T23:59:58', '2026-03-02T00:00:02'])).toEqual([0, 4]);
    expect(line(['2026-03-01T23:59:58', '00:00:02'])).toEqual([0, 4]);
  });

  it('reads times without zone as UTC, and offsets where they are written', () => {
    expect(line(['2026-03-29T10:00:00Z', '2026-03-29T12:00:01+02:00', '2026-03-29T10:00:02'])).toEqual([0, 1, 2]);
    expect(line(['10:00:00+00:00', '12:00:01+02:00', '00:00:02-10:00'])).toEqual([0, 1, 2]);
  });

  it('does not depend on the zone of the machine', () => {
    // vitest runs in the machine's zone; a night that changes clocks in most of Europe is as long as any here.
    expect(line(['2026-03-29T00:30:00', '2026-03-29T03:30:00'])).toEqual([0, 3 * 3600]);
  });

  it('refuses a date in a log of times without', () => {
    expect(line(['10:00:00', '2026-03-29T10:00:00'])[1]).toContain('give every row a date, or none');
  });

  it('takes a time of day that belongs to a row as the one nearest to it', () => {
    const clock = new ClockLine(zone('Europe/Lisbon'));
    const row = clock.next(read('2026-06-01T23:59:58'));
    const end = clock.near(read('00:00:01'), typeof row === 'number' ? row : NaN);
    expect(typeof row === 'number' && typeof end === 'number' ? end - row : end).toBe(3 * S);
  });
});

// Directive 2000/84/EC, articles 2 and 3: summer time begins on the last Sunday in March at 1 a.m. UTC and ends on the last
// Sunday in October at 1 a.m. UTC. United States: Energy Policy Act of 2005, section 110 (15 U.S.C. 260a): second Sunday in
// March to first Sunday in November, each at 2 a.m. local time.
describe('summer time', () => {
  const lastSunday = (year: number, month: number): string => {
    const last = new Date(Date.UTC(year, month, 0));
    last.setUTCDate(last.getUTCDate() - last.getUTCDay());
    return last.toISOString().slice(0, 10);
  };
  const sunday = (year: number, month: number, nth: number): string => {
    const first = new Date(Date.UTC(year, month - 1, 1));
    first.setUTCDate(1 + ((7 - first.getUTCDay()) % 7) + 7 * (nth - 1));
    return first.toISOString().slice(0, 10);
  };

  it.each([2019, 2022, 2025, 2026])('begins and ends in the Union by the directive, in %s', (year) => {
    const [march, october] = [lastSunday(year, 3), lastSunday(year, 10)];
    // Lisbon is on UTC in winter, Berlin an hour before it.
    expect(line([`${march}T00:59:59`, `${march}T02:00:00`], 'Europe/Lisbon')).toEqual([0, 1]);
    expect(line([`${march}T01:59:59`, `${march}T03:00:00`], 'Europe/Berlin')).toEqual([0, 1]);
    expect(line([`${march}T01:00:00`], 'Europe/Lisbon')[0]).toContain('does not exist on that day in Europe/Lisbon: the clocks go forward by 60 minutes');
    expect(line([`${march}T02:30:00`], 'Europe/Berlin')[0]).toContain('does not exist');
    // 01:59:59 summer time, and a second later it is 01:00:00 again.
    expect(line([`${october}T01:59:59`, `${october}T01:00:00`, `${october}T01:59:59`, `${october}T02:00:00`], 'Europe/Lisbon')).toEqual([0, 1, 3600, 3601]);
    expect(line([`${october}T02:59:59`, `${october}T02:00:00`, `${october}T03:00:00`], 'Europe/Berlin')).toEqual([0, 1, 3601]);
  });

  it.each([2019, 2024, 2026])('begins and ends in the United States by the act, in %s', (year) => {
    const [march, november] = [sunday(year, 3, 2), sunday(year, 11, 1)];
    expect(line([`${march}T01:59:59`, `${march}T03:00:00`], 'America/New_York')).toEqual([0, 1]);
    expect(line([`${march}T02:00:00`], 'America/New_York')[0]).toContain('does not exist');
    expect(line([`${november}T01:59:59`, `${november}T01:00:00`, `${november}T02:00:00`], 'America/New_York')).toEqual([0, 1, 3601]);
  });

  it('counts how often it chose between two passes', () => {
    const clock = new ClockLine(zone('Europe/Lisbon'));
    for (const text of ['00:59:00', '01:10:00', '01:50:00', '01:20:00', '01:30:00', '02:00:00']) clock.next(read(`2025-10-26T${text}`));
    expect(clock.passes).toEqual({ first: 2, second: 2 });
  });

  it('knows zones that move by half an hour', () => {
    // Lord Howe Island, New South Wales: 30 minutes, first Sunday in April (Standard Time Act 1987 No 149, NSW).
    expect(line(['2026-04-05T01:59:59', '2026-04-05T01:30:00'], 'Australia/Lord_Howe')).toEqual([0, 1]);
  });

  it('refuses what is no zone', () => {
    const wrong = zoneOf('Europe/Atlantis');
    expect(isFault(wrong) ? `${wrong.fault}: ${wrong.message}` : '').toContain('bad-map');
  });
});

describe('clock arithmetic against the platform', () => {
  it.each([
    ['Europe/Lisbon', '2026-03-29T00:00:00Z'],
    ['Europe/Lisbon', '2026-10-24T23:30:00Z'],
    ['Europe/Berlin', '2026-10-24T22:00:00Z'],
    ['America/New_York', '2026-03-08T05:00:00Z'],
    ['America/New_York', '2026-11-01T04:00:00Z'],
    ['Australia/Lord_Howe', '2026-04-04T13:30:00Z'],
    ['Asia/Kathmandu', '2026-05-01T00:00:00Z'],
  ])('moves nothing in %s from %s on', (where, from) => {
    const text = wallClock(where);
    const start = Date.parse(from);
    const clock = new ClockLine(zone(where));
    let first = NaN;
    let wrong = 0;
    let rows = 0;
    // Every 1.337 s for three hours and a half, over the change of that night.
    for (let ms = 0; ms < 3.5 * 3_600_000; ms += 1337) {
      const place = clock.next(read(text(start + ms)));
      if (typeof place !== 'number') {
        wrong += 1;
        continue;
      }
      if (rows === 0) first = place;
      if (place - first !== ms * 1_000_000) wrong += 1;
      rows += 1;
    }
    expect(wrong).toBe(0);
    expect(rows).toBe(9425);
  });
});
