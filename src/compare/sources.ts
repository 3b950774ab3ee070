/** Which source of one list is which source of the other: by reel, else clip name, else file. */
import { BLACK, PROGRAM, type CutList, type Source } from '../cutlist/model.js';
import { asciiText } from '../formats/edl/ascii.js';
import { legal, reelNames } from '../formats/edl/reels.js';

/** What one source is called in both lists. */
export interface Matching {
  /** Key of a source of A: its id, or that of the first source of A with the same reel. */
  readonly a: (id: string) => string;
  /** Key of a source of B: the key of what it matches in A, else a key that A has not. */
  readonly b: (id: string) => string;
}

/**
 * Matches the sources of B to those of A. Reels are compared as they are, in any case, then as an EDL writes them (letters and digits,
 * cut, made from the name where there is none); names as ASCII, in any case; files by their whole path, else by their name. A source that matches by reel is not
 * looked for by name any more. Several sources with one reel are one source; those whose reels an EDL would write alike are not.
 */
export function matchSources(a: CutList, b: CutList): Matching {
  const byReel = firstBy(a.sources, reelOf);
  const first = (source: Source): Source => byReel.get(reelOf(source) ?? '') ?? source;
  const canonical = new Map(a.sources.map((source) => [source.id, first(source).id]));
  const matched = new Map<string, string>();
  const taken = new Set<string>();
  const match = (from: Source, to: Source): void => {
    const { id } = first(to);
    matched.set(from.id, id);
    taken.add(id);
  };
  for (const source of b.sources) {
    const other = byReel.get(reelOf(source) ?? '');
    if (other !== undefined) match(source, other);
  }
  for (const keys of roundsOf(a, b)) {
    const free = new Free(a.sources, keys.a, (source) => taken.has(first(source).id));
    for (const source of b.sources) {
      const other = matched.has(source.id) ? undefined : free.like(source, keys.b(source));
      if (other !== undefined) match(source, other);
    }
  }
  const left = b.sources.filter(({ id }) => !matched.has(id));
  const twins = firstBy(left, reelOf);
  const own = new Map(left.map((source) => [source.id, `b:${(twins.get(reelOf(source) ?? '') ?? source).id}`]));
  return {
    a: (id) => (id === BLACK ? BLACK : (canonical.get(id) ?? id)),
    b: (id) => (id === BLACK ? BLACK : (matched.get(id) ?? own.get(id) ?? `b:${id}`)),
  };
}

/** The first source of each key. */
function firstBy(sources: readonly Source[], keyOf: (source: Source) => string | undefined): ReadonlyMap<string, Source> {
  const found = new Map<string, Source>();
  for (const source of sources) {
    const key = keyOf(source);
    if (key !== undefined && !found.has(key)) found.set(key, source);
  }
  return found;
}

/** By what sources are alike: one of A and one of B are, when they share a key. */
interface Keys {
  readonly a: (source: Source) => readonly string[];
  readonly b: (source: Source) => readonly string[];
}

/** What may make two sources one, from the surest to the least. */
function roundsOf(a: CutList, b: CutList): readonly Keys[] {
  const both = (keys: Keys['a']): Keys => ({ a: keys, b: keys });
  const [writtenA, writtenB] = [writtenReels(a), writtenReels(b)];
  const given = ({ reel }: Source): string[] => [legal(reel ?? '')].filter((plain) => plain !== '');
  // A reel that was made from a name, or cut, when an EDL was written: of one side, it is what the other has been given.
  const written: Keys = {
    a: (source) => [...writtenA(source).map((reel) => `a ${reel}`), ...given(source).map((reel) => `b ${reel}`)],
    b: (source) => [...given(source).map((reel) => `a ${reel}`), ...writtenB(source).map((reel) => `b ${reel}`)],
  };
  const named = (keys: Keys['a']): Keys['a'] => (source) => keys(source).map((key) => `${key} ${nameOf(source)}`);
  return [
    both(given),
    // Cut to one length, reels of two sources may be what another length makes of a third: names count before a guess.
    { a: named(written.a), b: named(written.b) },
    both((source) => [nameOf(source)]),
    written,
    both(({ files }) => files.map(({ path }) => path)),
    both(({ files }) => files.map(({ path }) => fileName(path))),
    both(({ id }) => (id === PROGRAM ? [id] : [])),
  ];
}

/** The sources of A that nothing was matched to, by their keys. What is taken stays so. */
class Free {
  /** Indexes of the sources with a key, rising; from the first that was free when it was last asked for. */
  readonly #byKey = new Map<string, { readonly indexes: number[]; from: number }>();
  readonly #byId = new Map<string, { readonly source: Source; readonly keys: ReadonlySet<string> }>();

  constructor(
    readonly sources: readonly Source[],
    keysOf: Keys['a'],
    readonly isTaken: (source: Source) => boolean,
  ) {
    sources.forEach((source, index) => {
      const keys = new Set(keysOf(source));
      this.#byId.set(source.id, { source, keys });
      for (const key of keys) {
        const own = this.#byKey.get(key);
        if (own === undefined) this.#byKey.set(key, { indexes: [index], from: 0 });
        else own.indexes.push(index);
      }
    });
  }

  /** One that shares a key: of several, that with the same id, else the first. */
  like({ id }: Source, keys: readonly string[]): Source | undefined {
    const same = this.#byId.get(id);
    if (same !== undefined && keys.some((key) => same.keys.has(key)) && !this.isTaken(same.source)) return same.source;
    return this.sources[keys.reduce((first, key) => Math.min(first, this.#firstOf(key)), Infinity)];
  }

  #firstOf(key: string): number {
    const own = this.#byKey.get(key);
    if (own === undefined) return Infinity;
    const { indexes } = own;
    for (; own.from < indexes.length; own.from += 1) {
      const source = this.sources[indexes[own.from] ?? -1];
      if (source !== undefined && !this.isTaken(source)) break;
    }
    return indexes[own.from] ?? Infinity;
  }
}

/** What tells the tapes of one list apart; undefined for a source without a reel, or with one that has no letter and no digit. */
const reelOf = ({ reel = '' }: Source): string | undefined => (legal(reel) === '' ? undefined : reel.trim().toUpperCase());

/** The reels that an EDL of a list writes for a source, short and long. */
function writtenReels(list: CutList): (source: Source) => readonly string[] {
  const reels = [8, 32].map((length) => reelNames(list.sources, length, () => undefined));
  return ({ id }) => reels.flatMap((names) => names?.get(id) ?? []);
}

const nameOf = ({ name }: Source): string => asciiText(name).toLowerCase().trim();

function fileName(path: string): string {
  const last = path.split(/[/\\]/).at(-1) ?? path;
  if (!path.includes('://')) return last;
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}
