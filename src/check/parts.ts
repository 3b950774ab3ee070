/** The parts of divided EDLs among the files of one call, by their names. */

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
    const [, stem = '', number, ending = ''] = PART.exec(name) ?? [];
    if (number === undefined || !all.has(`${stem}-${number === '1' ? '2' : '1'}${ending}`)) continue;
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

const PART = /^(.*)-([1-9]\d*)(\.[^./\\]+)$/s;

const numberOf = (name: string): number => Number(PART.exec(name)?.[2]);
