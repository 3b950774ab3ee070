/** What the outputs of a call are called, and that no two logs of a call want one name. */
import { basename, extname, join } from 'node:path';
import { withoutPart, withoutTake } from '../formats/endings.js';
import { problem, type Problem } from '../problems.js';
import type { LogInput } from './inputs.js';

/** The word for standard input and standard output. */
export const STANDARD = '-';

/** Folder beside lists that holds the record of each log: see resume.ts. */
export const RECORDS = '.linecut';

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
    const key = nameKey(name);
    const owner = owners.get(key);
    if (owner === undefined) owners.set(key, path);
    else clashes.push(problem('same-output', `${owner} and ${path} would both be written as '${name}'; convert them in two calls, into different folders`));
  }
  return clashes;
}

/** Names count as equal in any case, and however their accents are written. */
export const nameKey = (name: string): string => name.normalize('NFC').toLowerCase();

/** What the call reads is never written over, whatever `--force` says. */
export const readHere = (file: string, instead = 'give another name'): Problem => problem('file-exists', `is read by the same call and is not written over; ${instead}`, { file });

/** The names that lists called `name` may belong to besides: a take on its own (`SHOW.take2`), a part of a divided EDL (`SHOW-2`, `SHOW.take2-3`). */
export function ownersOf(name: string): Set<string> {
  const whole = withoutPart(name);
  const owners = new Set([whole, withoutTake(whole)]);
  owners.delete(name);
  return owners;
}

/**
 * Logs of a call whose name another log's lists may take: `show-1.csv` beside a `show.csv` that is too long for one EDL. Gives, by
 * the path of the log that may be in the way, those names as `nameKey` has them, with their logs.
 */
export function namesBeside(logs: readonly LogInput[]): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const byKey = new Map(logs.map((log) => [nameKey(join(log.folder, listName(log.path))), log.path]));
  const beside = new Map<string, Map<string, string>>();
  for (const { path, folder } of logs) {
    const name = nameKey(listName(path));
    for (const other of ownersOf(name)) {
      const owner = byKey.get(nameKey(join(folder, other)));
      if (owner === undefined) continue;
      const names = beside.get(owner);
      if (names === undefined) beside.set(owner, new Map([[name, path]]));
      else names.set(name, path);
    }
  }
  return beside;
}
