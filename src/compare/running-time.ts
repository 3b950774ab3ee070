/** Where the running time changed: told apart from starts that moved while everything after them stayed. */

/** How one matched shot lies in both lists. Record frames. */
export interface ShotShift {
  /** How much later it begins in B. */
  readonly later: number;
  /** How much later its source begins in B, as record frames; undefined where that says nothing (black, another source). */
  readonly slipped: number | undefined;
}

/** What a change of the running time costs, against one moved start (1). */
const CHANGE = 1.5;

/**
 * For each matched shot, by how much the running time before it has changed from A to B; chosen so that as few changes
 * and moved starts as possible explain what is seen. A start that moved takes its source point along, a shot behind a change
 * of the running time keeps it. `total` is the change at the end of the list. One pass.
 */
export function runningTime(shots: readonly ShotShift[], total: number): number[] {
  // Cost of each value that the change may have by now, less `common`, what all have paid.
  const costs = new Map<number, number>([[0, 0]]);
  let best = 0;
  const entered: Map<number, number>[] = [];
  for (const { later, slipped } of shots) {
    const from = new Map<number, number>();
    const most = slipped === undefined ? 1 : 2;
    const values = new Map<number, number>([[later, slipped === undefined || slipped === 0 ? 0 : 1]]);
    if (slipped !== undefined && slipped !== 0) values.set(later - slipped, 1);
    const updated: [number, number][] = [];
    for (const [value, cost] of values) {
      const stay = costs.get(value) ?? Infinity;
      const change = (costs.get(best) ?? 0) + CHANGE;
      if (change < stay) from.set(value, best);
      updated.push([value, Math.min(stay, change) + cost - most]);
    }
    for (const [value, cost] of updated) {
      costs.set(value, cost);
      if (cost < (costs.get(best) ?? 0)) best = value;
    }
    entered.push(from);
  }
  let value = (costs.get(total) ?? Infinity) <= (costs.get(best) ?? 0) + CHANGE ? total : best;
  const out: number[] = [];
  for (let index = shots.length - 1; index >= 0; index -= 1) {
    out.push(value);
    value = entered[index]?.get(value) ?? value;
  }
  return out.reverse();
}
