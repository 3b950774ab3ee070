/** The text of a file that is a log, a list or something beside them: which encoding it is read in. */
import { isUtf8 } from 'node:buffer';
import { isCorrectionsTable } from './corrections/kind.js';
import { chapterFormOf } from './formats/endings.js';
import { formOf } from './formats/form.js';
import { known } from './known.js';
import { decodeText } from './log/decode.js';
import { MAX_BYTES } from './log/limits.js';
import type { Mapping } from './log/mapping.js';
import { showMapping } from './log/own-form.js';
import type { Report } from './problems.js';
import type { ShowFile } from './show/show.js';

/** A file before anybody asks what is in it. */
export interface Undecoded {
  /** Its name, for messages. */
  readonly name: string;
  readonly bytes: Uint8Array | string;
  /** The show file that belongs to it, with its name for messages. */
  readonly show?: { readonly file: string; readonly show: ShowFile };
}

interface DecodedBy {
  readonly map?: Mapping;
  /** A larger file is refused. */
  readonly maxBytes?: number;
}

/** The mapping that says how a log is read: the one that was given, else the show file's, which is not for linecut's own form. */
export const mappingOf = ({ bytes, show }: Undecoded, { map }: DecodedBy): Mapping | undefined => map ?? showMapping(bytes, show?.show.log);

/**
 * The text of a file; undefined when it has none, which was reported (`decodeText`). The encoding that its mapping says is the log's; an EDL is read in it
 * where it is not in UTF-8, and nothing else is: lists and chapters made of the log may lie beside it.
 */
export function decodedText(input: Undecoded, options: DecodedBy, report: Report): string | undefined {
  const { name, bytes } = input;
  if (typeof bytes === 'string') return bytes;
  const isMapped = (text: string): boolean => looksLikeLog(text, name) || (formOf(text) === 'edl' && !isUtf8(bytes));
  const encoding = mappingOf(input, options)?.encoding;
  return decodeText(bytes, { file: name, maxBytes: options.maxBytes ?? MAX_BYTES, ...known({ encoding }), isMapped }, report);
}

/** False of what is plainly something else: a list, JSON, corrections, chapters. */
const looksLikeLog = (text: string, name: string): boolean =>
  formOf(text) === 'log' && !/^\s*\[\s*[{\]]/.test(text) && !isCorrectionsTable(text) && chapterFormOf(name) === undefined;
