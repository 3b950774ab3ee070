/** The parts of divided EDLs among the files of one call, by their names. */
import { partEnding, partIn } from '../formats/endings.js';

/** A name that part files share: `show-1.edl` and `show-2.edl` are parts of `show`. */
export interface Division {
  readonly stem: string;
  /** In the order of their numbers. */
  readonly names: readonly string[];
}

/** For each name that may be that of a part, the parts it belongs to: `show-2.edl` is one when `show-1.edl` is there too. */
export function divisionsOf(names: readonly string[]): ReadonlyMap<string, Division> {
  const all = new Set(names);
  const lists = new Map<string, { stem: string; names: string[] }>();
  for (const name of all) {
    const file = partIn(name);
    if (file === undefined) continue;
    const { stem, part, ending } = file;
    if (!all.has(`${stem}${partEnding(part === 1 ? 2 : 1)}${ending}`)) continue;
    const list = lists.get(stem + ending);
    if (list === undefined) lists.set(stem + ending, { stem, names: [name] });
    else list.names.push(name);
  }
  const found = new Map<string, Division>();
  for (const list of lists.values()) {
    list.names.sort((a, b) => numberOf(a) - numberOf(b));
    for (const name of list.names) found.set(name, list);
  }
  return found;
}

/**
 * The files of a division that are parts of one list: those before the first with another title than `NAME-1`, or all. `titleOf`: of an EDL, empty where it has
 * none; undefined of what cannot be read, which is a part all the same.
 */
export function ofOneTitle({ names }: Division, titleOf: (name: string) => string | undefined): readonly string[] {
  const titles = names.map(titleOf);
  const own = titles.find((title) => title !== undefined);
  const other = titles.findIndex((title) => title !== undefined && title !== own);
  return other < 0 ? names : names.slice(0, other);
}

const numberOf = (name: string): number => partIn(name)?.part ?? 0;
