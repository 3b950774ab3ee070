/** Lanes: one a source that is on program, one for black where there is any. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { BLACK_FILL, colorOf } from './palette.js';
import { fitNames } from './places.js';

export interface Lane {
  readonly source: string;
  readonly name: string;
  /** The name, cut to what a lane has room for; still another than those of the other lanes. */
  readonly short: string;
  readonly fill: string;
}

/** Room for a lane's name, in units, and the size that it is written in. */
const NAME_WIDTH = 122;
export const NAME_SIZE = 12;

/** The lanes of all lists drawn together, in the order of their sources; a source never on program has none. */
export function lanesOf(lists: readonly CutList[]): Lane[] {
  const used = new Set(lists.flatMap((list) => list.shots.map((shot) => shot.source)));
  const lanes = new Map<string, Omit<Lane, 'short'>>();
  for (const source of lists.flatMap((list) => list.sources)) {
    if (!used.has(source.id) || lanes.has(source.id)) continue;
    lanes.set(source.id, { source: source.id, name: source.name, fill: colorOf(lanes.size) });
  }
  if (used.has(BLACK)) lanes.set(BLACK, { source: BLACK, name: 'Black', fill: BLACK_FILL });
  const found = [...lanes.values()];
  const short = fitNames(found.map(({ name }) => name), NAME_WIDTH, NAME_SIZE);
  return found.map((lane, index) => ({ ...lane, short: short[index] ?? lane.name }));
}
