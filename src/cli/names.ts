/** What the outputs of a call are called, and that no two logs of a call want one name. */
import { basename, extname, join } from 'node:path';
import { problem, type Problem } from '../problems.js';

/** The word for standard input and standard output. */
export const STANDARD = '-';

/** Name of a log's lists: the file's without folder and last extension; standard input is named `log`. */
export function listName(log: string): string {
  if (log === STANDARD) return 'log';
  const file = basename(log);
  return basename(file, extname(file)) || file;
}

/** Where a list goes. `name` and `suffix` make the file name. */
export const outputPath = (folder: string, name: string, suffix: string): string => join(folder, `${name}${suffix}`);

/**
 * Refuses logs that would be written under one name: nothing of the call is done then. Names count as equal in any
 * case, since on many file systems they are.
 */
export function nameClashes(logs: readonly string[]): Problem[] {
  const owners = new Map<string, string>();
  const clashes: Problem[] = [];
  for (const log of logs) {
    const name = listName(log);
    const key = name.normalize('NFC').toLowerCase();
    const owner = owners.get(key);
    if (owner === undefined) owners.set(key, log);
    else if (owner === log) clashes.push(problem('same-output', `${log} is given twice`));
    else clashes.push(problem('same-output', `${owner} and ${log} would both be written as '${name}'; convert them in two calls, into different folders`));
  }
  return clashes;
}
