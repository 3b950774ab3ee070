/** Files are written whole or not at all: into a temporary file beside the target, which takes its name when it is complete. */
import { closeSync, linkSync, lstatSync, mkdirSync, openSync, readdirSync, renameSync, rmSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { CHUNK } from '../formats/output.js';
import { isFolder } from '../path-kind.js';
import { ownerOf, partPath } from './part-file.js';
import { dieOf, onEndingSignal } from './signals.js';

/** About so many bytes are gathered before they are written. */
const ROOM = 1 << 18;

/** After this many bytes, of one file or of many, other events get their turn: a signal, a progress bar. */
const BREATH = 1 << 20;

let serial = 0;

/** Temporary files of this process that exist now: removed when it is interrupted. */
const open = new Set<string>();

/** Removes what is half-written; in `folders` also what other threads of this process write. */
export function removeParts(folders: Iterable<string> = []): void {
  for (const part of open) rmSync(part, { force: true });
  open.clear();
  for (const folder of folders) removeFrom(folder, 'me');
}

let guarded = false;

/** From the first file on, a signal that ends the process clears up first, and then ends it all the same. */
function guard(): void {
  if (guarded) return;
  guarded = true;
  onEndingSignal((signal) => {
    removeParts();
    dieOf(signal);
  });
}

/** For callers that stop by themselves at a signal, between two logs: nothing is half-written then. They see to a second signal. */
export function stopsItself(): void {
  guarded = true;
}

/** Several files that appear together: all are written under temporary names first; `commit` gives them their own. */
export class FileSet {
  readonly #parts: { readonly part: string; readonly target: string }[] = [];

  /** Writes a file; `prepare` gets the temporary one, empty. Throws the system's error, with the temporary file removed. */
  async write(target: string, chunks: Iterable<string | Uint8Array>, prepare?: (file: number) => void): Promise<void> {
    guard();
    const { part, file } = openPart(target);
    open.add(part);
    try {
      prepare?.(file);
      await writeChunks(file, chunks);
      closeSync(file);
    } catch (cause) {
      closeQuietly(file);
      rmSync(part, { force: true });
      open.delete(part);
      throw cause;
    }
    this.#parts.push({ part, target });
  }

  /** What has been written so far, under its temporary name, and the name it is to have. */
  get parts(): readonly { readonly part: string; readonly target: string }[] {
    return this.#parts;
  }

  /**
   * Gives every file its name, over what has it; gives the names back. `onlyNew`: throws `EEXIST` where something has a name by now, with its path as `dest`,
   * and none of the names is given.
   */
  commit({ onlyNew = false } = {}): string[] {
    const claimed = onlyNew ? this.#claim() : undefined;
    const done: string[] = [];
    while (this.#parts.length > 0) {
      const { part, target } = this.#parts[0] as { part: string; target: string };
      if (claimed?.has(target) === true) rmSync(part);
      else renameSync(part, target);
      open.delete(part);
      this.#parts.shift();
      done.push(target);
    }
    return done;
  }

  /** Takes every name, or none: another call may have taken one since this one looked. Gives those that a file has beside its temporary name now. */
  #claim(): Set<string> {
    const claimed = new Set<string>();
    try {
      for (const { part, target } of this.#parts) if (linked(part, target)) claimed.add(target);
      return claimed;
    } catch (cause) {
      for (const target of claimed) rmSync(target, { force: true });
      throw cause;
    }
  }

  /** Removes everything that has not been given its name. */
  discard(): void {
    for (const { part } of this.#parts.splice(0)) {
      rmSync(part, { force: true });
      open.delete(part);
    }
  }
}

/** Gives a file a second name that nothing has; false where that cannot be, as on file systems that know no second names. Throws where something has it. */
function linked(part: string, target: string): boolean {
  try {
    linkSync(part, target);
    return true;
  } catch (cause) {
    if (exists(target)) throw Object.assign(new Error('something has that name', { cause }), { code: 'EEXIST', dest: target });
    return false;
  }
}

/** A new temporary file beside a target. Names may be taken: by another thread, or by a killed run that had the same process number. */
function openPart(target: string): { readonly part: string; readonly file: number } {
  for (;;) {
    serial += 1;
    const part = partPath(target, serial);
    try {
      return { part, file: openSync(part, 'wx') };
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code !== 'EEXIST') throw cause;
    }
  }
}

/** Where text becomes bytes before it is written, for one file after the other: a character takes three bytes at most. */
let room: Buffer | undefined;

/** Bytes since others had their turn. */
let since = 0;

async function breathe(): Promise<void> {
  since = 0;
  await new Promise((resolve) => setImmediate(resolve));
}

async function writeChunks(file: number, chunks: Iterable<string | Uint8Array>): Promise<void> {
  const bytes = (room ??= Buffer.allocUnsafeSlow(ROOM + 3 * 2 * CHUNK));
  let [text, used] = ['', 0];
  const flush = (): void => {
    writeAll(file, bytes, used);
    since += used;
    used = 0;
  };
  for (const chunk of chunks) {
    if (typeof chunk === 'string') {
      text += chunk;
      if (text.length < CHUNK) continue;
    }
    if (text.length <= 2 * CHUNK) used += bytes.write(text, used);
    else {
      flush();
      writeAll(file, Buffer.from(text));
      since += text.length;
    }
    text = '';
    if (typeof chunk !== 'string') {
      flush();
      writeAll(file, chunk);
      since += chunk.length;
    } else if (used >= ROOM) flush();
    // Another file may be written meanwhile: it was flushed just now, and nothing of this one is left in the room.
    if (since >= BREATH) await breathe();
  }
  used += bytes.write(text, used);
  flush();
  if (since >= BREATH) await breathe();
}

function writeAll(file: number, bytes: Uint8Array, length = bytes.length): void {
  for (let done = 0; done < length;) done += writeSync(file, bytes, done, length - done);
}

function closeQuietly(file: number): void {
  try {
    closeSync(file);
  } catch {
    // It was closed already, or closing failed: the error that led here is the one to tell.
  }
}

/** Folders that this process has cleared already: a batch into one folder does not read it again for each log. */
const cleared = new Set<string>();

/** Makes a folder, and clears it (once) of what a killed run of this machine left half-written. */
export function prepareFolder(folder: string): void {
  makeFolder(folder);
  clearFolder(folder);
}

/** Clears a folder, where it is there, of what a killed run of this machine left half-written. */
export function clearFolder(folder: string): void {
  if (cleared.has(folder)) return;
  cleared.add(folder);
  removeFrom(folder, 'nobody');
}

/** Removes the temporary files of one owner. */
function removeFrom(folder: string, owner: 'me' | 'nobody'): void {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    // It is not there, or nobody may look into it: who writes there is told why.
    return;
  }
  for (const name of names) {
    if (ownerOf(folder, name) === owner) rmSync(join(folder, name), { force: true });
  }
}

/**
 * Makes a folder and those above it. Not by Node's own `recursive`: where a file system says ENOENT of a folder whose parent
 * is there (a broken mount, /proc), Node 20 tries again without end.
 */
function makeFolder(folder: string): void {
  if (isFolder(folder)) return;
  const parent = dirname(folder);
  if (parent !== folder && !exists(parent)) makeFolder(parent);
  try {
    mkdirSync(folder);
  } catch (cause) {
    // Another process may have made it just now.
    if (!isFolder(folder)) throw cause;
  }
}

/** True when something has that name, a dangling link too. */
export function exists(target: string): boolean {
  try {
    return lstatSync(target, { throwIfNoEntry: false }) !== undefined;
  } catch {
    // A part of the path is a file, or may not be entered: nothing can have that name, and writing says why.
    return false;
  }
}
