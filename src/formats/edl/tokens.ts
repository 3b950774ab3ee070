/** One event line taken apart at its white space: columns may be short, tabbed or shifted. */
import { withoutMark } from '../../byte-order-mark.js';
import { fault, type Fault } from '../../problems.js';
import { shorten } from '../../visible.js';
import { readChannels, type Channels } from './columns.js';

/** The lines of a file, with any line ends and without a byte order mark. */
export const linesOf = (text: string): string[] => withoutMark(text).split(/\r\n|\r|\n/);

export interface EventFields {
  readonly number: number;
  readonly reel: string;
  readonly channels: Channels;
  readonly kind: 'cut' | 'dissolve' | 'wipe' | 'key';
  /** As written; 0 where there is none. */
  readonly frames: number;
  readonly wipe?: number;
  /** Source in and out, record in and out, as written. */
  readonly labels: readonly string[];
}

/** A fault at a column of the line, from 1. */
export interface FieldFault extends Fault {
  readonly column: number;
}

/** Longer lines are no event lines: the widest reel column that is used has 128 characters. */
const LONGEST_LINE = 1000;

// Loose: what only looks like a label is refused with its place, not taken for a reel.
const LABEL = /^\d+[:;.,]\d+[:;.,]\d+[:;.,]\d+$/;
const TYPE = /^(C|D|K|KB|KO|W)(\d*)$/i;

const isLabel = (part: string): boolean => part.length >= 7 && LABEL.test(part);

function bad(line: string, index: number, message: string): FieldFault {
  return { ...fault('bad-event', message), column: columnOf(line, index) };
}

/** The fields of an event line, or what is wrong with the first field that is wrong. Faults: `bad-event`. */
export function readFields(line: string): EventFields | FieldFault {
  if (line.length > LONGEST_LINE) return bad(line, 0, `a line of ${String(line.length)} characters is no event; expected 76`);
  const parts = line.trim().split(/\s+/);
  const number = parts[0] ?? '';
  const first = parts.findIndex(isLabel);
  const labels = parts.slice(first, first + 4);
  if (!/^\d{1,9}$/.test(number)) return bad(line, 0, `'${shorten(number)}' is not an event number`);
  if (first < 0) return bad(line, parts.length - 1, 'an event line has four timecodes at its end; none was found');
  const odd = labels.findIndex((label) => !isLabel(label));
  if (odd >= 0) return bad(line, first + odd, `expected a timecode, found '${shorten(labels[odd] ?? '')}'`);
  if (labels.length < 4) return bad(line, parts.length - 1, `an event line has four timecodes; only ${String(labels.length)} found`);
  if (parts.length > first + 4) return bad(line, first + 4, `nothing may follow the four timecodes; found '${shorten(parts[first + 4] ?? '')}'`);

  let at = first - 1;
  let frames = 0;
  if (at > 0 && /^\d{1,4}$/.test(parts[at] ?? '')) frames = Number(parts[at--]);
  let type = (parts[at] ?? '').toUpperCase();
  if (/^[BO]$/.test(type) && /^K$/i.test(parts[at - 1] ?? '')) {
    type = `K${type}`;
    at -= 1;
  }
  const kind = TYPE.exec(type);
  if (kind === null || at < 1) return bad(line, Math.max(0, at), `'${shorten(parts[at] ?? '')}' is not a kind of edit; expected C, D or W with a wipe code`);
  const channels = at < 2 ? undefined : readChannels(parts[at - 1] ?? '');
  if (channels === undefined) return bad(line, Math.max(1, at - 1), `'${shorten(parts[at - 1] ?? '')}' is not a channel code; expected V, A, A2, AA, B, AA/V, A2/V or NONE`);
  const common = { number: Number(number), reel: parts.slice(1, at - 1).join(' '), channels, labels };
  const digits = kind[2] ?? '';
  switch (kind[1]) {
    case 'C':
      return digits === '' ? { ...common, kind: 'cut', frames: 0 } : bad(line, at, `'${type}' is not a kind of edit; a cut has no length`);
    case 'D':
      return { ...common, kind: 'dissolve', frames: digits === '' ? frames : Number(digits) };
    case 'W':
      if (digits.length > 3) return bad(line, at, `'${type}' is not a wipe; its code has three digits`);
      return { ...common, kind: 'wipe', wipe: Number(digits), frames };
    case 'KB':
      return { ...common, kind: 'cut', frames: 0 };
    default:
      return { ...common, kind: 'key', frames };
  }
}

/** A field of an event line. */
export type FieldName = 'number' | 'reel' | 'source-in' | 'source-out' | 'record-in' | 'record-out';

const FROM_FIRST_LABEL: Readonly<Record<Exclude<FieldName, 'number' | 'reel'>, number>> = { 'source-in': 0, 'source-out': 1, 'record-in': 2, 'record-out': 3 };

/** The column, from 1, on which a field of a sound event line begins. */
export function fieldColumn(line: string, field: FieldName): number {
  if (field === 'number') return columnOf(line, 0);
  if (field === 'reel') return columnOf(line, 1);
  const first = line.trim().split(/\s+/).findIndex(isLabel);
  return columnOf(line, first + FROM_FIRST_LABEL[field]);
}

function columnOf(line: string, index: number): number {
  let at = 0;
  for (const part of line.slice(0, LONGEST_LINE).matchAll(/\S+/g)) {
    if (at === index) return part.index + 1;
    at += 1;
  }
  return line.trimEnd().length + 1;
}

/** A path for a message: of a long one the end, which tells it from others. */
export const shortenPath = (path: string): string => (path.length > 80 ? `\u2026${path.slice(-80)}` : path);
