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
  // Marks that stand on a letter; those that stand beside it (\p{Mc}, the vowel signs of Indian scripts) take room as letters do.
  [/^[\p{Mn}\p{Me}\u200b-\u200f\u2060\ufe00-\ufe0f]$/u, 0],
  [/^[ijlIJ.,:;'!| \u00b7]$/, 0.34],
  [/^[ftr()[\]/-]$/, 0.42],
  [/^[mMW@%\u2014\u2026]$/, 1],
  [/^w$/, 0.82],
  // Tamil, Malayalam.
  [/^[\u0b80-\u0bff\u0d00-\u0d7f]$/, 0.85],
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

/**
 * Names cut to `width` at a size, so that those that differ still do: in the middle where their beginnings are alike, else to the part in
 * which they differ, and with a number behind them where that is not enough.
 */
export function fitNames(names: readonly string[], width: number, size: number): string[] {
  let short = names.map((name) => fitText(name, width, size));
  const ways: ((name: string, index: number, alike: readonly string[]) => string)[] = [
    (name) => fitMiddle(name, width, size),
    (name, _, alike) => fitDifference(name, alike, width, size),
    (name, index) => {
      const number = ` (${String(index + 1)})`;
      return `${fitText(name, width - textWidth(number, size), size)}${number}`;
    },
  ];
  for (const way of ways) {
    const alike = new Map<string, Set<string>>();
    short.forEach((one, index) => alike.set(one, (alike.get(one) ?? new Set()).add(names[index] as string)));
    const groups = new Map([...alike].filter(([, { size: count }]) => count > 1).map(([one, group]) => [one, [...group]]));
    short = short.map((one, index) => {
      const group = groups.get(one);
      return group === undefined ? one : way(names[index] as string, index, group);
    });
  }
  return short;
}

/** Beginning and end of a text, with an ellipsis between them; the end has the larger part. */
function fitMiddle(text: string, width: number, size: number): string {
  const chars = Array.from(text);
  let room = width - letterWidth('\u2026') * size;
  let [head, tail] = [0, 0];
  while (head + tail < chars.length) {
    const fromHead = 2 * head < tail;
    room -= letterWidth(chars[fromHead ? head : chars.length - 1 - tail] as string) * size;
    if (room < 0) break;
    if (fromHead) head += 1;
    else tail += 1;
  }
  return `${chars.slice(0, head).join('').trimEnd()}…${chars.slice(chars.length - tail).join('').trimStart()}`;
}

/** The part in which a name differs from those alike at both ends, with as much around it as there is room for. */
function fitDifference(name: string, alike: readonly string[], width: number, size: number): string {
  const [first = [], ...others] = alike.map((one) => Array.from(one));
  const most = Math.min(first.length, ...others.map(({ length }) => length));
  const isShared = (place: number): boolean => others.every((other) => other.at(place) === first.at(place));
  let [head, tail] = [0, 0];
  while (head < most && isShared(head)) head += 1;
  while (head + tail < most && isShared(-1 - tail)) tail += 1;
  const chars = Array.from(name);
  let room = width - 2 * letterWidth('\u2026') * size;
  const fits = (char: string | undefined): boolean => char !== undefined && (room -= letterWidth(char) * size) >= 0;
  let [from, to] = [head, head];
  while (to < chars.length - tail && fits(chars[to])) to += 1;
  // Left and right in turn, until one more would be too many.
  while (from > 0 || to < chars.length) {
    const isLeft = from > 0 && (to === chars.length || head - from <= to - (chars.length - tail));
    if (!fits(chars[isLeft ? from - 1 : to])) break;
    if (isLeft) from -= 1;
    else to += 1;
  }
  return `${from > 0 ? '\u2026' : ''}${chars.slice(from, to).join('').trim()}${to < chars.length ? '\u2026' : ''}`;
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
