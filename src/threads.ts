/** Work spread over threads: each takes the next task as soon as it is free. Tasks and answers are plain data. */
import { existsSync } from 'node:fs';
import { parentPort, Worker } from 'node:worker_threads';

/** A task on its way to a thread, and its answer on the way back: a number keeps the two together. */
interface Sent<Task> {
  readonly index: number;
  readonly task: Task;
}
interface Answered<Answer> {
  readonly index: number;
  readonly answer: Answer;
}

/** What a thread says first. */
const LOADED = 'loaded';

/** What is heard of a thread: that its code is loaded, an answer, that it is no more. */
type Heard<Answer> = typeof LOADED | Answered<Answer> | { readonly ended: string };

/** Tasks that a thread has at a time: the one it is at, and one more, so that it never waits for the next. */
const AT_ONCE = 2;

/** Threads of this process that have not ended. */
const running = new Set<Worker>();

/** Set once all threads are to end: none takes the place of another any more. */
let ending = false;

/** Ends every thread, in the middle of what it is at; resolves when none does anything any more. No others begin after that. */
export async function endThreads(): Promise<void> {
  ending = true;
  await Promise.all([...running].map((worker) => worker.terminate()));
}

/** A thread, which loads its code at once. What it says before somebody listens is kept; until then it keeps no process alive. */
export class Thread<Task, Answer> {
  readonly #worker: Worker;
  readonly #early: Heard<Answer>[] = [];
  #listener: ((heard: Heard<Answer>) => void) | undefined;

  constructor(module: URL) {
    this.#worker = new Worker(module);
    running.add(this.#worker);
    this.#worker.unref();
    const say = (heard: Heard<Answer>): void => {
      if (this.#listener === undefined) this.#early.push(heard);
      else this.#listener(heard);
    };
    let reason: string | undefined;
    this.#worker.on('message', say);
    this.#worker.on('error', (cause) => { reason = cause instanceof Error ? cause.message : String(cause); });
    // Every answer that was sent has come by now, which at an error is not so.
    this.#worker.on('exit', (code) => {
      running.delete(this.#worker);
      say({ ended: reason ?? `its thread ended with ${String(code)}` });
    });
  }

  listen(listener: (heard: Heard<Answer>) => void): void {
    this.#worker.ref();
    this.#listener = listener;
    this.#early.splice(0).forEach(listener);
  }

  send(index: number, task: Task): void {
    this.#worker.postMessage({ index, task } satisfies Sent<Task>);
  }

  end(): void {
    void this.#worker.terminate();
  }
}

export interface ThreadOptions<Task, Answer> {
  readonly threads: number;
  /** Told of each answer as it comes; answers come in any order, one at a time. What it throws ends the work: see `inThreads`. */
  readonly each: (index: number, answer: Answer) => void | Promise<void>;
  /** The answer for a task whose thread died under it. */
  readonly lost: (task: Task, reason: string) => Answer;
  /** No further task is handed out once this is aborted; those that were are waited for. */
  readonly signal?: AbortSignal;
  /** Told once, when the code of all threads is loaded; never when one of them did not come so far. */
  readonly loaded?: () => void;
  /** Threads of the same module that have begun to load already: taken before new ones are made; ended where they are not needed. */
  readonly begun?: readonly Thread<Task, Answer>[];
}

/**
 * Runs every task in the module `worker`, which calls `answerInTurn`. A thread that dies costs the task it was at, not the rest: a
 * new one takes its place. When `each` throws, nothing more is told and no further task handed out; those that were are waited for, and
 * then it is thrown on.
 */
export async function inThreads<Task, Answer>(worker: URL, tasks: readonly Task[], options: ThreadOptions<Task, Answer>): Promise<void> {
  const { each, signal } = options;
  const begun = [...(options.begun ?? [])];
  let next = 0;
  let failure: { readonly cause: unknown } | undefined;
  const take = (): number | undefined => (next < tasks.length && signal?.aborted !== true && failure === undefined ? next++ : undefined);
  // One after the other: what is told of a task is never mixed with what is told of another.
  let told: Promise<void> = Promise.resolve();
  const tell = (index: number, answer: Answer): void => {
    told = told.then(() => (failure === undefined ? each(index, answer) : undefined)).catch((cause: unknown) => { failure = { cause }; });
  };
  const threads = Math.min(options.threads, tasks.length);
  let loading = threads;
  const life = (): Promise<void> =>
    new Promise((resolve) => {
      let loaded = false;
      const start = (given: number[]): void => {
        const thread = begun.shift() ?? new Thread<Task, Answer>(worker);
        // What the thread has, the one it is at first.
        const queue = given;
        let over = false;
        const send = (index: number): void => { thread.send(index, tasks[index] as Task); };
        const fill = (): void => {
          for (let index = queue.length < AT_ONCE ? take() : undefined; index !== undefined; index = queue.length < AT_ONCE ? take() : undefined) {
            queue.push(index);
            send(index);
          }
        };
        const died = (reason: string): void => {
          if (over) return;
          over = true;
          const [lost, ...kept] = queue;
          if (lost !== undefined) tell(lost, options.lost(tasks[lost] as Task, reason));
          const following = kept.length > 0 ? kept : [take()].filter((index) => index !== undefined);
          if (following.length === 0 || ending) resolve();
          else start(following);
        };
        const answered = ({ index, answer }: Answered<Answer>): void => {
          queue.splice(queue.indexOf(index), 1);
          tell(index, answer);
          fill();
          if (queue.length > 0) return;
          over = true;
          // Not waited for: it has nothing to do any more, and others may have.
          thread.end();
          resolve();
        };
        queue.forEach(send);
        fill();
        thread.listen((heard) => {
          if (heard !== LOADED) {
            if ('ended' in heard) died(heard.ended);
            else answered(heard);
            return;
          }
          if (!loaded && (loading -= 1) === 0) options.loaded?.();
          loaded = true;
        });
      };
      const first = take();
      if (first === undefined) resolve();
      else start([first]);
    });
  const lives = Array.from({ length: threads }, life);
  for (const thread of begun.splice(0)) thread.end();
  await Promise.all(lives);
  await told;
  if (failure !== undefined) throw failure.cause;
}

/** Where a compiled thread module lies: beside the compiled program, or above its chunks. Undefined when the sources run uncompiled. */
export const compiledThread = (name: string, from: string): URL | undefined =>
  [`./${name}`, `../${name}`].map((path) => new URL(path, from)).find((url) => existsSync(url));

/** The other side, in the thread's own module: does one task after the other, however many wait. */
export function answerInTurn<Task, Answer>(answer: (task: Task) => Promise<Answer>): void {
  let turn: Promise<void> = Promise.resolve();
  parentPort?.on('message', ({ index, task }: Sent<Task>) => {
    turn = turn.then(async () => { parentPort?.postMessage({ index, answer: await answer(task) } satisfies Answered<Answer>); });
  });
  parentPort?.postMessage(LOADED);
}
