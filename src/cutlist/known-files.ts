/** What is known of the recordings behind a list that was read. */
import { withPlayed } from './held.js';
import type { CutList, Source } from './model.js';
import { PartFinder } from './parts.js';

/**
 * Finds parts for what is new in `list`, which was `before`, by what that knows of its files: what it says of them, and all that it plays from them.
 * Sources that are `recounted` have other frames than they were read with.
 */
export function finderAfter(list: CutList, before: CutList, recounted: ReadonlySet<string> = new Set()): PartFinder {
  const held = new Map(withPlayed(before).map((source) => [source.id, source]));
  const vague = new Set([...before.shots, ...before.audio].filter(({ file }) => file === undefined).map(({ source }) => source));
  const isCounted = before.takes.some(({ origin }) => origin === 'recording');
  const isNamed = ({ id, files, starts }: Source): boolean =>
    files.length === 0 ? starts.length > 0 || isCounted : !vague.has(id) && files.length > 1 && files.every(({ start }) => start !== undefined);
  const named = new Set(before.sources.filter(isNamed).map(({ id }) => id));
  return new PartFinder({ ...list, sources: list.sources.map((source) => (recounted.has(source.id) ? source : held.get(source.id) ?? source)) }, named);
}
