/** XML logs → rows: linecut's own form, and any other vocabulary through a mapping's `rows` and `fields`. */
import { withoutMark } from '../byte-order-mark.js';
import { didYouMean, nearest } from '../nearest.js';
import { problem, type Place, type Report } from '../problems.js';
import { shorten } from '../visible.js';
import { LONGEST_ROW, placeFrom, TOO_LONG } from './cells.js';
import { FIELDS, type Field, type Mapping } from './mapping.js';
import type { LogHead, RowOptions, RowSink } from './rows.js';
import { findFields, likelyRows, nothingAt, pathsThere, rowsHold, type XmlFields } from './xml-fields.js';
import { indexXml, PathNode, type Spans, type XmlIndex } from './xml-index.js';
import { fieldOffset, fieldPlace, Lines, type RowPlace } from './xml-place.js';
import { localName } from './xml-text.js';
import { strayElements } from './xml-strays.js';
import { fieldPath, RowValues, type RowFields } from './xml-values.js';

/** linecut's own form. */
const OWN_ROWS = ['cutlog', 'event'];
const OWN_SOURCES = ['cutlog', 'source'];
const OWN_VERSION = '1';

const NOTHING: RowFields = { values: [], others: [] };

/** Characters of rows that are handed to fast-xml-parser at once. */
const BATCH = 65_536;

/**
 * Reads an XML log and pushes its head, then its rows in order. The whole text is checked before anything is pushed.
 * Lines and columns count from 1. Reported: `malformed-xml`, `entity-refused` (any DOCTYPE), `stray-element`, `too-large` (rows, nesting,
 * the length of a tag or row), `bad-map` (a path that finds nothing), `missing-column`, `missing-field` and
 * `duplicate-source` (source elements), `two-values` (an attribute and an element, or two elements, that do not say the same), `found` (fields that were found by their names).
 */
export function readXmlRows(text: string, options: RowOptions, sink: RowSink, report: Report): void {
  const body = withoutMark(text);
  new XmlReader(body, options, report).read(sink);
}

class XmlReader {
  readonly #map: Mapping | undefined;
  readonly #file: string;
  readonly #path: readonly string[];

  constructor(
    private readonly text: string,
    private readonly options: RowOptions,
    private readonly report: Report,
  ) {
    this.#map = options.map;
    this.#file = options.file;
    this.#path = options.map?.rows === undefined ? OWN_ROWS : elementPath(options.map.rows);
  }

  read(sink: RowSink): void {
    const index = indexXml(this.text, [this.#path, OWN_SOURCES], this.options.maxRows);
    if ('code' in index) {
      this.report(problem(index.code, index.message, this.#placeAt(index.offset)));
      return;
    }
    const own = index.root === OWN_ROWS[0];
    const rows = index.tree.at(this.#path) ?? new PathNode('');
    if (!this.#hasRows(index, rows, own) || (own && !this.#ownVersion(index))) return;
    const sources = own ? this.#sources(index) : [];
    const fields = findFields(rows, this.#map, own && this.#map?.rows === undefined);
    if (sources === undefined || !this.#hasFields(fields, rows)) return;
    this.#noteFields(fields, rows);
    this.#noteStrays(index, own && this.#map?.rows === undefined);
    sink.head(this.#head(index, fields, sources, own));
    this.#push(rows.spans ?? { starts: [], ends: [] }, fields, { prefixed: index.prefixed, own }, sink);
  }

  #placeAt(offset: number): Place {
    return { file: this.#file, ...placeFrom(this.text, 0, 1, offset) };
  }

  /** Place of the first row, where faults of all rows are reported. */
  #firstRow = (rows: PathNode): Place => this.#placeAt(rows.spans?.starts[0] ?? 0);

  #hasRows(index: XmlIndex, rows: PathNode, own: boolean): boolean {
    const given = this.#map?.rows;
    if (rows.count > 0 || (own && given === undefined)) return true;
    const there = pathsThere(index.tree);
    if (given !== undefined) {
      this.report(problem('bad-map', `rows of the mapping: nothing is at '${given.slice(0, 80)}'; the elements are ${there}`, this.#placeAt(0)));
      return false;
    }
    const said = `the outermost element is <${index.root.slice(0, 40)}>, not <cutlog>; say in a mapping file which elements are the rows: {"rows": ${JSON.stringify(likelyRows(index.tree).slice(0, 200))}, "fields": {"time": "…"}}; the elements are ${there}`;
    this.report(problem('missing-column', said, this.#placeAt(0)));
    return false;
  }

  #ownVersion({ attributes }: XmlIndex): boolean {
    const version = attributes.get('version') ?? OWN_VERSION;
    if (version === OWN_VERSION) return true;
    const offset = fieldOffset(this.text, [fieldPath('@version')]) ?? 0;
    this.report(problem('malformed-xml', `this is version '${version.slice(0, 40)}' of cutlog; this linecut reads version ${OWN_VERSION}`, this.#placeAt(offset)));
    return false;
  }

  /** The source elements of our own form; undefined when one cannot be used. */
  #sources({ tree, prefixed }: XmlIndex): { id: string; name: string }[] | undefined {
    const spans = tree.at(OWN_SOURCES)?.spans;
    const starts = spans?.starts ?? [];
    const rows = starts.map((start, index) => this.text.slice(start, spans?.ends[index]));
    const read = new RowValues([[fieldPath('@id'), fieldPath('id')], [fieldPath('@name'), fieldPath('name')]], prefixed, true).read(rows);
    const lines = new Lines(this.text);
    const seen = new Set<string>();
    let sound = true;
    const complain = (code: 'missing-field' | 'duplicate-source', message: string, index: number): void => {
      sound = false;
      this.report(problem(code, message, this.#placeAt(starts[index] ?? 0)));
    };
    const sources = read.map((fields, index) => {
      this.#tellOthers(fields, () => rows[index] ?? '', lines.of(starts[index] ?? 0));
      const [id = '', name = id] = fields.values;
      if (id === '') complain('missing-field', 'this source has no id', index);
      else if (seen.has(id.toLowerCase())) complain('duplicate-source', `a second source has the id '${id}'`, index);
      seen.add(id.toLowerCase());
      return { id, name };
    });
    return sound ? sources : undefined;
  }

  /** Checks that the fields are there that must be. */
  #hasFields({ found, missing, there }: XmlFields, rows: PathNode): boolean {
    let sound = true;
    for (const field of FIELDS) {
      const given = this.#map?.fields?.[field];
      if (typeof given === 'number') {
        sound = false;
        this.report(problem('bad-map', `fields.${field} of the mapping is the number ${String(given)}; in XML a field is a path such as '@time' or 'what/@kind'`, this.#firstRow(rows)));
      }
      if (typeof given !== 'string' || !missing.includes(field)) continue;
      // A log may do without dissolves, wipes and notes, and its mapping be right; it is not right without the others.
      const needed = field === 'time' || field === 'action' || field === 'source' || (field === 'end' && this.#map?.rowsAre === 'shots');
      if (needed) sound = false;
      this.report(problem('bad-map', nothingAt(field, given, there), this.#firstRow(rows), needed ? 'error' : 'note'));
    }
    if (!sound || found.time !== undefined || rows.count === 0) return sound;
    const name = there.find((one) => nearest(one.replace(/^.*@/, ''), ['time', 'timecode', 'clock']) !== undefined) ?? there[0] ?? '@time';
    const how = this.#map?.rows === undefined ? 'give each event the attribute time' : `name it in the mapping: {"fields": {"time": ${JSON.stringify(name.slice(0, 40))}}}`;
    this.report(problem('missing-column', `nothing holds the time of a row; ${rowsHold(there)}; ${how}`, this.#firstRow(rows)));
    return false;
  }

  /** Says what was found by itself; in our own form only what looks mistaken. */
  #noteFields({ found, byName, unused }: XmlFields, rows: PathNode): void {
    if (rows.count === 0) return;
    if (this.#map?.rows !== undefined && byName.length > 0) {
      this.report(problem('found', byName.map((field) => `${field} is '${found[field]?.name ?? ''}'`).join(', '), this.#firstRow(rows)));
    }
    if (this.#map?.rows !== undefined) return;
    for (const name of unused) {
      const word = name.replace(/^@/, '');
      const near = nearest(word, FIELDS);
      if (near !== undefined && near.startsWith(word[0]?.toLowerCase() ?? ' ')) {
        this.report(problem('missing-column', `events have '${name}', which is no field and is not read${didYouMean(word, FIELDS)}`, this.#firstRow(rows), 'warning'));
      }
    }
  }

  #noteStrays({ tree }: XmlIndex, own: boolean): void {
    for (const { path, count, first } of strayElements(tree, this.#path, own)) {
      const what = `the ${count === 1 ? 'element' : `${String(count)} elements`} ${path.slice(0, 80)} ${count === 1 ? 'is' : 'are'} not read: rows are at /${this.#path.join('/')}`;
      this.report(problem('stray-element', what, this.#placeAt(first)));
    }
  }

  #head({ attributes }: XmlIndex, { found, unused }: XmlFields, sources: LogHead['sources'], own: boolean): LogHead {
    const names: Partial<Record<Field, string>> = {};
    for (const field of FIELDS) {
      const name = found[field]?.name;
      if (name !== undefined) names[field] = name;
    }
    const said = (name: string): string | undefined => (own ? attributes.get(name)?.trim() || undefined : undefined);
    const [title, rate, timeAs, end] = [said('title'), said('rate'), said('timeAs'), said('end')];
    return {
      form: 'xml', found: names, unused, sources, rows: `/${this.#path.join('/')}`,
      ...(title === undefined ? {} : { title }), ...(rate === undefined ? {} : { rate }), ...(timeAs === undefined ? {} : { timeAs }),
      ...(end === undefined ? {} : { end }),
    };
  }

  /** Reads the rows in batches and pushes them. */
  #push({ starts, ends }: Spans, fields: XmlFields, { prefixed, own }: { readonly prefixed: boolean; readonly own: boolean }, sink: RowSink): void {
    const values = new RowValues(FIELDS.map((field) => fields.found[field]?.paths ?? []), prefixed, own && this.#map?.rows === undefined);
    let first = 0;
    let size = 0;
    const lines = new Lines(this.text);
    for (let index = 0; index < starts.length; index += 1) {
      const length = (ends[index] ?? 0) - (starts[index] ?? 0);
      if (length > LONGEST_ROW) {
        this.report(problem('too-large', TOO_LONG, this.#placeAt(starts[index] ?? 0)));
        return;
      }
      size += length;
      if (size < BATCH && index < starts.length - 1) continue;
      if (!this.#pushBatch(starts.slice(first, index + 1), ends.slice(first, index + 1), fields.found, values, lines, sink)) return;
      first = index + 1;
      size = 0;
    }
  }

  #pushBatch(starts: readonly number[], ends: readonly number[], found: XmlFields['found'], values: RowValues, lines: Lines, sink: RowSink): boolean {
    const { text } = this;
    const rows = starts.map((start, index) => text.slice(start, ends[index]));
    const read = this.#values(rows, starts, values);
    if (read === undefined) return false;
    for (const [index, start] of starts.entries()) {
      const place = lines.of(start);
      const row = (): string => text.slice(start, ends[index]);
      const fields = read[index] ?? NOTHING;
      this.#tellOthers(fields, row, place);
      sink.row({ line: place.line, values: fields.values, columnOf: (field) => fieldPlace(row(), found[field]?.paths ?? [], place) });
    }
    return true;
  }

  /** An attribute and an element, or two elements, that do not say the same: one of them is not read. */
  #tellOthers({ values, others }: RowFields, row: () => string, place: RowPlace): void {
    for (const { field, path, text, again } of others) {
      const { steps, attribute } = path;
      const [own, counts] = attribute === undefined ? [`element ${steps.at(-1) ?? ''}`, 'attribute'] : [`attribute ${attribute}`, 'element'];
      const said = `${again ? 'a further' : 'the'} ${own} says '${shorten(text)}', and the ${again ? 'first' : counts} of that name, which counts, '${shorten(values[field] ?? '')}'; expected one of them`;
      this.report(problem('two-values', said, { file: this.#file, ...fieldPlace(row(), [path], place) }));
    }
  }

  /** The values of a batch; where the parser refuses it, the row that it refuses is reported. */
  #values(rows: readonly string[], starts: readonly number[], values: RowValues): RowFields[] | undefined {
    try {
      return values.read(rows);
    } catch (whole) {
      const index = rows.findIndex((row) => refused(row, values));
      const why = whole instanceof Error ? whole.message.slice(0, 200) : String(whole);
      this.report(problem('malformed-xml', `this row cannot be read: ${why}`, this.#placeAt(starts[Math.max(index, 0)] ?? 0)));
      return undefined;
    }
  }
}

function refused(row: string, values: RowValues): boolean {
  try {
    values.read([row]);
    return false;
  } catch {
    return true;
  }
}

/** `/session/list/item` as names, without namespace prefixes. */
const elementPath = (text: string): string[] => text.split('/').map((name) => localName(name.trim())).filter((name) => name !== '');
