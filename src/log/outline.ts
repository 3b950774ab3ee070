/** What a log that cannot be read shows of itself all the same: its form, its columns, the look of its times. */
import { withoutMark } from '../byte-order-mark.js';
import { known } from '../known.js';
import { listOf } from '../visible.js';
import { headOf } from './csv.js';
import { likelyTime, numberedFields } from './csv-columns.js';
import { isOwn, placesOf } from './found.js';
import { cutsLabels, likelyAction, numbersRows } from './csv-suspects.js';
import { findKind, unitOf } from './kinds.js';
import { findLayout, rowsBehind } from './layout.js';
import { MAX_ROWS } from './limits.js';
import { FIELDS, FILL_IN, type Field, type Mapping, type TimeKind } from './mapping.js';
import { isXml } from './read.js';
import type { LogHead } from './rows.js';
import { findFields, likelyRows } from './xml-fields.js';
import { indexXml } from './xml-index.js';

export interface Outline {
  readonly head: LogHead;
  /** What rows hold: names of columns, or paths below the row. */
  readonly there: readonly string[];
  readonly timeAs?: TimeKind;
  /** Fields that nobody named and that are likely to be there under another name. */
  readonly open: readonly Field[];
  /** What is known, as a mapping; what is `open` is left to be filled in, and `checkMapping` says so. */
  readonly map: Mapping;
}

/** A log says with these what happens; the others may be missing. */
const NEEDED: readonly Field[] = ['time', 'action', 'source'];

/**
 * Looks at a log for which `readLog` has nothing to give. `timeAs`: the kind of its times, where it was said. Undefined when nothing can be seen:
 * an empty log, XML that is not well-formed.
 */
export function outlineLog(text: string, map: Mapping = {}, timeAs: TimeKind | undefined = map.timeAs): Outline | undefined {
  const seen = isXml(text, map) ? seenXml(withoutMark(text), map) : seenCsv(withoutMark(text), map);
  if (seen === undefined) return undefined;
  const { head, there, times, numbered } = seen;
  const said = seen.said ?? map;
  const unit = head.found.time === undefined ? undefined : unitOf(head.found.time);
  const kind = timeAs ?? unit ?? findKind(times, map.decimal)?.kind;
  const { fields, ...places }: Mapping = isOwn(head, map) ? {} : placesOf(head, said);
  const lacking = fields === undefined ? [] : NEEDED.filter((field) => fields[field] === undefined);
  // Where no column is left, the log has no such field.
  const open = head.unused.length === 0 ? [] : lacking;
  const free = open.length === 0 ? null : `${FILL_IN}: ${listOf(head.unused)}`;
  const placeOf = (field: Field): string | number | null | undefined => numbered?.[field] ?? (lacking.includes(field) ? free : fields?.[field]);
  const placed = FIELDS.map((field) => [field, placeOf(field)] as const).filter(([, place]) => place !== undefined);
  const filled = fields === undefined ? {} : { fields: Object.fromEntries(placed) };
  const { encoding, decimal, actions, sources, clockFormat, zone, rate, rowsAre = 'events' } = map;
  return {
    head, there, open,
    map: { ...places, ...filled, ...known({ encoding, decimal, actions, sources, timeAs: kind, clockFormat, zone, rate }), rowsAre },
    ...known({ timeAs: kind }),
  };
}

interface Seen {
  readonly head: LogHead;
  readonly there: readonly string[];
  /** Of the first rows. */
  readonly times: readonly string[];
  /** The fields by the numbers of their columns, where there is no header row. */
  readonly numbered?: Readonly<Partial<Record<Field, number>>>;
  /** The mapping with what it has to say of the action, where the column that is taken for it numbers the rows. */
  readonly said?: Mapping;
}

function seenCsv(text: string, map: Mapping): Seen | undefined {
  const layout = findLayout(text, map);
  if (layout === undefined) return undefined;
  if (numbersRows(text, layout, map)) {
    const said: Mapping = { ...map, fields: { ...map.fields, action: likelyAction(text, layout, map) } };
    const seen = seenCsv(text, said);
    return seen === undefined ? undefined : { ...seen, said };
  }
  const head = headOf(layout);
  const numbered = map.fields === undefined ? numberedFields(text, layout) : undefined;
  if (numbered !== undefined) {
    const nameAt = (column: number): string => `column ${String(column)}`;
    const found = Object.fromEntries(Object.entries(numbered).map(([field, column]) => [field, nameAt(column)]));
    const there = layout.names.map((_, index) => nameAt(index + 1));
    const times = [layout.names, ...rowsBehind(text, layout)].map((cells) => cells[(numbered.time ?? 1) - 1]?.trim() ?? '').filter((cell) => cell !== '');
    return { head: { ...head, found, unused: there.filter((name) => !Object.values(found).includes(name)) }, there, times, numbered };
  }
  const time = head.found.time ?? (map.fields?.time === undefined ? likelyTime(text, layout) : undefined);
  const at = layout.columns.found.time ?? layout.names.findIndex((name) => name === time);
  // What is left of labels that were cut shows no kind of time.
  const rows = cutsLabels(text, layout, map, map.timeAs) === 'surely' ? [] : rowsBehind(text, layout);
  const times = rows.map((cells) => cells[at]?.trim() ?? '').filter((cell) => cell !== '');
  return { head: { ...head, found: { ...head.found, ...(time === undefined ? {} : { time }) }, unused: head.unused.filter((name) => name !== time) }, there: layout.names, times };
}

function seenXml(text: string, map: Mapping): Seen | undefined {
  const index = indexXml(text, [], MAX_ROWS);
  if ('code' in index) return undefined;
  const rows = map.rows ?? likelyRows(index.tree);
  const node = index.tree.at(rows.split('/').filter((name) => name !== ''));
  if (node === undefined || node.count === 0) return undefined;
  const { found, unused, there } = findFields(node, map, false);
  const names = Object.fromEntries(FIELDS.flatMap((field) => (found[field] === undefined ? [] : [[field, found[field].name]])));
  return { head: { form: 'xml', found: names, unused, sources: [], rows }, there, times: [] };
}
