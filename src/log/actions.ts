/** Which action a log's word means. */
import { ACTIONS, type Action } from '../cutlist/event.js';
import { didYouMean } from '../nearest.js';
import { fault, type Fault } from '../problems.js';
import { shorten } from '../visible.js';
import { ACTION_WORDS, actionOf } from './words.js';

export type RowAction = Action | 'ignore';

const KNOWN: readonly string[] = [...ACTIONS, 'ignore'];

/** So many unknown words are kept. */
const MOST_UNKNOWN = 100;

/** Finds actions by word: the mapping's words first, then our own and plain trade words, in any case. A blank one is a cut, unless the mapping says otherwise. */
export class ActionBook {
  /** The log's own words that were met and are not our own, with what they were read as: the mapping's and those found by itself. */
  readonly met = new Map<string, RowAction>();
  /** Those of `met` that no mapping gave. */
  readonly byItself = new Map<string, RowAction>();
  /** The first words that mean nothing. */
  readonly unknown: string[] = [];
  readonly #mapped = new Map<string, RowAction>();
  readonly #seen = new Map<string, RowAction | Fault>();
  /** What a row without an action means. */
  readonly blank: RowAction;

  constructor(mapped: Readonly<Record<string, string>> | undefined) {
    for (const [word, action] of Object.entries(mapped ?? {})) {
      const known = KNOWN.find((one) => one === action);
      if (known !== undefined) this.#mapped.set(fold(word), known as RowAction);
    }
    this.blank = this.#mapped.get('') ?? 'cut';
  }

  /** Faults: `unknown-action`, with the nearest known word. */
  find(word: string | undefined): RowAction | Fault {
    if (word === undefined) return this.blank;
    let action = this.#seen.get(word);
    if (action === undefined) this.#seen.set(word, (action = this.#look(word)));
    return action;
  }

  #look(word: string): RowAction | Fault {
    const mapped = this.#mapped.get(fold(word));
    const action = mapped ?? actionOf(word) ?? (fold(word) === 'ignore' ? 'ignore' : undefined);
    if (action === undefined) {
      if (this.unknown.length < MOST_UNKNOWN) this.unknown.push(word);
      const near = didYouMean(word, [...ACTION_WORDS, ...this.#mapped.keys()]);
      return fault('unknown-action', `unknown action '${shorten(word)}'${near}; expected ${KNOWN.join(', ')}, or a word of the mapping's actions`);
    }
    if (fold(word) !== action) this.met.set(word, action);
    if (mapped === undefined && fold(word) !== action) this.byItself.set(word, action);
    return action;
  }
}

const fold = (word: string): string => word.trim().toLowerCase();
