/** What is wrong with many rows alike, said once: a source that the show file calls otherwise is on air in half of them. */
import { problem, type Fault, type Place, type Report } from '../problems.js';

export class Repeated {
  readonly #seen = new Map<Fault, { readonly first: Place; rows: number }>();

  /** One row more has this fault (the same object each time); `placeOf` is asked where that is of the first one only. */
  add(given: Fault, placeOf: () => Place): void {
    const before = this.#seen.get(given);
    if (before === undefined) this.#seen.set(given, { first: placeOf(), rows: 1 });
    else before.rows += 1;
  }

  /** Reports each fault at its first row, and how many more rows have it. */
  tell(report: Report): void {
    for (const [{ fault, message }, { first, rows }] of this.#seen) {
      const more = rows === 1 ? '' : rows === 2 ? '; 1 more row has it' : `; ${String(rows - 1)} more rows have it`;
      report(problem(fault, `${message}${more}`, first));
    }
  }
}
