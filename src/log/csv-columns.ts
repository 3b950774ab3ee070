/** Whether the columns of a CSV log are there that must be, and what to do when they are not. */
import { didYouMean, nearest } from '../nearest.js';
import { problem, type Place, type Report } from '../problems.js';
import { shorten } from '../visible.js';
import { likelySource, listed, unusedNames } from './columns.js';
import { cutsLabels, likelyAction, numbersRows, otherDelimiter } from './csv-suspects.js';
import { DELIMITER_NAMES } from './delimiter.js';
import { shapeOf } from './kinds.js';
import { rowsBehind, type Layout } from './layout.js';
import type { Mapping } from './mapping.js';
import type { RowOptions } from './rows.js';
import { actionOf, COLUMN_SYNONYMS } from './words.js';

/** Checks that every column is there that must be; says what is there when it is not. `text` is the log's. */
export function hasColumns(text: string, layout: Layout, options: RowOptions, report: Report): boolean {
  const { file, map } = options;
  const { names, columns, line, skipLines, sure } = layout;
  const place: Place = { file, line, column: 1 };
  const there = names.length === 0 ? 'the log has no header row' : `the columns are ${listed(names.map((name) => (name === '' ? '(no name)' : name)))}`;
  const delimiter = otherDelimiter(text, layout, map);
  if (delimiter !== undefined && (columns.missing.length > 0 || columns.found.time === undefined)) {
    const said = `delimiter of the mapping is ${JSON.stringify(map?.delimiter)}, and leaves one cell a row; ${DELIMITER_NAMES[delimiter] ?? ''} are found to separate the cells; mend it, or leave it out`;
    report(problem('bad-map', said, place));
    return false;
  }
  for (const field of columns.missing) {
    const given = map?.fields?.[field] ?? '';
    const what = typeof given === 'number' ? `is column ${String(given)}, and there is none` : `is the column '${given}', which is not there`;
    report(problem('bad-map', `fields.${field} of the mapping ${what}${typeof given === 'string' ? didYouMean(given, names) : ''}; ${there}`, place));
  }
  if (columns.missing.length > 0) return false;
  if (sure && columns.found.time !== undefined) return isPlausible(text, layout, options, report);
  const numbered = numberedFields(text, layout);
  if (numbered !== undefined && map?.fields === undefined) {
    const what = `the log has no header row: the first one holds '${(names[(numbered.time ?? 1) - 1] ?? '').slice(0, 40)}'`;
    report(problem('missing-column', `${what}; say in a mapping file by number which column holds what: {"fields": {${Object.entries(numbered).map(([field, column]) => `"${field}": ${String(column)}`).join(', ')}}}`, place));
    return false;
  }
  const taken = new Set(Object.values(columns.found));
  const example = likelyTime(text, layout) ?? names.find((name, index) => name !== '' && !taken.has(index)) ?? 'Clock';
  const what = sure || map?.fields !== undefined ? 'no column holds the time of a row' : 'no header row names a column for the time';
  const skipped = map?.skipLines === undefined && skipLines > 0 ? `"skipLines": ${String(skipLines)}, ` : '';
  report(problem('missing-column', `${what}; ${there}; name it in a mapping file: {${skipped}"fields": ${fieldsText({ time: example, ...likelyOthers(text, layout, example, map) })}}`, place));
  return false;
}

/** Whether the columns hold what they are taken for, by the look of the first rows; else what they seem to hold is said. */
function isPlausible(text: string, layout: Layout, { file, map, timeAs }: RowOptions, report: Report): boolean {
  const cut = cutsLabels(text, layout, map, timeAs);
  if (cut !== undefined) {
    const remedy = 'put them in quotes ("10:00:00;00"), or separate the cells by another sign; where these are clock times, say --time-as clock';
    const said = `times have no frames, and two digits stand in the cell behind each: ${cut === 'surely' ? '' : 'are these '}labels that hold the delimiter${cut === 'surely' ? ';' : '? Then'} ${remedy}`;
    report(problem('malformed-csv', said, { file, line: layout.dataLine, column: 1 }, cut === 'surely' ? 'error' : 'warning'));
    if (cut === 'surely') return false;
  }
  if (numbersRows(text, layout, map)) {
    const name = shorten(layout.names[layout.columns.found.action ?? 0] ?? '');
    const action = likelyAction(text, layout, map);
    const what = action === null ? 'say so' : "name the action's column";
    const said = `the column '${name}' is taken for the action, and holds another number in each row; where it only numbers them, ${what} in a mapping file: {"fields": ${fieldsText({ ...map?.fields, action })}}; where its numbers are actions, say in actions of the mapping which`;
    report(problem('unknown-action', said, { file, line: layout.line, column: 1 }));
    return false;
  }
  return true;
}

/** Fields as a mapping file writes them. */
export const fieldsText = (fields: NonNullable<Mapping['fields']>): string =>
  `{${Object.entries(fields).map(([field, place]) => `"${field}": ${JSON.stringify(typeof place === 'string' ? place.slice(0, 40) : place)}`).join(', ')}}`;

/** Stands for a column that nobody can guess. */
export const ANY_COLUMN = '…';

/** The columns beside the time's that have to be named: the one that has words of actions in it, and that of the source. */
function likelyOthers(text: string, layout: Layout, time: string, map: Mapping | undefined): { readonly action?: string; readonly source?: string } {
  const { names, columns } = layout;
  const isOpen = (field: 'action' | 'source'): boolean => columns.found[field] === undefined && map?.fields?.[field] === undefined;
  const rows = rowsBehind(text, layout);
  const open = unusedNames(names, columns).filter((name) => name !== time);
  const cellsOf = (name: string): string[] => rows.map((cells) => cells[names.indexOf(name)]?.trim() ?? '').filter((cell) => cell !== '');
  const acting = open.filter((name) => cellsOf(name).some((cell) => actionOf(cell) !== undefined));
  const action = isOpen('action') && acting.length === 1 ? acting[0] : undefined;
  const rest = open.filter((name) => name !== action);
  // What holds times is no source, however few columns are left.
  const plain = rest.filter((name) => !cellsOf(name).some((cell) => ['timecode', 'clock'].includes(shapeOf(cell) ?? '')));
  const filled = plain.filter((name) => cellsOf(name).length * 2 >= rows.length);
  const source = !isOpen('source') || rest.length === 0 ? undefined : (likelySource(plain) ?? likelySource(filled) ?? ANY_COLUMN);
  return { ...(action === undefined ? {} : { action }), ...(source === undefined ? {} : { source }) };
}

/**
 * The column that is likeliest to hold the time: its cells look like labels or clock times, or else like numbers, and no
 * other's do; of several that look alike it is the one that is called almost so.
 */
export function likelyTime(text: string, layout: Layout): string | undefined {
  // A column that another field has holds no time, however it is called.
  const taken = new Set(Object.values(layout.columns.found));
  const open = layout.names.map((name, index) => ({ name, index })).filter(({ name, index }) => name !== '' && !taken.has(index));
  const rows = rowsBehind(text, layout);
  const named = open.map(({ name, index }) => ({ name, shapes: rows.map((cells) => shapeOf(cells[index]?.trim() ?? '')) }));
  const isTime = (shape: string | undefined): boolean => shape === 'timecode' || shape === 'clock';
  const groups = [
    named.filter(({ shapes }) => shapes.length > 0 && shapes.every(isTime)),
    named.filter(({ shapes }) => shapes.some(isTime)),
    named.filter(({ shapes }) => shapes.length > 0 && shapes.every((shape) => shape === 'number')),
  ];
  const looks = groups.find((group) => group.length > 0) ?? [];
  // A name that is near tells only apart what looks alike: 'Name' is near 'frame', too.
  const isNear = ({ name }: { readonly name: string }): boolean => nearest(name, ['time', ...COLUMN_SYNONYMS.time]) !== undefined;
  return (looks.length === 1 ? looks[0] : looks.find(isNear))?.name;
}

/**
 * Which column, from 1, holds which field of a log that has no header row: where a time stands in the row that would be it, or a number as in all
 * rows behind it. Undefined where that may be a header row.
 */
export function numberedFields(text: string, layout: Layout): Readonly<Partial<Record<'time' | 'action' | 'source', number>>> | undefined {
  if (layout.sure) return undefined;
  const rows = [layout.names, ...rowsBehind(text, layout)];
  const columns = layout.names.map((_, index) => rows.map((cells) => cells[index]?.trim() ?? ''));
  const isTime = (cell = ''): boolean => ['timecode', 'clock'].includes(shapeOf(cell) ?? '');
  const isCount = (cells: readonly string[]): boolean => cells.length > 2 && cells.every((cell) => shapeOf(cell) === 'number');
  const time = [columns.findIndex(([first]) => isTime(first)), columns.findIndex(isCount)].find((index) => index >= 0);
  if (time === undefined) return undefined;
  const action = columns.findIndex((cells, index) => index !== time && cells.some((cell) => actionOf(cell) !== undefined));
  const source = columns.findIndex((cells, index) => index !== time && index !== action && cells.some((cell) => cell !== ''));
  const placed = [['time', time], ['action', action], ['source', source]] as const;
  return Object.fromEntries(placed.filter(([, index]) => index >= 0).map(([field, index]) => [field, index + 1]));
}
