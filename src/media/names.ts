/** What the name of a recorded file says. Names are paths below the folder that was read, with `/`. */

/** The file's own name, without folders and ending. */
export const stemOf = (name: string): string => name.slice(name.lastIndexOf('/') + 1).replace(/(?<=.)\.[^.]*$/, '');

/** A name with its folders, without its ending. */
export const withoutEnding = (name: string): string => name.replace(/(?<=[^/])\.[^./]*$/, '');

/** The folder that a file lies in, where it is not the one that was read. */
export function folderOf(name: string): string | undefined {
  const parts = name.split('/');
  return parts.length > 1 ? parts[parts.length - 2] : undefined;
}

/** All folders that a file lies in: `card1/CLIP` of `card1/CLIP/C0001.mov`, nothing of a file that lies in none. */
export const foldersOf = (name: string): string => name.slice(0, Math.max(0, name.lastIndexOf('/')));

/** The folder `height` folders above a file's own name, from 1; the topmost where there are not so many, undefined where there is none. */
export function folderAbove(name: string, height: number): string | undefined {
  const folders = name.split('/').slice(0, -1);
  return folders[Math.max(0, folders.length - height)];
}

/** Date and time of day, as recorders put behind a name. */
const STAMP = /[\s._-]*\d{4}-?\d\d-?\d\d(?:[\sT._-]*\d\d[-_.h]?\d\d(?:[-_.m]?\d\d)?s?)?$/;
/** A number set off from the name, in brackets, behind a word for a part, or of three digits and more. */
const PART = /(?:[\s._-]*\(\d+\)|[\s._-]*(?:part|clip|take|seg|segment|pt)[\s._-]*\d+|[\s._-]+[pt]?\d+|\d{3,})$/i;
/** Words that say nothing of the source (four letters before four digits is the DCF rule, JEITA CP-3461; its common ones, from memory). */
const EMPTY = /^(?:clip|rec|recording|take|part|file|video|movie|c|mov|img|dsc|mvi|dscf)?$/i;

/** True for a word, or a folder's name, that says nothing of the source: `CLIP`, `rec`, `100` (three digits and five characters are the DCF rule for folders, JEITA CP-3461, from memory). */
export const saysNothing = (word: string): boolean => EMPTY.test(word) || /^(?:\d+|\d{3}\w{5})$/.test(word);

/**
 * What a file is called without the number of its part: `wide-1`, `wide_part2`, `wide 0003`, `wide_2026-11-25_19-30` are `wide`, and `cam1` is
 * `cam1`. Where nothing is left that means anything, its folder's name, else what is left.
 */
export function titleOf(name: string): string {
  const stem = stemOf(name);
  const undated = stem.replace(STAMP, '');
  // A recorder may count its parts behind the date: `cam1_20261125_193000_001`.
  const left = (undated === stem ? stem.replace(PART, '').replace(STAMP, '') : undated).replace(/[\s._-]+$/, '').trim();
  if (!EMPTY.test(left)) return left;
  return folderOf(name) ?? (left === '' ? 'recording' : left);
}

/** True when a name ends in a number that may as well be a camera's as a part's: one or two digits set off from the name. */
export const hasWeakNumber = (name: string): boolean => /[^\d\s._-][\s._-]+\d{1,2}$/.test(stemOf(name)) && !/(?:part|clip|take|seg|segment|pt)[\s._-]*\d+$/i.test(stemOf(name));
