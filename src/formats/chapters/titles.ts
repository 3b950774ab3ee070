/** Titles that fit on one line of any chapter format. */
import { oneLine } from '../../cutlist/line.js';
import type { Chapter } from './chapters.js';

/** The title of a chapter on one line, with single blanks; `Chapter 3` where nothing is left of it. `index` counts from 0. */
export function titleLine({ title }: Chapter, index: number): string {
  const line = oneLine(title).replace(/\s+/gu, ' ').trim();
  return line === '' ? `Chapter ${String(index + 1)}` : line;
}

const two = (value: number): string => String(value).padStart(2, '0');

/** `H:MM:SS` with as many hour digits as `hourDigits` at least; `fraction` has that many digits behind a point. */
export function clockText(units: number, unitsPerSecond: number, hourDigits: number): string {
  const part = units % unitsPerSecond;
  const seconds = (units - part) / unitsPerSecond;
  const fraction = unitsPerSecond === 1 ? '' : `.${String(part).padStart(String(unitsPerSecond).length - 1, '0')}`;
  return `${String(Math.floor(seconds / 3600)).padStart(hourDigits, '0')}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}${fraction}`;
}
