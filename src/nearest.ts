/**
 * The nearest right word to a wrong one, for "did you mean": words are compared without case, and a swap of two
 * neighbours, a letter too many, too few or wrong each count one (the restricted Damerau–Levenshtein distance).
 */

/**
 * The word of `words` nearest to `word`, or undefined when none is near: about a third of the letters of the shorter one may
 * differ, and none where that has one letter only (another digit is another source, not a slip).
 */
export function nearest(word: string, words: Iterable<string>): string | undefined {
  const given = word.toLowerCase();
  if (given.length === 0 || given.length > 64) return undefined;
  let best: string | undefined;
  let least = slips(given.length) + 1;
  for (const candidate of words) {
    const limit = Math.min(least, slips(candidate.length) + 1);
    const distance = distanceBelow(given, candidate.toLowerCase(), limit);
    if (distance < limit) [best, least] = [candidate, distance];
  }
  return best;
}

/** How many slips a word of so many letters may hold and still be known. */
const slips = (letters: number): number => (letters < 2 ? 0 : letters < 4 ? 1 : Math.ceil(letters / 3));

/** `; did you mean 'X'?`, or nothing when no word is near. */
export function didYouMean(word: string, words: Iterable<string>): string {
  const near = nearest(word, words);
  return near === undefined ? '' : `; did you mean '${near}'?`;
}

/** The distance of two words, or `limit` when it is not below that. */
function distanceBelow(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
    }
    [before, last] = [last, row];
  }
  return Math.min(last[b.length] ?? limit, limit);
}
