/** Lanes: one a source that is on program, one for black where there is any. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { BLACK_FILL, colorOf } from './palette.js';

export interface Lane {
  readonly source: string;
  readonly name: string;
  readonly fill: string;
}

/** The lanes of all lists drawn together, in the order of their sources; a source never on program has none. */
export function lanesOf(lists: readonly CutList[]): Lane[] {
  const used = new Set(lists.flatMap((list) => list.shots.map((shot) => shot.source)));
  const lanes = new Map<string, Lane>();
  for (const source of lists.flatMap((list) => list.sources)) {
    if (!used.has(source.id) || lanes.has(source.id)) continue;
    lanes.set(source.id, { source: source.id, name: source.name, fill: colorOf(lanes.size) });
  }
  if (used.has(BLACK)) lanes.set(BLACK, { source: BLACK, name: 'Black', fill: BLACK_FILL });
  return [...lanes.values()];
}
