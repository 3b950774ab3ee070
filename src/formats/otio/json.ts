/** JSON text in pieces: layouts that are rendered once and filled a million times. */

/** A value that JSON can hold, a number that is written as a double, or a slot that is filled later. */
export type Json = string | number | boolean | null | undefined | Double | Slot | readonly Json[] | { readonly [key: string]: Json };

/** A number that carries a decimal point in any case (`25.0`), as the reference library writes times and rates. */
export class Double {
  constructor(readonly value: number) {}
}

/** A place in a layout that text is put into later. */
export class Slot {
  constructor(readonly name: string) {}
}

/** A rendered layout: `pieces[0] slot[0] pieces[1] slot[1] … pieces[n]`; `depth` is how deep a value in a slot lies. */
export interface Layout {
  readonly pieces: readonly string[];
  readonly slots: readonly { readonly name: string; readonly depth: number }[];
}

/** A layout with the texts of its slots, in their order. */
export function fill(layout: Layout, ...values: readonly string[]): string {
  let text = layout.pieces[0] ?? '';
  for (let index = 0; index < values.length; index += 1) text += (values[index] as string) + (layout.pieces[index + 1] as string);
  return text;
}

export const doubleText = (value: number): string => (Number.isInteger(value) ? `${String(value)}.0` : String(value));

/** Marks a slot inside rendered text. JSON text has no control characters, so nobody's text looks like one. */
export const MARK = '\u0000';

/** Renders JSON compact, or pretty with two spaces a level. Object members that are undefined are left out. */
export class JsonWriter {
  readonly #newlines: readonly string[];
  readonly #colon: string;

  constructor(readonly pretty: boolean) {
    this.#newlines = Array.from({ length: 32 }, (_, depth) => (pretty ? `\n${'  '.repeat(depth)}` : ''));
    this.#colon = pretty ? '": ' : '":';
  }

  /** What separates members at `depth`: nothing, or a new line and its indentation. */
  newline(depth: number): string {
    return this.#newlines[depth] ?? '';
  }

  layout(value: Json, depth = 0): Layout {
    const pieces: string[] = [];
    const slots: { name: string; depth: number }[] = [];
    for (const [index, part] of this.text(value, depth).split(MARK).entries()) {
      if (index % 2 === 0) pieces.push(part);
      else slots.push({ name: part.slice(part.indexOf(' ') + 1), depth: Number.parseInt(part, 10) });
    }
    return { pieces, slots };
  }

  /**
   * An object at `depth` from names and the texts of their values in turn; what has no text is left out. For what is written for
   * every shot: no object is made.
   */
  members(depth: number, parts: readonly (string | undefined)[]): string {
    const before = `${this.newline(depth + 1)}"`;
    let text = '';
    for (let index = 0; index < parts.length; index += 2) {
      const value = parts[index + 1];
      if (value !== undefined) text += (text === '' ? before : `,${before}`) + (parts[index] as string) + this.#colon + value;
    }
    return text === '' ? '{}' : `{${text}${this.newline(depth)}}`;
  }

  /** The text of a value as it stands at `depth`. Member names are our own and need no escapes. */
  text(value: Json, depth = 0): string {
    if (typeof value === 'string') return JSON.stringify(value);
    if (typeof value !== 'object' || value === null) return String(value);
    if (value instanceof Double) return doubleText(value.value);
    if (value instanceof Slot) return `${MARK}${String(depth)} ${value.name}${MARK}`;
    const newline = this.newline(depth + 1);
    let text = '';
    if (Array.isArray(value)) {
      for (const item of value as readonly Json[]) text += (text === '' ? '' : ',') + newline + this.text(item, depth + 1);
      return text === '' ? '[]' : `[${text}${this.newline(depth)}]`;
    }
    const members = value as Readonly<Record<string, Json>>;
    for (const key in members) {
      const item = members[key];
      if (item !== undefined) text += `${text === '' ? '' : ','}${newline}"${key}${this.#colon}${this.text(item, depth + 1)}`;
    }
    return text === '' ? '{}' : `{${text}${this.newline(depth)}}`;
  }
}
