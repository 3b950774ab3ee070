/** The full help of a command: laid out by commander, which is loaded for help alone. */
import { Command as Layout, Option } from 'commander';
import type { Command, OptionSpec } from './command.js';

/** At least this many columns, however narrow the terminal. */
const NARROWEST = 60;

export function helpOf(command: Command, width: number): string {
  const layout = new Layout(`linecut ${command.name}`)
    .description(command.description)
    .helpOption('-h, --help', 'show this')
    .configureOutput({ getOutHelpWidth: () => Math.max(NARROWEST, width) });
  for (const { name, help, many, optional } of command.args) {
    const inner = many === true ? `${name}...` : name;
    layout.argument(optional === true ? `[${inner}]` : `<${inner}>`, help);
  }
  for (const spec of command.options) layout.addOption(optionOf(spec));
  return layout.helpInformation() + examplesOf(command);
}

function optionOf({ name, short, value, help, group }: OptionSpec<unknown>): Option {
  const long = value === undefined ? `--${name}` : `--${name} <${value}>`;
  return new Option(short === undefined ? long : `-${short}, ${long}`, help).helpGroup(`${group}:`);
}

function examplesOf({ examples }: Command): string {
  const lines = examples.flatMap(({ command: words, says }) => [`  # ${says}`, `  ${words}`]);
  return `\nExamples:\n${lines.join('\n')}\n`;
}
