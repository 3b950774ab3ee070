/** Bytes → text: byte order marks, the encoding that was asked for, and a clear word about what is no text at all. */
import { isAscii } from 'node:buffer';
import { markOf, roughText } from '../byte-order-mark.js';
import { problem, type Report } from '../problems.js';
import { placeFrom } from './cells.js';

export interface DecodeOptions {
  /** Name for messages. */
  readonly file: string;
  /** A label of the WHATWG Encoding Standard (`windows-1252`); a byte order mark in the file wins over it. */
  readonly encoding?: string;
  /** A longer file is refused. */
  readonly maxBytes: number;
  /** Asked with what the file begins like (`roughText`): whether it is a log, or another file of which a mapping file can say `encoding`; of others it is not meant. (Default: it is.) */
  readonly isMapped?: (text: string) => boolean;
}

/** How well-known files that are no logs begin: ZIP (PKWARE APPNOTE 4.3.7), PDF (ISO 32000), gzip (RFC 1952), compound files ([MS-CFB] 2.2). */
const SIGNATURES: readonly (readonly [bytes: readonly number[], what: string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP container, as spreadsheets are; export the sheet as CSV'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'a compound binary file, as old spreadsheets are; export the sheet as CSV'],
  [[0x25, 0x50, 0x44, 0x46, 0x2d], 'a PDF; export the log as CSV or XML'],
  [[0x1f, 0x8b], 'compressed with gzip; unpack it first'],
];

/** So many bytes are looked at to see what a file is. */
const HEAD = 65_536;

/** Characters of a string that V8 can hold at most (about 536 million). */
const LONGEST_TEXT = 536_870_000;

/**
 * The text of a log, or of any file that a call reads: UTF-8, with or without a byte order mark; UTF-16 with one; what `encoding` or an XML declaration
 * (XML 1.0 section 4.3.3) names. Undefined when it cannot be read: `too-large`, `bad-encoding` (bytes that the encoding
 * does not have, with the place of the first; an unknown encoding; no text at all). Without the mark.
 */
export function decodeText(bytes: Uint8Array, options: DecodeOptions, report: Report): string | undefined {
  const { file, maxBytes } = options;
  const refuse = (message: string, place: { line: number; column: number } = { line: 1, column: 1 }): undefined => {
    report(problem('bad-encoding', message, { file, ...place }));
  };
  if (bytes.length > maxBytes) {
    report(problem('too-large', `the file has ${String(bytes.length)} bytes, more than the limit of ${String(maxBytes)}; raise it with --max-bytes`, { file }));
    return undefined;
  }
  const signature = SIGNATURES.find(([start]) => startsWith(bytes, start));
  const isMapped = (): boolean => options.isMapped?.(roughText(bytes.subarray(0, HEAD))) ?? true;
  if (signature !== undefined) return refuse(`${notText(isMapped())}, but ${signature[1]}`);
  const mark = markOf(bytes);
  const encoding = options.encoding !== undefined && isMapped() ? options.encoding.trim() : undefined;
  const asked = mark?.encoding ?? encoding ?? declared(bytes) ?? 'utf-8';
  const decoder = decoderOf(asked);
  if (decoder === undefined) return refuse(`unknown encoding '${asked.slice(0, 40)}'; expected utf-8, utf-16le, utf-16be, windows-1252 or another label of the WHATWG Encoding Standard`);
  if (bytes.length / (decoder.encoding.startsWith('utf-16') ? 2 : 1) > LONGEST_TEXT) {
    report(problem('too-large', `the file has ${String(bytes.length)} bytes, more than one text can hold; split it`, { file }));
    return undefined;
  }
  const body = bytes.subarray(mark?.bytes.length ?? 0);
  let text: string;
  try {
    text = decoder.decode(body);
  } catch {
    return refuse(...wrongBytes(body, decoder.encoding, { isMapped: isMapped(), asked: encoding !== undefined }));
  }
  const nul = text.indexOf('\0');
  if (nul !== -1) return refuse(nulMessage(body, decoder.encoding, isMapped()), placeFrom(text, 0, 1, nul));
  return looksBinary(text) ? refuse(`${notText(isMapped())}: it is full of control characters, as binary files are`) : text;
}

const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean => start.every((byte, index) => bytes[index] === byte);

interface Decoder {
  readonly encoding: string;
  readonly decode: (bytes: Uint8Array) => string;
}

/** ASCII is UTF-8 as it stands; asking for that costs less than Node's decoder does, which is slow to load. */
const UTF8: Decoder = {
  encoding: 'utf-8',
  decode: (bytes) => (isAscii(bytes) ? latin1(bytes) : new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)),
};

const latin1 = (bytes: Uint8Array): string => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');

function decoderOf(label: string): Decoder | undefined {
  if (label === 'utf-8') return UTF8;
  try {
    const decoder = new TextDecoder(label, { fatal: true, ignoreBOM: true });
    // Some releases of Node read 0x80 to 0x9F of windows-1252 as Latin-1.
    return decoder.encoding === 'windows-1252' ? { encoding: 'windows-1252', decode: windows1252 } : decoder;
  } catch {
    return undefined;
  }
}

/** 0x80 to 0x9F of windows-1252 (WHATWG Encoding, index-windows-1252); the rest is as in Unicode. */
const HIGH = '\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178';

function windows1252(bytes: Uint8Array): string {
  return latin1(bytes).replace(/[\u0080-\u009F]/g, (character) => HIGH[character.charCodeAt(0) - 0x80] ?? character);
}

/** The encoding that an XML declaration names, where the bytes are those of ASCII; UTF-16 cannot be, then. */
function declared(bytes: Uint8Array): string | undefined {
  const start = latin1(bytes.subarray(0, 200)).trimStart();
  const name = start.startsWith('<') ? /^<\?xml\s[^>]*?\bencoding\s*=\s*["']([A-Za-z][\w.-]*)["']/.exec(start)?.[1] : undefined;
  return name === undefined || /^utf-?16/i.test(name) ? undefined : name;
}

/** What to say of bytes that are not in the encoding, and where the first one stands. */
function wrongBytes(bytes: Uint8Array, encoding: string, { isMapped, asked }: { readonly isMapped: boolean; readonly asked: boolean }): [message: string, place: { line: number; column: number }] {
  const advice = `save the file as UTF-8${isMapped ? `, or say ${asked ? 'the right' : 'its'} encoding in a mapping file, such as {"encoding": "windows-1252"}` : ''}`;
  if (encoding !== 'utf-8') return [`the file is not text in ${encoding}; ${advice}`, { line: 1, column: 1 }];
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const { index, byte } = firstWrongByte(text, bytes);
  if (text.slice(0, 65_536).includes('\0')) return [nulMessage(bytes, encoding, isMapped), placeFrom(text, 0, 1, Math.min(index, text.indexOf('\0')))];
  return [`the byte 0x${byte.toString(16).toUpperCase().padStart(2, '0')} is not UTF-8 here; ${advice}`, placeFrom(text, 0, 1, index)];
}

/** The first byte that is not UTF-8, and where it stands in `text`, which has U+FFFD for it (and where the file has U+FFFD). */
function firstWrongByte(text: string, bytes: Uint8Array): { readonly index: number; readonly byte: number } {
  let offset = 0;
  let from = 0;
  for (let index = text.indexOf('\uFFFD'); index !== -1; index = text.indexOf('\uFFFD', from)) {
    offset += Buffer.byteLength(text.slice(from, index));
    if (!startsWith(bytes.subarray(offset, offset + 3), [0xef, 0xbf, 0xbd])) return { index, byte: bytes[offset] ?? 0 };
    offset += 3;
    from = index + 1;
  }
  return { index: text.length, byte: bytes.at(-1) ?? 0 };
}

/** NUL in every other byte is UTF-16 that does not say so; anything else with NUL is no text. */
function nulMessage(bytes: Uint8Array, encoding: string, isMapped: boolean): string {
  if (!encoding.startsWith('utf-16')) {
    const start = bytes.subarray(0, 512);
    const { length } = start;
    const [even, odd] = nulsIn(start);
    const order = odd * 4 > length && even === 0 ? 'le' : even * 4 > length && odd === 0 ? 'be' : undefined;
    if (order !== undefined) return `the file looks like UTF-16 without a byte order mark; ${isMapped ? `say so in a mapping file: {"encoding": "utf-16${order}"}` : 'save it as UTF-8'}`;
  }
  return `${notText(isMapped)}: it holds NUL characters, as binary files do`;
}

const notText = (isMapped: boolean): string => `this is not ${isMapped ? 'a log' : 'text'}`;

/** Numbers of NUL bytes at even and at odd offsets. */
function nulsIn(bytes: Uint8Array): [even: number, odd: number] {
  const counts: [number, number] = [0, 0];
  bytes.forEach((byte, index) => {
    if (byte === 0) counts[index % 2 === 0 ? 0 : 1] += 1;
  });
  return counts;
}

/** True when more than one in twenty of the first characters is a control character other than white space. */
function looksBinary(text: string): boolean {
  const start = text.slice(0, 2048);
  return (start.match(CONTROLS)?.length ?? 0) * 20 > start.length;
}

const CONTROLS = /[\x00-\x08\x0e-\x1f]/g;
