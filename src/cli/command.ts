/** What a command is: its options as a table, from which the parser, `--help` and everything else that lists them are made. */
import type { Fault } from '../problems.js';
import type { Io } from './io.js';

/** One option. The same object is used to read its value back, so that the type of a value is known where it is used. */
export interface OptionSpec<T> {
  /** Long name without dashes. */
  readonly name: string;
  /** Single letter. */
  readonly short?: string;
  /** Placeholder of the value, `FILE`; a switch has none. */
  readonly value?: string;
  /** Values that are known beforehand, for help and completion. */
  readonly choices?: readonly string[];
  /** True where a value may be several of them, with commas between. */
  readonly several?: boolean;
  /** What a value is, for completion. */
  readonly kind?: 'file' | 'folder';
  /** One line, or a few. */
  readonly help: string;
  /** Heading that it stands under. */
  readonly group: string;
  /** May be given several times; `all` has them in order. Of any other option the last one counts. */
  readonly repeat?: boolean;
  readonly parse: (text: string) => T | Fault;
}

/** What an option does, for people. */
export const helpText = ({ help, repeat }: OptionSpec<unknown>): string => `${help}${repeat === true ? ' (may be repeated)' : ''}`;

export interface ArgumentSpec {
  readonly name: string;
  readonly help: string;
  /** Values that are known beforehand, for completion. */
  readonly choices?: readonly string[];
  readonly many?: boolean;
  readonly optional?: boolean;
}

export interface Example {
  readonly command: string;
  readonly says: string;
}

/** The values of a call, by option. */
export interface Values {
  readonly get: <T>(option: OptionSpec<T>) => T | undefined;
  readonly all: <T>(option: OptionSpec<T>) => readonly T[];
  /** True when the option was given. */
  readonly has: (option: OptionSpec<unknown>) => boolean;
}

export interface Call {
  readonly args: readonly string[];
  readonly values: Values;
  readonly io: Io;
}

export interface Command {
  readonly name: string;
  readonly summary: string;
  readonly description: string;
  readonly args: readonly ArgumentSpec[];
  readonly options: readonly OptionSpec<unknown>[];
  readonly examples: readonly Example[];
  /** Does the work and gives the exit status: 0 done, 1 the input has errors (or differs), 2 trouble. */
  readonly run: (call: Call) => Promise<number>;
}
