/** Sets values in a JSON text that somebody wrote, and leaves the rest of it as it is: spaces, order, everything. */
import { findNodeAtLocation, parseTree, type Node } from 'jsonc-parser';
import type { JsonPath } from '../json.js';

export interface JsonEdit {
  /** Up to an object or array that exists, then the key to set; in an array only its end (`'-'`) can be set. */
  readonly path: JsonPath;
  readonly value: unknown;
}

interface Splice {
  readonly offset: number;
  readonly length: number;
  readonly text: string;
}

/** The text with the values set; several at the end of one object or array stand in the order given. The text must be sound JSON, without a byte order mark. */
export function editJson(body: string, edits: readonly JsonEdit[]): string {
  const tree = parseTree(body);
  if (tree === undefined) return body;
  const newline = body.includes('\r\n') ? '\r\n' : '\n';
  const splices: Splice[] = [];
  /** How many members were already put at the end of a node. */
  const added = new Map<Node, number>();
  for (const { path, value } of edits) {
    const key = path.at(-1);
    const parent = path.length === 1 ? tree : findNodeAtLocation(tree, path.slice(0, -1));
    const present = key === '-' ? undefined : findNodeAtLocation(tree, [...path]);
    if (present !== undefined) splices.push({ offset: present.offset, length: present.length, text: jsonText(value, lineIndent(body, present.offset), newline) });
    else if (parent !== undefined && key !== undefined) {
      const before = added.get(parent) ?? 0;
      added.set(parent, before + 1);
      splices.push(addition(body, parent, parent.type === 'array' ? undefined : String(key), value, before, newline));
    }
  }
  // Stable: additions at one place keep their order.
  splices.sort((a, b) => a.offset - b.offset);
  let out = '';
  let at = 0;
  for (const { offset, length, text: inserted } of splices) {
    out += body.slice(at, offset) + inserted;
    at = offset + length;
  }
  return out + body.slice(at);
}

function addition(body: string, parent: Node, key: string | undefined, value: unknown, before: number, newline: string): Splice {
  const last = parent.children?.at(-1);
  const name = key === undefined ? '' : `${JSON.stringify(key)}: `;
  if (last === undefined) {
    const outer = lineIndent(body, parent.offset);
    const inner = outer + stepOf(outer);
    const text = `${newline}${inner}${name}${jsonText(value, inner, newline)}`;
    // The first addition opens the object up; what follows stands behind a comma, and the brace stays where it was.
    return { offset: parent.offset + 1, length: 0, text: before === 0 ? text : `,${text}` };
  }
  const isSpread = body.slice(parent.offset, last.offset).includes('\n');
  const indent = lineIndent(body, last.offset);
  const gap = isSpread ? `,${newline}${indent}` : ', ';
  return { offset: last.offset + last.length, length: 0, text: `${gap}${name}${jsonText(value, indent, newline)}` };
}

/** The spaces or tabs that the line of `offset` begins with. */
function lineIndent(body: string, offset: number): string {
  const start = body.lastIndexOf('\n', offset - 1) + 1;
  return /^[ \t]*/.exec(body.slice(start, offset))?.[0] ?? '';
}

const stepOf = (indent: string): string => (indent.startsWith('\t') ? '\t' : '  ');

/** A value as JSON: what holds nothing but plain values on one line (a recording is one line), the rest spread out below `indent`. */
export function jsonText(value: unknown, indent = '', newline = '\n'): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const isList = Array.isArray(value);
  const members = isList
    ? value.map((item: unknown) => ({ name: '', item }))
    : Object.entries(value).filter(([, item]) => item !== undefined).map(([key, item]) => ({ name: `${JSON.stringify(key)}: `, item: item as unknown }));
  const [open, close] = isList ? ['[', ']'] : ['{', '}'];
  if (members.length === 0) return open + close;
  if (members.every(({ item }) => typeof item !== 'object' || item === null)) {
    const flat = members.map(({ name, item }) => name + JSON.stringify(item)).join(', ');
    return isList ? `[${flat}]` : `{ ${flat} }`;
  }
  const inner = indent + stepOf(indent);
  return `${open}${newline}${members.map(({ name, item }) => inner + name + jsonText(item, inner, newline)).join(`,${newline}`)}${newline}${indent}${close}`;
}
