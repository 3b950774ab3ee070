/** The man page (roff, `man` macros), made from the command line's own description. */
import type { CommandSpec, OptionSpec } from './spec.js';

/** The page as text: section 1. `version` stands in the footer; no date, so that the same version gives the same bytes. */
export function manPage(program: CommandSpec, version: string): string {
  const upper = program.name.toUpperCase();
  return [
    `.TH ${upper} 1 "" "${program.name} ${version}" "User Commands"`,
    '.SH NAME',
    `${program.name} \\- ${plain(program.summary)}`,
    '.SH SYNOPSIS',
    ...program.commands.flatMap((command) => [`.B ${program.name} ${plain(command.name)}`, plain(command.usage), '.br']),
    '.SH OPTIONS',
    ...program.options.flatMap(optionLines),
    '.SH COMMANDS',
    ...program.commands.flatMap((command) => [
      `.SS "${program.name} ${plain(command.name)}"`,
      plain(command.summary),
      ...command.options.flatMap(optionLines),
      ...(command.examples.length === 0 ? [] : ['.PP', 'Examples:', '.nf', ...command.examples.map((line) => `    ${plain(line)}`), '.fi']),
    ]),
    '.SH EXIT STATUS',
    '.TP',
    '.B 0',
    'done',
    '.TP',
    '.B 1',
    'the input has errors; check: any finding but notes; compare: the lists differ',
    '.TP',
    '.B 2',
    'wrong usage, a file that cannot be read or written, an output that exists',
    '',
  ].join('\n');
}

function optionLines({ short, long, value, choices, description }: OptionSpec): string[] {
  const flags = [...(short === undefined ? [] : [short]), long].map((flag) => `\\fB${plain(flag)}\\fR`).join(', ');
  const told = choices.length === 0 ? '' : ` (${choices.join(', ')})`;
  return ['.TP', `${flags}${value === undefined ? '' : ` \\fI${plain(value)}\\fR`}`, plain(`${description}${told}`)];
}

/** Text that roff takes as it is: backslashes and minus signs escaped, no line that begins with a control character. */
function plain(text: string): string {
  const safe = text.replaceAll('\\', '\\e').replaceAll('-', '\\-').replaceAll('\n', ' ');
  return /^[.']/.test(safe) ? `\\&${safe}` : safe;
}
