/** Rows: a log's fields as text, before anybody knows what they mean. The CSV and XML readers push them one by one. */
import type { Field, Mapping, TimeKind } from './mapping.js';

export interface RowOptions {
  /** Name for messages. */
  readonly file: string;
  readonly map?: Mapping;
  /** The kind of time, where the options or the mapping say it: also by what only clock times have, an anchor or a zone. */
  readonly timeAs?: TimeKind;
  /** A log with more rows is refused (`too-large`). */
  readonly maxRows: number;
}

/** What a reader knows before the first row. */
export interface LogHead {
  readonly form: 'csv' | 'xml';
  /** Where each field was found: a column's name (its number without a header) or a path below the row. */
  readonly found: Readonly<Partial<Record<Field, string>>>;
  /** Columns or children that feed no field. */
  readonly unused: readonly string[];
  /** What a log says of itself (our own XML only). */
  readonly title?: string;
  readonly rate?: string;
  readonly timeAs?: string;
  /** Where the list ends, in the log's kind of time. */
  readonly end?: string;
  readonly sources: readonly { readonly id: string; readonly name: string }[];
  /** CSV: what separates the cells, and the lines before the header row (before the first row without one). */
  readonly delimiter?: string;
  readonly skipLines?: number;
  /** XML: path of the element names to a row, `/cutlog/event`. */
  readonly rows?: string;
}

/** One row. `values` is in the order of FIELDS, trimmed; undefined where the field is absent or empty. */
export interface LogRow {
  readonly line: number;
  readonly values: readonly (string | undefined)[];
  /** Column (from 1) of a field's text in the file; of the row's start where the field is absent. Computed when asked. */
  columnOf(field: Field): { readonly line: number; readonly column: number };
}

export interface RowSink {
  readonly head: (head: LogHead) => void;
  readonly row: (row: LogRow) => void;
}
