/** What lies at a path, whatever the system says when it is asked. */
import { statSync } from 'node:fs';

/**
 * Links are followed, and what is no folder counts as a file (a pipe, say). Undefined where nothing is; `closed` where nobody can look: a
 * folder on the way may not be entered, a name is too long, links lead in a circle. Reading such a path says why.
 */
export function pathKind(path: string): 'file' | 'folder' | 'closed' | undefined {
  try {
    const found = statSync(path, { throwIfNoEntry: false });
    if (found === undefined) return undefined;
    return found.isDirectory() ? 'folder' : 'file';
  } catch {
    return 'closed';
  }
}

export const isFolder = (path: string): boolean => pathKind(path) === 'folder';
