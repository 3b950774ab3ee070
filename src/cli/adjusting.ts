/** The options of `convert` that change a list by rules for all shots, or by a corrections file. */
import { readSourceFrames, type AdjustOptions, type SourceFrames } from '../cutlist/adjust.js';
import { known } from '../known.js';
import { isFault, problem, type Fault, type Problem } from '../problems.js';
import type { OptionSpec, Values } from './command.js';
import { choice, path, whole } from './option.js';
import { CUTS_ONLY, DISSOLVE_AT, TAKES } from './options.js';

const ADJUST = 'Adjusting the list';

const sourceFrames = (name: 'lead' | 'lag', help: string): OptionSpec<string> => ({
  name, value: '[SOURCE=]N', repeat: true, group: ADJUST, help,
  parse: (given) => {
    const read = readSourceFrames([given], `--${name}`);
    return isFault(read) ? read : given;
  },
});

const LEAD = sourceFrames('lead', 'switches come N frames earlier (reaction time): all of them, or those to one source (4=6)');
const LAG = sourceFrames('lag', 'switches come N frames later: all of them, or those to one source');
const MIN_SHOT = whole('min-shot', 'N', 1, { group: ADJUST, help: 'a shot of fewer than N frames (a double tap) goes to its neighbour' });
const ABSORB = choice('absorb', 'WHO', ['previous', 'next', 'longer'], { group: ADJUST, help: 'the neighbour of --min-shot: previous, next, longer (default: previous)' });
const DISSOLVE_ALL = whole('dissolve-all', 'N', 1, { group: ADJUST, help: 'every switch becomes a dissolve of N frames' });
export const CORRECTIONS = path('corrections', 'FILE', { group: ADJUST, help: 'corrections file, CSV or JSON, written against the list that this call gives without it' });

/** In the order in which they are applied; --cuts-only stands among the options of the list. */
export const ADJUSTING: readonly OptionSpec<unknown>[] = [LEAD, LAG, MIN_SHOT, ABSORB, DISSOLVE_ALL, CORRECTIONS];

/** The rules of a call; undefined when it has none. */
export function adjusting(values: Values): AdjustOptions | undefined {
  const options: AdjustOptions = known({
    lead: framesGiven(values, LEAD), lag: framesGiven(values, LAG), minShot: values.get(MIN_SHOT), absorb: values.get(ABSORB),
    dissolveAll: values.get(DISSOLVE_ALL), cutsOnly: values.get(CUTS_ONLY), dissolveAt: values.get(DISSOLVE_AT),
  });
  const rules = [LEAD, LAG, MIN_SHOT, DISSOLVE_ALL, CUTS_ONLY].some((option) => values.has(option));
  return rules ? options : undefined;
}

function framesGiven(values: Values, option: OptionSpec<string>): SourceFrames | undefined {
  const read = readFrames(values, option);
  return isFault(read) ? undefined : read;
}

const readFrames = (values: Values, option: OptionSpec<string>): SourceFrames | Fault | undefined =>
  values.has(option) ? readSourceFrames(values.all(option), `--${option.name}`) : undefined;

/** What the options cannot mean together, or with so many logs. */
export function adjustingFaults(values: Values, logs: number): Problem[] {
  const faults: Problem[] = [];
  const wrong = (message: string, { name }: OptionSpec<unknown>): void => {
    faults.push(problem('bad-option', message, { option: `--${name}` }));
  };
  for (const option of [LEAD, LAG]) {
    const read = readFrames(values, option);
    if (isFault(read)) wrong(read.message, option);
  }
  if (values.has(ABSORB) && !values.has(MIN_SHOT)) wrong('it says where shots under --min-shot go; give that too', ABSORB);
  if (values.has(DISSOLVE_ALL) && values.has(CUTS_ONLY)) wrong('--cuts-only asks for the opposite; give one of the two', DISSOLVE_ALL);
  if (values.has(CORRECTIONS) && logs > 1) wrong(`corrections are of one list, and there are ${String(logs)} logs`, CORRECTIONS);
  if (values.has(CORRECTIONS) && values.get(TAKES) === 'separate') wrong('corrections are of one list, and --takes separate makes several', CORRECTIONS);
  return faults;
}
