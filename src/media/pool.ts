/** Reads many recordings with every core. */
import { availableParallelism } from 'node:os';
import { compiledThread, inThreads } from '../threads.js';
import { probe, type Probe, type Unread } from './probe.js';

export interface PoolOptions {
  /** How many threads (default: one a core), this one among them. */
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
  const threads = Math.min(options.threads ?? availableParallelism(), Math.floor(paths.length / WORTH_A_THREAD));
  const answers: (Probe | Unread)[] = new Array<Probe | Unread>(paths.length);
  let done = 0;
  const each = (index: number, answer: Probe | Unread): void => {
    answers[index] = answer;
    done += 1;
    options.progress?.(done, paths.length);
  };
  await inThreads<string, Probe | Unread>(paths, {
    module: options.worker ?? compiledThread('media-worker.cjs', import.meta.url),
    threads,
    here: probe,
    takesPart: true,
    each,
    lost: (path, reason) => ({ path, reason: `reading it failed: ${reason}` }),
  });
  return answers;
}
