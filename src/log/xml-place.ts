/** Where the rows of an XML log and their fields stand: lines of rows in passing, fields one row at a time, mostly for messages. */
import { breaksIn } from './cells.js';
import { scanXml, type XmlEvents } from './xml-scan.js';
import { localName, nameEnd } from './xml-text.js';
import type { FieldPath } from './xml-values.js';

/**
 * Offset, in `row` (one well-formed element), of the first visible character of the first of `paths` that has any;
 * undefined where none has.
 */
export function fieldOffset(row: string, paths: readonly FieldPath[]): number | undefined {
  for (const path of paths) {
    if (path.attribute !== undefined && path.steps.length === 0) {
      const offset = ownAttribute(row, path.attribute);
      if (offset !== undefined) return offset;
      continue;
    }
    const finder = new Finder(row, path);
    scanXml(row, finder);
    if (finder.offset !== undefined) return finder.offset;
  }
  return undefined;
}

/** Where a row begins: its offset in the document, its line, and the offset at which that line starts. */
export interface RowPlace {
  readonly start: number;
  readonly line: number;
  readonly lineStart: number;
}

/** Line and column in the document of what `fieldOffset` finds in `row`; of the row itself where it finds nothing. */
export function fieldPlace(row: string, paths: readonly FieldPath[], { start, line, lineStart }: RowPlace): { readonly line: number; readonly column: number } {
  const offset = fieldOffset(row, paths) ?? 0;
  const { count, behind } = breaksIn(row, 0, offset);
  return { line: line + count, column: (count === 0 ? start + offset - lineStart : offset - behind) + 1 };
}

const ATTRIBUTE = /\s+([^\s=]+)\s*=\s*(["'])/y;

/** The same for an attribute of the row itself, without looking further than its tag: this is where most times stand. */
function ownAttribute(row: string, name: string): number | undefined {
  ATTRIBUTE.lastIndex = nameEnd(row, 1);
  for (let parts = ATTRIBUTE.exec(row); parts !== null; parts = ATTRIBUTE.exec(row)) {
    const from = ATTRIBUTE.lastIndex;
    const to = row.indexOf(parts[2] ?? '"', from);
    if (localName(parts[1] ?? '') === name) return firstVisible(row, from, to);
    ATTRIBUTE.lastIndex = to + 1;
  }
  return undefined;
}

/** Values are trimmed as JavaScript does, which knows more white space than XML. */
function firstVisible(row: string, from: number, to: number): number | undefined {
  const at = row.slice(from, to).search(/\S/);
  return at === -1 ? undefined : from + at;
}

class Finder implements XmlEvents {
  offset: number | undefined;
  /** Elements open below the row, and how many of them, from the top, are steps of the path. */
  #depth = -1;
  #matched = 0;

  constructor(
    private readonly row: string,
    private readonly path: FieldPath,
  ) {}

  readonly open = (name: string): undefined => {
    const { steps } = this.path;
    if (this.#depth === this.#matched && this.#depth >= 0 && steps[this.#matched] === name) this.#matched += 1;
    this.#depth += 1;
  };

  readonly attribute = (name: string, from: number, to: number): void => {
    const { steps, attribute } = this.path;
    if (name === attribute && this.#depth === steps.length && this.#matched === steps.length) this.#note(from, to);
  };

  readonly characters = (from: number, to: number): void => {
    const { steps, attribute } = this.path;
    if (attribute === undefined && this.#matched === steps.length) this.#note(from, to);
  };

  readonly close = (): void => {
    this.#depth -= 1;
    if (this.#matched > this.#depth) this.#matched = Math.max(this.#depth, 0);
  };

  #note(from: number, to: number): void {
    this.offset ??= firstVisible(this.row, from, to);
  }
}

/** Lines of rising offsets, in one pass. */
export class Lines {
  #line = 1;
  #lineStart = 0;
  #at = 0;

  constructor(private readonly text: string) {}

  /** The place of `offset`, which is not below the one before. */
  of(offset: number): RowPlace {
    const { count, behind } = breaksIn(this.text, this.#at, offset);
    if (count > 0) {
      this.#line += count;
      this.#lineStart = behind;
    }
    this.#at = offset;
    return { start: offset, line: this.#line, lineStart: this.#lineStart };
  }
}
