/** Looking for files below a folder. */
import { readdir, type Dirent } from 'node:fs';
import { relative } from 'node:path';
import { glob } from 'tinyglobby';
import { problem, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';

/** Files below a folder that match, in order of name, and the folders that could not be looked into; all by their path below it. */
export async function search(patterns: string[], folder: string): Promise<{ readonly names: string[]; readonly closed: (Problem & { readonly place: { readonly file: string } })[] }> {
  const closed = new Map<string, unknown>();
  // The library passes over a folder that it may not read: then logs would be missing and nobody would know.
  const listing = (path: string, options: { withFileTypes: true }, done: (cause: NodeJS.ErrnoException | null, entries: Dirent[]) => void): void => {
    readdir(path, options, (cause, entries) => {
      if (cause !== null && cause.code !== 'ENOENT') closed.set(relative(folder, path), cause);
      done(cause, entries);
    });
  };
  const found = await glob(patterns, { cwd: folder, ignore: ['**/node_modules/**'], onlyFiles: true, dot: false, expandDirectories: false, absolute: true, fs: { readdir: listing as typeof readdir } });
  return {
    names: found.map((file) => (file.startsWith(`${folder}/`) ? file.slice(folder.length + 1) : relative(folder, file))).sort(),
    closed: [...closed].sort().map(([file, cause]) => ({ ...problem('unreadable', `cannot be read: ${fileTrouble(cause)}`), place: { file } })),
  };
}
