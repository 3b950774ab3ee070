/** What the fields of XML rows hold: fast-xml-parser reads a batch of rows, paths pick the fields. */
import { XMLParser } from 'fast-xml-parser';
import { attributeValue, localName, resolved } from './xml-text.js';

/** A path below a row: names of elements, then an attribute, or without one the text of the last element (or of the row). */
export interface FieldPath {
  readonly steps: readonly string[];
  readonly attribute: string | undefined;
}

/** Reads `what/@kind`, `bus`, `@when`, or `.` for the row's own text. Namespace prefixes are left out. */
export function fieldPath(text: string): FieldPath {
  const parts = text.split('/').map((part) => part.trim()).filter((part) => part !== '' && part !== '.');
  const last = parts.at(-1);
  const attribute = last?.startsWith('@') === true ? localName(last.slice(1)) : undefined;
  return { steps: (attribute === undefined ? parts : parts.slice(0, -1)).map(localName), attribute };
}

/** A node as fast-xml-parser gives it in order: one key that holds the children, `:@` for the attributes. */
type OrderedNode = Readonly<Record<string, unknown>>;

/**
 * Entities, DTDs, numbers and booleans are all off: values stay text, and references are resolved by xml-text.ts. A colon
 * before every element's name keeps names such as `constructor` from being anything else than names (5.12 asks twice for
 * the tags that close themselves).
 */
const OPTIONS = {
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '@',
  transformTagName: (name: string) => (name.startsWith(':') ? name : `:${name}`),
  processEntities: false,
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  ignoreDeclaration: true,
  ignorePiTags: true,
  cdataPropName: '#cdata',
  maxNestedTags: 200,
  jPath: false,
  onDangerousProperty: (name: string) => name,
};

const NOT_DATA = /<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?[\s\S]*?\?>/g;

/** Processing instructions out: an apostrophe in one would make the parser stumble. */
const withoutInstructions = (row: string): string => (row.includes('<?') ? row.replace(NOT_DATA, (part) => (part.startsWith('<?') ? '' : part)) : row);

/** Another value of a field than the one that counts: the index of the field, and where in the row it stands. */
export interface OtherValue {
  readonly field: number;
  readonly path: FieldPath;
  readonly text: string;
  /** True of a further element at the path of the value that counts. */
  readonly again: boolean;
}

/** What a row holds. `values` are trimmed; undefined for an absent or empty field. */
export interface RowFields {
  readonly values: readonly (string | undefined)[];
  readonly others: readonly OtherValue[];
}

const NO_OTHERS: readonly OtherValue[] = [];

/**
 * Reads rows (well-formed elements) and gives each one's fields, in the order of `paths`: the first of a field's paths that has text
 * counts, and what another one of them has that is not the same is given too; so is, where fields are to be there once, a further element
 * of one path. A mapping means the first that is there.
 */
export class RowValues {
  readonly #parser: XMLParser;

  /** `prefixed`: whether names have namespace prefixes, which are left out then. `once`: each field is to be there once (linecut's own form). */
  constructor(
    private readonly paths: readonly (readonly FieldPath[])[],
    prefixed: boolean,
    private readonly once: boolean,
  ) {
    this.#parser = new XMLParser({ ...OPTIONS, removeNSPrefix: prefixed });
  }

  /** The fields of each row. Throws when the parser does. */
  read(rows: readonly string[]): RowFields[] {
    const [batch] = this.#parser.parse(`<r>${rows.map(withoutInstructions).join('')}</r>`) as OrderedNode[];
    return childrenOf(batch ?? {}, 'r').map((row) => this.#fields(row));
  }

  #fields(row: OrderedNode): RowFields {
    let others = NO_OTHERS;
    const values = this.paths.map((paths, field) => {
      let first: { readonly path: FieldPath; readonly text: string } | undefined;
      for (const path of paths) {
        for (const text of valuesAt(row, path, this.once)) {
          first ??= { path, text };
          if (text !== first.text) others = [...others, { field, path, text, again: path === first.path }];
        }
      }
      return first?.text;
    });
    return { values, others };
  }
}

/** The values at a path, trimmed, of elements or attributes that have any: the first alone, or all. */
function valuesAt(row: OrderedNode, { steps, attribute }: FieldPath, all: boolean): readonly string[] {
  const values: string[] = [];
  const collect = (node: OrderedNode, depth: number): void => {
    const step = steps[depth];
    if (step === undefined) {
      const text = (attribute === undefined ? textOf(node) : attributeOf(node, attribute)).trim();
      if (text !== '') values.push(text);
      return;
    }
    for (const child of elementChildren(node)) {
      if (Object.hasOwn(child, `:${step}`)) collect(child, depth + 1);
      if (!all && values.length > 0) return;
    }
  };
  collect(row, 0);
  return values;
}

function attributeOf(node: OrderedNode, name: string): string {
  const raw = (node[':@'] as OrderedNode | undefined)?.[`@${name}`];
  return typeof raw === 'string' ? attributeValue(raw) : '';
}

const childrenOf = (node: OrderedNode, name: string): readonly OrderedNode[] => (node[`:${name}`] ?? []) as readonly OrderedNode[];

/** The children of an element, whatever its name is. */
function elementChildren(node: OrderedNode): readonly OrderedNode[] {
  for (const key in node) if (key !== ':@' && key.startsWith(':')) return node[key] as readonly OrderedNode[];
  return [];
}

/** All text inside an element, that of elements in it too. */
function textOf(node: OrderedNode): string {
  let text = '';
  for (const child of elementChildren(node)) {
    const own = child['#text'];
    if (typeof own === 'string') text += resolved(own);
    else if (Array.isArray(child['#cdata'])) text += String((child['#cdata'] as OrderedNode[])[0]?.['#text'] ?? '');
    else text += textOf(child);
  }
  return text;
}
