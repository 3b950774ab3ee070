/**
 * Which shot of one list is which shot of the other. Shots that are alike and stand alone in their stretch tie the lists together,
 * from the most alike to the least; the short stretches that are left between are solved exactly. About n log n for n shots.
 */

/** One shot, as far as matching goes. Record frames; `source` is a key that both lists share. */
export interface Token {
  readonly source: string;
  readonly in: number;
  readonly frames: number;
  readonly sourceIn: number;
  readonly mix: string;
}

/** Index in A, index in B. */
export type Match = readonly [a: number, b: number];

interface Stretch {
  readonly a: readonly [from: number, to: number];
  readonly b: readonly [from: number, to: number];
}

/** What two shots may share, from the surest to the least. */
const LEVELS: readonly ((token: Token) => string)[] = [
  ({ source, in: at, frames, sourceIn }) => `${String(at)} ${String(frames)} ${String(sourceIn)} ${source}`,
  ({ source, frames, sourceIn }) => `${String(frames)} ${String(sourceIn)} ${source}`,
  ({ source, sourceIn }) => `${String(sourceIn)} ${source}`,
  ({ source, in: at, frames }) => `${String(at)} ${String(frames)} ${source}`,
  ({ source, in: at }) => `${String(at)} ${source}`,
  ({ source, frames, sourceIn }) => `${String(sourceIn + frames)} ${source}`,
  ({ in: at, frames, sourceIn }) => `${String(at)} ${String(frames)} ${String(sourceIn)}`,
  ({ in: at, frames }) => `${String(at)} ${String(frames)}`,
];

/** A stretch with more pairs than this is not solved exactly but walked by time. */
const MOST_PAIRS = 250_000;

/** Matches in rising order in both lists. Every shot is in at most one. */
export function align(a: readonly Token[], b: readonly Token[]): Match[] {
  let stretches: Stretch[] = [{ a: [0, a.length], b: [0, b.length] }];
  const matches: Match[] = [];
  for (const level of LEVELS) stretches = stretches.flatMap((stretch) => divided(a, b, stretch, level, matches));
  for (const { a: [a0, a1], b: [b0, b1] } of stretches) {
    if (a0 === a1 || b0 === b1) continue;
    const left = (a1 - a0) * (b1 - b0) <= MOST_PAIRS ? solved(a, b, [a0, a1], [b0, b1]) : walked(a, b, [a0, a1], [b0, b1]);
    matches.push(...left);
  }
  return matches.sort((one, other) => one[0] - other[0]);
}

/** Splits a stretch at the shots that share a key at this level and are the only ones with it, as many as keep their order. */
function divided(a: readonly Token[], b: readonly Token[], stretch: Stretch, level: (token: Token) => string, matches: Match[]): Stretch[] {
  const { a: [a0, a1], b: [b0, b1] } = stretch;
  if (a0 === a1 || b0 === b1) return [];
  const only = new Map<string, { a: number; b: number }>();
  for (let index = a0; index < a1; index += 1) {
    const key = level(a[index] as Token);
    const seen = only.get(key);
    if (seen === undefined) only.set(key, { a: index, b: -1 });
    else seen.a = -1;
  }
  for (let index = b0; index < b1; index += 1) {
    const seen = only.get(level(b[index] as Token));
    if (seen !== undefined) seen.b = seen.b === -1 ? index : -2;
  }
  const pairs: Match[] = [];
  for (const { a: one, b: other } of only.values()) if (one >= 0 && other >= 0) pairs.push([one, other]);
  const anchors = risingOf(pairs.sort((one, other) => one[0] - other[0]));
  const out: Stretch[] = [];
  let [fromA, fromB] = [a0, b0];
  for (const [one, other] of anchors) {
    out.push({ a: [fromA, one], b: [fromB, other] });
    [fromA, fromB] = [one + 1, other + 1];
    matches.push([one, other]);
  }
  out.push({ a: [fromA, a1], b: [fromB, b1] });
  return out;
}

/** The longest run of pairs, sorted by the first, that rises in the second as well. */
function risingOf(pairs: readonly Match[]): Match[] {
  const tails: number[] = [];
  const before: number[] = [];
  pairs.forEach(([, value], index) => {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((pairs[tails[middle] ?? 0]?.[1] ?? 0) < value) low = middle + 1;
      else high = middle;
    }
    before[index] = low > 0 ? (tails[low - 1] ?? -1) : -1;
    tails[low] = index;
  });
  const out: Match[] = [];
  for (let index = tails.at(-1) ?? -1; index >= 0; index = before[index] ?? -1) out.push(pairs[index] as Match);
  return out.reverse();
}

/** How unlike two shots are; a shot without a partner costs ALONE. */
const ALONE = 5;

function unlike(a: Token, b: Token): number {
  return (a.source === b.source ? 0 : 5) + (a.sourceIn === b.sourceIn ? 0 : 1.5) + (a.in === b.in ? 0 : 1.5) + (a.frames === b.frames ? 0 : 1)
    + (overlap(a, b) ? 0 : 1.5) + (a.mix === b.mix ? 0 : 0.5);
}

const overlap = (a: Token, b: Token): boolean => a.in < b.in + b.frames && b.in < a.in + a.frames;

/** The cheapest matching of a stretch, by dynamic programming. */
function solved(a: readonly Token[], b: readonly Token[], [a0, a1]: readonly [number, number], [b0, b1]: readonly [number, number]): Match[] {
  const width = b1 - b0 + 1;
  const cost = new Float64Array((a1 - a0 + 1) * width);
  const place = (i: number, j: number): number => (i - a0) * width + (j - b0);
  const at = (i: number, j: number): number => cost[place(i, j)] ?? 0;
  for (let i = a1; i >= a0; i -= 1) {
    for (let j = b1; j >= b0; j -= 1) {
      if (i === a1 && j === b1) continue;
      let best = i < a1 ? at(i + 1, j) + ALONE : Infinity;
      if (j < b1) best = Math.min(best, at(i, j + 1) + ALONE);
      if (i < a1 && j < b1) best = Math.min(best, at(i + 1, j + 1) + unlike(a[i] as Token, b[j] as Token));
      cost[place(i, j)] = best;
    }
  }
  const out: Match[] = [];
  let [i, j] = [a0, b0];
  while (i < a1 && j < b1) {
    if (at(i, j) === at(i + 1, j + 1) + unlike(a[i] as Token, b[j] as Token)) {
      out.push([i, j]);
      i += 1;
      j += 1;
    } else if (at(i, j) === at(i + 1, j) + ALONE) i += 1;
    else j += 1;
  }
  return out;
}

/** A long stretch without anything to hold on to: shots of one source that overlap in time are the same, in one pass. */
function walked(a: readonly Token[], b: readonly Token[], [a0, a1]: readonly [number, number], [b0, b1]: readonly [number, number]): Match[] {
  const out: Match[] = [];
  let [i, j] = [a0, b0];
  while (i < a1 && j < b1) {
    const [one, other] = [a[i] as Token, b[j] as Token];
    if (overlap(one, other) && one.source === other.source) {
      out.push([i, j]);
      i += 1;
      j += 1;
    } else if (one.in + one.frames <= other.in + other.frames) i += 1;
    else j += 1;
  }
  return out;
}
