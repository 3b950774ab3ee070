/**
 * What an earlier run left: a small record a log, in a folder `.linecut` beside the lists. It says from what they were made,
 * so that a run can pass over what is current, and replace what is its own and nothing else.
 */
import { createHash } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Format } from '../formats/output.js';
import { known } from '../known.js';
import { listName, RECORDS, STANDARD } from './names.js';
import { clearFolder, exists, FileSet, prepareFolder } from './output.js';

/** One list file, as it was when it was written. */
export interface RecordedFile {
  readonly name: string;
  readonly format: Format;
  /** Bytes, and time of the last change in milliseconds; -1 in a record made before its files had their names. */
  readonly size: number;
  readonly changed: number;
}

export interface RunRecord {
  /** Name of the log's file, in its folder; undefined in records of standard input. */
  readonly log?: string;
  /** Digest of everything that the lists depend on. */
  readonly key: string;
  readonly files: readonly RecordedFile[];
}

/** Digest of the program's version, the options and the bytes of every file that goes in. */
export function runKey(parts: readonly (string | Uint8Array)[]): string {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(`${String(part.length)}:`).update(part);
  return hash.digest('hex');
}

/** Clears the folder of lists, and that of their records, of what a killed run left half-written; who finds everything current writes nothing there. */
export function clearOutputs(folder: string): void {
  clearFolder(folder);
  clearFolder(join(folder, RECORDS));
}

const recordPath = (folder: string, name: string): string => join(folder, RECORDS, `${name}.json`);

/** The record of a log's lists; undefined when there is none that can be read. */
export function readRecord(folder: string, name: string): RunRecord | undefined {
  try {
    const found = JSON.parse(readFileSync(recordPath(folder, name), 'utf8')) as Partial<RunRecord> | null;
    return typeof found?.key === 'string' && Array.isArray(found.files) ? { key: found.key, files: found.files, ...known({ log: typeof found.log === 'string' ? found.log : undefined }) } : undefined;
  } catch {
    // No record, or one of somebody else's: then nothing is known, and nothing is passed over.
    return undefined;
  }
}

/** Saves the record of `log`, whole or not at all. With `done` its files are measured as they are now. */
export async function saveRecord(folder: string, log: string, key: string, files: readonly { readonly path: string; readonly format: Format }[], done: boolean): Promise<void> {
  const recorded = files.map(({ path, format }): RecordedFile => {
    const found = done ? statSync(path) : undefined;
    return { name: basename(path), format, size: found?.size ?? -1, changed: found?.mtimeMs ?? -1 };
  });
  const target = recordPath(folder, listName(log));
  prepareFolder(dirname(target));
  const set = new FileSet();
  await set.write(target, [`${JSON.stringify({ ...(log === STANDARD ? {} : { log: basename(log) }), key, files: recorded } satisfies RunRecord)}\n`]);
  set.commit();
}

/** True when the record is of the same inputs and every file it names is still as it was written. */
export const isCurrent = (record: RunRecord | undefined, key: string, folder: string): record is RunRecord =>
  record?.key === key && record.files.length > 0 && record.files.every((file) => isAsWritten(file, folder));

function isAsWritten({ name, size, changed }: RecordedFile, folder: string): boolean {
  const found = statSync(join(folder, name), { throwIfNoEntry: false });
  return found?.size === size && found.mtimeMs === changed;
}

/**
 * True when a file may be replaced without asking: it is not there; an earlier run wrote it and nobody changed it since; that
 * run was killed while its files got their names; or it holds the same bytes as `part`, which is to take its place.
 */
export function isOurs(path: string, record: RunRecord | undefined, part: string): boolean {
  if (!exists(path)) return true;
  const file = record?.files.find(({ name }) => name === basename(path));
  if (file !== undefined && (file.size === -1 || isAsWritten(file, dirname(path)))) return true;
  const [old, made] = [statSync(path), statSync(part)];
  return old.isFile() && old.size === made.size && readFileSync(path).equals(readFileSync(part));
}
