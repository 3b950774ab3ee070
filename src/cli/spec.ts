/** The command line as data, read off commander's own objects: the one source of --help, the man page and the completions. */
import type { Command, Option } from 'commander';

export interface OptionSpec {
  readonly short: string | undefined;
  readonly long: string;
  /** Placeholder of the value, `<n>` or `[n]`; undefined for a switch. */
  readonly value: string | undefined;
  readonly choices: readonly string[];
  readonly description: string;
}

export interface CommandSpec {
  readonly name: string;
  readonly summary: string;
  /** `LOG...`, as the usage line shows them. */
  readonly usage: string;
  readonly options: readonly OptionSpec[];
  readonly commands: readonly CommandSpec[];
  /** Lines of examples, `$ ` before a command line. */
  readonly examples: readonly string[];
}

/** Examples of a command, kept beside commander's object, which has no place for them. */
const examplesOf = new WeakMap<Command, readonly string[]>();

/** Gives a command its examples: they end its --help, and stand in the man page. */
export function withExamples(command: Command, examples: readonly string[]): Command {
  examplesOf.set(command, examples);
  return command.addHelpText('after', `\nExamples:\n${examples.map((line) => `  ${line}`).join('\n')}`);
}

const optionSpec = (option: Option): OptionSpec => ({
  short: option.short,
  long: option.long ?? option.flags,
  value: /[<[].*$/.exec(option.flags)?.[0],
  choices: option.argChoices ?? [],
  description: option.description,
});

/** Reads a command and those below it. Hidden options and commander's own `help` command stay out. */
export function specOf(command: Command): CommandSpec {
  const help = command.createHelp();
  return {
    name: command.name(),
    summary: command.description(),
    usage: command.usage(),
    options: help.visibleOptions(command).map(optionSpec),
    commands: help.visibleCommands(command).filter((one) => one.name() !== 'help').map(specOf),
    examples: examplesOf.get(command) ?? [],
  };
}
