/** The folder that paths in a file are relative to. */
import { lstatSync, realpathSync } from 'node:fs';
import { dirname, resolve } from 'node:path';

export interface Home {
  /** Absolute. */
  readonly folder: string;
  /** Whether a link led out of the folder that was named. */
  readonly elsewhere: boolean;
}

/**
 * Where a file lies: where a link to it leads, since that is where its paths were written. Folders stay called as they were
 * given where that is the same place. A file that is not there lies where it was named.
 */
export function homeOf(name: string, cwd: string): Home {
  const at = resolve(cwd, name);
  const folder = dirname(at);
  try {
    if (!lstatSync(at).isSymbolicLink()) return { folder, elsewhere: false };
    const real = dirname(realpathSync(at));
    return realpathSync(folder) === real ? { folder, elsewhere: false } : { folder: real, elsewhere: true };
  } catch {
    return { folder, elsewhere: false };
  }
}
