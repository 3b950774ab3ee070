/** Clock times as text: ISO 8601, or a format that is given. What they mean on a line of time is `zone.ts`. */
import { fault, isFault, type Fault } from '../problems.js';
import { shorten } from '../visible.js';
import { luxon } from './luxon.js';

/** Nanoseconds of 24 h. */
export const DAY_NS = 86_400_000_000_000;
const SECOND_NS = 1_000_000_000;
const MINUTE_NS = 60 * SECOND_NS;

/** A clock time as it was written: wall-clock digits, and how far they are from UTC where the text says so. */
export interface ClockText {
  /** Days since 1970-01-01; absent when only the time of day was written. */
  readonly day?: number;
  /** Nanoseconds since midnight, 0 ≤ ns < DAY_NS. */
  readonly ns: number;
  /** Nanoseconds east of UTC. */
  readonly offset?: number;
}

export type ClockReader = (text: string) => ClockText | Fault;

const ISO = /^(?:(\d{4})-?(\d{2})-?(\d{2})[Tt ])?[Tt]?(\d{2}|\d(?=:))(?::?(\d{2})(?::?(\d{2})(?:[.,](\d+)|:(\d{3,}))?)?)\s*(Z|z|[+-]\d{2}(?::?\d{2})?)?$/;

/**
 * Reads ISO 8601 calendar date-times and times of day, extended (`2026-03-29T10:04:11.200+01:00`) or basic
 * (`20260329T100411Z`), a blank for `T`, fractions of a second behind `.` or `,` to nine digits; also milliseconds
 * behind a third `:`. Faults: `bad-time`.
 */
export function readIsoClock(text: string): ClockText | Fault {
  const parts = ISO.exec(text);
  if (parts === null) {
    return fault('bad-time', `'${text.slice(0, 40)}' is not a clock time; expected 10:04:11.200 or 2026-03-29T10:04:11.200, or its form as clockFormat in a mapping`);
  }
  const [, year, month, date, hours = '', minutes = '', seconds = '0', fraction, thousandths, offset] = parts;
  const time = timeOfDay(text, Number(hours), Number(minutes), Number(seconds), fraction ?? thousandths ?? '');
  if (isFault(time)) return time;
  const read: { day?: number; ns: number; offset?: number } = { ns: time };
  if (year !== undefined) {
    const day = dayOf(Number(year), Number(month), Number(date));
    if (day === undefined) return fault('bad-time', `${shorten(text)} has a date that does not exist`);
    read.day = day;
  }
  if (offset !== undefined) {
    const east = offsetOf(offset);
    if (east === undefined) return fault('bad-time', `${shorten(text)} has the offset ${offset}; offsets go from -18:00 to +18:00`);
    read.offset = east;
  }
  return read;
}

function timeOfDay(text: string, hours: number, minutes: number, seconds: number, fraction: string): number | Fault {
  if (hours > 23 || minutes > 59 || seconds > 59) return fault('bad-time', `${shorten(text)} is not a time of day; times go from 00:00:00 to 23:59:59`);
  if (fraction.length > 9) return fault('bad-time', `${shorten(text)} has more than nine digits of a second`);
  return ((hours * 60 + minutes) * 60 + seconds) * SECOND_NS + Number(fraction.padEnd(9, '0'));
}

function dayOf(year: number, month: number, date: number): number | undefined {
  const at = Date.UTC(year, month - 1, date);
  const back = new Date(at);
  return year >= 1000 && back.getUTCMonth() === month - 1 && back.getUTCDate() === date ? at / 86_400_000 : undefined;
}

function offsetOf(text: string): number | undefined {
  if (text === 'Z' || text === 'z') return 0;
  const minutes = Number(text.slice(1, 3)) * 60 + Number(text.slice(3).replace(':', ''));
  if (minutes > 18 * 60 || Number(text.slice(3).replace(':', '')) > 59) return undefined;
  return (text.startsWith('-') ? -minutes : minutes) * MINUTE_NS;
}

/**
 * A reader of times in `format` (luxon's tokens: `dd.MM.yyyy HH:mm:ss.SSS`, `u` for a fraction of any length), after
 * `loadClock`. A format has a whole date or none. Faults of the format: `bad-map`; of a text: `bad-time`.
 */
export function clockInFormat(format: string): ClockReader | Fault {
  const { DateTime } = luxon();
  const bare = format.replace(/'[^']*'/g, '');
  const dated = /[yGkoWLMdcEDfF]/.test(bare);
  if (dated && !/[ykDfF]/.test(bare)) return fault('bad-map', `clockFormat '${format}' has a date without a year; give the whole date, or the time of day only`);
  if (!/[HhtTfF]/.test(bare)) return fault('bad-map', `clockFormat '${format}' has no hours; expected letters such as HH:mm:ss.SSS`);
  const zoned = /[zZ]/.test(bare);
  const finer = finerDigits(bare);
  const parser = DateTime.buildFormatParser(format);
  return (text) => {
    const read = DateTime.fromFormatParser(text, parser, { zone: 'utc', setZone: true });
    if (!read.isValid) return fault('bad-time', `'${text.slice(0, 40)}' is not a time in the form '${format}'`);
    const milliseconds = String(read.millisecond).padStart(3, '0');
    const ns = timeOfDay(text, read.hour, read.minute, read.second, milliseconds + finer(text, milliseconds));
    if (isFault(ns)) return ns;
    const time: { day?: number; ns: number; offset?: number } = { ns };
    if (dated) time.day = Date.UTC(read.year, read.month - 1, read.day) / 86_400_000;
    if (zoned) time.offset = read.offset * MINUTE_NS;
    return time;
  };
}

/** Digits of a second beyond the third, which luxon cuts off: those of the `.u` in a text whose dots stand as the format's do. */
function finerDigits(format: string): (text: string, milliseconds: string) => string {
  const inFormat = format.match(/[.,][A-Za-z]+/g) ?? [];
  const place = inFormat.findIndex((token) => token.slice(1) === 'u');
  if (place === -1) return () => '';
  return (text, milliseconds) => {
    const inText = text.match(/[.,]\d+/g) ?? [];
    const digits = inText[place]?.slice(1) ?? '';
    return inText.length === inFormat.length && digits.length > 3 && digits.startsWith(milliseconds) ? digits.slice(3) : '';
  };
}
