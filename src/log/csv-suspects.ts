/** Columns of a CSV log that hold something else than the layout says: by the look of the first rows. */
import { shapeOf } from './kinds.js';
import { findLayout, rowsBehind, type Layout } from './layout.js';
import type { Mapping, TimeKind } from './mapping.js';

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

/** No frame of a second has a higher number. */
const MOST_FRAMES = 60;

/**
 * Whether labels are cut where their mark is the delimiter (`10:00:00;20` without quotes): every first row has a time without frames,
 * and behind it, taken for a source or an action, two digits that vary as frames do, before a cell that would be that. `timeAs`: the
 * kind of time, where it was said; clock times may have a source of two digits beside them.
 */
export function cutsLabels(text: string, layout: Layout, map: Mapping | undefined, timeAs: TimeKind | undefined): boolean {
  const { delimiter, columns: { found }, names } = layout;
  const { time } = found;
  if (time === undefined || (delimiter !== ';' && delimiter !== ',') || timeAs === 'clock' || map?.clockFormat !== undefined) return false;
  const next = time + 1;
  if (next < names.length && next !== found.source && next !== found.action) return false;
  const rows = rowsBehind(text, layout).filter((cells) => (cells[time]?.trim() ?? '') !== '');
  const isCut = (cells: readonly string[]): boolean => /^\d\d?:\d\d:\d\d$/.test(cells[time]?.trim() ?? '') && isFrame(cells[next]?.trim() ?? '');
  if (rows.length < 2 || !rows.every(isCut)) return false;
  const frames = rows.map((cells) => cells[next]?.trim() ?? '');
  const vary = frames.includes('00') || new Set(frames).size * 2 > frames.length;
  return vary && (next >= names.length || rows.every((cells) => hasMore(cells, next + 1, layout)));
}

const isFrame = (cell: string): boolean => /^\d\d$/.test(cell) && Number(cell) < MOST_FRAMES;

/** More cells than the header has, or one at `index` that holds no time and no length. */
function hasMore(cells: readonly string[], index: number, { names, columns: { found } }: Layout): boolean {
  if (cells.some((cell, at) => at >= names.length && cell.trim() !== '')) return true;
  const cell = cells[index]?.trim() ?? '';
  return cell !== '' && index !== found.end && index !== found.duration && !['timecode', 'clock'].includes(shapeOf(cell) ?? '');
}

/** The delimiter that a log is found to have, where that of the mapping leaves one cell a row. */
export function otherDelimiter(text: string, layout: Layout, map: Mapping | undefined): string | undefined {
  if (map?.delimiter === undefined || layout.width > 1) return undefined;
  const { delimiter, ...others } = map;
  const found = findLayout(text, others);
  return found === undefined || found.width < 2 || found.delimiter === delimiter ? undefined : found.delimiter;
}
