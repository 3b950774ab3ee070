/** Reads rows for tests: everything that a reader pushes and reports. */
import { readCsvRows } from '../../src/log/csv.js';
import { FIELDS, type Field, type Mapping } from '../../src/log/mapping.js';
import type { LogHead, LogRow } from '../../src/log/rows.js';
import { readXmlRows } from '../../src/log/xml.js';
import { problemLine, type Problem } from '../../src/problems.js';

export interface Collected {
  readonly head: LogHead | undefined;
  readonly rows: readonly LogRow[];
  readonly problems: readonly Problem[];
}

const collect =
  (read: typeof readCsvRows, file: string) =>
  (text: string, map?: Mapping, maxRows = 1_000_000): Collected => {
    let head: LogHead | undefined;
    const rows: LogRow[] = [];
    const problems: Problem[] = [];
    read(text, { file, maxRows, ...(map === undefined ? {} : { map }), ...(map?.timeAs === undefined ? {} : { timeAs: map.timeAs }) }, { head: (given) => (head = given), row: (row) => rows.push(row) }, (found) => problems.push(found));
    return { head, rows, problems };
  };

export const csv = collect(readCsvRows, 'show.csv');
export const xml = collect(readXmlRows, 'show.xml');

/** The problems as printed, notes left out. */
export const complaints = ({ problems }: Collected): string[] => problems.filter(({ severity }) => severity !== 'note').map(problemLine);

/** `line:column code` of every problem, notes left out. */
export const places = ({ problems }: Collected): string[] =>
  problems.filter(({ severity }) => severity !== 'note').map(({ code, place }) => `${String(place?.line)}:${String(place?.column)} ${code}`);

export const notes = ({ problems }: Collected): string[] => problems.filter(({ severity }) => severity === 'note').map(problemLine);

export const valueOf = (row: LogRow | undefined, field: Field): string | undefined => row?.values[FIELDS.indexOf(field)];

/** A row as an object without its empty fields. */
export function fieldsOf(row: LogRow | undefined): Partial<Record<Field, string>> {
  const out: Partial<Record<Field, string>> = {};
  for (const field of FIELDS) {
    const value = valueOf(row, field);
    if (value !== undefined) out[field] = value;
  }
  return out;
}

/** The text at a place, to the end of its line. */
export function textAt(text: string, { line, column }: { readonly line: number; readonly column: number }): string {
  return (text.split(/\r\n|\n|\r/)[line - 1] ?? '').slice(column - 1);
}
