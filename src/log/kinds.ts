/** What kind of time a log has: by the unit in its column's name, else by the look of its times. */
import { fault, type Fault } from '../problems.js';
import { commonSign, looksNumeric, plainNumber, type DecimalSign } from './numbers.js';
import type { TimeKind } from './mapping.js';

/** How a time looks. */
export type Shape = 'timecode' | 'clock' | 'number';

const TIMECODE = /^\d{1,2}[:;,]\d{2}[:;,]\d{2}[:;,]\d{2}$/;
const CLOCK = /^(?:\d{4}-\d{2}-\d{2}[Tt ]|\d{8}[Tt])?[Tt]?\d{1,2}:\d{2}(?::\d{2}(?:\.\d+|,\d|,\d{3,}|:\d{3,})?)?\s*(?:[Zz]|[+-]\d{2}(?::?\d{2})?)?$|^\d{8}[Tt]\d{4,6}/;

/**
 * The shape of a time: `HH:MM:SS` and a mark and two digits is timecode; with `.`, three digits or a date it is a clock
 * time; else a number. Undefined when it is none of these.
 */
export function shapeOf(text: string): Shape | undefined {
  if (TIMECODE.test(text)) return 'timecode';
  if (looksNumeric(text)) return 'number';
  return CLOCK.test(text) ? 'clock' : undefined;
}

const DOTTED = /^\d{1,2}:\d{2}:\d{2}\.\d{2}$/;

/** `HH:MM:SS.FF` as `HH:MM:SS:FF`: the mark does not say whether the label is drop-frame. Any other text as it is. */
export const undotted = (text: string): string => (DOTTED.test(text) ? `${text.slice(0, -3)}:${text.slice(-2)}` : text);

const MINUTES = /^\d\d?:\d\d[.,]\d+$/;

/**
 * What to say of a time that is not of the log's kind: where it looks like another, the log is a mixture, unless the kind was said;
 * then this time is wrong. Else `other`.
 */
export function otherKind(text: string, kind: TimeKind, other: Fault, isSaid: boolean): Fault {
  const shape = shapeOf(text);
  // A clock has hours: no clockFormat helps here.
  if (MINUTES.test(text) && shape === undefined) return fault(other.fault, `'${text.slice(0, 40)}' has minutes and seconds, and no hours; write it with hours (00:${text.slice(0, 40).replace(',', '.')}), or in seconds alone`);
  if (shape === undefined && kind === 'timecode' && /\d[:.h]\d\d/.test(text)) {
    return fault(other.fault, `${other.message}; clock times in a form of their own need clockFormat in a mapping`);
  }
  if (kind === 'timecode' && /^\d\d?:\d\d:\d\d$/.test(text)) return fault(isSaid ? other.fault : 'mixed-times', `'${text}' has no frames, in a log of timecode; mend the row: expected HH:MM:SS:FF, such as ${text}:00`);
  const same = shape === undefined || shape === kind || (shape === 'number' && kind !== 'timecode' && kind !== 'clock');
  if (same) return other;
  const looks = `looks like ${shape === 'number' ? 'a number' : `a ${shape === 'clock' ? 'clock time' : 'timecode'}`}`;
  if (isSaid) return fault(other.fault, `${other.message}; it ${looks}, and the times were said to be ${KIND_NAMES[kind]}`);
  return fault('mixed-times', `'${text.slice(0, 40)}' ${looks} in a log of ${KIND_NAMES[kind]}; say the kind with --time-as`);
}

/** Kinds of time in the plural, for messages. */
export const KIND_NAMES: Readonly<Record<TimeKind, string>> = {
  timecode: 'timecode', frames: 'frames', seconds: 'seconds', milliseconds: 'milliseconds', clock: 'clock times',
};

const UNITS: Readonly<Record<string, TimeKind>> = {
  frames: 'frames', frame: 'frames',
  seconds: 'seconds', second: 'seconds', secs: 'seconds', sec: 'seconds', s: 'seconds',
  milliseconds: 'milliseconds', millisecond: 'milliseconds', millis: 'milliseconds', msec: 'milliseconds', ms: 'milliseconds',
};

/** The unit that a column's name, or the last part of a path, holds: `time_ms`, `Time (s)`, `at/@frames`. */
export function unitOf(name: string): TimeKind | undefined {
  const last = name.slice(name.lastIndexOf('/') + 1).replace(/([a-z])([A-Z])/g, '$1 $2');
  const words = last.toLowerCase().split(/[^a-z]+/).filter((word) => word !== '');
  return words.map((word, index) => (word === 's' && index !== words.length - 1 ? undefined : Object.hasOwn(UNITS, word) ? UNITS[word] : undefined))
    .find((unit) => unit !== undefined);
}

export interface FoundKind {
  readonly kind: TimeKind;
  /** The time that shows it, for the note: `10:04:11;20`. */
  readonly because: string;
  readonly sign: DecimalSign | undefined;
}

/**
 * The kind of a log's first times. Whole numbers are frames; as soon as one has decimals, all are seconds. Undefined when none of
 * them looks like a time. `told`: the kind, where it is known; of frames and milliseconds thousands are likelier than thousandths.
 */
export function findKind(times: readonly string[], given: DecimalSign | undefined, told?: TimeKind): FoundKind | undefined {
  const first = times.find((text) => shapeOf(text) !== undefined);
  if (first === undefined) return undefined;
  const shape = shapeOf(first);
  if (shape === 'timecode' || shape === 'clock') return { kind: shape, because: first, sign: given ?? '.' };
  const numbers = times.filter(looksNumeric);
  const sign = given ?? commonSign(numbers, told === 'frames' || told === 'milliseconds');
  const fraction = numbers.find((text) => String(plainNumber(text, sign)).includes('.'));
  return { kind: fraction === undefined ? 'frames' : 'seconds', because: fraction ?? first, sign };
}
