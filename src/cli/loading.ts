/** How a call says how logs and lists are read: which options there are for it, and the key of LoadOptions that each of them is. */
import type { LoadOptions } from '../load.js';
import type { OptionSpec, Values } from './command.js';
import * as option from './options.js';

/** An option by its key. Those that are for logs only stand in LOG_ONLY of load.ts, too. */
type Keys = { readonly [Key in keyof LoadOptions]?: OptionSpec<NonNullable<LoadOptions[Key]>> };

/** Options of every command that reads lists. */
const SHARED = {
  rate: option.RATE, timeAs: option.TIME_AS, logRate: option.LOG_RATE, rounding: option.ROUNDING, anchor: option.ANCHOR, end: option.END, audio: option.AUDIO, takes: option.TAKES,
  start: option.START, maxRows: option.MAX_ROWS, maxBytes: option.MAX_BYTES,
} as const satisfies Keys;

/** Options of `convert` alone. */
const OF_CONVERT = { title: option.TITLE, dissolveAt: option.DISSOLVE_AT, angles: option.ANGLES } as const satisfies Keys;

/** The options that say how a log is read, and what its list is; lists take of them the rate only. */
export const READING: readonly OptionSpec<unknown>[] = [option.SHOW, option.MAP, ...Object.values(SHARED)];

/** The same for a command that takes one list of a log. */
export const READING_ONE = READING.map((one) => (one === option.TAKES ? option.TAKES_IN_ONE : one));

/** What the options of a call say. What is in files, as the mapping is, has to be read first. */
export function loadOptions(values: Values): LoadOptions {
  const given: Record<string, unknown> = {};
  for (const [key, one] of Object.entries<OptionSpec<unknown>>({ ...SHARED, ...OF_CONVERT })) {
    const value = values.get(one) ?? (one === option.TAKES ? values.get(option.TAKES_IN_ONE) : undefined);
    if (value !== undefined) given[key] = value;
  }
  // As `Keys` has it.
  return given as LoadOptions;
}
