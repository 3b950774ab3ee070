/** Completion scripts for bash, zsh and fish, made from the command line's own description. */
import type { Command, OptionSpec } from './command.js';

/** What completions and the man page need to know of the whole program. */
export interface ProgramSpec {
  readonly name: string;
  readonly summary: string;
  readonly commands: readonly Omit<Command, 'run'>[];
}

/** Options of the program itself, before any command. */
const PROGRAM_FLAGS = ['-h', '--help', '-V', '--version'] as const;

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

/** `linecut help`, which is no command of its own: what can stand behind it are the commands. */
const HELP = 'help';

/** The words that can stand first, each with what it does. */
const firstWords = ({ commands }: ProgramSpec): { readonly name: string; readonly summary: string }[] => [...commands, { name: HELP, summary: 'all options of a command, with examples' }];

/** The words that can stand behind a command, where they are known beforehand. */
const wordsBehind = ({ commands }: ProgramSpec): ReadonlyMap<string, string> =>
  new Map([
    [HELP, commands.map(({ name }) => name).join(' ')],
    ...commands.flatMap(({ name, args }): [string, string][] => {
      const words = args.flatMap(({ choices }) => choices ?? []);
      return words.length > 0 ? [[name, words.join(' ')]] : [];
    }),
  ]);

function bash(program: ProgramSpec): string {
  const { name } = program;
  const values = program.commands.flatMap((command) =>
    command.options.filter((option) => option.value !== undefined).map((option) => {
      const flags = flagsOf(option).map((flag) => `${command.name}:${flag}`).join('|');
      if (option.kind !== undefined) return `    ${flags}) _${name}_files ${option.kind === 'folder' ? '-d' : '-f'}; return ;;`;
      if (option.several === true) return `    ${flags}) _${name}_several ${choicesOf(option).join(' ')}; return ;;`;
      return `    ${flags}) COMPREPLY=($(compgen -W ${quoted(choicesOf(option).join(' '))} -- "$word")); return ;;`;
    }),
  );
  const options = program.commands.map((command) => `    ${command.name}) words=${quoted([...command.options.flatMap(flagsOf), '-h', '--help'].join(' '))} ;;`);
  const behind = [...wordsBehind(program)].map(([command, words]) => `    ${command}:*) COMPREPLY=($(compgen -W ${quoted(words)} -- "$word")) ;;`);
  return `# bash completion for ${name}
_${name}_files() {
  # A name a line: blanks belong to names.
  local IFS=$'\\n'
  COMPREPLY=($(compgen "$1" -- "$word"))
}
_${name}_several() {
  # Behind the words that are there, with commas, those that are not.
  local before= one
  case $word in *,*) before=\${word%,*}, ;; esac
  for one; do
    case ,$before in *",$one,"*) ;; *) [[ $before$one == "$word"* ]] && COMPREPLY+=("$before$one") ;; esac
  done
}
_${name}() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command=\${COMP_WORDS[1]} words=
  COMPREPLY=()
  # bash takes --name=value apart.
  if [ "$word" = '=' ]; then word=
  elif [ "$before" = '=' ]; then before=\${COMP_WORDS[COMP_CWORD-2]}
  fi
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W ${quoted([...firstWords(program).map((command) => command.name), ...PROGRAM_FLAGS].join(' '))} -- "$word"))
    return
  fi
  case "$command:$before" in
${values.join('\n')}
  esac
  case "$command" in
${options.join('\n')}
  esac
  case "$command:$word" in
    *:-*) COMPREPLY=($(compgen -W "$words" -- "$word")) ;;
${behind.join('\n')}
    *) _${name}_files -f ;;
  esac
}
complete -o filenames -F _${name} ${name}
`;
}

/** Text inside zsh's `[description]`: brackets and colons have a meaning there. */
const zshText = (text: string): string => text.replaceAll(/[[\]:\\]/g, (mark) => `\\${mark}`);

const zshChoices = (one: OptionSpec<unknown>): string | undefined => {
  const words = choicesOf(one).join(' ');
  return words === '' ? undefined : one.several === true ? `_values -s , ${one.value ?? ''} ${words}` : `(${words})`;
};

function zsh(program: ProgramSpec): string {
  const { name } = program;
  const option = (one: OptionSpec<unknown>): string[] =>
    flagsOf(one).map((flag) => {
      const files = one.kind === undefined ? '' : one.kind === 'folder' ? '_files -/' : '_files';
      const value = one.value === undefined ? '' : `:${zshText(one.value)}:${zshChoices(one) ?? files}`;
      // An option that may be given several times is offered again; a long one takes its value behind = too.
      return `      ${quoted(`${one.repeat === true ? '*' : ''}${flag}${one.value !== undefined && flag.startsWith('--') ? '=' : ''}[${zshText(helpLine(one))}]${value}`)}`;
    });
  const commands = firstWords(program).map((command) => `    ${quoted(`${zshText(command.name)}:${zshText(command.summary)}`)}`);
  const behind = wordsBehind(program);
  const rest = (command: string): string => (behind.has(command) ? quoted(`1:word:(${behind.get(command) ?? ''})`) : `'*:file:_files'`);
  const help = ['-h', '--help'].map((flag) => `      ${quoted(`${flag}[show help]`)}`);
  const cases = [{ name: HELP, options: [] }, ...program.commands].map((command) =>
    `    ${command.name})\n    _arguments -s \\\n${[...command.options.flatMap(option), ...help, `      ${rest(command.name)}`].join(' \\\n')}\n    ;;`);
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
  # Where nothing has begun zsh's completions yet, nothing knows compdef.
  (( \${+functions[compdef]} )) || { autoload -Uz compinit && compinit; }
  compdef _${name} ${name}
fi
`;
}

function fish(program: ProgramSpec): string {
  const { name } = program;
  const lines = [
    `# fish completion for ${name}`,
    `function __${name}_several -d 'behind the words that are there, with commas, those that are not'`,
    `  set -l word (string replace -r -- '^--[^=]*=' '' (commandline -ct))`,
    `  set -l before (string match -r -- '.*,' $word)`,
    '  for one in $argv',
    '    string match -q -- "*,$one,*" ",$before"; or echo "$before$one"',
    '  end',
    'end',
  ];
  const choices = (one: OptionSpec<unknown>): string => (one.several === true ? `(__${name}_several ${choicesOf(one).join(' ')})` : choicesOf(one).join(' '));
  const option = (one: OptionSpec<unknown>): string =>
    [
      one.value === undefined ? '' : choicesOf(one).length > 0 ? `-x -a ${quoted(choices(one))}` : one.kind === undefined ? '-x' : '-r -F',
      one.short === undefined ? '' : `-s ${one.short}`,
      `-l ${one.name} -d ${quoted(helpLine(one))}`,
    ].filter((part) => part !== '').join(' ');
  lines.push(`complete -c ${name} -n __fish_use_subcommand -s h -l help -d 'show help'`, `complete -c ${name} -n __fish_use_subcommand -s V -l version -d 'show the version'`);
  for (const [command, words] of wordsBehind(program)) lines.push(`complete -c ${name} -f -n ${quoted(`__fish_seen_subcommand_from ${command}`)} -a ${quoted(words)}`);
  lines.push(`complete -c ${name} -f -n __fish_use_subcommand -a ${HELP} -d 'all options of a command, with examples'`);
  for (const command of program.commands) {
    lines.push(`complete -c ${name} -n ${quoted(`__fish_seen_subcommand_from ${command.name}`)} -s h -l help -d 'show help'`);
    lines.push(`complete -c ${name} -f -n __fish_use_subcommand -a ${command.name} -d ${quoted(command.summary)}`);
    for (const one of command.options) lines.push(`complete -c ${name} -n ${quoted(`__fish_seen_subcommand_from ${command.name}`)} ${option(one)}`);
  }
  return `${lines.join('\n')}\n`;
}
