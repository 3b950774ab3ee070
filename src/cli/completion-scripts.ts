/** Completion scripts for bash, zsh and fish, made from the command line's own description. */
import type { Command, OptionSpec } from './command.js';

/** What completions and the man page need to know of the whole program. */
export interface ProgramSpec {
  readonly name: string;
  readonly summary: string;
  readonly commands: readonly Omit<Command, 'run'>[];
}

/** Options of the program itself, before any command. */
export const PROGRAM_FLAGS = ['-h', '--help', '-V', '--version'] as const;

export const SHELLS = ['bash', 'zsh', 'fish'] as const;

export type Shell = (typeof SHELLS)[number];

/** The script that teaches a shell the program's commands, options and values. Text to be sourced by that shell. */
export function completionScript(shell: Shell, program: ProgramSpec): string {
  return SCRIPTS[shell](program);
}

const SCRIPTS: Readonly<Record<Shell, (program: ProgramSpec) => string>> = { bash, zsh, fish };

/** Single-quoted for any of the three shells. */
const quoted = (text: string): string => `'${text.replaceAll("'", `'\\''`)}'`;

/** `-o`, `--out`. */
export const flagsOf = ({ short, name }: OptionSpec<unknown>): string[] => [...(short === undefined ? [] : [`-${short}`]), `--${name}`];

/** One line of an option's help. */
const helpLine = (option: OptionSpec<unknown>): string => option.help.split('\n')[0] ?? '';

const choicesOf = (option: OptionSpec<unknown>): readonly string[] => option.choices ?? [];

function bash(program: ProgramSpec): string {
  const { name } = program;
  const values = program.commands.flatMap((command) =>
    command.options.filter((option) => option.value !== undefined).map((option) => {
      const flags = flagsOf(option).map((flag) => `${command.name}:${flag}`).join('|');
      const words = choicesOf(option).length > 0 ? `-W ${quoted(choicesOf(option).join(' '))}` : option.kind === 'folder' ? '-d' : option.kind === 'file' ? '-f' : '-W ""';
      return `    ${flags}) COMPREPLY=($(compgen ${words} -- "$word")); return ;;`;
    }),
  );
  const options = program.commands.map((command) => `    ${command.name}) words=${quoted(command.options.flatMap(flagsOf).join(' '))} ;;`);
  return `# bash completion for ${name}
_${name}() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command=\${COMP_WORDS[1]} words=
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W ${quoted([...program.commands.map((command) => command.name), ...PROGRAM_FLAGS].join(' '))} -- "$word"))
    return
  fi
  case "$command:$before" in
${values.join('\n')}
  esac
  case "$command" in
${options.join('\n')}
  esac
  case "$word" in
    -*) COMPREPLY=($(compgen -W "$words" -- "$word")) ;;
    *) COMPREPLY=($(compgen -f -- "$word")) ;;
  esac
}
complete -o filenames -F _${name} ${name}
`;
}

/** Text inside zsh's `[description]`: brackets and colons have a meaning there. */
const zshText = (text: string): string => text.replaceAll(/[[\]:\\]/g, (mark) => `\\${mark}`);

function zsh(program: ProgramSpec): string {
  const { name } = program;
  const option = (one: OptionSpec<unknown>): string[] =>
    flagsOf(one).map((flag) => {
      const files = one.kind === undefined ? '' : one.kind === 'folder' ? '_files -/' : '_files';
      const value = one.value === undefined ? '' : `:${zshText(one.value)}:${choicesOf(one).length > 0 ? `(${choicesOf(one).join(' ')})` : files}`;
      return `      ${quoted(`${flag}[${zshText(helpLine(one))}]${value}`)}`;
    });
  const commands = program.commands.map((command) => `    ${quoted(`${zshText(command.name)}:${zshText(command.summary)}`)}`);
  const cases = program.commands.map((command) => `    ${command.name})\n    _arguments -s \\\n${[...command.options.flatMap(option), `      '*:file:_files'`].join(' \\\n')}\n    ;;`);
  return `#compdef ${name}
# zsh completion for ${name}
_${name}() {
  local -a commands
  commands=(
${commands.join('\n')}
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command=\${words[2]}
  shift words
  (( CURRENT-- ))
  case "$command" in
${cases.join('\n')}
  esac
}
if [ "\${funcstack[1]}" = "_${name}" ]; then
  _${name} "$@"
else
  compdef _${name} ${name}
fi
`;
}

function fish(program: ProgramSpec): string {
  const { name } = program;
  const lines = [`# fish completion for ${name}`];
  const option = (one: OptionSpec<unknown>): string =>
    [
      one.value === undefined ? '' : choicesOf(one).length > 0 ? `-x -a ${quoted(choicesOf(one).join(' '))}` : one.kind === undefined ? '-x' : '-r -F',
      one.short === undefined ? '' : `-s ${one.short}`,
      `-l ${one.name} -d ${quoted(helpLine(one))}`,
    ].filter((part) => part !== '').join(' ');
  lines.push(`complete -c ${name} -n __fish_use_subcommand -s h -l help -d 'show help'`, `complete -c ${name} -n __fish_use_subcommand -s V -l version -d 'show the version'`);
  for (const command of program.commands) {
    lines.push(`complete -c ${name} -f -n __fish_use_subcommand -a ${command.name} -d ${quoted(command.summary)}`);
    for (const one of command.options) lines.push(`complete -c ${name} -n ${quoted(`__fish_seen_subcommand_from ${command.name}`)} ${option(one)}`);
  }
  return `${lines.join('\n')}\n`;
}
