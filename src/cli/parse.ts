/** From a command's table of options and the words of a call to values; help is made from the same table. */
import { Command as Parser, CommanderError, Option } from 'commander';
import { didYouMean } from '../nearest.js';
import { isFault, problem, problemOf, type Problem } from '../problems.js';
import type { Call, Command, OptionSpec, Values } from './command.js';
import type { Io } from './io.js';

export type Parsed =
  | { readonly kind: 'call'; readonly call: Call }
  | { readonly kind: 'help'; readonly text: string }
  | { readonly kind: 'wrong'; readonly problems: readonly Problem[] };

/** Reads the words behind a command's name. */
export function parseCall(command: Command, words: readonly string[], io: Io): Parsed {
  let help = '';
  const parser = parserOf(command, io.out.columns ?? 100, (text) => { help += text; });
  try {
    parser.parse([...words], { from: 'user' });
  } catch (cause) {
    if (!(cause instanceof CommanderError)) throw cause;
    if (cause.code === 'commander.helpDisplayed' || cause.code === 'commander.help') return { kind: 'help', text: help };
    return { kind: 'wrong', problems: [usageProblem(cause, command)] };
  }
  return readValues(command, parser, io);
}

/** The full help of a command. */
export function helpOf(command: Command, width: number): string {
  return parserOf(command, width, () => undefined).helpInformation() + examplesOf(command);
}

function parserOf(command: Command, width: number, write: (text: string) => void): Parser {
  const parser = new Parser(`linecut ${command.name}`)
    .description(command.description)
    .helpOption('-h, --help', 'show this')
    .addHelpText('after', examplesOf(command))
    .exitOverride()
    .allowExcessArguments(false)
    .configureOutput({ writeOut: write, writeErr: () => undefined, getOutHelpWidth: () => Math.max(60, width), outputError: () => undefined });
  for (const { name, help, many, optional } of command.args) {
    const inner = many === true ? `${name}...` : name;
    parser.argument(optional === true ? `[${inner}]` : `<${inner}>`, help);
  }
  for (const spec of command.options) parser.addOption(optionOf(spec));
  return parser;
}

function optionOf(spec: OptionSpec<unknown>): Option {
  const long = spec.value === undefined ? `--${spec.name}` : `--${spec.name} <${spec.value}>`;
  const option = new Option(spec.short === undefined ? long : `-${spec.short}, ${long}`, spec.help).helpGroup(`${spec.group}:`);
  if (spec.value !== undefined) option.argParser((given: string, before: string[] | undefined) => [...(before ?? []), given]);
  return option;
}

function examplesOf(command: Command): string {
  const lines = command.examples.flatMap(({ command: words, says }) => [`  # ${says}`, `  ${words}`]);
  return `\nExamples:\n${lines.join('\n')}\n`;
}

function readValues(command: Command, parser: Parser, io: Io): Parsed {
  const given = parser.opts<Readonly<Record<string, string[] | true | undefined>>>();
  const problems: Problem[] = [];
  const found = new Map<OptionSpec<unknown>, unknown[]>();
  for (const spec of command.options) {
    const raw = given[optionOf(spec).attributeName()];
    if (raw === undefined) continue;
    const values: unknown[] = [];
    for (const text of raw === true ? [''] : raw) {
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
  return { kind: 'call', call: { args: parser.args, values, io } };
}

/** Says in our words what commander found wrong. */
function usageProblem({ code, message }: CommanderError, command: Command): Problem {
  const quoted = /'([^']*)'/.exec(message)?.[1] ?? '';
  const option = quoted.split(/[ =]/, 1)[0] ?? quoted;
  switch (code) {
    case 'commander.unknownOption': {
      const names = [...command.options.map(({ name }) => `--${name}`), '--help'];
      return problem('bad-option', `there is no option '${option}'${didYouMean(option, names) || `; linecut help ${command.name} lists them`}`, { option });
    }
    case 'commander.optionMissingArgument': {
      const long = /--[a-z-]+/.exec(quoted)?.[0] ?? option;
      const spec = command.options.find(({ name }) => `--${name}` === long);
      return problem('bad-option', `it needs a value: ${long} ${spec?.value ?? ''}`.trimEnd(), { option: long });
    }
    case 'commander.missingArgument':
      return problem('bad-option', `no ${quoted} was given; linecut help ${command.name} says more`);
    case 'commander.excessArguments':
      return problem('bad-option', `too many arguments; linecut help ${command.name} says more`);
    default:
      return problem('bad-option', message.replace(/^error: /, ''));
  }
}
