/** The edge: where a command reads and writes. Tests hand in their own; `processIo` is the real one. */

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
  return {
    cwd: process.cwd(),
    env: process.env,
    out: sinkOf(() => process.stdout),
    err: sinkOf(() => process.stderr),
    readStdin,
  };
}

/** A stream as a sink. It is opened when it is first needed: opening costs more than most commands do with it. */
function sinkOf(open: () => NodeJS.WriteStream): Sink {
  let stream: NodeJS.WriteStream | undefined;
  let closed = false;
  const get = (): NodeJS.WriteStream => {
    if (stream === undefined) {
      stream = open();
      // The reader went away (`| head`): stop writing, say nothing.
      stream.on('error', () => { closed = true; });
    }
    return stream;
  };
  return {
    write: (text) => {
      const to = get();
      if (closed || text === '' || to.write(text)) return Promise.resolve();
      return new Promise((resolve) => {
        const done = (): void => {
          to.off('drain', done).off('error', done).off('close', done);
          resolve();
        };
        to.on('drain', done).on('error', done).on('close', done);
      });
    },
    get isTTY() {
      return get().isTTY;
    },
    get columns() {
      return get().columns;
    },
  };
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
