/** How our files are called: the name of the log, its take (`.take2`), the part of an EDL that was divided (`-3`), and the ending of the format. */
import { CHAPTER_FORMS, FORMS, type ChapterForm } from './chapters/forms.js';
import { FORMATS, type Format } from './output.js';

/** The endings of formats that have one each. */
export const ENDINGS = { edl: '.edl', otio: '.otio', cutlog: '.cutlog.xml' } as const satisfies Readonly<Record<Exclude<Format, 'chapters'>, string>>;

/** What the files of a format end with: of chapters, those of every form. */
export const endingsOf = (format: Format): readonly string[] => (format === 'chapters' ? CHAPTER_FORMS.map((form) => FORMS[form].ending) : [ENDINGS[format]]);

/** The format whose files end like this one; undefined where none of ours does. In any case. */
export function formatOf(file: string): Format | undefined {
  const name = file.toLowerCase();
  return FORMATS.find((format) => endingsOf(format).some((ending) => name.endsWith(ending)));
}

/** The form of chapters whose files end like this one. In any case. */
export function chapterFormOf(file: string): ChapterForm | undefined {
  const name = file.toLowerCase();
  return CHAPTER_FORMS.find((form) => name.endsWith(FORMS[form].ending));
}

/** A file's name without our ending, else without its last extension: what the lists of one log, take or part share. */
export function stemOf(file: string): string {
  const name = file.toLowerCase();
  const ending = FORMATS.flatMap(endingsOf).find((one) => name.endsWith(one)) ?? /\.[^./\\]+$/.exec(file)?.[0] ?? '';
  return file.slice(0, file.length - ending.length);
}

/** What follows the log's name in the list of a take, counted from 1, that `--takes separate` makes. */
export const takeEnding = (take: number): string => `.take${String(take)}`;

/** The take, counted from 1, that a list is named after: `SHOW.take2`, `SHOW.take2-3` (a part of its EDL). Undefined where the name says none. */
export function takeIn(stem: string): number | undefined {
  const [, digits] = /\.take([1-9]\d*)(?:-\d+)?$/.exec(stem) ?? [];
  return digits === undefined ? undefined : Number(digits);
}

export const withoutTake = (stem: string): string => stem.replace(/\.take\d+$/, '');

/** What follows a list's name in a part of its EDL, counted from 1. */
export const partEnding = (part: number): string => `-${String(part)}`;

export const withoutPart = (stem: string): string => stem.replace(/-\d+$/, '');

/** A file that is called like a part of a divided list, whoever made it: `show-2.edl` is part 2 of `show`, and ends with `.edl`. */
export function partIn(file: string): { readonly stem: string; readonly part: number; readonly ending: string } | undefined {
  const [, stem, digits, ending] = /^(.*)-([1-9]\d*)(\.[^./\\]+)$/s.exec(file) ?? [];
  return stem === undefined || ending === undefined ? undefined : { stem, part: Number(digits), ending };
}
