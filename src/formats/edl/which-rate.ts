/** Which rate a list is at: an EDL does not say, and its labels seldom do. */
import { isFault, problem, type Report } from '../../problems.js';
import { countName, hasDropFrame, noRate, parseRate, rateOf, type Count, type Rate, type RateSpec } from '../../timecode/rate.js';
import { hasDropMark } from '../../timecode/timecode.js';
import { readFcm } from './columns.js';
import { fieldColumn, readFields } from './tokens.js';

export interface RateFound {
  /** How the list is written. */
  readonly count: Count;
  /** How its record labels are to be read: they begin again at zero after 24 h of it. */
  readonly labels: Count;
  /** A label without drop-frame mark is drop-frame all the same: the FCM line says so, else the rate given. */
  readonly plainDrops: boolean;
  /** What the first FCM line before the first event says. */
  readonly fcm?: boolean;
}

/** What the lines say before they are read: a pass that stops at the first event where the rate is known. */
interface Signs {
  fcm?: boolean;
  /** The first event's record in-point has a drop-frame mark. */
  firstMark?: boolean;
  /** The list's own `* RATE:`, and its line. */
  rate?: string;
  rateLine?: number;
  /** Some record label has a drop-frame mark. */
  marks: boolean;
  /** The highest frame number of the record labels. */
  frames: number;
  /** Where the first label with a drop-frame mark stands. */
  mark?: { readonly line: number; readonly column: number; readonly label: string };
}

const RATE_COMMENT = /^\*\s*RATE:\s*(\S+)\s*$/i;

/**
 * The list's count: `rate` if given, else the list's own `* RATE:` comment, else, for labels in drop-frame, 29.97df when no frame
 * number passes 29 and 59.94df when one does (drop-frame exists nowhere else); the last two with a note. Otherwise `bad-rate`.
 * Whether labels are written in drop-frame: the rate if it says so, else the FCM line, else the first record label.
 */
export function whichRate(lines: readonly string[], file: string, rate: RateSpec | undefined, report: Report): RateFound | undefined {
  const signs = readSigns(lines);
  const spec = rate ?? ownRate(signs, file, report) ?? dropRate(signs, file, report);
  if (spec === undefined) {
    const frames = signs.frames > 0 ? `the labels do not tell (frames go up to ${String(signs.frames)}): ` : '';
    report(problem('bad-rate', `${frames}${noRate().message}`, { file }));
    return undefined;
  }
  if (signs.mark !== undefined && !hasDropFrame(spec.rate)) {
    const { line, column, label } = signs.mark;
    report(problem('bad-rate', `${label} is a drop-frame label, and there is no drop-frame at ${spec.rate.name}; give the list's own rate with --rate`, { file, line, column }));
    return undefined;
  }
  const dropFrame = hasDropFrame(spec.rate) && (spec.dropFrame ?? signs.fcm ?? signs.firstMark ?? false);
  const plainDrops = hasDropFrame(spec.rate) && (signs.fcm ?? spec.dropFrame ?? false);
  const labels = { rate: spec.rate, dropFrame: signs.firstMark === true || plainDrops };
  return { count: { rate: spec.rate, dropFrame }, labels, plainDrops, ...(signs.fcm === undefined ? {} : { fcm: signs.fcm }) };
}

function readSigns(lines: readonly string[]): Signs {
  const signs: Signs = { marks: false, frames: 0 };
  for (let index = 0; index < lines.length; index += 1) {
    const line = lines[index] as string;
    const head = line.trimStart();
    const code = head.charCodeAt(0);
    if (code === 42) {
      const own = signs.rate === undefined ? RATE_COMMENT.exec(head)?.[1] : undefined;
      if (own !== undefined) Object.assign(signs, { rate: own, rateLine: index + 1 });
    } else if (signs.firstMark === undefined && signs.fcm === undefined && /^FCM\b/i.test(head)) {
      const fcm = readFcm(head.slice(3).replace(/^[\s:]+/, ''));
      if (fcm !== undefined) signs.fcm = fcm;
    } else if (code >= 48 && code <= 57) {
      const fields = readFields(line);
      if (isFault(fields)) continue;
      const record = fields.labels[2] ?? '';
      signs.firstMark ??= hasDropMark(record);
      for (const label of fields.labels.slice(2)) {
        signs.frames = Math.max(signs.frames, Number(label.slice(-2)));
        if (!hasDropMark(label)) continue;
        signs.marks = true;
        signs.mark ??= { line: index + 1, column: fieldColumn(line, label === record ? 'record-in' : 'record-out'), label };
      }
    }
  }
  return signs;
}

function ownRate({ rate, rateLine }: Signs, file: string, report: Report): RateSpec | undefined {
  if (rate === undefined) return undefined;
  const place = { file, ...(rateLine === undefined ? {} : { line: rateLine, column: 1 }) };
  const spec = parseRate(rate);
  if (isFault(spec)) return undefined; // somebody else's comment
  const dropFrame = spec.dropFrame ?? false;
  report(problem('found', `the list says its rate: ${countName({ rate: spec.rate, dropFrame })}`, place));
  return { rate: spec.rate, dropFrame };
}

function dropRate({ marks, fcm, frames }: Signs, file: string, report: Report): RateSpec | undefined {
  if (!marks && fcm !== true) return undefined;
  const rate = rateOf(frames < 30 ? 30000 : 60000, 1001) as Rate;
  const why = frames < 30 ? 'labels are drop-frame and no frame number passes 29' : `labels are drop-frame and frame numbers go up to ${String(frames)}`;
  report(problem('found', `rate ${rate.name}df: ${why}; say --rate if it is another`, { file }));
  return { rate, dropFrame: true };
}
