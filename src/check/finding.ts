/** Findings: problems with advice, and the rules that a user sets for them. */
import { CATALOGUE, type Code, type Problem, type Report, type Severity } from '../problems.js';

/** A problem of a file that was checked. */
export interface Finding extends Problem {
  /** What to do about it. */
  readonly advice: string;
}

/** What a rules file says of a code: leave it out, or another severity. */
export type Rules = ReadonlyMap<Code, Severity | 'off'>;

/** So many findings of one code and severity are kept for each file; the rest is counted. */
const KEPT = 200;

/** The findings of one file, in the order in which they were made. */
export class Findings {
  #kept: Finding[] = [];
  readonly #counts = new Map<string, { readonly code: Code; readonly severity: Severity; count: number }>();
  readonly #rules: Rules;

  constructor(rules: Rules = new Map()) {
    this.#rules = rules;
  }

  /** A `Report`: may be handed on as a function. What a reader found out by itself (`found`) is no finding. */
  readonly add: Report = (given) => {
    const rule = this.#rules.get(given.code);
    if (rule === 'off' || (given.code === 'found' && rule === undefined)) return;
    this.#keep({ ...given, severity: rule ?? given.severity });
  };

  /** Takes an error that counts whatever the rules say of its code; nothing where it is told already, as an error or a warning. */
  insist(given: Problem): void {
    const { line, column } = given.place ?? {};
    const isTold = this.#kept.some(({ code, severity, message, place }) =>
      severity !== 'note' && code === given.code && message === given.message && place?.line === line && place?.column === column);
    if (!isTold) this.#keep(given);
  }

  /** Takes back what was said of a code: other files of the list have shown that it is not so. */
  withdraw(code: Code): void {
    this.#kept = this.#kept.filter((one) => one.code !== code);
    for (const [key, counted] of this.#counts) if (counted.code === code) this.#counts.delete(key);
  }

  #keep(given: Problem): void {
    const { severity } = given;
    const key = `${severity} ${given.code}`;
    const counted = this.#counts.get(key) ?? { code: given.code, severity, count: 0 };
    this.#counts.set(key, counted);
    if ((counted.count += 1) > KEPT) return;
    this.#kept.push({ ...given, advice: CATALOGUE[given.code].advice });
  }

  /** Gives what has a line of `file`, but no record frame yet, the frame of its line. */
  locate(file: string, frameOf: (line: number, code: Code) => number | undefined): void {
    this.#kept = this.#kept.map((one) => {
      const line = one.at === undefined && one.place?.file === file ? one.place.line : undefined;
      const frame = line === undefined ? undefined : frameOf(line, one.code);
      return frame === undefined ? one : { ...one, at: frame };
    });
  }

  /** By line, where lines are known; errors of the file as a whole come first. */
  get sorted(): readonly Finding[] {
    return [...this.#kept].sort((a, b) => (a.place?.line ?? 0) - (b.place?.line ?? 0) || (a.place?.column ?? 0) - (b.place?.column ?? 0));
  }

  /** How many of a code there are beyond those that were kept. */
  get dropped(): readonly { readonly code: Code; readonly count: number }[] {
    return [...this.#counts.values()].flatMap(({ code, count }) => (count > KEPT ? [{ code, count: count - KEPT }] : []));
  }

  /** How many there are of each severity, kept or not. */
  get counts(): Readonly<Record<Severity, number>> {
    const counts = { error: 0, warning: 0, note: 0 };
    for (const { severity, count } of this.#counts.values()) counts[severity] += count;
    return counts;
  }
}
