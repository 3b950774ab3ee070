/** Times of a log as frames: one reader a kind of time. Exact on the digits; only here are they rounded. */
import { fault, isFault, type Fault } from '../problems.js';
import { nearestRepeat } from '../timecode/day.js';
import { parseDecimal, roundFraction, scale, type Rounding } from '../timecode/exact.js';
import type { Count, Rate } from '../timecode/rate.js';
import { framesPerDay, hasDropMark, parseTimecode } from '../timecode/timecode.js';
import { otherKind, shapeOf, undotted } from './kinds.js';
import type { TimeKind } from './mapping.js';
import { plainNumber, type DecimalSign } from './numbers.js';

/**
 * Reads the times of one log, in its order. A place is a whole number on the log's line of time, later is greater:
 * frames, but for clock times, whose place is in nanoseconds until `frameOf` is known.
 */
export interface TimeReader {
  readonly kind: TimeKind;
  /** The place of a row's time. Faults: `bad-time`, `dropped-label`, `mixed-times`. */
  readonly next: (text: string, line: number) => number | Fault;
  /** Takes the time of a row that means nothing for the list: it only says where the next one is near. One that cannot be read is nothing. */
  readonly passOver: (text: string) => void;
  /** The place of a time that belongs to the one at `beside`: a row's `end`, the end of the log. */
  readonly near: (text: string, beside: number, line: number) => number | Fault;
}

/** How far times were moved to whole frames. */
export class Moved {
  /** The largest distance, in frames; 0 when all lay on frames. */
  largest = 0;
  line = 0;
  readonly rounding: Rounding;

  constructor(rounding: Rounding) {
    this.rounding = rounding;
  }

  /** `value × mul / div` as a frame, remembering how far it moved. */
  frame(value: number, mul: number, div: number, line: number): number {
    const frame = scale(value, mul, div, this.rounding);
    const product = value * mul;
    const back = frame * div;
    if (Number.isSafeInteger(product) && Number.isSafeInteger(back)) this.#note(Math.abs(back - product) / div, line);
    else this.noteExact(BigInt(frame) * BigInt(div) - BigInt(value) * BigInt(mul), BigInt(div), line);
    return frame;
  }

  /** A distance of `rest / den` frames. */
  noteExact(rest: bigint, den: bigint, line: number): void {
    const millionths = Number(((rest < 0n ? -rest : rest) * 1_000_000n) / den);
    // Less than a millionth of a frame is a move all the same.
    if (rest !== 0n) this.#note(Math.max(millionths, 0.1) / 1e6, line);
  }

  #note(distance: number, line: number): void {
    if (distance <= this.largest) return;
    this.largest = distance;
    this.line = line;
  }
}

/** How a log's labels are marked, and where both marks were first seen. */
export interface Marks {
  drop: number;
  plain: number;
  mixedLine?: number;
}

/**
 * Labels: each belongs to the day that brings it nearest the row before. `perLabel` is 2 where labels count frame pairs. Where the
 * times were said to be timecode (`isSaid`), `HH:MM:SS.FF` is read as `HH:MM:SS:FF`; else it looks like a clock time.
 */
export class TimecodeReader implements TimeReader {
  readonly kind = 'timecode';
  readonly marks: Marks = { drop: 0, plain: 0 };
  /** The first line with a '.' before the frames. */
  dottedLine: number | undefined;
  readonly #count: Count;
  readonly #perLabel: number;
  readonly #isSaid: boolean;
  readonly #day: number;
  readonly #dropDay: number;
  #last = NaN;

  constructor(count: Count, perLabel: 1 | 2, isSaid: boolean) {
    this.#count = count;
    this.#perLabel = perLabel;
    this.#isSaid = isSaid;
    this.#day = framesPerDay(count) * perLabel;
    this.#dropDay = framesPerDay({ rate: count.rate, dropFrame: true }) * perLabel;
  }

  next(text: string, line: number): number | Fault {
    const frame = this.near(text, this.#last, line);
    if (typeof frame === 'number') this.#last = frame;
    return frame;
  }

  near(text: string, beside: number, line: number): number | Fault {
    const label = this.#label(text);
    if (typeof label !== 'number') return shapeOf(text) === 'timecode' ? label : otherKind(text, this.kind, label, this.#isSaid);
    const drop = hasDropMark(text);
    if (drop) this.marks.drop += 1;
    else this.marks.plain += 1;
    if (this.marks.drop === 1 || this.marks.plain === 1) this.#watch(line);
    if (this.#isSaid && this.dottedLine === undefined && text.includes('.')) this.dottedLine = line;
    return this.#onDay(label, drop, beside);
  }

  passOver(text: string): void {
    const label = this.#label(text);
    if (typeof label === 'number') this.#last = this.#onDay(label, hasDropMark(text), this.#last);
  }

  #label(text: string): number | Fault {
    return parseTimecode(this.#isSaid ? undotted(text) : text, this.#count);
  }

  #onDay(label: number, drop: boolean, beside: number): number {
    const frame = label * this.#perLabel;
    return Number.isNaN(beside) ? frame : nearestRepeat(frame, drop ? this.#dropDay : this.#day, beside);
  }

  #watch(line: number): void {
    if (this.marks.drop > 0 && this.marks.plain > 0) this.marks.mixedLine ??= line;
  }
}

/** Numbers counted from the first frame of the recording, in units of 1/`perSecond` s, or frames where that is undefined. */
export class NumberReader implements TimeReader {
  readonly kind: 'frames' | 'seconds' | 'milliseconds';
  readonly #rate: Rate;
  readonly #sign: DecimalSign | undefined;
  readonly #moved: Moved;
  /** Frames are whole numbers × mul / div; div also takes a power of ten for the decimals. */
  readonly #mul: number;
  readonly #div: number;
  readonly #wholeOnly: boolean;
  /** A point is the decimal sign, and nothing else. */
  readonly #isPoint: boolean;
  readonly #signed: boolean;
  readonly #isSaid: boolean;

  /**
   * With `wholeOnly`, decimals are a `mixed-times` fault: the log was taken for frames by the look of its first rows. With `signed`, rows
   * may lie before the first frame of the recording. `isSaid`: somebody said that the times are of this kind.
   */
  constructor(kind: 'frames' | 'seconds' | 'milliseconds', rate: Rate, moved: Moved, sign: DecimalSign | undefined, wholeOnly: boolean, signed: boolean, isSaid: boolean) {
    this.kind = kind;
    this.#rate = rate;
    this.#sign = sign;
    this.#moved = moved;
    this.#mul = kind === 'frames' ? 1 : rate.num;
    this.#div = kind === 'frames' ? 1 : rate.den * (kind === 'seconds' ? 1 : 1000);
    this.#wholeOnly = wholeOnly;
    this.#isPoint = !wholeOnly && sign === '.';
    this.#signed = signed;
    this.#isSaid = isSaid;
  }

  next(text: string, line: number): number | Fault {
    const point = this.#isPoint ? text.indexOf('.') : -1;
    const digits = digitsOf(text, point);
    if (digits >= 0) {
      const tens = point === -1 ? 1 : (TENS[text.length - 1 - point] ?? 1);
      const frame = this.#mul === 1 && tens === 1 ? digits : this.#moved.frame(digits, this.#mul, this.#div * tens, line);
      return frame > LONGEST ? this.#tooLong(text) : frame;
    }
    const plain = plainNumber(text, this.#sign);
    if (isFault(plain)) return shapeOf(text) === 'number' ? plain : otherKind(text, this.kind, fault('bad-time', `'${text.slice(0, 40)}' is not a number of ${this.kind}`), this.#isSaid);
    return this.#decimal(text, plain, line);
  }

  near(text: string, _beside: number, line: number): number | Fault {
    return this.next(text, line);
  }

  passOver(): void {
    // Numbers say themselves how far they are from the beginning.
  }

  #decimal(text: string, plain: string, line: number): number | Fault {
    if (this.#wholeOnly && plain.includes('.')) {
      return fault('mixed-times', `${text} has decimals, and the times before are whole numbers, taken for frames; say --time-as seconds or frames`);
    }
    const value = parseDecimal(plain);
    if (value === undefined) return fault('bad-time', `'${text.slice(0, 40)}' is not a number of ${this.kind}`);
    if (value.num < 0n && !this.#signed) return fault('bad-time', `${text} lies before the first frame of the recording; expected zero or more ${this.kind}`);
    const exact = { num: value.num * BigInt(this.#mul), den: value.den * BigInt(this.#div) };
    const frame = roundFraction(exact, this.#moved.rounding);
    if (frame > BigInt(LONGEST) || frame < -BigInt(LONGEST)) return this.#tooLong(text);
    this.#moved.noteExact(frame * exact.den - exact.num, exact.den, line);
    return Number(frame);
  }

  #tooLong(text: string): Fault {
    return fault('bad-time', `${text.slice(0, 40)} ${this.kind} is longer than any recording at ${this.#rate.name}`);
  }
}

/** Frames beyond which a time is taken for a mistake: five centuries at 60. */
const LONGEST = 1_000_000_000_000;

const TENS: readonly number[] = [1, 10, 100, 1000, 10_000, 100_000, 1_000_000];

/**
 * The digits of a number as one whole number, straight from the character codes, but for its point at `point` (-1: none): the usual
 * case. At most thirteen of them, and six behind the point; −1 for anything else, which is read the slow way.
 */
function digitsOf(text: string, point: number): number {
  const { length } = text;
  if (length === 0 || length > 13 || (point !== -1 && (length - 1 - point >= TENS.length || length === 1))) return -1;
  let value = 0;
  for (let index = 0; index < length; index += 1) {
    if (index === point) continue;
    const digit = text.charCodeAt(index) - 48;
    if (digit < 0 || digit > 9) return -1;
    value = value * 10 + digit;
  }
  return value;
}
