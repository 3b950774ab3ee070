/** Makers of options: one for each kind of value. */
import { didYouMean } from '../nearest.js';
import { fault } from '../problems.js';
import type { OptionSpec } from './command.js';
import { STANDARD } from './names.js';

type Rest<T> = Omit<OptionSpec<T>, 'name' | 'parse' | 'value'>;

/** A switch: there or not there. */
export const flag = (name: string, rest: Rest<true>): OptionSpec<true> => ({ name, parse: () => true, ...rest });

/** Any text. */
export const text = (name: string, value: string, rest: Rest<string>): OptionSpec<string> => ({ name, value, parse: (given) => given, ...rest });

/** The path of a file or folder; with `stream` also `-`, which is standard input or output for the one who reads the option. */
export const path = (name: string, value: string, { stream, ...rest }: Rest<string> & { readonly stream?: true }): OptionSpec<string> => ({
  name,
  value,
  kind: 'file',
  parse: (given) => {
    if (given === '') return fault('bad-option', 'the path is empty');
    return given === STANDARD && stream !== true ? fault('bad-option', `it does not take - for standard input or output; write ./- for a ${rest.kind ?? 'file'} of that name`) : given;
  },
  ...rest,
});

/** One of a few words, in any case. */
export function choice<T extends string>(name: string, value: string, choices: readonly T[], rest: Rest<T>): OptionSpec<T> {
  return { name, value, choices, parse: (given) => oneOf(given, choices), ...rest };
}

/** Some of a few words, with commas between; each once, in the order of `choices`. */
export function choiceList<T extends string>(name: string, value: string, choices: readonly T[], rest: Rest<readonly T[]>): OptionSpec<readonly T[]> {
  return {
    name,
    value,
    choices,
    several: true,
    parse: (given) => {
      const chosen = new Set<T>();
      for (const part of given.split(',')) {
        const found = oneOf(part, choices);
        if (typeof found !== 'string') return found;
        chosen.add(found);
      }
      return choices.filter((one) => chosen.has(one));
    },
    ...rest,
  };
}

/** A whole number of at least `least`. */
export const whole = (name: string, value: string, least: number, rest: Rest<number>): OptionSpec<number> => ({
  name,
  value,
  parse: (given) => {
    const number = /^\d+$/.test(given) ? Number(given) : Number.NaN;
    return Number.isSafeInteger(number) && number >= least ? number : fault('bad-option', `'${given}' is not a whole number from ${String(least)}`);
  },
  ...rest,
});

const UNITS: Readonly<Record<string, number>> = { '': 1, k: 1024, m: 1024 ** 2, g: 1024 ** 3 };

/** A number of bytes: `1000000`, `500k`, `64M`, `2G` (powers of 1024). */
export const bytes = (name: string, value: string, rest: Rest<number>): OptionSpec<number> => ({
  name,
  value,
  parse: (given) => {
    const parts = /^(\d{1,15})\s*([kmg]?)(?:i?b)?$/i.exec(given);
    const size = Number(parts?.[1]) * (UNITS[(parts?.[2] ?? '').toLowerCase()] ?? Number.NaN);
    return size >= 1 && Number.isSafeInteger(size) ? size : fault('bad-option', `'${given}' is not a size; write 5000000, 500k, 64M or 2G`);
  },
  ...rest,
});

function oneOf<T extends string>(given: string, choices: readonly T[]): T | ReturnType<typeof fault> {
  const word = given.trim().toLowerCase();
  return choices.find((one) => one === word) ?? fault('bad-option', `'${given}' is not one of ${choices.join(', ')}${didYouMean(word, choices)}`);
}
