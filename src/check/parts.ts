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

const numberOf = (name: string): number => partIn(name)?.part ?? 0;
