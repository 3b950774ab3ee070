/** Lanes: one a source that is on program, one for black where there is any. */
import { matchSources } from '../compare/sources.js';
import { BLACK, type CutList } from '../cutlist/model.js';
import { BLACK_FILL, colorOf } from './palette.js';
import { fitNames } from './places.js';

/** Key of the lane that a source of a list is drawn in, by its id. */
export type LaneOf = (source: string) => string;

/** For each of the lists the lane of its sources: two lists share a lane where `compare` takes two sources for one, whatever their ids. */
export function laneKeys(lists: readonly CutList[]): LaneOf[] {
  const [a, b] = lists;
  if (a === undefined || b === undefined) return lists.map(() => (id) => id);
  const keys = matchSources(a, b);
  return [keys.a, keys.b];
}

export interface Lane {
  readonly key: string;
  readonly name: string;
  /** The name, cut to what a lane has room for; still another than those of the other lanes. */
  readonly short: string;
  readonly fill: string;
}

/** Room for a lane's name, in units, and the size that it is written in. */
const NAME_WIDTH = 122;
export const NAME_SIZE = 12;

/** A list with the lanes of its sources. */
export interface Laned {
  readonly list: CutList;
  readonly laneOf: LaneOf;
}

/** So many lanes are drawn in every strip, with a bar or without: an ordinary show keeps its lanes in their places. */
const MOST_EMPTY = 16;

/** The lanes to draw in a strip: all of them, or, where they are many, those that hold something of a list in its [from, to). */
export function lanesIn(lanes: readonly Lane[], parts: readonly (Laned & { readonly from: number; readonly to: number })[]): readonly Lane[] {
  if (lanes.length <= MOST_EMPTY) return lanes;
  const held = new Set<string>();
  for (const { list: { shots }, laneOf, from, to } of parts) {
    shots.forEach((shot, index) => {
      if (shot.out <= from || shot.in >= to) return;
      held.add(laneOf(shot.source));
      const before = shots[index - 1];
      if (before !== undefined && shot.in + (shot.transition?.frames ?? 0) > from) held.add(laneOf(before.source));
    });
  }
  return lanes.filter(({ key }) => held.has(key));
}

/** The lanes of all lists drawn together, in the order of their sources; a source never on program has none. */
export function lanesOf(sides: readonly Laned[]): Lane[] {
  const used = new Set(sides.flatMap(({ list, laneOf }) => list.shots.map((shot) => laneOf(shot.source))));
  const lanes = new Map<string, Omit<Lane, 'short'>>();
  for (const { list, laneOf } of sides) {
    for (const { id, name } of list.sources) {
      const key = laneOf(id);
      if (used.has(key) && !lanes.has(key)) lanes.set(key, { key, name, fill: colorOf(lanes.size) });
    }
  }
  if (used.has(BLACK)) lanes.set(BLACK, { key: BLACK, name: 'Black', fill: BLACK_FILL });
  const found = [...lanes.values()];
  const short = fitNames(found.map(({ name }) => name), NAME_WIDTH, NAME_SIZE);
  return found.map((lane, index) => ({ ...lane, short: short[index] ?? lane.name }));
}
