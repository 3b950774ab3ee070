import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeText } from '../src/log/decode.js';
import { encodedAs, markOf, roughText, withoutMark } from '../src/byte-order-mark.js';

it('takes one mark from the start, and none from the middle', () => {
  expect(['\uFEFFa\uFEFFb', '\uFEFF', '', 'a'].map(withoutMark)).toEqual(['a\uFEFFb', '', '', 'a']);
});

// WHATWG Encoding, section 6 (BOM sniff).
const FILES: readonly (readonly [encoding: string, bytes: readonly number[]])[] = [
  ['utf-8', [0xef, 0xbb, 0xbf, 0x61]], ['utf-16le', [0xff, 0xfe, 0x61, 0]], ['utf-16be', [0xfe, 0xff, 0, 0x61]],
];

it.each(FILES)('a file begins with the mark of %s', (encoding, bytes) => {
  const file = Uint8Array.from(bytes);
  expect([markOf(file)?.encoding, roughText(file), markOf(file.subarray(1))]).toEqual([encoding, 'a', undefined]);
});

it('a text that takes the place of a file is read as it is, and has the mark that the file had', () => {
  fc.assert(fc.property(fc.constantFrom(...FILES.map(([, bytes]) => bytes), [0x61]), fc.string({ unit: 'grapheme' }).filter((text) => !/[\0-\u0008\u000E-\u001F\uFEFF\p{Cs}]/u.test(text)), (bytes, text) => {
    const file = Uint8Array.from(bytes);
    const written = encodedAs(file, text);
    expect(markOf(written)).toBe(markOf(file));
    expect(decodeText(written, { file: 'x', maxBytes: 1e6 }, () => undefined)).toBe(text);
  }));
});
