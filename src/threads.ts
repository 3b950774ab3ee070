/** Work spread over threads: each takes the next task as soon as it is free. Tasks and answers are plain data. */
import { existsSync } from 'node:fs';
import { Worker } from 'node:worker_threads';

export interface ThreadOptions<Task, Answer> {
  readonly threads: number;
  /** Told of each answer as it comes; answers come in any order, one at a time. */
  readonly each: (index: number, answer: Answer) => void | Promise<void>;
  /** The answer for a task whose thread died under it. */
  readonly lost: (task: Task, reason: string) => Answer;
  /** No further task is begun once this is aborted; those that run are waited for. */
  readonly signal?: AbortSignal;
}

/**
 * Runs every task in the module `worker`, which answers each message with one message. A thread that dies
 * costs its task, not the rest: a new one takes its place.
 */
export async function inThreads<Task, Answer>(worker: URL, tasks: readonly Task[], options: ThreadOptions<Task, Answer>): Promise<void> {
  const { each, lost, signal } = options;
  let next = 0;
  const take = (): number | undefined => (next < tasks.length && signal?.aborted !== true ? next++ : undefined);
  // One after the other: what is told of a task is never mixed with what is told of another.
  let told: Promise<void> = Promise.resolve();
  const tell = (index: number, answer: Answer): void => {
    told = told.then(() => each(index, answer));
  };
  const life = (): Promise<void> =>
    new Promise((resolve) => {
      const start = (first: number): void => {
        const thread = new Worker(worker);
        let index = first;
        let over = false;
        const give = (): void => {
          thread.postMessage(tasks[index]);
        };
        const died = (reason: string): void => {
          if (over) return;
          over = true;
          tell(index, lost(tasks[index] as Task, reason));
          const following = take();
          if (following === undefined) resolve();
          else start(following);
        };
        thread.on('message', (answer: Answer) => {
          tell(index, answer);
          const following = take();
          if (following === undefined) {
            over = true;
            void thread.terminate().then(() => { resolve(); });
            return;
          }
          index = following;
          give();
        });
        thread.on('error', (cause) => { died(cause instanceof Error ? cause.message : String(cause)); });
        thread.on('exit', (code) => { died(`its thread ended with ${String(code)}`); });
        give();
      };
      const first = take();
      if (first === undefined) resolve();
      else start(first);
    });
  await Promise.all(Array.from({ length: Math.min(options.threads, tasks.length) }, life));
  await told;
}

/** Where a compiled thread module lies: beside the compiled program, or above its chunks. Undefined when the sources run uncompiled. */
export const compiledThread = (name: string, from: string): URL | undefined =>
  [`./${name}`, `../${name}`].map((path) => new URL(path, from)).find((url) => existsSync(url));
