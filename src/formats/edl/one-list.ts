/** Which EDLs that are called like the parts of one are parts of one list: their record sides tell. */
import { nearestRepeat, withinDay } from '../../timecode/day.js';

/** Record labels [in, out) of an event, each as a number in the day; `out` before `in` lies behind midnight. */
export interface Stretch {
  readonly picture: boolean;
  readonly in: number;
  readonly out: number;
}

/** The stretches of a part that begin first and end last. */
export interface Ends<T extends Stretch> {
  readonly first: T;
  readonly last: T;
}

/**
 * Counts how many of an EDL's parts, from the first on, are one list. Either each begins on the record label on which the one before it ends; or, for a list
 * in source order, the picture of all of them together covers the record side without hole or overlap. Where a part has no picture, all its events count for
 * the first; for the second its sound has to lie where there is picture.
 */
export class OneList<T extends Stretch> {
  readonly #day: number;
  readonly #cover: Cover;
  readonly #parts: Ends<T>[] = [];
  #runsOn = true;
  #length = 0;

  /** `day`: what labels begin again after. */
  constructor(day: number) {
    this.#day = day;
    this.#cover = new Cover(day);
  }

  /** Adds the next part; false where it has no event of any length, and nothing can be said of it. */
  add(part: readonly T[]): boolean {
    const events = part.filter((event) => event.in !== event.out);
    const picture = events.filter((event) => event.picture);
    const ends = endsOf(picture.length > 0 ? picture : events, this.#day);
    if (ends === undefined) return false;
    const before = this.#parts.at(-1);
    this.#parts.push(ends);
    this.#runsOn &&= before === undefined || before.last.out === ends.first.in;
    if (picture.length > 0) this.#cover.add(picture);
    else this.#cover.addSound(events);
    if (this.#runsOn || this.#cover.isWhole) this.#length = this.#parts.length;
    // The first is a list, whatever it has.
    else this.#length ||= 1;
    return true;
  }

  /** So many parts are one list. */
  get length(): number {
    return this.#length;
  }

  /** True where the picture of all parts leaves no hole among them. */
  get isWhole(): boolean {
    return this.#cover.isWhole;
  }

  /** True while parts that follow may make one list of all. */
  get isOpen(): boolean {
    return this.#runsOn || !this.#cover.overlaps;
  }

  /** The first part that is none, and the end of the one before it; undefined where all are one list. */
  get gap(): { readonly begin: T; readonly end: T } | undefined {
    const [before, after] = [this.#parts[this.#length - 1], this.#parts[this.#length]];
    return before === undefined || after === undefined ? undefined : { begin: after.first, end: before.last };
  }
}

/** Where stretches begin and end, each label taken for the nearest to the one before, as a reader does. */
function endsOf<T extends Stretch>(stretches: readonly T[], day: number): Ends<T> | undefined {
  let ends: Ends<T> | undefined;
  let [before, begin, end] = [0, Infinity, -Infinity];
  for (const one of stretches) {
    const at = ends === undefined ? one.in : nearestRepeat(one.in, day, before);
    const until = at + withinDay(one.out - one.in, day);
    ends = { first: ends === undefined || at < begin ? one : ends.first, last: ends === undefined || until > end ? one : ends.last };
    [before, begin, end] = [at, Math.min(begin, at), Math.max(end, until)];
  }
  return ends;
}

/** Whether stretches, in any order, follow one another from one label to another, once each. */
class Cover {
  readonly #day: number;
  readonly #ins = new Set<number>();
  readonly #outs = new Set<number>();
  /** Labels on which one begins and none ends, and the other way round. */
  readonly #begins = new Set<number>();
  readonly #ends = new Set<number>();
  /** Sound that was not yet found to lie where there is picture. */
  #sounds: Stretch[] = [];
  #midnights = 0;
  #overlaps = false;

  constructor(day: number) {
    this.#day = day;
  }

  add(stretches: readonly Stretch[]): void {
    for (const { in: from, out } of stretches) {
      if (this.#ins.has(from) || this.#outs.has(out)) this.#overlaps = true;
      this.#ins.add(from);
      this.#outs.add(out);
      if (!this.#ends.delete(from)) this.#begins.add(from);
      if (!this.#begins.delete(out)) this.#ends.add(out);
      if (out < from) this.#midnights += 1;
    }
  }

  addSound(stretches: readonly Stretch[]): void {
    for (const one of stretches) this.#sounds.push(one);
  }

  /** True where no stretch that follows can make it whole. */
  get overlaps(): boolean {
    return this.#overlaps;
  }

  get isWhole(): boolean {
    if (this.#overlaps || this.#begins.size !== 1 || this.#ends.size !== 1) return false;
    const [[begin = 0], [end = 0]] = [[...this.#begins], [...this.#ends]];
    // What goes round the clock once more lies over the rest.
    if (this.#midnights !== (end < begin ? 1 : 0)) return false;
    const after = (label: number): number => withinDay(label - begin, this.#day);
    if (!this.#sounds.every(({ in: from, out }) => after(from) < after(out) && after(out) <= after(end))) return false;
    this.#sounds = [];
    return true;
  }
}
