/** Which source a log's word means. */
import { oneLine } from '../cutlist/line.js';
import { BLACK, FOLLOW, NONE, PROGRAM, type Source } from '../cutlist/model.js';
import { freeId, NO_SOURCES } from '../cutlist/naming.js';
import { didYouMean } from '../nearest.js';
import { fault, isFault, type Fault } from '../problems.js';
import { listOf, shorten } from '../visible.js';

/** What the log needs to know of a source. */
export type KnownSource = Pick<Source, 'id' | 'name' | 'aliases' | 'picture'>;

export interface NamedSource {
  readonly id: string;
  readonly name: string;
}

/** Words that an `audio` row takes beside the sources. Black has no sound. */
const AUDIO_WORDS: Readonly<Record<string, string>> = { program: PROGRAM, follow: FOLLOW, none: NONE, black: NONE };

/**
 * Finds sources by word: the mapping's words first, then ids and aliases in any case, then names; `black` is always
 * known. With `known` undefined every word is a source: id = name, in its first spelling, but for words that are no id of a source.
 */
export class SourceBook {
  /** Sources in order of appearance, where none were known beforehand. */
  readonly named: NamedSource[];
  readonly #open: boolean;
  readonly #ids = new Map<string, KnownSource>();
  readonly #names = new Map<string, KnownSource>();
  /** Ids that were made for words that are none: no word of the log means such a source by them. */
  readonly #made = new Set<string>();
  readonly #mapped = new Map<string, string>();
  /** Words for the program recording, which can be heard and never switched to. */
  readonly #program = new Set<string>([PROGRAM]);
  readonly #switches = new Map<string, string | Fault>();
  readonly #sounds = new Map<string, string | Fault>();

  /** `inLog`: what the log lists itself. `mapped`: the mapping's words. */
  constructor(known: readonly KnownSource[] | undefined, inLog: readonly NamedSource[], mapped: Readonly<Record<string, string>> | undefined) {
    this.#open = known === undefined;
    this.named = [];
    if (known === undefined) for (const { id, name } of inLog) this.#name(id, name);
    for (const source of known ?? []) {
      if (source.id === PROGRAM) for (const word of [source.name, ...source.aliases]) this.#program.add(fold(word));
      else this.#enter(source);
    }
    for (const [word, id] of Object.entries(mapped ?? {})) this.#mapped.set(fold(word), id);
  }

  /** The id of a source to switch to. Faults: `unknown-source`. */
  forPicture(word: string): string | Fault {
    let id = this.#switches.get(word);
    if (id === undefined) this.#switches.set(word, (id = this.#picture(word)));
    return id;
  }

  /** What an `audio` row names: a source's id, PROGRAM, `follow` or `none`. Faults: `unknown-source`. */
  forSound(word: string): string | Fault {
    let id = this.#sounds.get(word);
    if (id === undefined) this.#sounds.set(word, (id = this.#sound(word)));
    return id;
  }

  #enter(source: KnownSource): void {
    for (const id of [...(this.#made.has(fold(source.id)) ? [] : [source.id]), ...source.aliases]) if (!this.#ids.has(fold(id))) this.#ids.set(fold(id), source);
    if (!this.#names.has(fold(source.name))) this.#names.set(fold(source.name), source);
  }

  #picture(word: string): string | Fault {
    if (fold(this.#mapped.get(fold(word)) ?? word) === BLACK) return BLACK;
    const source = this.#find(word);
    if (isFault(source)) return source;
    return source.picture ? source.id : fault('unknown-source', `'${word}' is a sound-only recording, and cannot be switched to`);
  }

  #sound(word: string): string | Fault {
    const given = fold(this.#mapped.get(fold(word)) ?? word);
    const special = Object.hasOwn(AUDIO_WORDS, given) ? AUDIO_WORDS[given] : undefined;
    if (special !== undefined) return special;
    if (this.#program.has(given) && !this.#ids.has(given) && !this.#names.has(given)) return PROGRAM;
    const source = this.#find(word);
    return isFault(source) ? source : source.id;
  }

  #find(word: string): KnownSource | Fault {
    const mapped = this.#mapped.get(fold(word));
    const given = fold(mapped ?? word);
    const source = this.#ids.get(given) ?? this.#names.get(given);
    if (source !== undefined) return source;
    if (this.#program.has(given)) return fault('unknown-source', `'${shorten(word)}' is the switched output, and cannot be switched to`);
    if (this.#open) return this.#add(mapped ?? word);
    const known = [...new Set([...this.#ids.values()].map(({ id }) => id)), BLACK];
    const words = [...this.#ids.keys(), ...this.#names.keys(), ...this.#mapped.keys(), BLACK];
    const near = didYouMean(mapped ?? word, words);
    const ids = `; known are ${listOf(known)}`;
    if (mapped !== undefined) return fault('unknown-source', `'${shorten(word)}' is mapped to '${mapped}', which is no known source${near}${ids}`);
    const how = near === '' ? `${ids}; add it to the show file, or to the aliases of one of these` : `${near} Then mend the row, or add '${shorten(word)}' to that source's aliases in the show file${ids}`;
    return fault('unknown-source', `unknown source '${shorten(word)}'${how}`);
  }

  #add(word: string): KnownSource | Fault {
    const id = oneLine(word);
    if (id === '') return fault('unknown-source', 'this source has no visible character');
    return this.#name(id, id);
  }

  /** A source that only the log names. */
  #name(word: string, name: string): KnownSource {
    const taken = { has: (given: string): boolean => this.#ids.has(given) || this.#made.has(given) };
    const id = NO_SOURCES.includes(fold(word)) || this.#made.has(fold(word)) ? freeId(word, taken) : word;
    if (id !== word) this.#made.add(fold(id));
    const source = { id, name, aliases: id === word ? [] : [word], picture: true };
    this.named.push({ id, name });
    if (id === PROGRAM) for (const text of [id, name]) this.#program.add(fold(text));
    else this.#enter(source);
    return source;
  }
}

/** Words are compared without case, and as they stand on one line. */
const fold = (word: string): string => oneLine(word).trim().toLowerCase();
