import { fault, type Fault } from '../problems.js';
import { scale, type Rounding } from './exact.js';

/**
 * A frame rate of SMPTE ST 12-1: exactly `num / den` frames a second. `nominal` is how many labels a second
 * of timecode counts (30 for 29.97).
 */
export interface Rate {
  readonly name: string;
  readonly num: number;
  readonly den: number;
  readonly nominal: number;
  /** Labels that drop-frame skips at the start of each minute but the tenth: 2 at 29.97, 4 at 59.94, 0 where there is no drop-frame. */
  readonly dropped: number;
}

/** How frames are labelled: a rate, and whether labels are dropped to keep up with the clock. */
export interface Count {
  readonly rate: Rate;
  readonly dropFrame: boolean;
}

/** A rate as somebody wrote it: `dropFrame` is undefined when neither `df` nor `ndf` was said. */
export interface RateSpec {
  readonly rate: Rate;
  readonly dropFrame: boolean | undefined;
}

const exact = (name: string, num: number, den: number, dropped = 0): Rate => ({ name, num, den, nominal: Math.ceil(num / den), dropped });

/** The ten rates, slowest first. */
export const RATES: readonly Rate[] = [
  exact('23.976', 24000, 1001),
  exact('24', 24, 1),
  exact('25', 25, 1),
  exact('29.97', 30000, 1001, 2),
  exact('30', 30, 1),
  exact('47.952', 48000, 1001),
  exact('48', 48, 1),
  exact('50', 50, 1),
  exact('59.94', 60000, 1001, 4),
  exact('60', 60, 1),
];

/** Common short and long spellings, beside the names themselves. */
const SPELLINGS: Readonly<Record<string, string>> = {
  '23.98': '23.976',
  '23.97602': '23.976',
  '29.970': '29.97',
  '29.97003': '29.97',
  '47.95': '47.952',
  '47.96': '47.952',
  '59.940': '59.94',
  '59.94006': '59.94',
};

const BY_NAME = new Map(RATES.map((rate) => [rate.name, rate]));
const RATE_LIST = '23.976, 24, 25, 29.97, 29.97df, 30, 47.952, 48, 50, 59.94, 59.94df, 60';
const INTERLACED: Readonly<Record<string, string>> = { '50i': '25', '59.94i': '29.97', '60i': '29.97 or 30' };

/** Drop-frame counting exists where labels would run away from the clock by whole minutes: 29.97 and 59.94 (ST 12-1). */
export const hasDropFrame = (rate: Rate): boolean => rate.dropped > 0;

/** The rate of exactly `num / den` frames a second (any common multiple), or undefined. */
export function rateOf(num: number, den: number): Rate | undefined {
  return den > 0 ? RATES.find((rate) => rate.num * den === num * rate.den) : undefined;
}

/** The rate with `nominal` labels a second whose exact value is nearest to `fps`, within 0.05 %, or undefined. */
export function rateNear(fps: number): Rate | undefined {
  return RATES.find((rate) => Math.abs((fps * rate.den) / rate.num - 1) < 0.0005);
}

/**
 * Reads a rate: a name (`29.97`), a short spelling (`23.98`), an exact fraction (`30000/1001`), each with
 * `df` or `ndf` behind it where wanted. Faults: `bad-rate`.
 */
export function parseRate(text: string): RateSpec | Fault {
  const given = text.trim().toLowerCase();
  const interlaced = INTERLACED[given];
  if (interlaced !== undefined) return fault('bad-rate', `'${text}' counts fields; the frame rate is ${interlaced}`);
  const parts = /^(\d+(?:\.\d+)?)(?:\/(\d+))?\s*(df|ndf)?$/.exec(given);
  if (parts === null) return unknownRate(text);
  const [, first = '', den, suffix] = parts;
  const rate = den === undefined ? rateNamed(first) : rateOf(Number(first), Number(den));
  if (rate === undefined) return unknownRate(text);
  if (suffix === 'df' && !hasDropFrame(rate)) {
    return fault('bad-rate', `there is no drop-frame at ${rate.name}; it exists for 29.97 and 59.94 only`);
  }
  return { rate, dropFrame: suffix === undefined ? undefined : suffix === 'df' };
}

function rateNamed(text: string): Rate | undefined {
  return BY_NAME.get(SPELLINGS[text] ?? text) ?? BY_NAME.get(text.replace(/\.0+$/, ''));
}

function unknownRate(text: string): Fault {
  return fault('bad-rate', `unknown rate '${text}'; expected one of ${RATE_LIST}`);
}

/**
 * How many frames of `list` a label is that counts at `labels`: one at the same rate, two at half of it (frame pairs, ST 12-1);
 * undefined at any other.
 */
export function framesPerLabel(labels: Rate, list: Rate): 1 | 2 | undefined {
  const [one, other] = [labels.num * list.den, list.num * labels.den];
  return one === other ? 1 : one * 2 === other ? 2 : undefined;
}

/** What to say when no rate was given at all. */
export const noRate = (): Fault => fault('bad-rate', `no rate was given; say --rate with one of ${RATE_LIST}`);

/** The count as people write it: `29.97df`, `29.97`, `25`. */
export const countName = ({ rate, dropFrame }: Count): string => (dropFrame ? `${rate.name}df` : rate.name);

/** A rate so that reading it back gives the same: `29.97df`, `29.97ndf`, `29.97` where the count was not said, `25`. */
export const rateText = ({ rate, dropFrame }: RateSpec): string =>
  dropFrame === false && hasDropFrame(rate) ? `${rate.name}ndf` : countName({ rate, dropFrame: dropFrame ?? false });

/** Real time of `frames` at `rate` in seconds, as exact fraction `num / den`: frames × den / num (ST 12-1). */
export const secondsOf = (frames: number, rate: Rate): { readonly num: number; readonly den: number } => ({
  num: frames * rate.den,
  den: rate.num,
});

/** The same as a plain number: for what is said and drawn only, never for a frame. */
export function realSeconds(frames: number, rate: Rate): number {
  const { num, den } = secondsOf(frames, rate);
  return num / den;
}

/** Real time of `frames` at `rate` in whole units (1000 for milliseconds, 1e9 for nanoseconds), rounded as asked. */
export const unitsOf = (frames: number, rate: Rate, unitsPerSecond: number, rounding: Rounding = 'nearest'): number =>
  scaleBig(frames, rate.den, unitsPerSecond, rate.num, rounding);

function scaleBig(frames: number, den: number, units: number, num: number, rounding: Rounding): number {
  const mul = den * units;
  return Number.isSafeInteger(mul) ? scale(frames, mul, num, rounding) : scale(frames * den, units, num, rounding);
}

/** The frame of `to` at the same real time as frame `frames` of `from`, rounded as asked. */
export function convertFrames(frames: number, from: Rate, to: Rate, rounding: Rounding = 'nearest'): number {
  return from === to ? frames : scale(frames, from.den * to.num, from.num * to.den, rounding);
}
