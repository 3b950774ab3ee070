/** Real time as text. */

const two = (value: number): string => String(value).padStart(2, '0');

/**
 * `H:MM:SS` of a whole number of units, ≥ 0, with `hourDigits` hour digits at least; behind a point as many digits as a unit has, which is
 * a power of ten to the second.
 */
export function elapsedText(units: number, unitsPerSecond: number, hourDigits = 1): string {
  const part = units % unitsPerSecond;
  const seconds = (units - part) / unitsPerSecond;
  const fraction = unitsPerSecond === 1 ? '' : `.${String(part).padStart(String(unitsPerSecond).length - 1, '0')}`;
  return `${String(Math.floor(seconds / 3600)).padStart(hourDigits, '0')}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}${fraction}`;
}
