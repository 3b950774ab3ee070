/** From a command's table of options and the words of a call to values: Node's own reader finds the options, the table says what they mean. */
import { parseArgs, type ParseArgsConfig } from 'node:util';
import { didYouMean } from '../nearest.js';
import { isFault, problem, problemOf, type Problem } from '../problems.js';
import type { Call, Command, OptionSpec, Values } from './command.js';
import type { Io } from './io.js';

export type Parsed =
  | { readonly kind: 'call'; readonly call: Call }
  | { readonly kind: 'help' }
  | { readonly kind: 'wrong'; readonly problems: readonly Problem[] };

const HELP = 'help';

/**
 * Reads the words behind a command's name. An option takes the next word as its value whatever that looks like (POSIX Utility
 * Syntax Guidelines 6 and 7), so that `--shift -2` and `-o -` need no quoting; `--` ends the options (Guideline 10).
 */
export function parseCall(command: Command, words: readonly string[], io: Io): Parsed {
  const options: NonNullable<ParseArgsConfig['options']> = { [HELP]: { type: 'boolean', short: 'h' } };
  for (const { name, short, value } of command.options) options[name] = { type: value === undefined ? 'boolean' : 'string', ...(short === undefined ? {} : { short }) };
  const { tokens } = parseArgs({ args: [...words], options, strict: false, tokens: true });
  const args: string[] = [];
  const given = new Map<string, string[]>();
  const problems: Problem[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') args.push(token.value);
    if (token.kind !== 'option') continue;
    const { name, rawName, value } = token;
    if (name === HELP && value === undefined) return { kind: 'help' };
    const known = options[name] === undefined ? undefined : command.options.find((option) => option.name === name);
    const wrong = usageProblem(rawName, value, known, command);
    if (wrong !== undefined) problems.push(wrong);
    const values = given.get(name);
    if (values === undefined) given.set(name, [value ?? '']);
    else values.push(value ?? '');
  }
  if (problems.length === 0) problems.push(...argumentProblems(command, args));
  if (problems.length > 0) return { kind: 'wrong', problems: problems.slice(0, 1) };
  return readValues(command, args, given, io);
}

function readValues({ options }: Command, args: readonly string[], given: ReadonlyMap<string, readonly string[]>, io: Io): Parsed {
  const problems: Problem[] = [];
  const found = new Map<OptionSpec<unknown>, unknown[]>();
  for (const spec of options) {
    const raw = given.get(spec.name);
    if (raw === undefined) continue;
    const values: unknown[] = [];
    for (const text of raw) {
      const value = spec.parse(text);
      if (isFault(value)) problems.push(problemOf(value, { option: `--${spec.name}` }));
      else values.push(value);
    }
    found.set(spec, values);
  }
  if (problems.length > 0) return { kind: 'wrong', problems };
  const values: Values = {
    get: <T>(spec: OptionSpec<T>) => found.get(spec)?.at(-1) as T | undefined,
    all: <T>(spec: OptionSpec<T>) => (found.get(spec) ?? []) as T[],
    has: (spec) => found.has(spec),
  };
  return { kind: 'call', call: { args, values, io } };
}

/** What is wrong with an option as it was written; undefined when nothing is. */
function usageProblem(written: string, value: string | undefined, spec: OptionSpec<unknown> | undefined, command: Command): Problem | undefined {
  if (spec === undefined) {
    const names = [...command.options.map(({ name }) => `--${name}`), `--${HELP}`];
    return problem('bad-option', `there is no option '${written}'${didYouMean(written, names) || `; linecut help ${command.name} lists them`}`, { option: written });
  }
  const option = `--${spec.name}`;
  if (spec.value !== undefined && value === undefined) return problem('bad-option', `it needs a value: ${option} ${spec.value}`, { option });
  if (spec.value === undefined && value !== undefined) return problem('bad-option', `it takes no value${value === '' ? '' : `, and '${value}' was given`}`, { option });
  return undefined;
}

function argumentProblems({ name, args }: Command, given: readonly string[]): Problem[] {
  const missing = args[given.length];
  if (missing !== undefined && missing.optional !== true) return [problem('bad-option', `no ${missing.name} was given; linecut help ${name} says more`)];
  if (given.length > args.length && args.at(-1)?.many !== true) return [problem('bad-option', `too many arguments; linecut help ${name} says more`)];
  // A path that is empty is the current folder to a file system: "$LOG" with nothing in it would stand for all that lies there.
  const empty = given.indexOf('');
  const { name: what = 'argument' } = args[empty] ?? args.at(-1) ?? {};
  return empty === -1 ? [] : [problem('bad-option', `the ${what} is empty; was a variable meant that holds nothing?`)];
}
