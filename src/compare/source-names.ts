/** How corrections of A name the sources of B, and what they have to say of sources first. */
import { BLACK, PROGRAM, type CutList, type Source } from '../cutlist/model.js';
import { NO_SOURCES } from '../cutlist/naming.js';
import { countName, type Count } from '../timecode/rate.js';
import type { Draft } from './draft.js';
import { pairOf, sameCount, type Pair } from './points.js';

export class SourceNames {
  /** Rises when something new has to be said of a source. */
  changes = 0;
  readonly #pair: Pair;
  /** Key of a source that A lacks → its id in the corrected list. */
  readonly #added = new Map<string, { readonly id: string; readonly source: Source }>();
  /** Id in A → how B counts that source. */
  readonly #recounted = new Map<string, Count>();
  readonly #ids: Set<string>;
  /** Sources of A by id, and the first of B by key. */
  readonly #a: ReadonlyMap<string, Source>;
  readonly #b: ReadonlyMap<string, Source>;

  constructor(pair: Pair) {
    this.#pair = pair;
    this.#ids = new Set([...pair.a.sources.map(({ id }) => id.toLowerCase()), ...NO_SOURCES]);
    this.#a = new Map(pair.a.sources.map((source) => [source.id, source]));
    this.#b = new Map([...pair.b.sources].reverse().map((source) => [pair.key.b(source.id), source]));
  }

  /** Whether A has what a source of B is. */
  isKnown(source: string): boolean {
    return this.#a.has(this.#pair.key.b(source));
  }

  /** The id in the corrected list of a source of B. */
  idOf(source: string): string {
    const name = this.#pair.key.b(source);
    if (name === BLACK || this.#a.has(name)) return name;
    const known = this.#added.get(name);
    if (known !== undefined) return known.id;
    const found = this.#b.get(name);
    if (found === undefined) return source;
    let id = found.id.trim() === '' ? 'source' : found.id;
    for (let number = 2; this.#ids.has(id.toLowerCase()) || (id === PROGRAM && found.id !== PROGRAM); number += 1) id = `${found.id.trim()}-${String(number)}`;
    this.#ids.add(id.toLowerCase());
    this.#added.set(name, { id, source: found });
    this.changes += 1;
    return id;
  }

  /** How a source of B counts, as a point of it is written; A's has to count so too. */
  countFor(source: string): Count {
    const count = this.#pair.countB(source);
    const id = this.idOf(source);
    const own = this.#a.get(id)?.count;
    if (own !== undefined && !sameCount(own, count) && !this.#recounted.has(id)) {
      this.#recounted.set(id, count);
      this.changes += 1;
    }
    return count;
  }

  /** What has to be said of sources before anything else. */
  drafts(): Draft[] {
    const added = [...this.#added.values()].map(({ id, source }): Draft => {
      const file = source.files[0]?.path;
      return {
        do: 'add-source', source: id, rate: countName(source.count),
        ...(source.name === id ? {} : { name: source.name }), ...(source.reel === undefined ? {} : { reel: source.reel }), ...(file === undefined ? {} : { file }),
      };
    });
    const recounted = [...this.#recounted].map(([id, count]): Draft => ({ do: 'source-rate', source: id, expect: countName(this.#pair.countA(id)), to: countName(count) }));
    return [...added, ...recounted];
  }

  /** The corrected list beside B. */
  pair(list: CutList): Pair {
    const { key, b } = this.#pair;
    const keys = new Map([...this.#added].map(([name, { id }]) => [id, name]));
    return pairOf(list, b, { a: (id) => keys.get(id) ?? key.a(id), b: key.b });
  }
}
