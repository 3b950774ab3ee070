/** One file, whole or not at all. */
import { closeSync, fchmodSync, fchownSync, fstatSync, openSync, realpathSync, type Stats } from 'node:fs';
import { problem, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { exists, FileSet } from './output.js';

/** Writes a file; gives what went wrong (`file-exists` unless `force`, `unreadable`), undefined when it is there. `name` is for messages. */
export async function saveText(path: string, name: string, text: string, force: boolean): Promise<Problem | undefined> {
  const taken = (): Problem => problem('file-exists', 'is there already; --force replaces it', { file: name });
  if (!force && exists(path)) return taken();
  try {
    await writeOne(path, text, { onlyNew: !force });
    return undefined;
  } catch (cause) {
    return codeOf(cause) === 'EEXIST' ? taken() : unwritable(cause, name);
  }
}

/**
 * Writes a file of the user's anew, where it is: what a link leads to, with owner and permissions as they are. Gives what went wrong
 * (`unreadable`): also where nobody may write to it, though its folder would let it be replaced.
 */
export async function saveChanged(path: string, name: string, bytes: Uint8Array): Promise<Problem | undefined> {
  try {
    const file = realpathSync(path);
    const like = writable(file);
    await writeOne(file, bytes, { onlyNew: false, prepare: (fresh) => { takeAfter(fresh, like); } });
    return undefined;
  } catch (cause) {
    return unwritable(cause, name);
  }
}

/** What the system says of a file, which this process may write to; throws its error where it may not. */
function writable(path: string): Stats {
  const file = openSync(path, 'r+');
  try {
    return fstatSync(file);
  } finally {
    closeSync(file);
  }
}

async function writeOne(path: string, content: string | Uint8Array, { onlyNew, prepare }: { readonly onlyNew: boolean; readonly prepare?: (file: number) => void }): Promise<void> {
  const files = new FileSet();
  try {
    await files.write(path, [content], prepare);
    files.commit({ onlyNew });
  } catch (cause) {
    files.discard();
    throw cause;
  }
}

/** Gives a file owner and permissions of another; only root can give one to somebody else, and for others it stays theirs. */
function takeAfter(file: number, { uid, gid, mode }: Stats): void {
  try {
    fchownSync(file, uid, gid);
  } catch {
    // The permissions are kept all the same.
  }
  fchmodSync(file, mode & 0o7777);
}

const codeOf = (cause: unknown): string | undefined => (cause as NodeJS.ErrnoException).code;

function unwritable(cause: unknown, name: string): Problem {
  if (codeOf(cause) === undefined) throw cause;
  return problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: name });
}
