/** Which attributes and elements of an XML log's rows feed which fields, and what to say when they do not. */
import { didYouMean } from '../nearest.js';
import { findColumns, listed } from './columns.js';
import { FIELDS, type Field, type Mapping } from './mapping.js';
import type { PathNode } from './xml-index.js';
import { fieldPath, type FieldPath } from './xml-values.js';

export interface XmlField {
  /** As a mapping file writes it: `@when`, `what/@kind`, `note`. */
  readonly name: string;
  /** Where its text may stand; the first that has some counts. */
  readonly paths: readonly FieldPath[];
}

export interface XmlFields {
  readonly found: Readonly<Partial<Record<Field, XmlField>>>;
  /** Fields whose path the mapping gives, and at which no row has anything. */
  readonly missing: readonly Field[];
  /** Fields that were found by their name, without a mapping. */
  readonly byName: readonly Field[];
  /** Everything that rows hold, as a mapping would write it, and what of it feeds no field. */
  readonly there: readonly string[];
  readonly unused: readonly string[];
}

/**
 * Finds the fields of rows that look as `rows` says: by the mapping's paths; else by name among the row's own attributes
 * and child elements, as CSV columns are. In linecut's own form (`own`) only the fields' very names count.
 */
export function findFields(rows: PathNode, map: Mapping | undefined, own: boolean): XmlFields {
  const there = placesBelow(rows);
  const found: Partial<Record<Field, XmlField>> = {};
  const missing: Field[] = [];
  const used = new Set<string>();
  for (const field of FIELDS) {
    const given = map?.fields?.[field];
    if (typeof given !== 'string') continue;
    const path = fieldPath(given);
    const name = nameOfPath(path);
    if (!there.includes(name)) {
      missing.push(field);
      continue;
    }
    found[field] = { name, paths: [path] };
    used.add(name);
  }
  const byName: Field[] = [];
  const open = there.filter((name) => !name.slice(1).includes('/') && name !== '.' && !used.has(name));
  const words = open.map((name) => name.replace(/^@/, ''));
  const columns = findColumns(own ? words.map((word) => (FIELDS.some((field) => field === word) ? word : '')) : words);
  for (const field of FIELDS) {
    const index = columns.found[field];
    if (index === undefined || map?.fields?.[field] !== undefined) continue;
    // An attribute in one row and an element in another may be one field.
    const names = open.filter((_, at) => words[at] === words[index]);
    found[field] = { name: names[0] ?? '', paths: names.map(fieldPath) };
    names.forEach((name) => used.add(name));
    byName.push(field);
  }
  return { found, missing, byName, there, unused: there.filter((name) => !used.has(name)) };
}

/** A path as it is compared and written: without prefixes, `.` for the row's own text. */
function nameOfPath({ steps, attribute }: FieldPath): string {
  return [...steps, ...(attribute === undefined ? [] : [`@${attribute}`])].join('/') || '.';
}

/** The attributes and the elements with text that stand in rows, in order of appearance. */
function placesBelow(rows: PathNode): string[] {
  const places: string[] = [];
  for (const node of rows.all()) {
    const below = node.path.slice(rows.path.length + 1);
    const prefix = below === '' ? '' : `${below}/`;
    for (const name of node.attributes) places.push(`${prefix}@${name}`);
    if (node.hasText) places.push(below === '' ? '.' : below);
  }
  return places;
}

/** Says that a mapping's path finds nothing, and what there is. */
export function nothingAt(field: Field, given: string, there: readonly string[]): string {
  return `fields.${field} of the mapping: no row has anything at '${given.slice(0, 80)}'${didYouMean(given, there)}; ${rowsHold(there)}`;
}

export const rowsHold = (there: readonly string[]): string => (there.length === 0 ? 'rows hold nothing' : `rows hold ${listed(there)}`);

/** The paths of elements that come more than once, or of all when none does, with their numbers: candidates for `rows`. */
export function pathsThere(tree: PathNode): string {
  return listed(commonest(tree, ({ count }) => count > 1).map(({ path, count }) => (count > 1 ? `${path} (${String(count)} times)` : path)));
}

/** The path that is likeliest to hold the rows: of those with two places or more for fields the commonest one. */
export const likelyRows = (tree: PathNode): string => commonest(tree, ({ attributes, children }) => attributes.size + children.size > 1)[0]?.path ?? '/…';

/** The elements below the outermost that are as wanted, or all when none is, the commonest first. */
function commonest(tree: PathNode, wanted: (node: PathNode) => boolean): PathNode[] {
  const nodes = [...tree.all()].filter((node) => node !== tree && node.count > 0);
  const found = nodes.filter(wanted);
  return (found.length > 0 ? found : nodes).sort((a, b) => b.count - a.count);
}
