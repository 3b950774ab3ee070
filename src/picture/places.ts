/** Labels that do not collide: each takes the first row in which it has room, or none. */

export interface Label {
  /** Left end, in units. */
  readonly x: number;
  readonly width: number;
}

/**
 * Gives each label (in order of x) a row, 0 ≤ row < rows, so that no two in a row overlap; undefined where none has
 * room. Linear in the number of labels.
 */
export function placeLabels(labels: readonly Label[], rows: number, limit: number): (number | undefined)[] {
  const ends = Array.from({ length: rows }, () => Number.NEGATIVE_INFINITY);
  return labels.map(({ x, width }) => {
    if (x + width > limit) return undefined;
    const row = ends.findIndex((end) => end <= x);
    if (row === -1) return undefined;
    ends[row] = x + width + 6;
    return row;
  });
}

/** Width of text at a size, by the average width of a sans-serif letter: for placing only. */
export const textWidth = (text: string, size: number): number => Array.from(text).length * size * 0.58;
