/** One row of a CSV log: what its cells hold, and where in the file they stand. */
import { cellOffset, placeFrom } from './cells.js';
import type { Layout } from './layout.js';
import type { Field } from './mapping.js';
import type { LogRow } from './rows.js';

export class CsvRow implements LogRow {
  /** The row is text[start, end), on `line`. */
  constructor(
    readonly line: number,
    readonly values: readonly (string | undefined)[],
    private readonly text: string,
    private readonly layout: Layout,
    private readonly start: number,
    private readonly end: number,
  ) {}

  columnOf(field: Field): { readonly line: number; readonly column: number } {
    const { delimiter, columns } = this.layout;
    const index = columns.found[field];
    const offset = index === undefined ? undefined : cellOffset(this.text, this.start, this.end, delimiter, index);
    return offset === undefined ? { line: this.line, column: 1 } : placeFrom(this.text, this.start, this.line, offset);
  }
}
