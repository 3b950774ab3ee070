/** Days: which of the many moments with one label, or one time of day, is meant. */

/**
 * Of all `value + k × period`, the one nearest `beside`; of two equally near, the later one. For labels `period` is the
 * frames of a day, for times of day its nanoseconds. Whole numbers.
 */
export function nearestRepeat(value: number, period: number, beside: number): number {
  const away = beside - value;
  if (2 * away < period && 2 * away > -period) return value;
  return value + period * Math.floor((2 * away + period) / (2 * period));
}

/** A frame or a difference of frames taken into the day: 0 ≤ result < `period`. Whole numbers, also below zero. */
export function withinDay(frames: number, period: number): number {
  const rest = frames % period;
  return rest < 0 ? rest + period : rest;
}
