/** The full help of a command: laid out by commander, which is loaded for help alone. */
import { Command as Layout, Help, Option } from 'commander';
import { helpText, type Command, type OptionSpec } from './command.js';

/** At least this many columns, however narrow the terminal. */
const NARROWEST = 40;

/** With fewer columns left beside the names of options, what they do stands below them. */
const LEAST_BESIDE = 34;

const BELOW = '      ';

/** Wraps everything, whatever room there is. */
class WrappedHelp extends Help {
  override minWidthToWrap = 1;

  get #width(): number {
    return this.helpWidth ?? NARROWEST;
  }

  override formatItem(term: string, termWidth: number, description: string, helper: Help): string {
    if (this.#width - termWidth - 4 >= LEAST_BESIDE) return super.formatItem(term, termWidth, description, helper);
    return `  ${term}\n${BELOW}${this.boxWrap(description, this.#width - BELOW.length).replaceAll('\n', `\n${BELOW}`)}`;
  }

  override styleTitle(title: string): string {
    return this.boxWrap(title, this.#width);
  }

  override styleUsage(usage: string): string {
    return this.boxWrap(usage, this.#width - 'Usage: '.length).replaceAll('\n', `\n${BELOW}`);
  }
}

class WrappedLayout extends Layout {
  override createHelp(): Help {
    return new WrappedHelp();
  }
}

/** `width`: columns of the terminal; commands of examples are as long as they are, to be copied. */
export function helpOf(command: Command, width: number): string {
  const columns = Math.max(NARROWEST, width);
  const layout = new WrappedLayout(`linecut ${command.name}`)
    .description(command.description)
    .helpOption('-h, --help', 'show this')
    .configureOutput({ getOutHelpWidth: () => columns });
  for (const { name, help, many, optional } of command.args) {
    const inner = many === true ? `${name}...` : name;
    layout.argument(optional === true ? `[${inner}]` : `<${inner}>`, help);
  }
  for (const spec of command.options) layout.addOption(optionOf(spec));
  return layout.helpInformation() + examplesOf(command, columns);
}

function optionOf(spec: OptionSpec<unknown>): Option {
  const { name, short, value, group } = spec;
  const long = value === undefined ? `--${name}` : `--${name} <${value}>`;
  return new Option(short === undefined ? long : `-${short}, ${long}`, helpText(spec)).helpGroup(`${group}:`);
}

function examplesOf({ examples }: Command, columns: number): string {
  const says = (text: string): string => new WrappedHelp().boxWrap(text, columns - '  # '.length).replaceAll('\n', '\n  # ');
  const lines = examples.flatMap((one) => [`  # ${says(one.says)}`, `  ${one.command}`]);
  return `\nExamples:\n${lines.join('\n')}\n`;
}
