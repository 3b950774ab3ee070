/** What a writer hands over: a file's name ending and its text, made piece by piece so that a long list is never one string. */

export const FORMATS = ['edl', 'otio', 'chapters', 'cutlog'] as const;

export type Format = (typeof FORMATS)[number];

export interface Output {
  readonly format: Format;
  /** What follows the list's name: `.edl`, `-2.edl`, `.otio`, `.chapters.txt`, … */
  readonly suffix: string;
  /** Consumed once. */
  readonly chunks: Iterable<string>;
}
