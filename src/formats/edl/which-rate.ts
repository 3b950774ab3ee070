/** Which rate a list is at: an EDL does not say, and its labels seldom do. */
import { isFault, problem, type Report } from '../../problems.js';
import { countName, hasDropFrame, noRate, rateOf, type Count, type Rate, type RateSpec } from '../../timecode/rate.js';
import { countOf, hasDropMark, parseCount } from '../../timecode/timecode.js';
import { readFcm } from './columns.js';
import type { EdlPart } from './document.js';
import { fieldColumn, linesOf, readFields } from './tokens.js';

/** What is known of the rate beforehand: as `--rate` gives it, and what all parts of a divided list say. */
interface RateOptions {
  readonly file: string;
  readonly rate?: RateSpec;
  readonly signs?: RateSigns;
}

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

/** A list's own `* RATE:`, non-drop where it does not say, and where it stands. */
interface OwnRate {
  readonly count: Count;
  readonly file: string;
  readonly line: number;
}

/** What the record labels show. */
interface RecordLabels {
  /** They are drop-frame, or the FCM line says so. */
  readonly marks: boolean;
  /** The highest frame number. */
  readonly frames: number;
}

/** What the parts of a divided list say of its rate together: the first `* RATE:` of any, and only where there is none, all labels. */
export interface RateSigns {
  readonly own?: OwnRate;
  readonly labels?: RecordLabels;
}

/** What the lines up to the second event say. */
interface Signs {
  fcm?: boolean;
  /** The first event's record in-point has a drop-frame mark. */
  firstMark?: boolean;
  own?: OwnRate;
}

const RATE_COMMENT = /^\*\s*RATE:\s*(\S+)\s*$/i;

/**
 * The list's count: `rate` if given, else the list's own `* RATE:` comment, else, for labels in drop-frame, 29.97df when no frame
 * number passes 29 and 59.94df when one does (drop-frame exists nowhere else); the last two with a note. Otherwise `bad-rate`.
 * A part of a divided list is at the rate of the whole: `signs` are those of all parts, and a comment that contradicts them is `bad-rate`.
 * Whether labels are written in drop-frame: the rate if it says so, else the FCM line, else the first record label.
 */
export function whichRate(lines: readonly string[], { file, rate, signs: whole }: RateOptions, report: Report): RateFound | undefined {
  const signs = readSigns(lines, file);
  if (rate === undefined && contradicts(signs.own, whole?.own, report)) return undefined;
  const spec = rate ?? ownCount(signs.own ?? whole?.own, file, report) ?? dropRate(whole?.labels ?? recordLabels(lines, signs), file, report);
  if (spec === undefined) return undefined;
  const mark = hasDropFrame(spec.rate) ? undefined : firstDropMark(lines);
  if (mark !== undefined) {
    const { line, column, label } = mark;
    report(problem('bad-rate', `${label} is a drop-frame label, and there is no drop-frame at ${spec.rate.name}; give the list's own rate with --rate`, { file, line, column }));
    return undefined;
  }
  const count = countOf(spec.rate, spec.dropFrame ?? signs.fcm ?? signs.firstMark ?? false);
  const plainDrops = hasDropFrame(spec.rate) && (signs.fcm ?? spec.dropFrame ?? false);
  const labels = countOf(spec.rate, signs.firstMark === true || plainDrops);
  return { count, labels, plainDrops, ...(signs.fcm === undefined ? {} : { fcm: signs.fcm }) };
}

/** What the parts of a divided list, in order, say of its rate. */
export function rateSigns(parts: readonly EdlPart[]): RateSigns {
  let [marks, frames] = [false, 0];
  for (const { file, text } of parts) {
    const lines = linesOf(text);
    const signs = readSigns(lines, file);
    if (signs.own !== undefined) return { own: signs.own };
    const labels = recordLabels(lines, signs);
    marks ||= labels.marks;
    frames = Math.max(frames, labels.frames);
  }
  return { labels: { marks, frames } };
}

const isEventLine = (line: string): boolean => /^\s*\d/.test(line);

/** The writer's own comments stand behind the first event, for some readers refuse any before it. */
function readSigns(lines: readonly string[], file: string): Signs {
  const signs: Signs = {};
  let number: string | undefined;
  for (const [index, line] of lines.entries()) {
    const head = line.trimStart();
    if (isEventLine(head)) {
      const fields = readFields(line);
      const own = /^\d+/.exec(head)?.[0];
      if (number !== undefined && own !== number) return signs;
      if (!isFault(fields)) signs.firstMark ??= hasDropMark(fields.labels[2] ?? '');
      number = own;
    } else if (head.startsWith('*')) {
      const count = signs.own === undefined ? parseCount(RATE_COMMENT.exec(head)?.[1] ?? '') : undefined;
      // One that is no rate is somebody's comment, and stays before our own when it is written again.
      if (count !== undefined && !isFault(count)) signs.own = { count, file, line: index + 1 };
    } else if (number === undefined && signs.fcm === undefined && /^FCM\b/i.test(head)) {
      const fcm = readFcm(head.slice(3).replace(/^[\s:]+/, ''));
      if (fcm !== undefined) signs.fcm = fcm;
    }
  }
  return signs;
}

/** The first record label with a drop-frame mark, and where it stands. */
function firstDropMark(lines: readonly string[]): { readonly line: number; readonly column: number; readonly label: string } | undefined {
  for (const [index, line] of lines.entries()) {
    if (!isEventLine(line) || !/[;,]\d\d(?:\s|$)/.test(line)) continue;
    const fields = readFields(line);
    if (isFault(fields)) continue;
    const [, , recordIn = '', recordOut = ''] = fields.labels;
    const label = [recordIn, recordOut].find(hasDropMark);
    if (label !== undefined) return { line: index + 1, column: fieldColumn(line, label === recordIn ? 'record-in' : 'record-out'), label };
  }
  return undefined;
}

function contradicts(own: OwnRate | undefined, whole: OwnRate | undefined, report: Report): boolean {
  if (own === undefined || whole === undefined || countName(own.count) === countName(whole.count)) return false;
  const message = `the list says its rate: ${countName(own.count)}; its other part ${whole.file} says ${countName(whole.count)}; give the list's own rate with --rate`;
  report(problem('bad-rate', message, { file: own.file, line: own.line, column: 1 }));
  return true;
}

function ownCount(own: OwnRate | undefined, file: string, report: Report): Count | undefined {
  if (own === undefined) return undefined;
  const name = countName(own.count);
  report(own.file === file ? problem('found', `the list says its rate: ${name}`, { file, line: own.line, column: 1 }) : problem('found', `rate ${name}, as its other part ${own.file} says`, { file }));
  return own.count;
}

function recordLabels(lines: readonly string[], { fcm }: Signs): RecordLabels {
  let [marks, frames] = [fcm === true, 0];
  for (const line of lines) {
    const fields = isEventLine(line) ? readFields(line) : undefined;
    if (fields === undefined || isFault(fields)) continue;
    for (const label of fields.labels.slice(2)) {
      frames = Math.max(frames, Number(label.slice(-2)));
      marks ||= hasDropMark(label);
    }
  }
  return { marks, frames };
}

/** The rate that the record labels show, or undefined, with `bad-rate`, where they show none. */
function dropRate({ marks, frames }: RecordLabels, file: string, report: Report): RateSpec | undefined {
  if (!marks || frames > 59) {
    report(problem('bad-rate', `the labels do not tell the rate (frames go up to ${String(frames)}): ${noRate().message}`, { file }));
    return undefined;
  }
  const rate = rateOf(frames < 30 ? 30000 : 60000, 1001) as Rate;
  const why = frames < 30 ? 'no frame number passes 29' : `frame numbers go up to ${String(frames)}`;
  report(problem('found', `rate ${rate.name}df: labels are drop-frame and ${why}; say --rate if it is another`, { file }));
  return { rate, dropFrame: true };
}
