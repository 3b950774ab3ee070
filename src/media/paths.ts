/** Paths of recordings as show files give them: relative, absolute, of either kind of system, or file URLs. */
import { isAbsolute, relative, resolve, sep } from 'node:path';
import { isUrl, pathOfUrl } from '../file-url.js';

/** A drive's or a network share's path, as `formats/url` reads it: it means nothing to this system, and is kept as it is. */
const FOREIGN = /^(?:[a-z]:[\\/]|\\\\|\/\/[^/]+\/+[^/])/i;

const plain = (path: string): string => (isUrl(path) ? pathOfUrl(path) : path);

const isForeign = (path: string): boolean => sep === '/' && FOREIGN.test(path);

/** The absolute path of what a show file names; another system's stays as it is. */
export function pathTo(path: string, base: string): string {
  const given = plain(path);
  return isForeign(given) ? given : resolve(base, given);
}

/** True when a path does not depend on where the show file lies. */
export const isFixed = (path: string): boolean => isForeign(plain(path)) || isAbsolute(plain(path));

/** The last name of a path of either system. */
export function baseName(path: string): string {
  const given = plain(path);
  const names = given.split(isForeign(given) || sep === '\\' ? /[\\/]+/ : '/');
  return names.at(-1) ?? given;
}

/** An absolute path as it is written: as it is, or from `base` with `/`; where no relative path leads there, as it is. */
export function inFolder(path: string, base: string, how: 'relative' | 'absolute'): string {
  if (how === 'absolute' || isForeign(path)) return path;
  const below = relative(base, path);
  return isAbsolute(below) ? path : below.split(sep).join('/');
}

/** How many folder names two paths share, counted from the file upwards, in any case. */
export function sameTail(a: string, b: string): number {
  const [left, right] = [a, b].map((path) => path.toLowerCase().split(/[\\/]+/).reverse()) as [string[], string[]];
  let shared = 0;
  while (shared < left.length && shared < right.length && left[shared] === right[shared]) shared += 1;
  return shared;
}
