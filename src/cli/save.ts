/** One file of text, whole or not at all. */
import { problem, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { exists, FileSet } from './output.js';

/** Writes a file; gives what went wrong (`file-exists` unless `force`, `unreadable`), undefined when it is there. `name` is for messages. */
export async function saveText(path: string, name: string, text: string, force: boolean): Promise<Problem | undefined> {
  const taken = (): Problem => problem('file-exists', 'is there already; --force replaces it', { file: name });
  if (!force && exists(path)) return taken();
  const files = new FileSet();
  try {
    await files.write(path, [text]);
    files.commit({ onlyNew: !force });
    return undefined;
  } catch (cause) {
    files.discard();
    const { code } = cause as NodeJS.ErrnoException;
    if (code === undefined) throw cause;
    if (code === 'EEXIST') return taken();
    return problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: name });
  }
}
