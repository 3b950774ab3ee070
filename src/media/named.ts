/** Files are told of the way the folder that they lie in was named on the command line: `../card/cam1/a.mov`. */
import { join, relative, resolve } from 'node:path';
import type { Report } from '../problems.js';

/** `folder`, as it was given, joined with what is below it. */
export function asNamed(folder: string, path: string, cwd: string): string {
  const below = relative(resolve(cwd, folder), path);
  return below === '' ? folder : join(folder, below);
}

/** A report whose problems lie in files below `folder`, by their absolute path: they are told by their given one. */
export const namedAs = (folder: string, cwd: string, report: Report): Report => ({ place, ...one }) => {
  report({ ...one, place: { ...place, file: asNamed(folder, place?.file ?? folder, cwd) } });
};
