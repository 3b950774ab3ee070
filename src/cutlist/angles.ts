/** Angles: every source's recording over the whole list, take by take, in sync with the cut (`--angles`). */
import type { Angle, CutList } from './model.js';

export function anglesOf(list: CutList): Angle[] {
  return list.sources.map((source) => ({ source: source.id, pieces: [] }));
}
