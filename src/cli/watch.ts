/** A watched folder: every log that arrives is converted once, when it has finished arriving. */
import { access, constants, stat } from 'node:fs/promises';
import { extname, join, relative, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { problem, type Problem } from '../problems.js';
import { LOG_NAME, type LogInput } from './inputs.js';
import { NOWHERE, type Io } from './io.js';
import { runJob, type Job, type JobResult } from './job.js';
import { listName, nameKey } from './names.js';
import { fileTrouble } from '../trouble.js';
import { complain, tell, type Talk } from './report.js';

export interface WatchOptions {
  /** A log counts as complete when its size has not changed for this many milliseconds. */
  readonly settle: number;
  readonly talk: Talk;
  readonly jobOf: (log: LogInput) => Job;
  /** Told when the logs that were there already are known; for tests and the first line on the terminal. */
  readonly ready?: () => void;
  readonly signal: AbortSignal;
}

const SHOW_ENDING = '.show.json';

/** How often a growing file is looked at, milliseconds. */
const POLL = 100;

/**
 * Watches folders until `signal` is aborted; gives 0. A log whose lists are current is passed over, so that nothing is
 * converted twice, whatever restarts or renames come; one that changes is converted again. Logs are taken one by one.
 */
export async function watchFolders(folders: readonly string[], options: WatchOptions, io: Io): Promise<number> {
  const { watch } = await import('chokidar');
  const { settle, talk, jobOf, signal } = options;
  const waiting = new Map<string, LogInput>();
  const known = new Map<string, LogInput>();
  const names = new NameKeeper();
  let working: Promise<void> | undefined;
  const work = async (): Promise<void> => {
    for (const [path, log] of waiting) {
      if (signal.aborted) break;
      waiting.delete(path);
      const other = names.other(log);
      const result = other === undefined ? await runJob(jobOf(log), NOWHERE).catch((cause: unknown) => broken(log, cause)) : taken(log, other);
      if (result.current !== true) await tell(result, talk, io);
    }
    working = undefined;
  };
  const convert = (path: string, log: LogInput): void => {
    waiting.set(path, log);
    working ??= work();
  };
  const arrived = (folder: string, path: string): void => {
    // A show file that comes after its log, or changes, gives the log another chance.
    if (path.endsWith(SHOW_ENDING)) {
      for (const [log, input] of known) if (stem(log) === path.slice(0, -SHOW_ENDING.length)) convert(log, input);
      return;
    }
    const below = relative(resolve(io.cwd, folder), path);
    const input = { path: relative(io.cwd, path) || path, folder: below.split(/[\\/]/).slice(0, -1).join('/') };
    known.set(path, input);
    convert(path, input);
  };
  const gone = (path: string): void => {
    const log = known.get(path);
    if (log !== undefined) names.release(log);
    known.delete(path);
    waiting.delete(path);
  };
  let ready = false;
  // chokidar waits for files that come while it watches; one that was there already may still be growing.
  const found = async (folder: string, path: string): Promise<void> => {
    if (ready || await isComplete(path, settle, signal)) arrived(folder, path);
  };
  const enterable = async (path: string, folder: string): Promise<void> => {
    await access(path, constants.R_OK | constants.X_OK).catch(async (cause: unknown) => {
      // It was there a moment ago: a folder that went away again is nobody's trouble.
      if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') await complain([troubleOf(cause, folder, io.cwd)], io);
    });
  };
  const watchers = folders.map((folder) =>
    watch(resolve(io.cwd, folder), {
      awaitWriteFinish: { stabilityThreshold: settle, pollInterval: Math.min(POLL, settle) },
      ignored: (path, stats) => stats?.isFile() === true && !LOG_NAME.test(path) && !path.endsWith(SHOW_ENDING),
      persistent: true,
      // A file that may not be read is told of as any other that cannot be converted, not passed over.
      ignorePermissionErrors: true,
    })
      .on('add', (path) => { void found(folder, path); })
      .on('change', (path) => { arrived(folder, path); })
      .on('addDir', (path) => { void enterable(path, folder); })
      .on('unlink', (path) => { gone(path); })
      .on('error', (cause) => { void complain([troubleOf(cause, folder, io.cwd)], io); }));
  await Promise.all(watchers.map((watcher) => new Promise<void>((done) => { watcher.once('ready', done); })));
  ready = true;
  options.ready?.();
  if (!talk.quiet) await io.err.write(`watching ${folders.join(', ')}; Ctrl-C ends it\n`);
  await new Promise<void>((done) => {
    if (signal.aborted) done();
    else signal.addEventListener('abort', () => { done(); });
  });
  await Promise.all(watchers.map((watcher) => watcher.close()));
  await working;
  return 0;
}

/** Waits until a file has not changed for `settle` milliseconds; false when it is gone, or the watch has ended. */
async function isComplete(path: string, settle: number, signal: AbortSignal): Promise<boolean> {
  let last = '';
  for (let since = Date.now(); !signal.aborted; ) {
    const found = await stat(path).catch(() => undefined);
    if (found === undefined) return false;
    const now = `${String(found.size)} ${String(found.mtimeMs)}`;
    // Long unchanged when it is first looked at: nothing to wait for.
    if (last === '' && Date.now() - found.mtimeMs > settle) return true;
    if (now !== last) [last, since] = [now, Date.now()];
    else if (Date.now() - since >= settle) return true;
    await sleep(Math.min(POLL, settle));
  }
  return false;
}

/** A log on which we failed ourselves: it is told of, and the next one is converted. */
const broken = ({ path }: LogInput, cause: unknown): JobResult => ({
  log: path,
  outputs: [],
  problems: [problem('unreadable', `converting it failed: ${cause instanceof Error ? cause.message : String(cause)}`, { file: path })],
  dropped: [],
  status: 2,
});

const taken = ({ path, folder }: LogInput, other: string): JobResult => ({
  log: path,
  outputs: [],
  problems: [problem('same-output', `its lists would be written over those of ${other}; give it another name${folder === '' ? '' : `, or move it out of ${folder}`}`, { file: path })],
  dropped: [],
  status: 2,
});

const stem = (path: string): string => path.slice(0, path.length - extname(path).length);

/** A folder that cannot be watched, or a part of it. */
function troubleOf(cause: unknown, folder: string, cwd: string): Problem {
  const { path } = cause as { readonly path?: unknown };
  return problem('unreadable', `cannot be watched: ${fileTrouble(cause)}`, { file: typeof path === 'string' ? relative(cwd, path) || path : folder });
}

/** Logs of one folder whose lists would have one name: `a.csv` and `a.xml`. The first to arrive keeps it as long as it is there. */
class NameKeeper {
  readonly #owners = new Map<string, string>();

  /** The log that has the name already; undefined when it is free or this log's own. */
  other(log: LogInput): string | undefined {
    const key = keyOf(log);
    const owner = this.#owners.get(key);
    if (owner === undefined) this.#owners.set(key, log.path);
    return owner === undefined || owner === log.path ? undefined : owner;
  }

  /** The name of a log that is gone is free. */
  release(log: LogInput): void {
    if (this.#owners.get(keyOf(log)) === log.path) this.#owners.delete(keyOf(log));
  }
}

const keyOf = ({ folder, path }: LogInput): string => nameKey(join(folder, listName(path)));
