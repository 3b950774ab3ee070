/** What the outputs of a call are called, and that no two logs of a call want one name. */
import { basename, extname, join } from 'node:path';
import { problem, type Problem } from '../problems.js';
import type { LogInput } from './inputs.js';

/** The word for standard input and standard output. */
export const STANDARD = '-';

/** A log as messages name it: standard input is `log`, as its lists are. */
export const spokenName = (log: string): string => (log === STANDARD ? 'log' : log);

/** Name of a log's lists: the file's without folder and last extension; standard input is named `log`. */
export function listName(log: string): string {
  if (log === STANDARD) return 'log';
  const file = basename(log);
  return basename(file, extname(file)) || file;
}

/**
 * Refuses logs that would be written under one name: nothing of the call is done then. Names count as equal in any
 * case, since on many file systems they are.
 */
export function nameClashes(logs: readonly LogInput[]): Problem[] {
  const owners = new Map<string, string>();
  const clashes: Problem[] = [];
  for (const { path, folder } of logs) {
    const name = join(folder, listName(path));
    const key = name.normalize('NFC').toLowerCase();
    const owner = owners.get(key);
    if (owner === undefined) owners.set(key, path);
    else clashes.push(problem('same-output', `${owner} and ${path} would both be written as '${name}'; convert them in two calls, into different folders`));
  }
  return clashes;
}
