/** The options that change a list by rules for all shots, or by a corrections file. */
import { ABSORB } from '../cutlist/absorb.js';
import { readSourceFrames, type AdjustOptions, type SourceFrames } from '../cutlist/adjust.js';
import { known } from '../known.js';
import { isFault, problem, type Fault, type Problem } from '../problems.js';
import type { OptionSpec, Values } from './command.js';
import { choice, path, whole } from './option.js';
import { CUTS_ONLY, DISSOLVE_AT, TAKES } from './options.js';

/** The names of those that a command has for something else, or with the options of the list. */
interface Own {
  readonly minShot?: string;
  readonly cutsOnly?: OptionSpec<true>;
}

/** The options, as one command has them: under a heading of its own. */
export class Adjusting {
  readonly corrections: OptionSpec<string>;
  /** In the order in which they are applied; --cuts-only where it does not stand among the options of the list. */
  readonly options: readonly OptionSpec<unknown>[];
  readonly #lead: OptionSpec<string>;
  readonly #lag: OptionSpec<string>;
  readonly #minShot: OptionSpec<number>;
  readonly #absorb: OptionSpec<NonNullable<AdjustOptions['absorb']>>;
  readonly #dissolveAll: OptionSpec<number>;
  readonly #cutsOnly: OptionSpec<true>;

  constructor(group: string, { minShot = 'min-shot', cutsOnly }: Own = {}) {
    this.#lead = sourceFrames('lead', group, 'switches come N frames earlier (reaction time): all of them, or those to one source (4=6)');
    this.#lag = sourceFrames('lag', group, 'switches come N frames later: all of them, or those to one source');
    this.#minShot = whole(minShot, 'N', 1, { group, help: 'a shot of fewer than N frames (a double tap) goes to its neighbour' });
    this.#absorb = choice('absorb', 'WHO', ABSORB, { group, help: `the neighbour of --${minShot}: previous, next, longer (default: previous)` });
    this.#dissolveAll = whole('dissolve-all', 'N', 1, { group, help: 'every switch becomes a dissolve of N frames' });
    this.#cutsOnly = cutsOnly ?? { ...CUTS_ONLY, group };
    this.corrections = path('corrections', 'FILE', { group, help: 'corrections file, CSV or JSON, written against the list that the same options give without it' });
    this.options = [this.#lead, this.#lag, this.#minShot, this.#absorb, this.#dissolveAll, ...(cutsOnly === undefined ? [this.#cutsOnly] : []), this.corrections];
  }

  /** The rules of a call; undefined when it has none. */
  rules(values: Values): AdjustOptions | undefined {
    const rules = [this.#lead, this.#lag, this.#minShot, this.#dissolveAll, this.#cutsOnly].some((option) => values.has(option));
    return !rules ? undefined : known({
      lead: framesGiven(values, this.#lead), lag: framesGiven(values, this.#lag), minShot: values.get(this.#minShot), absorb: values.get(this.#absorb),
      dissolveAll: values.get(this.#dissolveAll), cutsOnly: values.get(this.#cutsOnly), dissolveAt: values.get(DISSOLVE_AT),
    });
  }

  /** What the options cannot mean together, or with so many logs. */
  faults(values: Values, logs: number): Problem[] {
    const faults: Problem[] = [];
    const wrong = (message: string, { name }: OptionSpec<unknown>): void => {
      faults.push(problem('bad-option', message, { option: `--${name}` }));
    };
    for (const option of [this.#lead, this.#lag]) {
      const read = readFrames(values, option);
      if (isFault(read)) wrong(read.message, option);
    }
    if (values.has(this.#absorb) && !values.has(this.#minShot)) wrong(`it says where shots under --${this.#minShot.name} go; give that too`, this.#absorb);
    if (values.has(this.#dissolveAll) && values.has(this.#cutsOnly)) wrong('--cuts-only asks for the opposite; give one of the two', this.#dissolveAll);
    if (values.has(this.corrections) && logs > 1) wrong(`corrections are of one list, and there are ${String(logs)} logs`, this.corrections);
    if (values.has(this.corrections) && values.get(TAKES) === 'separate') wrong('corrections are of one list, and --takes separate makes several', this.corrections);
    return faults;
  }

  /** `bad-option` for each of them that was given, where they have no meaning. */
  meaningless(values: Values, why: string): Problem[] {
    return this.options.filter((option) => values.has(option)).map(({ name }) => problem('bad-option', why, { option: `--${name}` }));
  }
}

const sourceFrames = (name: 'lead' | 'lag', group: string, help: string): OptionSpec<string> => ({
  name, value: '[SOURCE=]N', repeat: true, group, help,
  parse: (given) => {
    const read = readSourceFrames([given], `--${name}`);
    return isFault(read) ? read : given;
  },
});

function framesGiven(values: Values, option: OptionSpec<string>): SourceFrames | undefined {
  const read = readFrames(values, option);
  return isFault(read) ? undefined : read;
}

const readFrames = (values: Values, option: OptionSpec<string>): SourceFrames | Fault | undefined =>
  values.has(option) ? readSourceFrames(values.all(option), `--${option.name}`) : undefined;
