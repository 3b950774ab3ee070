/** How the sources of a list count. */
import type { Count } from '../timecode/rate.js';
import type { CutList } from './model.js';

/** How a source of the list counts, by its id; as the list does where it has none. */
export function sourceCounts({ sources, count }: CutList): (source: string) => Count {
  const byId = new Map(sources.map((source) => [source.id, source.count]));
  return (id) => byId.get(id) ?? count;
}
