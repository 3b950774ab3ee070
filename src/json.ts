/** JSON that people write by hand (show files, mappings, corrections, rules): read, with a place for every key. */
import { findNodeAtLocation, parseTree, printParseErrorCode, type Node, type ParseError } from 'jsonc-parser';
import { withoutMark } from './byte-order-mark.js';
import { problem, type Code, type Place, type Report } from './problems.js';

/** Names and numbers from the top of a document down to a value: `['sources', 0, 'id']`. */
export type JsonPath = readonly (string | number)[];

export interface JsonText {
  readonly value: unknown;
  /** Where the value at `path` stands, or, for a member of an object, its key; the nearest one above where it is missing. */
  readonly placeOf: (path: JsonPath) => Place;
}

/** What is wrong, in words: jsonc-parser names it. */
const WORDS: Readonly<Record<string, string>> = {
  InvalidNumberFormat: 'a number is not written as JSON writes numbers',
  PropertyNameExpected: 'expected a key in double quotes, or } (a comma before } is one too many)',
  ValueExpected: 'expected a value (a comma before ] is one too many)',
  ColonExpected: 'expected : after the key',
  CommaExpected: 'expected a comma',
  CloseBraceExpected: 'a { is not closed',
  CloseBracketExpected: 'a [ is not closed',
  EndOfFileExpected: 'something follows after the end of the document',
  InvalidCommentToken: 'JSON has no comments',
  UnexpectedEndOfComment: 'JSON has no comments',
  UnexpectedEndOfString: 'a text is not closed with "',
  InvalidUnicode: 'a \\u escape needs four hexadecimal digits',
  InvalidEscapeCharacter: 'unknown escape after \\ (write \\\\ for a backslash)',
  InvalidCharacter: 'a text holds a control character',
  InvalidSymbol: 'text needs double quotes',
};

/** Line and column, from 1, of an offset in a text. */
export function placeAt(text: string, offset: number, file: string): Place {
  let line = 1;
  let start = 0;
  for (let at = text.indexOf('\n'); at !== -1 && at < offset; at = text.indexOf('\n', at + 1)) {
    line += 1;
    start = at + 1;
  }
  return { file, line, column: offset - start + 1 };
}

/**
 * Reads strict JSON (RFC 8259; a byte order mark is skipped). Reported with `code` and its place: what is not JSON, a
 * key that an object has twice. Meant for small files: it keeps a tree with the position of every value.
 */
export function readJson(text: string, file: string, code: Code, report: Report): JsonText | undefined {
  const body = withoutMark(text);
  const errors: ParseError[] = [];
  let tree: Node | undefined;
  let twice: Node | undefined;
  let value: unknown;
  try {
    tree = parseTree(body, errors, { disallowComments: true, allowTrailingComma: false, allowEmptyContent: false });
    twice = tree === undefined ? undefined : repeatedKey(tree);
    if (errors.length === 0) value = JSON.parse(body) as unknown;
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    report(problem(code, 'the file is nested too deeply', { file, line: 1, column: 1 }));
    return undefined;
  }
  const [first] = errors;
  if (tree === undefined || first !== undefined) {
    const words = first === undefined || body.trim() === '' ? 'the file is empty' : (WORDS[printParseErrorCode(first.error)] ?? 'the file is not JSON');
    report(problem(code, `not valid JSON: ${words}`, placeAt(body, first?.offset ?? 0, file)));
    return undefined;
  }
  if (twice !== undefined) {
    report(problem(code, `the key '${String(twice.value)}' is there twice; keep one`, placeAt(body, twice.offset, file)));
    return undefined;
  }
  const root = tree;
  return { value, placeOf: (path) => placeAt(body, offsetOf(root, path) ?? root.offset, file) };
}

/** Offset of the value at `path`, of its key where it has one, of the last one that exists on the way otherwise; undefined where none does. */
export function offsetOf(root: Node, path: JsonPath): number | undefined {
  for (let length = path.length; length > 0; length -= 1) {
    const node = findNodeAtLocation(root, path.slice(0, length));
    if (node !== undefined) return node.parent?.type === 'property' ? node.parent.offset : node.offset;
  }
  return undefined;
}

/** `sources[0].files`; empty for the top. */
export const pathText = (path: JsonPath): string =>
  path.reduce<string>((text, key) => (typeof key === 'number' ? `${text}[${String(key)}]` : text === '' ? key : `${text}.${key}`), '');

function repeatedKey(node: Node): Node | undefined {
  const seen = new Set<unknown>();
  for (const child of node.children ?? []) {
    const [key, value] = child.type === 'property' ? (child.children ?? []) : [undefined, child];
    if (key !== undefined && seen.has(key.value)) return key;
    if (key !== undefined) seen.add(key.value);
    const deeper = value === undefined ? undefined : repeatedKey(value);
    if (deeper !== undefined) return deeper;
  }
  return undefined;
}
