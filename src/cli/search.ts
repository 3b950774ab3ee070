/** Looking for files below a folder. */
import { lstat, readdir, realpath, stat, type Dirent, type Stats } from 'node:fs';
import { basename, relative } from 'node:path';
import { glob } from 'tinyglobby';
import { problem, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';

type Done<Found> = (cause: NodeJS.ErrnoException | null, found: Found) => void;

/** The library passes over links that lead nowhere, too. To whoever asks they are files: reading one says what is wrong with it. `dead` is told of each. */
const links = (dead: (path: string, cause: NodeJS.ErrnoException) => void) => ({
  realpath: (path: string, done: Done<string>): void => {
    realpath(path, (cause, real) => { done(null, cause === null ? real : path); });
  },
  stat: (path: string, done: Done<Stats>): void => {
    stat(path, (cause, found) => {
      if (cause === null) {
        done(null, found);
        return;
      }
      dead(path, cause);
      lstat(path, done);
    });
  },
});

/**
 * Files below a folder that match, in order of name, and the folders that could not be looked into; all by their path below it. Links
 * that lead nowhere are among the files; one without an ending may have led to a folder, and is among what could not be looked into.
 */
export async function search(patterns: string[], folder: string): Promise<{ readonly names: string[]; readonly closed: (Problem & { readonly place: { readonly file: string } })[] }> {
  const closed = new Map<string, unknown>();
  // The library passes over a folder that it may not read: then logs would be missing and nobody would know.
  const listing = (path: string, options: { withFileTypes: true }, done: (cause: NodeJS.ErrnoException | null, entries: Dirent[]) => void): void => {
    readdir(path, options, (cause, entries) => {
      if (cause !== null && cause.code !== 'ENOENT') closed.set(relative(folder, path), cause);
      done(cause, entries);
    });
  };
  const { realpath: real, stat: look } = links((path, cause) => {
    if (!basename(path).includes('.')) closed.set(relative(folder, path), cause);
  });
  const found = await glob(patterns, { cwd: folder, ignore: ['**/node_modules/**'], onlyFiles: true, dot: false, expandDirectories: false, absolute: true, fs: { readdir: listing as typeof readdir, realpath: real as typeof realpath, stat: look as typeof stat } });
  return {
    names: found.map((file) => (file.startsWith(`${folder}/`) ? file.slice(folder.length + 1) : relative(folder, file))).sort(),
    closed: [...closed].sort().map(([file, cause]) => ({ ...problem('unreadable', `cannot be read: ${fileTrouble(cause)}`), place: { file } })),
  };
}
