/** Checks what was read from JSON against its schema, and says in words what is wrong, where, and what was meant. */
import { pathText, type JsonPath, type JsonText } from '../json.js';
import { didYouMean } from '../nearest.js';
import { problem, type Code, type Report } from '../problems.js';
import { shorten } from '../visible.js';
import type { SchemaCheck, SchemaError } from './compiled.js';

/** True when `json` fits; else every finding is reported with `code` and the line and column of its key. */
export function fitsSchema(json: JsonText, check: SchemaCheck, code: Code, report: Report): boolean {
  if (check(json.value)) return true;
  for (const error of check.errors ?? []) {
    const path = pathOf(error, json.value);
    report(problem(code, wording(error, path), json.placeOf(path)));
  }
  return false;
}

/** The path of the key that a finding is about: of the unknown key itself, else of the value. */
function pathOf(error: SchemaError, value: unknown): JsonPath {
  const path: (string | number)[] = [];
  let here = value;
  for (const part of error.instancePath.split('/').slice(1)) {
    const key = part.replaceAll('~1', '/').replaceAll('~0', '~');
    path.push(Array.isArray(here) ? Number(key) : key);
    here = (here as Record<string, unknown>)[key];
  }
  const extra = error.params['additionalProperty'];
  return typeof extra === 'string' ? [...path, extra] : path;
}

/** `sources[0].files`, or `the file` for the top. */
const nameOf = (path: JsonPath): string => pathText(path) || 'the file';

function wording({ keyword, params, parentSchema, data }: SchemaError, path: JsonPath): string {
  const name = nameOf(path);
  switch (keyword) {
    case 'additionalProperties': {
      const known = Object.keys((parentSchema['properties'] ?? {}) as object).filter((key) => !key.startsWith('$'));
      const key = String(path.at(-1));
      return `unknown key '${key}' in ${nameOf(path.slice(0, -1))}${didYouMean(key, known) || `; expected ${known.join(', ')}`}`;
    }
    case 'required':
      return `${name} lacks the key '${String(params['missingProperty'])}'`;
    case 'type':
      return `${name} is ${described(data)}; expected ${expectedType(params['type'])}`;
    case 'enum': {
      const allowed = (params['allowedValues'] as unknown[]).map(String);
      const near = typeof data === 'string' ? didYouMean(data, allowed) : '';
      return `${name} is ${described(data)}; expected one of ${allowed.join(', ')}${near}`;
    }
    case 'minimum':
      return `${name} is ${described(data)}; expected ${String(params['limit'])} or more`;
    case 'minItems':
      return `${name} is an empty list; expected at least ${String(params['limit'])}`;
    case 'pattern':
      return data === '' || String(data).trim() === '' ? `${name} is empty` : `${name} is ${described(data)}; expected a single character`;
    default:
      return `${name} breaks the rule '${keyword}'`;
  }
}

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text in double quotes',
  integer: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object { … }',
};

const expectedType = (type: unknown): string => (Array.isArray(type) ? type : [type]).map((one) => TYPES[String(one)] ?? String(one)).join(' or ');

function described(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'an object';
  if (typeof value === 'string') return `'${shorten(value)}'`;
  return `the ${typeof value === 'number' ? 'number' : 'value'} ${String(value)}`;
}
