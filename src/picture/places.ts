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

/** Widths of letters, in parts of their size: of a wide sans-serif face, so that a narrower one leaves room rather than none. */
const LETTERS: readonly (readonly [RegExp, number])[] = [
  [/^[\p{M}\u200b-\u200f\u2060\ufe00-\ufe0f]$/u, 0],
  [/^[ijlIJ.,:;'!| \u00b7]$/, 0.34],
  [/^[ftr()[\]/-]$/, 0.42],
  [/^[mMW@%\u2014\u2026]$/, 1],
  [/^w$/, 0.82],
  // Ideographs, Kana, Hangul, full-width forms, pictographs.
  [/^[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\u{1f000}-\u{3ffff}]$/u, 1.05],
  [/^\p{Lu}$/u, 0.78],
];
const OTHER = 0.635;

const letterWidth = (char: string): number => LETTERS.find(([of]) => of.test(char))?.[1] ?? OTHER;

/** About the width of text at a size, in the units of the size: for placing only. */
export const textWidth = (text: string, size: number): number => Array.from(text).reduce((sum, char) => sum + letterWidth(char) * size, 0);

/** As much of a text as `width` holds at a size, the last character an ellipsis where something was left out. */
export function fitText(text: string, width: number, size: number): string {
  const chars = Array.from(text);
  let room = width;
  let enough = 0;
  for (const [index, char] of chars.entries()) {
    room -= letterWidth(char) * size;
    if (room < 0) return `${chars.slice(0, enough).join('').trimEnd()}…`;
    if (room >= size) enough = index + 1;
  }
  return text;
}

/** A text in lines of at most `width` at a size, divided between words; a longer word stands alone, cut off. */
export function wrapText(text: string, width: number, size: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && textWidth(`${last} ${word}`, size) <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(fitText(word, width, size));
  }
  return lines;
}
