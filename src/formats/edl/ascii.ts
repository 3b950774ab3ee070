/** What an EDL can hold of somebody's text: one line of printable ASCII. */
import { TITLE_LENGTH } from './columns.js';

type Transliterate = (text: string) => string;

let transliterate: Transliterate | undefined;

/** Latin letters that are one of A–Z with marks, as one character or several. Classes by name, \p{L}, are slow to compile. */
const LATIN = /^[\x20-\x7e\u00c0-\u024f\u0300-\u036f\u1e00-\u1eff]*$/;

/** Letters without their marks (é → e), which is what the table makes of them; undefined where that is not all that it takes. */
function withoutMarks(text: string): string | undefined {
  const plain = LATIN.test(text) ? text.normalize('NFD').replace(/[\u0300-\u036f]/g, '') : '';
  return plain !== '' && PRINTABLE.test(plain) ? plain : undefined;
}

/** The table is half a megabyte: it is loaded when the first letter turns up that has no plain one inside, and in most shows never. */
function letters(text: string): string {
  const plain = withoutMarks(text);
  if (plain !== undefined) return plain;
  if (transliterate === undefined) {
    // Not imported above: Node's own module loader is slow to load, too.
    const load = process.getBuiltinModule('node:module').createRequire(import.meta.url);
    transliterate = (load('any-ascii') as { readonly default: Transliterate }).default;
  }
  return transliterate(text);
}

const PRINTABLE = /^[\x20-\x7e]*$/;
// U+0085, U+2028 and U+2029 end lines too; the table would make nothing of them.
const CONTROL = /[\x00-\x1f\x7f-\x9f\u2028\u2029]+/g;

/**
 * `text` as one line of printable ASCII, readable (é → e, ß → ss, ж → zh): line ends and control characters become
 * a space, so that no name or note can begin a line of its own; spaces at both ends go. Text of which nothing is left is `?`.
 */
export function asciiText(text: string): string {
  if (PRINTABLE.test(text)) return text.trim();
  const line = text.replace(CONTROL, ' ');
  const plain = (PRINTABLE.test(line) ? line : letters(line).replace(/[^\x20-\x7e]+/g, ' ')).trim();
  return plain === '' && line.trim() !== '' ? '?' : plain;
}

/** A title as an EDL has it: so many characters of ASCII, and never none. */
export const edlTitle = (title: string): string => asciiText(title).slice(0, TITLE_LENGTH).trim() || 'UNTITLED';

const URL_START = /^[a-z][a-z0-9+.-]+:\/\//i;
const utf8 = new TextEncoder();

/**
 * A path as printable ASCII that `readPath` takes back unchanged: what is beyond ASCII, and spaces at the ends, become `%XX`
 * of their UTF-8 bytes, as in a URL (RFC 3986 clause 2.1), and so does a `%` that could be taken for one. A readable
 * likeness, as `asciiText` makes, would name a file that is not there.
 */
export function asciiPath(path: string): string {
  const given = URL_START.test(path) ? path : path.replace(/%(?=[0-9A-Fa-f]{2})/g, '%25');
  const text = given.trim();
  const [before, after] = [given.slice(0, given.length - given.trimStart().length), given.slice(given.trimEnd().length)];
  return text === '' ? escape(given) : escape(before) + text.replace(/[^\x20-\x7e]+/g, escape) + escape(after);
}

const escape = (part: string): string => Array.from(utf8.encode(part), percent).join('');

const percent = (byte: number): string => `%${byte.toString(16).toUpperCase().padStart(2, '0')}`;

/** One character at a time: two to four bytes of UTF-8, or one below U+0080 that is written so. */
const ESCAPED = /%[C-F][0-9A-F](?:%[89AB][0-9A-F]){1,3}|%25|%[01][0-9A-F]|%20|%7F/g;

/** The path that `asciiPath` wrote. URLs, and escapes that are not UTF-8, stay as they are. */
export function readPath(text: string): string {
  if (URL_START.test(text)) return text;
  return text.replace(ESCAPED, (escaped) => {
    try {
      return decodeURIComponent(escaped);
    } catch {
      return escaped;
    }
  });
}
