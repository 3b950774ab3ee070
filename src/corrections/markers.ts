/** Which marker a correction means. */
import { fault, isFault, type Fault } from '../problems.js';
import type { Correction } from './model.js';
import { placeText } from './edits.js';
import { recordFrame } from './where.js';
import type { CutList } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';

/** The markers of a list, and what corrects each of them so far. */
export class MarkerFinder {
  readonly #list: CutList;
  readonly #at = new Map<number, number[]>();
  readonly #by = new Map<number, Correction[]>();

  constructor(list: CutList) {
    this.#list = list;
    list.markers.forEach(({ at }, index) => {
      if (this.#at.get(at)?.push(index) === undefined) this.#at.set(at, [index]);
    });
  }

  /**
   * Index of the marker with the place and the text that a correction names. Of several alike, each correction means one of its own, so that it does
   * not matter which; a marker without its like can be moved and renamed. Faults: `correction-mismatch`, `bad-corrections`, faults of times.
   */
  find(given: Correction): number | Fault {
    const at = recordFrame(this.#list, given.at ?? '');
    if (isFault(at)) return at;
    const there = this.#at.get(at) ?? [];
    const noteOf = (index: number): string => this.#list.markers[index]?.note.trim() ?? '';
    const expected = (given.expect ?? '').trim();
    const alike = there.filter((index) => noteOf(index) === expected);
    const [first] = alike;
    if (first === undefined) {
      const has = there.length === 0 ? 'there is no marker' : `there is ${there.map((index) => `'${noteOf(index)}'`).join(', ')}`;
      return fault('correction-mismatch', `it expects ${expected === '' ? 'a marker without a text' : `the marker '${expected}'`} at ${recordLabel(this.#list, at)}, and ${has}`);
    }
    const marker = alike.find((index) => !this.#by.has(index)) ?? first;
    const others = this.#by.get(marker) ?? [];
    if (others.length > 0 && alike.length > 1) return fault('bad-corrections', `there are ${String(alike.length)} such markers, and a correction of each already`);
    for (const other of others) {
      if (other.do === given.do) return fault('bad-corrections', `${placeText(other.place)} corrects the same of this marker`);
      if (other.do === 'remove-marker' || given.do === 'remove-marker') return fault('bad-corrections', 'the marker is removed, and corrected otherwise as well');
    }
    this.#by.set(marker, [...others, given]);
    return marker;
  }
}
