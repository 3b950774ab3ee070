/** What a writer hands over: a file's name ending and its text, made piece by piece so that a long list is never one string. */

export const FORMATS = ['edl', 'otio', 'chapters', 'cutlog'] as const;

/** What can be written. */
export type Format = (typeof FORMATS)[number];

/**
 * Chunks of text have this many characters or a few more. V8 makes one string of what was added up before it can be written: a much
 * longer one would lie among its large objects, in memory that the system has to give anew each time.
 */
export const CHUNK = 1 << 14;

/** One file to be written. */
export interface Output {
  readonly format: Format;
  /** What follows the list's name: `.edl`, `-2.edl`, `.otio`, `.chapters.txt`, … */
  readonly suffix: string;
  /** Consumed once. */
  readonly chunks: Iterable<string>;
}
