/** How the lists of single takes are called: `SHOW.take2`, what `--takes separate` makes of the second take of SHOW. */

/** What follows the log's name in the list of a take, counted from 1. */
export const takeEnding = (take: number): string => `.take${String(take)}`;

/** The take, counted from 1, that a list is named after: `SHOW.take2`, `SHOW.take2-3` (a part of its EDL). Undefined where the name says none. */
export function takeIn(name: string): number | undefined {
  const [, digits] = /\.take([1-9]\d*)(?:-\d+)?$/.exec(name) ?? [];
  return digits === undefined ? undefined : Number(digits);
}
