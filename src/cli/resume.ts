/**
 * What an earlier run left: a small record a log, in a folder `.linecut` beside the lists. It says from what they were made,
 * so that a run can pass over what is current, and replace what is its own and nothing else.
 */
import { createHash } from 'node:crypto';
import { readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import type { Format } from '../formats/output.js';
import { known } from '../known.js';
import { RECORDS } from './names.js';
import { clearFolder, exists, FileSet, prepareFolder } from './output.js';

/** One list file, as it was when it was written: its name, bytes, and time of the last change in milliseconds. */
export interface RecordedFile {
  readonly name: string;
  readonly format: Format;
  readonly size: number;
  readonly changed: number;
}

export interface RunRecord {
  /** Path of the log from the folder of its lists, with `/`; undefined in records of standard input. */
  readonly log?: string;
  /** Digest of everything that the lists depend on; undefined where there were errors beside them: these are to be told again. */
  readonly key?: string;
  readonly files: readonly RecordedFile[];
  /** What runs before wrote, and nobody changed since: formats that are no longer asked for; and, should a run be killed, the lists whose places it was about to take. */
  readonly earlier: readonly RecordedFile[];
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
    const found = JSON.parse(readFileSync(recordPath(folder, name), 'utf8')) as { readonly [key in keyof RunRecord]?: unknown } | null;
    if (found === null || !areRecorded(found.files) || !areRecorded(found.earlier)) return undefined;
    return { files: found.files, earlier: found.earlier, ...known({ log: wordIn(found.log), key: wordIn(found.key) }) };
  } catch {
    // No record, or one of somebody else's: then nothing is known, and nothing is passed over.
    return undefined;
  }
}

const wordIn = (value: unknown): string | undefined => (typeof value === 'string' ? value : undefined);

const areRecorded = (files: unknown): files is RecordedFile[] =>
  Array.isArray(files) && files.every((file: Partial<RecordedFile> | null) => typeof file?.name === 'string' && typeof file.size === 'number' && typeof file.changed === 'number');

/** The path of a log from the folder of its lists: the same from wherever a call is made. */
const placeOf = (folder: string, log: string): string => relative(folder, log).replaceAll('\\', '/');

/**
 * Another log, by its path, that has the same name and whose lists lie here already; undefined where there is none (any more), and it
 * may be this one, moved. `log` is an absolute path.
 */
export function otherLog(folder: string, log: string, record: RunRecord | undefined): string | undefined {
  if (record?.log === undefined || record.log === placeOf(folder, log)) return undefined;
  const other = resolve(folder, record.log);
  return exists(other) && realPath(other) !== realPath(log) ? other : undefined;
}

function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

/** What a run is about to give its name: the list's format, where it will lie, and where it lies now. */
export interface Written {
  readonly format: Format;
  readonly target: string;
  readonly part: string;
}

/**
 * Saves the record of a log (an absolute path; undefined for standard input) before its lists get their names, whole or not at all: what is renamed keeps its size and time.
 * What earlier runs wrote stays known.
 */
export async function saveRecord(folder: string, name: string, made: { readonly log: string | undefined; readonly key: string | undefined; readonly written: readonly Written[] }, before: RunRecord | undefined): Promise<void> {
  const files = made.written.map(({ format, target, part }): RecordedFile => {
    const { size, mtimeMs } = statSync(part);
    return { name: basename(target), format, size, changed: mtimeMs };
  });
  const earlier = before === undefined ? [] : [...before.files, ...before.earlier].filter((file) => isAsWritten(file, folder));
  const target = recordPath(folder, name);
  prepareFolder(dirname(target));
  const set = new FileSet();
  const record: RunRecord = { ...known({ log: made.log === undefined ? undefined : placeOf(folder, made.log), key: made.key }), files, earlier };
  await set.write(target, [`${JSON.stringify(record)}\n`]);
  set.commit();
}

/** True when the record is of the same inputs, with lists of all that was asked for, and every file it names is still as it was written. */
export const isCurrent = (record: RunRecord | undefined, key: string, folder: string): record is RunRecord =>
  record?.key === key && record.files.length > 0 && record.files.every((file) => isAsWritten(file, folder));

function isAsWritten({ name, size, changed }: RecordedFile, folder: string): boolean {
  const found = statSync(join(folder, name), { throwIfNoEntry: false });
  return found?.size === size && found.mtimeMs === changed;
}

/** True when an earlier run wrote a file, and nobody changed it since. */
export const isUntouched = (path: string, record: RunRecord | undefined): boolean =>
  record !== undefined && [...record.files, ...record.earlier].some((file) => file.name === basename(path) && isAsWritten(file, dirname(path)));

/** True when a file may be replaced without asking: it is not there, it is untouched, or it holds the same bytes as `part`, which is to take its place. */
export function isOurs(path: string, record: RunRecord | undefined, part: string): boolean {
  if (!exists(path) || isUntouched(path, record)) return true;
  const [old, made] = [statSync(path), statSync(part)];
  return old.isFile() && old.size === made.size && readFileSync(path).equals(readFileSync(part));
}
