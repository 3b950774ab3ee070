/** Files that people write by hand, and that a call reads beside its logs: show file, mapping, corrections, rules. */
import type { Correction } from '../corrections/model.js';
import { decodeText } from '../log/decode.js';
import type { Mapping } from '../log/mapping.js';
import type { Report } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { bytesOf } from './input.js';

/** They have at most this many bytes. */
const MAX_BYTES = 64 * 1024 * 1024;

/** The text of such a file, without a byte order mark, and its bytes. Undefined as `bytesOf` and `decodeText`. */
export function textOf(file: string, cwd: string, report: Report): { readonly text: string; readonly bytes: Uint8Array } | undefined {
  const bytes = bytesOf(file, cwd, MAX_BYTES, report, 'such a file is written by hand: is it the right one?');
  const text = bytes === undefined ? undefined : decodeText(bytes, { file, maxBytes: MAX_BYTES, isMapped: () => false }, report);
  return bytes === undefined || text === undefined ? undefined : { text, bytes };
}

/** What reads such a file; loaded when there is one. */
export type ByHand<T> = () => Promise<(text: string, file: string, report: Report) => T | undefined>;

export const MAPPING: ByHand<Mapping> = async () => (await import('../log/mapping-file.js')).readMapping;
export const CORRECTIONS: ByHand<readonly Correction[]> = async () => (await import('../corrections/read.js')).readCorrections;

/** A show file, with its name for messages. */
export interface GivenShow {
  readonly file: string;
  readonly show: ShowFile;
}

export const SHOW_FILE: ByHand<GivenShow> = async () => {
  const { readShowFile } = await import('../show/read.js');
  return (text, file, report) => {
    const show = readShowFile(text, file, report);
    return show === undefined ? undefined : { file, show };
  };
};

/** What is in a file that was given; undefined when none was, `wrong` when it cannot be used, which was reported. */
export async function readByHand<T>(file: string | undefined, what: ByHand<T>, cwd: string, report: Report): Promise<T | 'wrong' | undefined> {
  if (file === undefined) return undefined;
  const read = textOf(file, cwd, report);
  return (read === undefined ? undefined : (await what())(read.text, file, report)) ?? 'wrong';
}
