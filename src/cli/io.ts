/** The edge: where a command reads and writes. Tests hand in their own; `processIo` is the real one. */

import { fstatSync, statSync, writeSync, type Stats } from 'node:fs';
import { fileTrouble } from '../trouble.js';

/** What a process stands on fails: a stream that cannot be written (the disk that it goes to is full, say), a current folder that is gone. */
export class EdgeError extends Error {}

/** Somewhere text goes. `write` resolves when more may be written; after a closed pipe it does nothing. */
export interface Sink {
  readonly write: (text: string) => Promise<void>;
  readonly isTTY: boolean;
  /** Width of the terminal, where it is one. */
  readonly columns: number | undefined;
}

/** Takes text and forgets it. */
export const NOWHERE: Sink = { write: () => Promise.resolve(), isTTY: false, columns: undefined };

export interface Io {
  /** Paths on the command line are relative to this folder. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Data only. */
  readonly out: Sink;
  /** Problems, summaries, progress. */
  readonly err: Sink;
  /** Standard input as it is, read to its end; undefined when it passes `maxBytes`. */
  readonly readStdin: (maxBytes: number) => Promise<Uint8Array | undefined>;
}

/** The streams of this process. */
export function processIo(): Io {
  return { get cwd() { return currentFolder(); }, env: process.env, out: sinkOf(1), err: sinkOf(2), readStdin };
}

function currentFolder(): string {
  try {
    return process.cwd();
  } catch (cause) {
    throw new EdgeError(`the current folder cannot be used: ${fileTrouble(cause)}; change to one that is there`);
  }
}

/** How long a full pipe is left alone before it is tried again, in milliseconds. */
const PATIENCE = 5;

/**
 * A file descriptor as a sink, written to at once. Node's own streams load its network code first, which costs more than
 * most runs do; and what is written here is out when the process ends.
 */
function sinkOf(descriptor: 1 | 2): Sink {
  let closed = false;
  let device: boolean | undefined;
  const isTerminal = (): boolean => (device ??= isDevice(descriptor) && stream(descriptor).isTTY);
  return {
    write: async (text) => {
      const bytes = Buffer.from(text);
      for (let done = 0; done < bytes.length && !closed;) {
        try {
          done += writeSync(descriptor, bytes, done);
        } catch (cause) {
          const { code } = cause as NodeJS.ErrnoException;
          if (code === 'EAGAIN') await new Promise((resolve) => setTimeout(resolve, PATIENCE));
          // The reader went away (`| head`, a terminal that was closed): stop writing, say nothing.
          else if (code === 'EPIPE' || (code === 'EIO' && isDevice(descriptor))) closed = true;
          else throw new EdgeError(`standard ${descriptor === 1 ? 'output' : 'error'} cannot be written: ${fileTrouble(cause)}`);
        }
      }
    },
    get isTTY() {
      return isTerminal();
    },
    get columns() {
      // Asked each time: windows change their width.
      return isTerminal() ? stream(descriptor).columns : undefined;
    },
  };
}

/** Terminals are character devices; so is /dev/null, which never is one. Where it is called otherwise the stream itself is asked. */
function isDevice(descriptor: number): boolean {
  const { rdev, isCharacterDevice } = statOf(() => fstatSync(descriptor));
  return isCharacterDevice && rdev !== statOf(() => statSync('/dev/null')).rdev;
}

function statOf(read: () => Stats): { readonly rdev: number | undefined; readonly isCharacterDevice: boolean } {
  try {
    const stats = read();
    return { rdev: stats.rdev, isCharacterDevice: stats.isCharacterDevice() };
  } catch {
    return { rdev: undefined, isCharacterDevice: false };
  }
}

function stream(descriptor: 1 | 2): { readonly isTTY: boolean; readonly columns: number | undefined } {
  const { isTTY, columns } = descriptor === 1 ? process.stdout : process.stderr;
  return { isTTY, columns };
}

async function readStdin(maxBytes: number): Promise<Uint8Array | undefined> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of process.stdin) {
    const bytes = part as Buffer;
    size += bytes.length;
    if (size > maxBytes) {
      process.stdin.destroy();
      return undefined;
    }
    parts.push(bytes);
  }
  return Buffer.concat(parts);
}
