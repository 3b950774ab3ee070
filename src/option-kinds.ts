/** What the options of the library may be: kinds of values, and what is said of a value that is of another. */
import { didYouMean } from './nearest.js';
import { problem, type Code, type Report } from './problems.js';
import { shorten } from './visible.js';

/** Says what is wrong with the value of an option. The code is `bad-option` unless another is given. */
export type Bad = (key: string, message: string, code?: Code) => void;

/** Looks at the value of an option, which is named `key` where something is wrong with it. */
export type Kind = (value: unknown, key: string, bad: Bad) => void;

type Needed<T> = { readonly [K in keyof T]-?: undefined extends T[K] ? never : K }[keyof T];

/** True when a value is of a kind; else all that is wrong is reported, with the key as its place. */
export function isOfKind(kind: Kind, value: unknown, key: string, report: Report): boolean {
  let sound = true;
  kind(value, key, (at, message, code = 'bad-option') => {
    sound = false;
    report(problem(code, message, { option: at }));
  });
  return sound;
}

/** A value as a message has it. What holds others is not written out: it may be large, or hold itself. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return `'${shorten(value)}'`;
  if (typeof value === 'function') return 'a function';
  if (typeof value !== 'object' || value === null) return String(value);
  return Array.isArray(value) ? 'a list' : 'an object';
}

/** One test, and what it expects in words. */
export const that = (expected: string, test: (value: unknown) => boolean): Kind =>
  (value, key, bad) => {
    if (!test(value)) bad(key, value === undefined ? `it is missing; expected ${expected}` : `${shown(value)} is not ${expected}`);
  };

export const text = that('a text', (value) => typeof value === 'string');
export const flag = that('true or false', (value) => typeof value === 'boolean');
export const callable = that('a function', (value) => typeof value === 'function');

/** A whole number of at least `least`. */
export const whole = (least: number, most: number = Number.MAX_SAFE_INTEGER): Kind =>
  that(`a whole number from ${String(least)}${most < Number.MAX_SAFE_INTEGER ? ` to ${String(most)}` : ''}`, (value) => Number.isSafeInteger(value) && Number(value) >= least && Number(value) <= most);

/** One of a few values, as it is written here. */
export const oneOf = (choices: readonly (string | number)[]): Kind =>
  (value, key, bad) => {
    if (choices.some((one) => one === value)) return;
    const expected = `one of ${choices.join(', ')}`;
    bad(key, value === undefined ? `it is missing; expected ${expected}` : `${shown(value)} is not ${expected}${typeof value === 'string' ? didYouMean(value, choices.map(String)) : ''}`);
  };

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null && !Array.isArray(value);

export const object = that('an object', isObject);

/** A list, each of its values of a kind. */
export const listOf = (kind: Kind): Kind =>
  (value, key, bad) => {
    if (Array.isArray(value)) value.forEach((one, index) => { kind(one, `${key}[${String(index)}]`, bad); });
    else that('a list', () => false)(value, key, bad);
  };

/** An object with any keys, each of its values of a kind. */
export const recordOf = (kind: Kind): Kind =>
  (value, key, bad) => {
    if (isObject(value)) for (const [name, one] of Object.entries(value)) kind(one, `${key}.${name}`, bad);
    else object(value, key, bad);
  };

/**
 * An object with the keys of a type, each of its kind. Those in `needed` have to be there; what is undefined is as if it were not. Other keys are
 * nobody's concern. The object that holds all options of a function has the key '' and is called `options`.
 */
export const shape = <T extends object>(kinds: { readonly [K in keyof Required<T>]: Kind }, needed: readonly Needed<T>[] = []): Kind =>
  (value, key, bad) => {
    if (!isObject(value)) {
      object(value, key === '' ? 'options' : key, bad);
      return;
    }
    for (const [name, kind] of Object.entries<Kind>(kinds)) {
      const one = value[name];
      if (one !== undefined || (needed as readonly string[]).includes(name)) kind(one, key === '' ? name : `${key}.${name}`, bad);
    }
  };

/** What has to be of several kinds. A later one is only asked where the ones before have nothing to say. */
export const all = (...kinds: readonly Kind[]): Kind =>
  (value, key, bad) => {
    let sound = true;
    for (const kind of kinds) {
      if (sound) kind(value, key, (...said) => { sound = false; bad(...said); });
    }
  };
