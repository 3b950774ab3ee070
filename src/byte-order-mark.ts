/**
 * The byte order mark at the start of a text or a file: some programs put it before UTF-8, and it means nothing there (The Unicode Standard,
 * 23.8; section from memory); before UTF-16 it says the order of the bytes.
 */

const MARK = '\uFEFF';

/** The text without the mark; one in the middle of it stays. */
export const withoutMark = (text: string): string => (text.startsWith(MARK) ? text.slice(1) : text);

/** WHATWG Encoding, section 6, "BOM sniff". */
const MARKS = [
  { encoding: 'utf-8', bytes: [0xef, 0xbb, 0xbf] },
  { encoding: 'utf-16le', bytes: [0xff, 0xfe] },
  { encoding: 'utf-16be', bytes: [0xfe, 0xff] },
] as const;

/** The mark at the start of a file, and the encoding that it says; undefined where there is none. */
export const markOf = (file: Uint8Array): (typeof MARKS)[number] | undefined => MARKS.find(({ bytes }) => bytes.every((byte, index) => file[index] === byte));

/** What a file looks like, before anybody reads it: by its mark, else as UTF-8, with U+FFFD for what is not text. Without the mark. */
export const roughText = (file: Uint8Array): string => new TextDecoder(markOf(file)?.encoding).decode(file);

/** The bytes of a text, without a mark, that takes the place of a file: in the encoding of the file, and with its mark. What has no mark is UTF-8. */
export function encodedAs(file: Uint8Array, text: string): Uint8Array {
  const mark = markOf(file);
  const marked = mark === undefined ? text : MARK + text;
  const bytes = Buffer.from(marked, mark === undefined || mark.encoding === 'utf-8' ? 'utf8' : 'utf16le');
  return mark?.encoding === 'utf-16be' ? bytes.swap16() : bytes;
}
