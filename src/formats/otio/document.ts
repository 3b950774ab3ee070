/** A parsed OpenTimelineIO document: its objects, where each stands, and what is reported of it. */
import { parseTree, type Node as TreeNode } from 'jsonc-parser';
import { withoutMark } from '../../byte-order-mark.js';
import { offsetOf, pathText, placeAt, readJson } from '../../json.js';
import { problem, type Code, type Place, type Report, type Severity } from '../../problems.js';

export type Members = Readonly<Record<string, unknown>>;

/** The way from the document's root to a value, as a chain that costs one small object a step. */
export interface Where {
  readonly parent?: Where;
  readonly key: string | number;
}

/** An object of the document and where it stands. */
export interface At {
  readonly members: Members;
  readonly where: Where | undefined;
}

/** Above this many characters a problem is placed by its path alone: finding its line would need a second tree. */
const LINES_UP_TO = 32_000_000;

/** So many problems get a line and column; the search for each reads the text up to it. */
const PLACED = 200;

export class Document {
  readonly #text: string;
  readonly #file: string;
  readonly #report: Report;
  #tree: TreeNode | undefined | 'none';
  /** `Clip.2` → `Clip`, for every schema that was met. */
  readonly #schemas = new Map<unknown, string>();
  #placed = 0;
  #errors = 0;
  #quiet: Document | undefined;

  private constructor(text: string, file: string, report: Report) {
    this.#text = text;
    this.#file = file;
    this.#report = report;
  }

  /** Parses the text; what is not a JSON object is reported (`bad-otio`) with line and column. */
  static parse(text: string, file: string, report: Report): { document: Document; root: At } | undefined {
    const body = withoutMark(text);
    const document = new Document(body, file, report);
    let value: unknown;
    try {
      value = JSON.parse(body);
    } catch (cause) {
      document.#notJson(cause);
      return undefined;
    }
    if (!isMembers(value)) {
      report(problem('bad-otio', `expected an object with OTIO_SCHEMA, found ${kindOf(value)}`, { file, line: 1, column: 1 }));
      return undefined;
    }
    return { document, root: { members: value, where: undefined } };
  }

  /** A document that reports nothing: for what is only measured. */
  get quiet(): Document {
    this.#quiet ??= new Document('', this.#file, () => undefined);
    return this.#quiet;
  }

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  /** Reports `message` at a value: the path is part of the message, line and column of the place where they can be had. */
  add(code: Code, where: Where | undefined, message: string, severity?: Severity): void {
    const given = problem(code, where === undefined ? message : `${message} (at ${pathText(pathOf(where))})`, this.#placeOf(where), severity);
    if (given.severity === 'error') this.#errors += 1;
    this.#report(given);
  }

  /** A schema's name without its version. A version that came after this reader was written is reported once. */
  schema(at: At): string {
    const given = at.members['OTIO_SCHEMA'];
    const read = this.#schemas.get(given);
    if (read !== undefined) return read;
    const name = schemaOf(at);
    const version = Number(textAt(at, 'OTIO_SCHEMA').slice(name.length + 1));
    this.#schemas.set(given, name);
    const known = name === 'Clip' || name === 'Marker' ? 2 : 1;
    if (version > known) {
      this.add('bad-otio', at.where, `${name}.${String(version)} is newer than the version known here (${String(known)}); it is read as that`, 'warning');
    }
    return name;
  }

  /** A remark on the file as a whole. */
  note(message: string): void {
    this.#report(problem('found', message, { file: this.#file }));
  }

  #placeOf(where: Where | undefined): Place {
    if (this.#text.length > LINES_UP_TO || this.#placed >= PLACED) return { file: this.#file };
    this.#placed += 1;
    if (this.#tree === undefined) {
      try {
        this.#tree = parseTree(this.#text) ?? 'none';
      } catch {
        this.#tree = 'none';
      }
    }
    if (this.#tree === 'none') return { file: this.#file };
    const offset = offsetOf(this.#tree, pathOf(where));
    return offset === undefined ? { file: this.#file, line: 1, column: 1 } : placeAt(this.#text, offset, this.#file);
  }

  #notJson(cause: unknown): void {
    let told = false;
    if (this.#text.length <= LINES_UP_TO) {
      const number = noNumber(this.#text, this.#file);
      readJson(this.#text, this.#file, 'bad-otio', (given) => {
        told = true;
        const isIt = number !== undefined && given.place?.line === number.place.line && given.place?.column === number.place.column;
        this.#report(isIt ? problem('bad-otio', `not valid JSON: ${number.name} is no number that JSON has; put a number or null in its place, or write the file again without it`, number.place) : given);
      });
    }
    if (told) return;
    const message = cause instanceof Error ? cause.message : '';
    const offset = /position (\d+)/.exec(message)?.[1];
    const place = cause instanceof RangeError ? { file: this.#file } : placeAt(this.#text, offset === undefined ? this.#text.length : Number(offset), this.#file);
    this.#report(problem('bad-otio', cause instanceof RangeError ? 'the file is nested too deeply' : 'not valid JSON', place));
  }
}

/** The first value that some libraries write for what is no number, outside of texts. */
function noNumber(text: string, file: string): { readonly name: string; readonly place: Place } | undefined {
  for (const match of text.matchAll(/"[^"\\]*(?:\\[^][^"\\]*)*"?|-?\b(?:Infinity|NaN|inf|nan)\b/g)) {
    if (!match[0].startsWith('"')) return { name: match[0], place: placeAt(text, match.index, file) };
  }
  return undefined;
}

export const isMembers = (value: unknown): value is Members => typeof value === 'object' && value !== null && !Array.isArray(value);

/** What a JSON value is, in words. */
export function kindOf(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'an array';
  if (typeof value === 'object') return 'an object';
  return typeof value === 'string' ? `the text '${value.slice(0, 40)}'` : `${typeof value} ${JSON.stringify(value)}`;
}

export const below = (parent: Where | undefined, key: string | number): Where => (parent === undefined ? { key } : { parent, key });

function pathOf(where: Where | undefined): (string | number)[] {
  const path: (string | number)[] = [];
  for (let step = where; step !== undefined; step = step.parent) path.push(step.key);
  return path.reverse();
}

/** A member that is an object, with its place. */
export function objectAt({ members, where }: At, key: string): At | undefined {
  const value = members[key];
  return isMembers(value) ? { members: value, where: below(where, key) } : undefined;
}

/** The objects of a member that is an array. Whatever else it holds is left out. */
export function* objectsAt({ members, where }: At, key: string): Generator<At> {
  const value = members[key];
  if (!Array.isArray(value)) return;
  const list = below(where, key);
  for (const [index, item] of (value as unknown[]).entries()) {
    if (isMembers(item)) yield { members: item, where: below(list, index) };
  }
}

/** A text, or '' where there is none. */
export const textAt = ({ members }: At, key: string): string => {
  const value = members[key];
  return typeof value === 'string' ? value : '';
};

/** What stands in an object's metadata under one name: `metadata.linecut`, `metadata.cmx_3600`. */
export function metadataAt({ members: { metadata } }: At, key: string): Members | undefined {
  const value = isMembers(metadata) ? metadata[key] : undefined;
  return isMembers(value) ? value : undefined;
}

/** A schema's name without its version: `Clip` of `Clip.2`. */
export const schemaOf = ({ members }: At): string => {
  const schema = members['OTIO_SCHEMA'];
  return typeof schema === 'string' ? schema.replace(/\.\d+$/, '') : '';
};
