/** Columns of a CSV log that hold something else than the layout says: by the look of the first rows. */
import { unusedNames } from './columns.js';
import { findLayout, rowsBehind, type Layout } from './layout.js';
import type { Mapping, TimeKind } from './mapping.js';
import { actionOf, columnWord, fieldOfColumn } from './words.js';

/**
 * Whether the column that is taken for the action by itself numbers the rows: each first row has another whole number there, and the
 * mapping knows none of them.
 */
export function numbersRows(text: string, layout: Layout, map: Mapping | undefined): boolean {
  const index = layout.columns.found.action;
  if (!layout.sure || index === undefined || map?.fields?.action !== undefined) return false;
  const cells = rowsBehind(text, layout).map((row) => row[index]?.trim() ?? '').filter((cell) => cell !== '');
  const known = Object.keys(map?.actions ?? {}).map((word) => word.trim());
  return cells.length > 1 && new Set(cells).size === cells.length && cells.every((cell) => /^\d+$/.test(cell) && !known.includes(cell));
}

/**
 * The column that is likeliest to hold the action where the one that is taken for it numbers the rows: of those that feed no field, one
 * that is called as an action's, else one with words of actions in its first rows; of several the one with most of them, the leftmost.
 * Null where there is none.
 */
export function likelyAction(text: string, layout: Layout, map: Mapping | undefined): string | null {
  const { names, columns } = layout;
  const rows = rowsBehind(text, layout);
  const known = new Set(Object.keys(map?.actions ?? {}).map(columnWord));
  const isKnown = (cell: string): boolean => actionOf(cell) !== undefined || known.has(columnWord(cell));
  const open = unusedNames(names, columns).map((name) => {
    const cells = rows.map((row) => row[names.indexOf(name)]?.trim() ?? '').filter((cell) => cell !== '');
    // A further column of numbers may number the rows as well.
    const isCalled = fieldOfColumn(name) === 'action' && (cells.length === 0 || cells.some((cell) => !/^\d+$/.test(cell)));
    return { name, isCalled, words: cells.filter(isKnown).length };
  });
  const likely = open.filter(({ isCalled, words }) => isCalled || words > 0).sort((a, b) => b.words - a.words);
  return (likely.find(({ isCalled }) => isCalled) ?? likely[0])?.name ?? null;
}

/** No frame of a second has a higher number. */
const MOST_FRAMES = 60;

/**
 * Whether labels are cut where their mark is the delimiter (`10:00:00;20` without quotes): every first row has a time without frames, and two digits
 * behind it that may be frames, taken for a source or an action. They are where each row has a cell more than the header; they may be where the
 * digits vary as frames do, and the next cell is a number, unless the mapping says the column of the source. Not where clock times were said
 * (`timeAs`), which may have a source of two digits beside them.
 */
export function cutsLabels(text: string, layout: Layout, map: Mapping | undefined, timeAs: TimeKind | undefined): 'surely' | 'maybe' | undefined {
  const { delimiter, columns: { found }, names } = layout;
  const { time } = found;
  if (time === undefined || (delimiter !== ';' && delimiter !== ',') || timeAs === 'clock' || map?.clockFormat !== undefined) return undefined;
  const next = time + 1;
  if (next < names.length && next !== found.source && next !== found.action) return undefined;
  const rows = rowsBehind(text, layout).map((cells) => cells.map((cell) => cell.trim())).filter((cells) => (cells[time] ?? '') !== '');
  if (rows.length < 2 || !rows.every((cells) => /^\d\d?:\d\d:\d\d$/.test(cells[time] ?? '') && isFrame(cells[next] ?? ''))) return undefined;
  const areLonger = rows.every((cells) => cells.length > names.length) && rows.some((cells) => cells.some((cell, at) => at >= names.length && cell !== ''));
  const frames = rows.map((cells) => cells[next] ?? '');
  const vary = frames.includes('00') || new Set(frames).size * 2 > frames.length;
  if (!vary) return undefined;
  if (areLonger) return 'surely';
  const isMoved = map?.fields?.source === undefined && next + 1 < names.length && next + 1 !== found.duration && rows.every((cells) => /^\d{1,3}$/.test(cells[next + 1] ?? ''));
  return isMoved ? 'maybe' : undefined;
}

const isFrame = (cell: string): boolean => /^\d\d$/.test(cell) && Number(cell) < MOST_FRAMES;

/** The delimiter that a log is found to have, where that of the mapping leaves one cell a row. */
export function otherDelimiter(text: string, layout: Layout, map: Mapping | undefined): string | undefined {
  if (map?.delimiter === undefined || layout.width > 1) return undefined;
  const { delimiter, ...others } = map;
  const found = findLayout(text, others);
  return found === undefined || found.width < 2 || found.delimiter === delimiter ? undefined : found.delimiter;
}
