/** Completion scripts for bash, zsh and fish, made from the command line's own description. */
import type { CommandSpec, OptionSpec } from './spec.js';

export const SHELLS = ['bash', 'zsh', 'fish'] as const;

export type Shell = (typeof SHELLS)[number];

/** The script that teaches a shell the program's commands, options and values. Text to be sourced by that shell. */
export function completionScript(shell: Shell, program: CommandSpec): string {
  return SCRIPTS[shell](program);
}

const SCRIPTS: Readonly<Record<Shell, (program: CommandSpec) => string>> = { bash, zsh, fish };

/** Single-quoted for any of the three shells. */
const quoted = (text: string): string => `'${text.replaceAll("'", `'\\''`)}'`;

const flagsOf = ({ short, long }: OptionSpec): string[] => [...(short === undefined ? [] : [short]), long];

function bash(program: CommandSpec): string {
  const { name } = program;
  const values = program.commands.flatMap((command) =>
    command.options.filter((option) => option.value !== undefined).map((option) => {
      const flags = flagsOf(option).map((flag) => `${command.name}:${flag}`).join('|');
      return option.choices.length > 0
        ? `    ${flags}) COMPREPLY=($(compgen -W ${quoted(option.choices.join(' '))} -- "$word")); return ;;`
        : `    ${flags}) COMPREPLY=($(compgen -f -- "$word")); return ;;`;
    }),
  );
  const options = program.commands.map((command) => `    ${command.name}) words=${quoted(command.options.flatMap(flagsOf).join(' '))} ;;`);
  return `# bash completion for ${name}
_${name}() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command=\${COMP_WORDS[1]} words=
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W ${quoted([...program.commands.map((command) => command.name), ...program.options.flatMap(flagsOf)].join(' '))} -- "$word"))
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

function zsh(program: CommandSpec): string {
  const { name } = program;
  const option = (one: OptionSpec): string[] =>
    flagsOf(one).map((flag) => {
      const value = one.value === undefined ? '' : one.choices.length > 0 ? `:value:(${one.choices.join(' ')})` : ':value:_files';
      return `      ${quoted(`${flag}[${zshText(one.description)}]${value}`)}`;
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

function fish(program: CommandSpec): string {
  const { name } = program;
  const lines = [`# fish completion for ${name}`];
  const option = (one: OptionSpec, when: string): string =>
    [
      `complete -c ${name}`,
      ...(when === '' ? [] : ['-n', quoted(when)]),
      ...(one.short === undefined ? [] : ['-s', one.short.replace(/^-/, '')]),
      '-l',
      one.long.replace(/^--/, ''),
      ...(one.value === undefined ? [] : one.choices.length > 0 ? ['-x', '-a', quoted(one.choices.join(' '))] : ['-r', '-F']),
      '-d',
      quoted(one.description),
    ].join(' ');
  for (const one of program.options) lines.push(option(one, '__fish_use_subcommand'));
  for (const command of program.commands) {
    lines.push(`complete -c ${name} -f -n __fish_use_subcommand -a ${command.name} -d ${quoted(command.summary)}`);
    for (const one of command.options) lines.push(option(one, `__fish_seen_subcommand_from ${command.name}`));
  }
  return `${lines.join('\n')}\n`;
}
