import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeText } from '../../src/log/decode.js';
import { problemLine, type Problem } from '../../src/problems.js';

function decode(bytes: Uint8Array | readonly number[], encoding?: string, maxBytes = 1_000_000): { text: string | undefined; said: string[] } {
  const problems: Problem[] = [];
  const text = decodeText(Uint8Array.from(bytes), { file: 'show.csv', maxBytes, ...(encoding === undefined ? {} : { encoding }) }, (found) => problems.push(found));
  return { text, said: problems.map(problemLine) };
}

const utf16 = (text: string, big: boolean): number[] => [...text].flatMap((character) => {
  const units = Array.from({ length: character.length }, (_, index) => character.charCodeAt(index));
  return units.flatMap((unit) => (big ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8]));
});

const TEXT = 'time,note\r\n1,crème brûlée 🍮\r\n';

// WHATWG Encoding section 6 (BOM sniff, decode); RFC 3629 for UTF-8, RFC 2781 for UTF-16.
describe('encodings', () => {
  it('UTF-8 without and with a byte order mark', () => {
    expect(decode(Buffer.from(TEXT))).toEqual({ text: TEXT, said: [] });
    expect(decode([0xef, 0xbb, 0xbf, ...Buffer.from(TEXT)])).toEqual({ text: TEXT, said: [] });
  });

  it('UTF-16 of both orders with a byte order mark', () => {
    expect(decode([0xff, 0xfe, ...utf16(TEXT, false)])).toEqual({ text: TEXT, said: [] });
    expect(decode([0xfe, 0xff, ...utf16(TEXT, true)])).toEqual({ text: TEXT, said: [] });
  });

  it('UTF-16 without a mark when asked; and says what to ask for when not', () => {
    expect(decode(utf16(TEXT, true), 'utf-16be').text).toBe(TEXT);
    expect(decode(utf16('time,source\n1,2\n', false)).said).toEqual([
      'show.csv:1:2: error: the file looks like UTF-16 without a byte order mark; say so in a mapping file: {"encoding": "utf-16le"} [bad-encoding]',
    ]);
    expect(decode(utf16('time,source\n1,2\n', true)).said[0]).toContain('{"encoding": "utf-16be"}');
  });

  it('a mark in the file wins over the encoding that was asked for', () => {
    expect(decode([0xef, 0xbb, 0xbf, ...Buffer.from(TEXT)], 'windows-1252').text).toBe(TEXT);
  });

  it('any text goes there and back', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }).filter((text) => !/[\0-\u0008\u000E-\u001F\uFEFF\p{Cs}]/u.test(text)), (text) => {
        expect(decode([0xef, 0xbb, 0xbf, ...Buffer.from(text)])).toEqual({ text, said: [] });
        expect(decode([0xff, 0xfe, ...utf16(text, false)])).toEqual({ text, said: [] });
        expect(decode([0xfe, 0xff, ...utf16(text, true)])).toEqual({ text, said: [] });
      }),
    );
  });

  // WHATWG Encoding, index-windows-1252.txt: pointers 0 to 31; typed in from the published index.
  it('windows-1252, every byte', () => {
    const high = [
      0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8d, 0x017d, 0x8f,
      0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0x9d, 0x017e, 0x0178,
    ];
    const bytes = Array.from({ length: 224 }, (_, index) => index + 32);
    const expected = bytes.map((byte) => (byte >= 0x80 && byte < 0xa0 ? (high[byte - 0x80] ?? 0) : byte));
    expect([...(decode(bytes, 'windows-1252').text ?? '')].map((character) => character.codePointAt(0))).toEqual(expected);
    // The standard gives these labels to windows-1252 (section 4.2).
    for (const label of ['latin1', 'ISO-8859-1', 'cp1252', 'us-ascii']) expect(decode([0x93, 0x61, 0x94], label).text).toBe('\u201Ca\u201D');
  });

  it.each([
    ['iso-8859-15', [0xa4], '€'],
    ['macintosh', [0x8e], 'é'],
    ['shift_jis', [0x83, 0x4c], 'キ'],
    ['koi8-r', [0xc1], 'а'],
  ])('%s when asked', (label, bytes, text) => {
    expect(decode(bytes, label)).toEqual({ text, said: [] });
  });

  it('an XML declaration says the encoding where nothing else does', () => {
    const xml = '<?xml version="1.0" encoding="ISO-8859-1"?><cutlog title="Crème"/>';
    expect(decode(Buffer.from(xml, 'latin1')).text).toBe(xml);
    expect(decode(Buffer.from(xml.replace('ISO-8859-1', 'UTF-8'))).text).toContain('Crème');
    // Bytes of ASCII are not UTF-16, whatever they say (WHATWG HTML does the same for meta).
    expect(decode(Buffer.from(xml.replace('ISO-8859-1', 'UTF-16'))).text).toContain('Crème');
    expect(decode(Buffer.from(xml.replace('ISO-8859-1', 'X-OWN'))).said[0]).toContain("unknown encoding 'X-OWN'");
  });

  it('an unknown encoding', () => {
    expect(decode(Buffer.from('time'), 'utf-9').said).toEqual([
      "show.csv:1:1: error: unknown encoding 'utf-9'; expected utf-8, utf-16le, utf-16be, windows-1252 or another label of the WHATWG Encoding Standard [bad-encoding]",
    ]);
  });
});

describe('bytes that are not in the encoding', () => {
  it('says the byte, its line and column, and what to do', () => {
    expect(decode(Buffer.from('time,note\r\n1,ok 🍮\r\n2,cr\u00e8me\r\n', 'latin1').map((byte) => byte)).said).toEqual([
      'show.csv:3:5: error: the byte 0xE8 is not UTF-8 here; save the file as UTF-8, or say its encoding in a mapping file, such as {"encoding": "windows-1252"} [bad-encoding]',
    ]);
  });

  // RFC 3629 section 4 and the Unicode Standard, table 3-7: overlong forms, surrogates, numbers beyond U+10FFFF, cut off.
  it.each([
    [[0xc0, 0xaf]], [[0xe0, 0x80, 0xaf]], [[0xed, 0xa0, 0x80]], [[0xf4, 0x90, 0x80, 0x80]], [[0xf8, 0x88, 0x80, 0x80, 0x80]], [[0x80]], [[0xe2, 0x82]], [[0xff]],
  ])('%j', (bytes) => {
    // U+FFFD, which a file may well hold, must not be taken for the fault.
    expect(decode([...Buffer.from('a\n\uFFFDé🍮'), ...bytes]).said[0]).toMatch(/^show\.csv:2:5: error: the byte 0x/);
  });

  it('the encoding that was asked for is wrong', () => {
    expect(decode([0x61, 0xff], 'utf-8').said[0]).toContain('say the right encoding');
    expect(decode([0x61, 0x00, 0xd8], 'utf-16le').said[0]).toBe('show.csv:1:1: error: the file is not text in utf-16le; save the file as UTF-8, or say the right encoding in a mapping file, such as {"encoding": "windows-1252"} [bad-encoding]');
    expect(decode([0xff, 0xfe, 0x00, 0xdc, 0x61, 0x00]).said[0]).toContain('not text in utf-16le');
  });
});

describe('what is no text', () => {
  it.each([
    ['NUL characters', [...Buffer.from('time,source\n1,2'), 0, 0, 7], 'show.csv:2:4: error: this is not a log: it holds NUL characters, as binary files do [bad-encoding]'],
    ['NUL characters beside bytes that are not UTF-8', [...Buffer.from('time,source'), 0xff, 0, 0xfe, 0], 'show.csv:1:12: error: this is not a log: it holds NUL characters, as binary files do [bad-encoding]'],
    ['a ZIP container', [0x50, 0x4b, 3, 4, 20, 0], 'show.csv:1:1: error: this is not a log, but a ZIP container, as spreadsheets are; export the sheet as CSV [bad-encoding]'],
    ['a compound file', [0xd0, 0xcf, 0x11, 0xe0, 0xa1], 'show.csv:1:1: error: this is not a log, but a compound binary file, as old spreadsheets are; export the sheet as CSV [bad-encoding]'],
    ['a PDF', [...Buffer.from('%PDF-1.7')], 'show.csv:1:1: error: this is not a log, but a PDF; export the log as CSV or XML [bad-encoding]'],
    ['gzip', [...gzipSync('time,source')], 'show.csv:1:1: error: this is not a log, but compressed with gzip; unpack it first [bad-encoding]'],
    ['control characters', [1, 2, 3, 4, 5, 6, 7, 65], 'show.csv:1:1: error: this is not a log: it is full of control characters, as binary files are [bad-encoding]'],
  ])('%s', (_, bytes, said) => {
    expect(decode(bytes)).toEqual({ text: undefined, said: [said] });
  });

  it('a stray control character in a long text is let through', () => {
    const text = `time,note\n${'1,pan\n'.repeat(100)}2,\u0002x\u0003\n`;
    expect(decode(Buffer.from(text)).text).toBe(text);
  });

  it('random bytes never throw, and give a text or one error', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.constantFrom(undefined, 'utf-8', 'utf-16le', 'windows-1252', 'shift_jis'), (bytes, encoding) => {
        const { text, said } = decode(bytes, encoding);
        expect(said).toHaveLength(text === undefined ? 1 : 0);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('size', () => {
  it('a file beyond the limit is refused, and the option named', () => {
    expect(decode(new Uint8Array(11).fill(65), undefined, 10).said).toEqual([
      'show.csv: error: the file has 11 bytes, more than the limit of 10; raise it with --max-bytes [too-large]',
    ]);
    expect(decode(new Uint8Array(10).fill(65), undefined, 10).text).toBe('AAAAAAAAAA');
  });

  it('an empty file is an empty text', () => {
    expect(decode([])).toEqual({ text: '', said: [] });
  });

  it('50 MB with a wrong last byte are answered', () => {
    const bytes = Buffer.alloc(50_000_000, 'é\n');
    bytes[bytes.length - 1] = 0xff;
    const problems: Problem[] = [];
    decodeText(bytes, { file: 'x', maxBytes: 1e9 }, (found) => problems.push(found));
    expect(problems.map(({ place }) => place?.line)).toEqual([16_666_667]);
  });
});
