/** Which column, attribute or child element feeds which field: by the mapping, else by its name, else by a synonym. */
import { nearest } from '../nearest.js';
import { listOf, shorten } from '../visible.js';
import { FIELDS, type Field, type Mapping } from './mapping.js';
import { COLUMN_SYNONYMS, columnWord, fieldOfColumn } from './words.js';

/** Which place (index into the names) feeds which field. */
export interface Columns {
  readonly found: Readonly<Partial<Record<Field, number>>>;
  /** Fields whose column the mapping names or numbers, and which is not there. */
  readonly missing: readonly Field[];
}

/**
 * Finds the fields among `names`. What the mapping says comes first (a name in any case, or a number from 1); a column
 * that it gives to a field feeds no other one by itself, and a field that it says is not there (null) is not looked for. The rest is found by name: the field's own name, in any case,
 * wins over synonyms, and of several the leftmost.
 */
export function findColumns(names: readonly string[], fields: Mapping['fields'] = {}): Columns {
  const found: Partial<Record<Field, number>> = {};
  const missing: Field[] = [];
  const taken = new Set<number>();
  for (const field of FIELDS) {
    const given = fields[field];
    if (given === undefined || given === null) continue;
    const index = typeof given === 'number' ? given - 1 : indexOfName(names, given);
    if (index < 0 || index >= names.length) {
      missing.push(field);
      continue;
    }
    found[field] = index;
    taken.add(index);
  }
  const byName = (accept: (word: string, field: Field) => boolean): void => {
    names.forEach((name, index) => {
      const field = taken.has(index) ? undefined : fieldOfColumn(name);
      if (field === undefined || found[field] !== undefined || fields[field] !== undefined || !accept(columnWord(name), field)) return;
      found[field] = index;
      taken.add(index);
    });
  };
  byName((word, field) => word === field);
  byName(() => true);
  return { found, missing };
}

/** The leftmost column of that very name, else of that name in another case, else -1. */
function indexOfName(names: readonly string[], name: string): number {
  const exact = names.indexOf(name.trim());
  return exact === -1 ? names.findIndex((other) => columnWord(other) === columnWord(name)) : exact;
}

/** How many fields were found. */
export const countFound = ({ found }: Columns): number => Object.keys(found).length;

/** Names that feed no field, without blank ones and repetitions. */
export function unusedNames(names: readonly string[], { found }: Columns): string[] {
  const used = new Set(Object.values(found));
  return [...new Set(names.filter((name, index) => name.trim() !== '' && !used.has(index)))];
}

/** Names for a message: at most 20 of them. */
export const listed = (names: readonly string[]): string => listOf(names.map(shorten), 20);

/** The name of `names` that is likeliest to be the source's: with a word that is or is near one of its own, else the only one there is. */
export function likelySource(names: readonly string[]): string | undefined {
  const words = ['source', ...COLUMN_SYNONYMS.source, 'bus'];
  const has = (is: (part: string) => boolean) => (name: string): boolean => columnWord(name).split(/[^a-z]+/).some(is);
  const named = names.find(has((part) => words.includes(part))) ?? names.find(has((part) => nearest(part, words) !== undefined));
  return named ?? (names.length === 1 ? names[0] : undefined);
}
