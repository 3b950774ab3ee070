/** Reads many recordings with every core: threads that take the next file as soon as they are free. */
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { probe, type Probe, type Unread } from './probe.js';

export interface PoolOptions {
  /** How many threads (default: one a core); 0 or 1 reads in this thread. */
  readonly threads?: number;
  /** The compiled worker; where it is not known, as when the sources run uncompiled, this thread reads. */
  readonly worker?: URL;
  /** Told after each file how many are done. */
  readonly progress?: (done: number, total: number) => void;
}

/** Below this many files a thread costs more than it brings: each must load the library. */
const WORTH_A_THREAD = 8;

/** Reads all files; answers are in the order of `paths`, whatever order they came in. A thread that dies costs its file, not the rest. */
export async function probeAll(paths: readonly string[], options: PoolOptions = {}): Promise<(Probe | Unread)[]> {
  const worker = options.worker ?? compiledWorker();
  const threads = worker === undefined ? 0 : Math.min(options.threads ?? availableParallelism(), Math.floor(paths.length / WORTH_A_THREAD));
  const answers: (Probe | Unread)[] = new Array<Probe | Unread>(paths.length);
  let done = 0;
  const keep = (index: number, answer: Probe | Unread): void => {
    answers[index] = answer;
    done += 1;
    options.progress?.(done, paths.length);
  };
  if (worker === undefined || threads < 2) {
    for (const [index, path] of paths.entries()) keep(index, await probe(path));
    return answers;
  }
  let next = 0;
  const take = (): number | undefined => (next < paths.length ? next++ : undefined);
  await Promise.all(Array.from({ length: threads }, () => runThread(worker, paths, take, keep)));
  return answers;
}

/** One thread's life: files until there are none; when it dies, its file is given up and a new thread goes on. */
function runThread(
  file: URL, paths: readonly string[], take: () => number | undefined, keep: (index: number, answer: Probe | Unread) => void,
): Promise<void> {
  return new Promise((resolve) => {
    const start = (first: number): void => {
      const worker = new Worker(file);
      let index = first;
      let over = false;
      const finish = (reason: string): void => {
        if (over) return;
        over = true;
        keep(index, { path: paths[index] ?? '', reason });
        const following = take();
        if (following === undefined) resolve();
        else start(following);
      };
      worker.on('message', (answer: Probe | Unread) => {
        keep(index, answer);
        const following = take();
        if (following === undefined) {
          over = true;
          resolve();
          void worker.terminate();
          return;
        }
        index = following;
        worker.postMessage(paths[index]);
      });
      worker.on('error', (cause) => { finish(`reading it failed: ${cause instanceof Error ? cause.message : String(cause)}`); });
      worker.on('exit', () => { finish('reading it failed'); });
      worker.postMessage(paths[index]);
    };
    const first = take();
    if (first === undefined) resolve();
    else start(first);
  });
}

/** The worker lies beside the compiled program, or above its chunks. */
const compiledWorker = (): URL | undefined =>
  ['./media-worker.js', '../media-worker.js'].map((path) => new URL(path, import.meta.url)).find((url) => existsSync(url));
