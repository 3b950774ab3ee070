/** Which of the entries that lost their file some files are: each once at most, by likeness. Pure. */

/** A file, and the entry that it is. */
export interface Pair<F, E> {
  readonly file: F;
  readonly entry: E;
}

/** A file that fits several entries equally well, or an entry that other files fit as well. */
export interface Doubt<F, E> {
  readonly file: F;
  /** What it may be: at least one. */
  readonly entries: readonly E[];
}

/**
 * Pairs files with entries, those most like each other first. `likeness` is 0 where a file cannot be an entry, and higher the more they are
 * alike. Where a file fits several entries, or several files an entry, equally well, none of them is paired: these are the doubts. Takes
 * files × entries calls.
 */
export function pairUp<F, E>(files: readonly F[], entries: readonly E[], likeness: (file: F, entry: E) => number): { pairs: Pair<F, E>[]; doubts: Doubt<F, E>[] } {
  const levels = new Map<number, Pair<F, E>[]>();
  for (const file of files) {
    for (const entry of entries) {
      const level = likeness(file, entry);
      if (level > 0) into(levels, level, { file, entry });
    }
  }
  const pairs: Pair<F, E>[] = [];
  const doubts: Doubt<F, E>[] = [];
  const [freeFiles, freeEntries] = [new Set(files), new Set(entries)];
  for (const level of [...levels.keys()].sort((a, b) => b - a)) {
    const open = (levels.get(level) ?? []).filter(({ file, entry }) => freeFiles.has(file) && freeEntries.has(entry));
    const [byFile, byEntry] = [new Map<F, E[]>(), new Map<E, F[]>()];
    for (const { file, entry } of open) {
      into(byFile, file, entry);
      into(byEntry, entry, file);
      // What is in doubt here is not sought among what is less like it.
      freeFiles.delete(file);
      freeEntries.delete(entry);
    }
    for (const [file, fitting] of byFile) {
      const [entry] = fitting;
      if (entry !== undefined && fitting.length === 1 && byEntry.get(entry)?.length === 1) pairs.push({ file, entry });
      else doubts.push({ file, entries: fitting });
    }
  }
  return { pairs, doubts };
}

/** Adds to the list under a key. */
export function into<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const there = map.get(key);
  if (there === undefined) map.set(key, [value]);
  else there.push(value);
}
