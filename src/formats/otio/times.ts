/** Times of an OpenTimelineIO document as frames of the list's rate. */
import { rateNear, type Rate } from '../../timecode/rate.js';
import { below, isMembers, objectAt, type At, type Document } from './document.js';

/** A `RationalTime.1` as it stands; `rate` is the one of ST 12-1 that its rate means, where it means one. */
export interface Time {
  readonly value: number;
  readonly perSecond: number;
  readonly rate: Rate | undefined;
}

/** Times further away than this many units are no times of a show. */
const FARTHEST = 1e12;

const NEAR = new Map<number, Rate | undefined>();

/** `rateNear`, with an answer once found kept: a file has few rates. */
function nearest(perSecond: number): Rate | undefined {
  const known = NEAR.get(perSecond);
  if (known !== undefined || NEAR.has(perSecond)) return known;
  const rate = rateNear(perSecond);
  if (NEAR.size < 100) NEAR.set(perSecond, rate);
  return rate;
}

/** The time in member `key`; undefined where it is null or not there, or, reported (`bad-otio`), makes no sense. */
export function timeAt(document: Document, at: At, key: string): Time | undefined {
  const given = at.members[key];
  if (given === undefined || given === null) return undefined;
  if (!isMembers(given)) {
    document.add('bad-otio', at.where, `${key} is not a RationalTime`);
    return undefined;
  }
  const { value, rate } = given;
  if (typeof value !== 'number' || !(Math.abs(value) <= FARTHEST) || typeof rate !== 'number' || !(rate > 0 && rate <= 1e7)) {
    document.add('bad-otio', below(at.where, key), 'a time needs a number as value and one above zero as rate');
    return undefined;
  }
  return { value, perSecond: rate, rate: nearest(rate) };
}

/** In frames of `rate`, not rounded: the same real time, as the double nearest to it. */
export function inFrames({ value, perSecond, rate: own }: Time, rate: Rate): number {
  return own === rate ? value : converted(value, own ?? fractionOf(perSecond), rate);
}

/** A rate that is none of ST 12-1, as sound has: as a whole number, a thousand times that over 1001, or as it is. */
function fractionOf(perSecond: number): Pick<Rate, 'num' | 'den'> {
  if (Number.isInteger(perSecond)) return { num: perSecond, den: 1 };
  const num = Math.round((perSecond * 1001) / 1000) * 1000;
  return num > 0 && Math.abs(num / 1001 / perSecond - 1) < 1e-9 ? { num, den: 1001 } : { num: perSecond, den: 1 };
}

function converted(value: number, from: Pick<Rate, 'num' | 'den'>, to: Rate): number {
  if (value === 0) return 0;
  const [mul, div] = [from.den * to.num, from.num * to.den];
  const product = value * mul;
  if (!Number.isInteger(value) || !Number.isInteger(div) || Number.isSafeInteger(product)) return product / div;
  // Whole frames and the rest of them apart, so that neither is rounded before it is divided.
  const frames = BigInt(value) * BigInt(mul);
  return Number(frames / BigInt(div)) + Number(frames % BigInt(div)) / div;
}

export interface Range {
  readonly start: Time;
  readonly duration: Time;
}

/** The `TimeRange.1` in member `key`; undefined where it is null or not there, or makes no sense (reported). */
export function rangeAt(document: Document, at: At, key: string): Range | undefined {
  const given = objectAt(at, key);
  if (given === undefined) {
    if (at.members[key] !== undefined && at.members[key] !== null) document.add('bad-otio', at.where, `${key} is not a TimeRange`);
    return undefined;
  }
  const start = timeAt(document, given, 'start_time');
  const duration = timeAt(document, given, 'duration');
  if (duration === undefined) {
    if (given.members['duration'] === undefined || given.members['duration'] === null) document.add('bad-otio', given.where, 'a TimeRange has no duration');
    return undefined;
  }
  if (duration.value < 0) {
    document.add('bad-otio', given.where, `a TimeRange has the duration ${String(duration.value)}`);
    return undefined;
  }
  return { start: start ?? { value: 0, perSecond: duration.perSecond, rate: duration.rate }, duration };
}
