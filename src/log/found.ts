/** Everything that was found out about a log, as a mapping file that says it outright: what `--write-map` writes. */
import { isSwitch } from '../cutlist/event.js';
import { problem, type Report } from '../problems.js';
import { listOf } from '../visible.js';
import { likelySource, listed } from './columns.js';
import { ANY_COLUMN, fieldsText } from './csv-columns.js';
import { FIELDS, FILL_IN, type Field, type Mapping } from './mapping.js';
import type { LogHead } from './rows.js';
import type { ReadRows } from './sink.js';

/** Path of the rows of linecut's own XML, whose fields need no mapping. */
const OWN_ROWS = '/cutlog/event';

/** A mapping that reads the log as it was read, without finding out anything by itself. Action words that nobody knows are left to be filled in, and the column of the sources; a kind of time that no row shows is left out. */
export function foundMapping(rows: ReadRows): Mapping {
  const { head, map, times, isKindKnown, actions, sources, rates, sign } = rows;
  const own = isOwn(head, map);
  const isClock = times.kind === 'clock';
  const words = { ...map.actions, ...Object.fromEntries(actions.met), ...Object.fromEntries(actions.unknown.map((word) => [word, FILL_IN])) };
  // Every source that the log names maps to itself: there to be edited.
  const named = own ? {} : Object.fromEntries(sources.named.map(({ id, name }) => [name, id]));
  const ids = { ...named, ...map.sources };
  return {
    ...(own ? {} : lacksSource(rows) ? withSource(placesOf(head, map), `${FILL_IN}: ${listOf(head.unused)}`) : placesOf(head, map)),
    ...(map.encoding === undefined ? {} : { encoding: map.encoding }),
    ...(map.decimal !== undefined ? { decimal: map.decimal } : sign === ',' && times.kind !== 'timecode' && !isClock ? { decimal: sign } : {}),
    ...(Object.keys(words).length === 0 ? {} : { actions: words }),
    ...(Object.keys(ids).length === 0 ? {} : { sources: ids }),
    ...(isKindKnown ? { timeAs: times.kind } : {}),
    ...(isClock && map.clockFormat !== undefined ? { clockFormat: map.clockFormat } : {}),
    ...(isClock && map.zone !== undefined ? { zone: map.zone } : {}),
    ...(rates.labelRate === undefined ? {} : { rate: rates.labelRate }),
    rowsAre: map.rowsAre ?? 'events',
  };
}

/** No column is taken for the source, though the log has switches and further columns: it must be one of these. */
const lacksSource = ({ head, map, reader }: ReadRows): boolean =>
  head.found.source === undefined && map.fields?.source === undefined && head.unused.length > 0 && !isOwn(head, map) && reader.events.some(isSwitch);

const withSource = (map: Mapping, source: string): Mapping => ({ ...map, fields: { ...map.fields, source } });

/** Says once (`missing-column`) that a log lacks the column of its sources, which each of its switches would say else. */
export function tellSource(rows: ReadRows, file: string, report: Report): void {
  if (!lacksSource(rows)) return;
  const { head: { form, skipLines = 0, unused }, map } = rows;
  const [what, place] = form === 'csv' ? ['column', { file, line: skipLines + 1, column: 1 }] : ['attribute or element of a row', { file }];
  const fields = fieldsText(withSource(map, likelySource(unused) ?? ANY_COLUMN).fields ?? {});
  report(problem('missing-column', `no ${what} is called source, so no switch has one; not used: ${listed(unused)}; name it in a mapping file: {"fields": ${fields}}`, place));
}

/** Whether a log is linecut's own XML, read as such. */
export const isOwn = (head: LogHead, map: Mapping): boolean => head.form === 'xml' && head.rows === OWN_ROWS && map.rows === undefined;

/** Where rows and fields of a log are: as it was said, by number or path, else as it was found. */
export function placesOf(head: LogHead, map: Mapping): Mapping {
  const fields: Partial<Record<Field, string | number | null>> = {};
  for (const field of FIELDS) {
    const given = map.fields?.[field];
    const place = typeof given === 'number' ? given : (head.found[field] ?? given);
    if (place !== undefined) fields[field] = place;
  }
  if (head.form === 'xml') return head.rows === undefined ? { fields } : { rows: head.rows, fields };
  return {
    ...(head.skipLines === undefined ? {} : { skipLines: head.skipLines }),
    ...(head.delimiter === undefined ? {} : { delimiter: head.delimiter }),
    fields,
  };
}
