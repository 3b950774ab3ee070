/** Exact arithmetic on whole numbers and fractions: the only place where a value is rounded. */

/** How a value between two frames becomes a frame: `nearest` takes halves up (towards +∞). */
export type Rounding = (typeof ROUNDINGS)[number];

export const ROUNDINGS = ['nearest', 'floor', 'ceil'] as const;

/** An exact number, `num / den`, `den` > 0. Not necessarily in lowest terms. */
export interface Fraction {
  readonly num: bigint;
  readonly den: bigint;
}

/** `num / den` as a whole number, rounded as asked. `den` > 0. */
export function roundFraction({ num, den }: Fraction, rounding: Rounding = 'nearest'): bigint {
  if (rounding === 'nearest') return floorDiv(2n * num + den, 2n * den);
  return rounding === 'floor' ? floorDiv(num, den) : -floorDiv(-num, den);
}

/** `value × mul / div` as a whole number, rounded as asked; exact for any safe integers. `div` > 0. */
export function scale(value: number, mul: number, div: number, rounding: Rounding = 'nearest'): number {
  const product = value * mul;
  if (Number.isSafeInteger(2 * product) && Number.isSafeInteger(2 * div)) {
    const low = Math.floor(product / div);
    // The quotient of two safe integers may be rounded up to the next integer; the remainder tells.
    const floor = product - low * div < 0 ? low - 1 : low;
    const rest = product - floor * div;
    if (rounding === 'floor' || rest === 0) return floor;
    return rounding === 'ceil' || 2 * rest >= div ? floor + 1 : floor;
  }
  return Number(roundFraction({ num: BigInt(value) * BigInt(mul), den: BigInt(div) }, rounding));
}

const DECIMAL = /^([+-]?)(\d*)(?:\.(\d*))?$/;

/**
 * Reads decimal digits (`251.43`, `-0.5`, `12`) as an exact fraction, without passing through a float.
 * Undefined when the text is not such a number; exponents, NaN and signs of infinity are not.
 */
export function parseDecimal(text: string): Fraction | undefined {
  const parts = DECIMAL.exec(text);
  if (parts === null) return undefined;
  const [, sign = '', whole = '', part = ''] = parts;
  if (whole === '' && part === '') return undefined;
  const num = BigInt(whole + part);
  return { num: sign === '-' ? -num : num, den: 10n ** BigInt(part.length) };
}

function floorDiv(a: bigint, b: bigint): bigint {
  const q = a / b;
  return a % b !== 0n && a < 0n ? q - 1n : q;
}
