/** JSON text in pieces: layouts that are rendered once and filled a million times. */

/** A value that JSON can hold, a number that is written as a double, or a slot that is filled later. */
export type Json = string | number | boolean | null | Double | Slot | readonly Json[] | { readonly [key: string]: Json | undefined };

/** A number that carries a decimal point in any case (`25.0`), as the reference library writes times and rates. */
export class Double {
  constructor(readonly value: number) {}
}

/** A place in a layout that `fill` puts text into; `depth` tells how deep an object put there is indented. */
export class Slot {
  constructor(readonly name: string) {}
}

/** A rendered layout: `pieces[0] slot[0] pieces[1] slot[1] … pieces[n]`. */
export interface Layout {
  readonly pieces: readonly string[];
  readonly slots: readonly { readonly name: string; readonly depth: number }[];
}

export const doubleText = (value: number): string => (Number.isInteger(value) ? `${String(value)}.0` : String(value));

/** Renders JSON compact, or pretty with two spaces a level. Keys whose value is undefined are left out. */
export class JsonWriter {
  constructor(readonly pretty: boolean) {}

  /** What separates members at `depth`: nothing, or a new line and its indentation. */
  newline(depth: number): string {
    return this.pretty ? `\n${'  '.repeat(depth)}` : '';
  }

  /** The text of a value without slots, as it stands at `depth`. */
  text(value: Json, depth = 0): string {
    return this.layout(value, depth).pieces[0] ?? '';
  }

  layout(value: Json, depth = 0): Layout {
    const pieces: string[] = [''];
    const slots: { name: string; depth: number }[] = [];
    const put = (text: string): void => {
      pieces[pieces.length - 1] += text;
    };
    const walk = (given: Json, at: number): void => {
      if (given instanceof Double) put(doubleText(given.value));
      else if (given instanceof Slot) {
        slots.push({ name: given.name, depth: at });
        pieces.push('');
      } else if (given === null || typeof given !== 'object') put(JSON.stringify(given));
      else if (Array.isArray(given)) list('[', ']', at, (given as readonly Json[]).map((item) => ['', item] as const));
      else {
        const members = Object.entries(given as Readonly<Record<string, Json | undefined>>);
        const colon = this.pretty ? ': ' : ':';
        list('{', '}', at, members.flatMap(([key, item]) => (item === undefined ? [] : [[JSON.stringify(key) + colon, item] as const])));
      }
    };
    const list = (open: string, close: string, at: number, members: readonly (readonly [string, Json])[]): void => {
      put(open);
      members.forEach(([before, item], index) => {
        put(`${index === 0 ? '' : ','}${this.newline(at + 1)}${before}`);
        walk(item, at + 1);
      });
      put(members.length === 0 ? close : this.newline(at) + close);
    };
    walk(value, depth);
    return { pieces, slots };
  }
}

/** Gathers text and hands it over in chunks of this many characters or a little more. */
const CHUNK = 1 << 16;

export function* chunked(texts: Iterable<string>): Generator<string> {
  let text = '';
  for (const next of texts) {
    text += next;
    if (text.length >= CHUNK) {
      yield text;
      text = '';
    }
  }
  if (text !== '') yield text;
}
