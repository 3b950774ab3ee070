/** Which marker of one list is which of the other, and what became of it. */
import type { Marker } from '../cutlist/model.js';

export interface MarkerChange {
  readonly what: 'moved' | 'renamed' | 'added' | 'removed';
  /** Index in A, in B. */
  readonly a?: number;
  readonly b?: number;
}

/**
 * Matches markers: those with place and text alike are the same; then, in order, those with the same text moved, those on
 * the same frame were renamed, and what is left was removed and added. `within` frames of distance count as no distance.
 */
export function markerChanges(a: readonly Marker[], b: readonly Marker[], within: number, textOf: (note: string) => string): MarkerChange[] {
  const out: MarkerChange[] = [];
  const left = new Set(a.keys());
  let rest = [...b.keys()];
  const match = (keyOf: (marker: Marker) => string, use: (from: number, to: number) => boolean): void => {
    const open = new Map<string, number[]>();
    for (const index of left) {
      const key = keyOf(a[index] as Marker);
      if (open.get(key)?.push(index) === undefined) open.set(key, [index]);
    }
    rest = rest.filter((index) => {
      const there = open.get(keyOf(b[index] as Marker));
      const found = there?.findIndex((from) => use(from, index)) ?? -1;
      if (there === undefined || found === -1) return true;
      for (const from of there.splice(found, 1)) left.delete(from);
      return false;
    });
  };
  const note = (marker: Marker): string => textOf(marker.note.trim());
  const sameColor = (one: Marker, other: Marker): boolean => one.color === undefined || other.color === undefined || one.color === other.color;
  match((marker) => `${String(marker.at)} ${note(marker)}`, (from, to) => sameColor(a[from] as Marker, b[to] as Marker));
  match(note, (from, to) => {
    const distance = (b[to]?.at ?? 0) - (a[from]?.at ?? 0);
    if (!sameColor(a[from] as Marker, b[to] as Marker)) return false;
    if (Math.abs(distance) > within) out.push({ what: 'moved', a: from, b: to });
    return true;
  });
  match((marker) => String(marker.at), (from, to) => {
    // An empty text is no new name.
    if (b[to]?.note.trim() === '') return false;
    out.push({ what: 'renamed', a: from, b: to });
    return true;
  });
  for (const index of left) out.push({ what: 'removed', a: index });
  for (const index of rest) out.push({ what: 'added', b: index });
  return out;
}
