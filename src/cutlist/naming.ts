/** Which source somebody means by a word, and how a source is called in messages. */
import { BLACK, FOLLOW, NONE, PROGRAM, type Source } from './model.js';

/** As much of a source as a word can mean: of a list, or of a show file, where all but the id may be missing. */
export type Named = Pick<Source, 'id'> & Partial<Pick<Source, 'aliases' | 'name' | 'reel'>>;

/** Words that mean something else where a source's id may stand: no source of any list has one of them as its id. */
export const NO_SOURCES: readonly string[] = [BLACK, FOLLOW, NONE];

/** The same with the program recording's id, which no other source may have: none of a show file or of recordings has. */
export const RESERVED_IDS: readonly string[] = [...NO_SOURCES, PROGRAM];

/** The id of a source that was read, and called `wanted` there: that, with a number behind it where it is `taken` (in lower case) or `reserved`. */
export function freeId(wanted: string, taken: { readonly has: (id: string) => boolean }, reserved: readonly string[] = NO_SOURCES): string {
  let id = wanted;
  for (let number = 2; taken.has(id.toLowerCase()) || reserved.includes(id.trim().toLowerCase()); number += 1) id = `${wanted} ${String(number)}`;
  return id;
}

/**
 * The id of the source that `word` names: an id or alias, then a name, then a reel, each in any case; `black` always is one.
 * Undefined when there is none. An exact id wins over everything.
 */
export function findSource(sources: readonly Named[], word: string): string | undefined {
  if (word === BLACK || sources.some(({ id }) => id === word)) return word;
  const given = word.trim().toLowerCase();
  const is = (text: string | undefined): boolean => text !== undefined && text.trim().toLowerCase() === given;
  if (given === BLACK) return BLACK;
  const found = sources.find(({ id }) => is(id))
    ?? sources.find(({ aliases }) => aliases?.some(is))
    ?? sources.find(({ name }) => is(name))
    ?? sources.find(({ reel }) => is(reel));
  return found?.id;
}

/** The ids that can be named, in the list's order. */
export const sourceWords = (sources: readonly Source[]): string[] => [...sources.map(({ id }) => id), BLACK];

/** `Close-up (2)`: a source in a message; the id alone where there is no other name. */
export const sourceText = (sources: readonly Source[], id: string): string => withId(sources.find((source) => source.id === id)?.name, id);

/** The same for who names many of them. */
export function sourceTexts(sources: readonly Source[]): (id: string) => string {
  const names = new Map(sources.map(({ id, name }) => [id, name]));
  return (id) => withId(names.get(id), id);
}

const withId = (name: string | undefined, id: string): string => (name === undefined || name === id ? id : `${name} (${id})`);
