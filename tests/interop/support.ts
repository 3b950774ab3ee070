/** What the interop tests share: the Python judges, outside programs, and a folder for files on the way to them. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const HERE = dirname(fileURLToPath(import.meta.url));

/** The interpreter of the folder that run.sh makes; it has the libraries of requirements.txt. */
export const PYTHON = join(HERE, '.venv/bin/python');

/** Files on the way to the judges; kept a day, not committed. */
export const WORK = join(HERE, '.work');

/** A fresh folder under WORK, its name beginning with `name`. */
export function workFolder(name: string): string {
  mkdirSync(WORK, { recursive: true });
  return mkdtempSync(join(WORK, `${name}-`));
}

/**
 * Runs `tests/interop/SCRIPT` with the judges' interpreter: `input` goes in as JSON on standard input, the JSON that it
 * prints on standard output comes back. A script that fails or prints anything else fails the test, with its
 * standard error in the message. One call for a whole folder of cases: starting Python and the libraries costs
 * a third of a second.
 */
export function python(script: string, input: unknown, options: { timeout?: number } = {}): unknown {
  const run = spawnSync(PYTHON, [resolve(HERE, script)], {
    input: JSON.stringify(input),
    encoding: 'utf8',
    maxBuffer: 1 << 30,
    timeout: options.timeout ?? 280_000,
    // The libraries warn of their own deprecations; UTF-8 whatever the machine's language.
    env: { ...process.env, PYTHONWARNINGS: 'ignore', PYTHONUTF8: '1' },
  });
  if (run.error !== undefined) throw run.error;
  if (run.status !== 0) throw new Error(`${script} ended with ${String(run.status ?? run.signal)}:\n${run.stderr}`);
  try {
    return JSON.parse(run.stdout);
  } catch {
    throw new Error(`${script} printed what is not JSON: ${run.stdout.slice(0, 300)}\n${run.stderr}`);
  }
}

/** Runs an outside program and gives its standard output; a status other than zero fails the test. */
export function run(command: string, args: readonly string[], options: { input?: string; cwd?: string } = {}): string {
  return execFileSync(command, args, { encoding: 'utf8', maxBuffer: 1 << 30, stdio: ['pipe', 'pipe', 'pipe'], ...options });
}

/** Writes the pieces of one of our outputs to a file. */
export function writeChunks(path: string, chunks: Iterable<string>): void {
  writeFileSync(path, [...chunks].join(''));
}
