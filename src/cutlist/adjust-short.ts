/** Shots that are too short: a double tap goes to a neighbour. */
import { without } from '../without.js';
import { nearestRepeat } from '../timecode/day.js';
import type { Absorb } from './absorb.js';
import type { IsGap } from './gap.js';
import { BLACK, type Shot } from './model.js';
import type { Follow, Made, Refit } from './shift.js';
import { bounds, fitted, lastOf, type WholeShot } from './whole-shots.js';

/** What is known of the list beyond its shots. */
export interface Around {
  readonly isGap: IsGap;
  readonly follow: Follow;
  readonly refit: Refit;
  /** Whether shots that play from two files may be one: where it is known which frames these hold, so that it can be divided again. */
  readonly isSeam: (left: Shot, right: Shot) => boolean;
  /** Whether the second of two shots is the first going on, where a replacement of one of them, or of both, hides it. */
  readonly runsOn: (left: Made, right: Made) => boolean;
  /** Frames of 24 h of a source: labels of a list that was read wrap. */
  readonly day: (source: string) => number;
}

/**
 * Gives every shot of fewer than `least` frames to a neighbour in its take: to the previous one, the next one, or the
 * longer of the two (the previous when they are equal); a take's first goes to the next, its last to the previous. In order
 * of time, with the lengths as they have become; pieces of one shot in several files count as one. Where the neighbours on both sides
 * then are one source that runs on, they become one shot. A shot alone in its take stays, and is counted; so does the black between takes.
 * A transition whose outgoing shot went with nothing before it in its take becomes a cut, and so does one from black that went to the end of the take before.
 */
export function absorbShort(shots: readonly WholeShot[], { least, absorb }: { readonly least: number; readonly absorb: Absorb }, around: Around, say: (option: string, message: string) => void): WholeShot[] {
  const short = new ShortShots(shots, least, absorb, around);
  shots.forEach((_, index) => { short.take(index); });
  say('--min-shot', short.said);
  return short.out;
}

/** The shots one after the other, and what became of them. */
class ShortShots {
  readonly out: WholeShot[] = [];
  readonly #count = { previous: 0, next: 0, alone: 0, joined: 0, cuts: 0 };
  /** Where the next shot begins, when it takes the frames of one that is too short. */
  #begin: number | undefined;
  /** The last shot went to a neighbour: what stood on both sides of it meets. */
  #seam = false;

  constructor(
    readonly shots: readonly WholeShot[],
    readonly least: number,
    readonly absorb: Absorb,
    readonly around: Around,
  ) {}

  take(index: number): void {
    const given = this.shots[index];
    if (given === undefined) return;
    const { isGap, refit } = this.around;
    if (isGap(given[0].shot)) {
      this.out.push(given);
      this.#seam = false;
      return;
    }
    const before = this.#before(given);
    const grown = this.#begin === undefined ? given : fitted(given, this.#begin, bounds(given).out, refit);
    // What a mix came from is gone: with the first shot of the take, or with the black at the end of the one before.
    const lone = before === undefined && grown[0].shot.transition !== undefined && (this.#begin !== undefined || this.#lostBlack(index));
    const whole = lone ? cutIn(grown) : grown;
    this.#begin = undefined;
    if (lengthOf(whole) < this.least && this.#gave(whole, before, this.#after(index))) return;
    this.#put(whole, before, lone);
  }

  /** What the rule did, for the note. */
  get said(): string {
    const { previous, next, alone, joined, cuts } = this.#count;
    const gone = previous + next;
    return [
      `${String(gone)} ${gone === 1 ? 'shot' : 'shots'} under ${String(this.least)} frames went to a neighbour (${String(previous)} to the previous one, ${String(next)} to the next)`,
      ...(joined > 0 ? [`${joined === 1 ? 'once' : `${String(joined)} times`} the shots on both sides became one`] : []),
      ...(cuts > 0 ? [`${String(cuts)} ${cuts === 1 ? 'transition' : 'transitions'} became ${cuts === 1 ? 'a cut' : 'cuts'}, because what mixed there is gone`] : []),
      ...(alone > 0 ? [`${String(alone)} stay, alone in their take`] : []),
    ].join(', ');
  }

  /** The shot before one in its take, as it has become. */
  #before(given: WholeShot): WholeShot | undefined {
    const last = this.out.at(-1);
    return last?.[0].shot.take === given[0].shot.take ? last : undefined;
  }

  /** Whether a take before this shot ended in black, and does no longer: what came from black would mix frames that were never on the air. */
  #lostBlack(index: number): boolean {
    const [was, is] = [this.shots[index - 1], this.out.at(-1)].map((whole) => (whole === undefined ? undefined : lastOf(whole).shot.source));
    return was === BLACK && is !== BLACK;
  }

  #after(index: number): WholeShot | undefined {
    const next = this.shots[index + 1];
    return next !== undefined && next[0].shot.take === this.shots[index]?.[0].shot.take && !this.around.isGap(next[0].shot) ? next : undefined;
  }

  /** Gives a shot that is too short to a neighbour; false where it has none. */
  #gave(whole: WholeShot, before: WholeShot | undefined, after: WholeShot | undefined): boolean {
    const to = neighbour(this.absorb, before && lengthOf(before), after && lengthOf(after));
    this.#count[to ?? 'alone'] += 1;
    if (to === undefined) return false;
    this.#seam = true;
    if (to === 'next') this.#begin = bounds(whole).in;
    else if (before !== undefined) this.out[this.out.length - 1] = fitted(before, bounds(before).in, bounds(whole).out, this.around.refit);
    return true;
  }

  #put(whole: WholeShot, before: WholeShot | undefined, lone: boolean): void {
    const one = this.#seam && before !== undefined ? joined(before, whole, this.around) : undefined;
    this.#seam = false;
    if (one !== undefined) {
      this.#count.joined += 1;
      this.out[this.out.length - 1] = one;
      return;
    }
    this.out.push(whole);
    if (lone) this.#count.cuts += 1;
  }
}

function neighbour(absorb: Absorb, before: number | undefined, after: number | undefined): 'previous' | 'next' | undefined {
  if (before === undefined) return after === undefined ? undefined : 'next';
  if (after === undefined) return 'previous';
  if (absorb === 'longer') return after > before ? 'next' : 'previous';
  return absorb;
}

const lengthOf = (whole: WholeShot): number => bounds(whole).out - bounds(whole).in;

const cutIn = ([{ shot, from }, ...rest]: WholeShot): WholeShot => [{ shot: without(shot, 'transition'), from }, ...rest];

/** The two as one shot when the second is the first going on: where the last piece of the one and the first piece of the other are one. */
function joined(left: WholeShot, right: WholeShot, around: Around): WholeShot | undefined {
  const end = lastOf(left);
  const shot = asOne(end.shot, right[0].shot, around);
  if (shot === undefined) {
    const [{ shot: begins, from }, ...more] = right;
    return around.runsOn(end, right[0]) ? [...left, { shot: { ...without(begins, 'transition', 'event'), continues: true }, from }, ...more] : undefined;
  }
  const [first, ...rest] = [...left.slice(0, -1), { shot, from: end.from }, ...right.slice(1)];
  return first === undefined ? undefined : [first, ...rest];
}

/** One source, and the points meet (to a frame, where rates differ). */
function asOne(left: Shot, right: Shot, { follow, isSeam, day }: Around): Shot | undefined {
  if (left.source !== right.source || left.instead !== right.instead || (left.file !== right.file && !isSeam(left, right))) return undefined;
  const whole = follow(left, left.in, right.out);
  if (left.source === BLACK) return whole;
  const unity = left.sourceOut - left.sourceIn === left.out - left.in && right.sourceOut - right.sourceIn === right.out - right.in;
  const near = (a: number, b: number): boolean => Math.abs(nearestRepeat(a, day(left.source), b) - b) <= (unity ? 0 : 1);
  return near(left.sourceOut, right.sourceIn) && near(whole.sourceOut, right.sourceOut) ? whole : undefined;
}
