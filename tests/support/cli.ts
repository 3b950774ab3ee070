/**
 * Runs the command line in this process, with streams of our own and a folder that goes away again: that of the sources, or, where
 * LINECUT_PACKED is set, that of dist/, which the interop suite runs these tests on once more (vitest.interop.config.ts).
 */
import { createRequire } from 'node:module';
import { mkdtempSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll } from 'vitest';
import { run as ofSources } from '../../src/cli/program.js';

/** The `run` of a built program; `start`: path of its start.cjs. */
export const runOf = (start: string): typeof ofSources => (createRequire(import.meta.url)(start) as { run: typeof ofSources }).run;

const usual = process.env['LINECUT_PACKED'] === undefined ? ofSources : runOf('../../dist/start.cjs');

export interface CliResult {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

export interface CliOptions {
  readonly cwd?: string;
  readonly stdin?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
  readonly tty?: boolean;
  /** Of the terminal; unknown where it is not given. */
  readonly columns?: number;
  /** Another program than that of the sources, or of LINECUT_PACKED. */
  readonly run?: typeof ofSources;
}

/** A call as a shell makes it, `['convert', 'show.csv']`. */
export async function cli(argv: readonly string[], options: CliOptions = {}): Promise<CliResult> {
  let out = '';
  let err = '';
  const sink = (add: (text: string) => void): { write: (text: string) => Promise<void>; isTTY: boolean; columns: number | undefined } => ({
    write: (text) => {
      add(text);
      return Promise.resolve();
    },
    isTTY: options.tty ?? false,
    columns: options.columns,
  });
  // Standard input ends: who reads it again finds nothing.
  let input = typeof options.stdin === 'string' ? Buffer.from(options.stdin) : (options.stdin ?? Buffer.alloc(0));
  const status = await (options.run ?? usual)(argv, {
    cwd: options.cwd ?? process.cwd(),
    env: options.env ?? {},
    out: sink((text) => { out += text; }),
    err: sink((text) => { err += text; }),
    readStdin: (maxBytes) => {
      const bytes = input;
      input = Buffer.alloc(0);
      return Promise.resolve(bytes.length > maxBytes ? undefined : bytes);
    },
  });
  return { status, out, err };
}

const folders: string[] = [];

afterAll(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A new folder with these files; removed when the test file is done. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = mkdtempSync(join(tmpdir(), 'linecut-test-'));
  folders.push(folder);
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  return folder;
}

/** Every file below a folder, sorted, with `/` between. */
export const filesIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1).replaceAll('\\', '/'))
    .sort();

export const textOf = (folder: string, name: string): string => readFileSync(join(folder, name), 'utf8');
