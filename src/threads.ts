/** Work spread over threads: each takes the next task as soon as it is free. Tasks and answers are plain data. */
import { existsSync } from 'node:fs';
import { parentPort, Worker } from 'node:worker_threads';
import { TaskQueue } from './task-queue.js';

/** What a thread is given: all tasks at once, and the queue from which it takes the number of the next. */
interface Work<Task> {
  readonly tasks: readonly Task[];
  readonly queue: SharedArrayBuffer;
  /** Its place in the queue. */
  readonly place: number;
}
interface Answered<Answer> {
  readonly index: number;
  readonly answer: Answer;
}

/** What a thread says first: its code is loaded. */
const LOADED = 'loaded';
/** What it says last: there is nothing to take any more. */
const DONE = 'done';

/** What is heard of a thread: that its code is loaded, an answer, that it has done all, that it is no more. */
type Heard<Answer> = typeof LOADED | typeof DONE | Answered<Answer> | { readonly ended: string };

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

  begin(work: Work<Task>, listener: (heard: Heard<Answer>) => void): void {
    this.#worker.ref();
    this.#worker.postMessage(work);
    this.#listener = listener;
    this.#early.splice(0).forEach(listener);
  }

  end(): void {
    void this.#worker.terminate();
  }
}

/** Begins a thread; undefined where the system allows no more of them. */
export function startThread<Task, Answer>(module: URL): Thread<Task, Answer> | undefined {
  try {
    return new Thread<Task, Answer>(module);
  } catch {
    return undefined;
  }
}

export interface ThreadOptions<Task, Answer> {
  /** The compiled module of a thread, which calls `answerAll`; without it, all is done in this thread. */
  readonly module: URL | undefined;
  /** How many threads work at the same time. */
  readonly threads: number;
  /** How a task is done in this thread. */
  readonly here: (task: Task) => Promise<Answer>;
  /**
   * Whether this thread is one of those that work. It hears of a signal between two tasks only, and nobody survives its death: where tasks
   * are large, let it do only what the others leave, since they could not begin.
   */
  readonly takesPart: boolean;
  /** Told of each answer as it comes; answers come in any order, one at a time. What it throws ends the work: see `inThreads`. */
  readonly each: (index: number, answer: Answer) => void | Promise<void>;
  /** The answer for a task that threw, or whose thread died under it. */
  readonly lost: (task: Task, reason: string) => Answer;
  /** No further task is begun once this is aborted; those that were are waited for. */
  readonly signal?: AbortSignal;
  /** Told once, when the code of all threads is loaded; never when one of them did not come so far. */
  readonly loaded?: () => void;
  /** Threads of the same module that have begun to load already: taken before new ones are made; ended where they are not needed. */
  readonly begun?: readonly Thread<Task, Answer>[];
}

/** The tasks of one `inThreads`, and who does them. */
class Spread<Task, Answer> {
  /** What `each` threw. */
  failure: { readonly cause: unknown } | undefined;
  readonly #queue: TaskQueue;
  readonly #begun: Thread<Task, Answer>[];
  readonly #answered = new Set<number>();
  /** One after the other: what is told of a task is never mixed with what is told of another. */
  #told: Promise<void> = Promise.resolve();
  #loading: number;

  /** `others`: threads beside this one. */
  constructor(readonly tasks: readonly Task[], readonly options: ThreadOptions<Task, Answer>, others: number) {
    this.#queue = new TaskQueue(tasks.length, others + 1);
    this.#begun = [...(options.begun ?? [])];
    this.#loading = others;
    if (others === 0) options.loaded?.();
  }

  /** No further task is begun. */
  stop(): void {
    this.#queue.stop();
  }

  /** Ends the threads that have begun already and that nobody took. */
  endUnused(): void {
    for (const thread of this.#begun.splice(0)) thread.end();
  }

  /** Resolves when all answers that came have been told. */
  settled(): Promise<void> {
    return this.#told;
  }

  /** Does in this thread what there is to take. */
  async here(): Promise<void> {
    for (let index = this.#queue.take(0); index !== undefined; index = this.#queue.take(0)) {
      const task = this.tasks[index] as Task;
      await this.#tell(index, await this.options.here(task).catch((cause: unknown) => this.options.lost(task, cause instanceof Error ? cause.message : String(cause))));
      // Lets answers of other threads, and signals, be heard between two tasks.
      await new Promise((resolve) => setImmediate(resolve));
    }
  }

  /** The same in another thread, at this place of the queue, and in those that take its place where one dies. */
  beside(place: number, module: URL): Promise<void> {
    let isLoaded = false;
    const loaded = (): void => {
      if (!isLoaded && (this.#loading -= 1) === 0) this.options.loaded?.();
      isLoaded = true;
    };
    return new Promise((resolve) => { this.#start(place, module, loaded, resolve); });
  }

  #start(place: number, module: URL, loaded: () => void, done: () => void): void {
    const thread = this.#begun.shift() ?? startThread<Task, Answer>(module);
    if (thread === undefined) {
      done();
      return;
    }
    let over = false;
    thread.begin({ tasks: this.tasks, queue: this.#queue.memory, place }, (heard) => {
      if (over) return;
      if (heard === LOADED) loaded();
      else if (heard === DONE) {
        // Its end is not waited for.
        over = true;
        done();
      } else if ('ended' in heard) {
        over = true;
        if (this.#lose(place, heard.ended)) this.#start(place, module, loaded, done);
        else done();
      } else void this.#tell(heard.index, heard.answer);
    });
  }

  /** The thread at this place is no more, nor is the task it was at. True where another is to take its place: one that took nothing would die again. */
  #lose(place: number, reason: string): boolean {
    const at = this.#queue.at(place);
    this.#queue.leave(place);
    if (at !== undefined && !this.#answered.has(at)) void this.#tell(at, this.options.lost(this.tasks[at] as Task, reason));
    return at !== undefined && !this.#queue.isOver && !ending;
  }

  #tell(index: number, answer: Answer): Promise<void> {
    this.#answered.add(index);
    this.#told = this.#told.then(() => (this.failure === undefined ? this.options.each(index, answer) : undefined)).catch((cause: unknown) => {
      this.failure = { cause };
      this.stop();
    });
    return this.#told;
  }
}

/**
 * Does every task, in this thread and in others beside it. A thread that dies costs the task it was at, not the rest: a new one takes its
 * place. One that dies before it took anything costs nothing, and has no successor. When `each` throws, nothing more is told and no further
 * task begun; those that were are waited for, and then it is thrown on.
 */
export async function inThreads<Task, Answer>(tasks: readonly Task[], options: ThreadOptions<Task, Answer>): Promise<void> {
  const { module, signal, takesPart } = options;
  const others = module === undefined ? 0 : Math.max(0, Math.min(options.threads, tasks.length) - (takesPart ? 1 : 0));
  const spread = new Spread(tasks, options, others);
  const stop = (): void => { spread.stop(); };
  if (signal?.aborted === true) stop();
  signal?.addEventListener('abort', stop);
  const all = module === undefined ? [] : Array.from({ length: others }, (_, other) => spread.beside(other + 1, module));
  spread.endUnused();
  await Promise.all(takesPart ? [...all, spread.here()] : all);
  // What is left where no thread could begin.
  await spread.here();
  await spread.settled();
  signal?.removeEventListener('abort', stop);
  if (spread.failure !== undefined) throw spread.failure.cause;
}

/** Where a compiled thread module lies: beside the compiled program, or above its chunks. Undefined when the sources run uncompiled. */
export const compiledThread = (name: string, from: string): URL | undefined =>
  [`./${name}`, `../${name}`].map((path) => new URL(path, from)).find((url) => existsSync(url));

/** The other side, in the thread's own module: does one task after the other until there is none to take. */
export function answerAll<Task, Answer>(answer: (task: Task) => Promise<Answer>): void {
  parentPort?.once('message', ({ tasks, queue: memory, place }: Work<Task>) => {
    const queue = new TaskQueue(tasks.length, memory);
    void (async () => {
      for (let index = queue.take(place); index !== undefined; index = queue.take(place)) {
        parentPort?.postMessage({ index, answer: await answer(tasks[index] as Task) } satisfies Answered<Answer>);
      }
      parentPort?.postMessage(DONE);
    })();
  });
  parentPort?.postMessage(LOADED);
}
