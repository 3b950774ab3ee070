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
 * Matches the sources of B to those of A. Reels are compared as an EDL writes them (letters and digits, in any case,
 * cut, made from the name where there is none); names as ASCII, in any case; files by their whole path, else by their name. A source that matches by reel is not
 * looked for by name any more. Several sources with one reel are one source.
 */
export function matchSources(a: CutList, b: CutList): Matching {
  const canonical = new Map<string, string>();
  const byReel = new Map<string, Source>();
  for (const source of a.sources) {
    const reel = reelOf(source);
    const first = reel === undefined ? undefined : byReel.get(reel);
    if (reel !== undefined && first === undefined) byReel.set(reel, source);
    canonical.set(source.id, first?.id ?? source.id);
  }
  const matched = new Map<string, string>();
  const taken = new Set<string>();
  const match = (from: Source, to: Source): void => {
    const id = canonical.get(to.id) ?? to.id;
    matched.set(from.id, id);
    taken.add(id);
  };
  for (const source of b.sources) {
    const reel = reelOf(source);
    const other = reel === undefined ? undefined : byReel.get(reel);
    if (other !== undefined) match(source, other);
  }
  const writtenA = writtenReels(a);
  const writtenB = writtenReels(b);
  // A reel that was made from a name, or cut, when an EDL was written.
  const written = (one: Source, other: Source): boolean => writtenA(other).includes(reelOf(one) ?? '') || writtenB(one).includes(reelOf(other) ?? '');
  const rounds: ((one: Source, other: Source) => boolean)[] = [
    // Cut to one length, reels of two sources may be what another length makes of a third: names count before a guess.
    (one, other) => written(one, other) && nameOf(one) === nameOf(other),
    (one, other) => nameOf(one) === nameOf(other),
    written,
    (one, other) => one.files.some(({ path }) => other.files.some((file) => file.path === path)),
    (one, other) => one.files.some(({ path }) => other.files.some((file) => fileName(file.path) === fileName(path))),
    (one, other) => one.id === PROGRAM && other.id === PROGRAM,
  ];
  for (const fits of rounds) {
    for (const source of b.sources) {
      if (matched.has(source.id)) continue;
      const free = a.sources.filter((other) => !taken.has(canonical.get(other.id) ?? other.id) && fits(source, other));
      // Of several alike, the one with the same id.
      const other = free.find(({ id }) => id === source.id) ?? free[0];
      if (other !== undefined) match(source, other);
    }
  }
  const own = new Map<string, string>();
  for (const source of b.sources) {
    if (matched.has(source.id)) continue;
    const reel = reelOf(source);
    const twin = reel === undefined ? undefined : b.sources.find((one) => !matched.has(one.id) && reelOf(one) === reel);
    own.set(source.id, `b:${(twin ?? source).id}`);
  }
  return {
    a: (id) => (id === BLACK ? BLACK : (canonical.get(id) ?? id)),
    b: (id) => (id === BLACK ? BLACK : (matched.get(id) ?? own.get(id) ?? `b:${id}`)),
  };
}

function reelOf({ reel }: Source): string | undefined {
  const plain = legal(reel ?? '');
  return plain === '' ? undefined : plain;
}

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
