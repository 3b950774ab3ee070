/** The man page (roff, `man` macros), made from the command line's own description. */
import { helpText, type ArgumentSpec, type OptionSpec } from './command.js';
import { flagsOf, type ProgramSpec } from './completion-scripts.js';

/** The page as text: section 1. `version` stands in the footer; no date, so that the same version gives the same bytes. */
export function manPage(program: ProgramSpec, version: string): string {
  const upper = program.name.toUpperCase();
  return [
    `.TH ${upper} 1 "" "${program.name} ${version}" "User Commands"`,
    '.SH NAME',
    `${program.name} \\- ${plain(program.summary)}`,
    '.SH SYNOPSIS',
    ...program.commands.flatMap((command) => [`.B ${program.name} ${plain(command.name)}`, plain(['[options]', ...command.args.map(argumentText)].join(' ')), '.br']),
    '.SH COMMANDS',
    ...program.commands.flatMap((command) => [
      `.SS "${program.name} ${plain(command.name)}"`,
      ...command.description.split('\n').flatMap((line) => [plain(line), '.br']),
      ...command.options.flatMap(optionLines),
      ...(command.examples.length === 0 ? [] : ['.PP', 'Examples:', '.nf', ...command.examples.flatMap(({ command: line, says }) => [`    ${plain(says)}:`, `        ${plain(line)}`]), '.fi']),
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

const argumentText = ({ name, many, optional }: ArgumentSpec): string => {
  const text = `${name}${many === true ? '...' : ''}`;
  return optional === true ? `[${text}]` : text;
};

function optionLines(option: OptionSpec<unknown>): string[] {
  const flags = flagsOf(option).map((flag) => `\\fB${plain(flag)}\\fR`).join(', ');
  return ['.TP', `${flags}${option.value === undefined ? '' : ` \\fI${plain(option.value)}\\fR`}`, plain(helpText(option))];
}

/** Text that roff takes as it is: backslashes and minus signs escaped, no line that begins with a control character. */
function plain(text: string): string {
  const safe = text.replaceAll('\\', '\\e').replaceAll('-', '\\-').replaceAll('\n', ' ');
  return /^[.']/.test(safe) ? `\\&${safe}` : safe;
}
