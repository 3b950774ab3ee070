/** Tasks by number, each taken once by whichever thread asks first: in memory that all threads see. */

/** Cells of the memory, 32 bits each: the next number, whether no more are to be taken, then what each thread took last, one more than its number. */
const NEXT = 0;
const STOPPED = 1;
const TAKEN = 2;

export class TaskQueue {
  readonly memory: SharedArrayBuffer;
  readonly #cells: Int32Array;
  readonly #tasks: number;

  /** A new queue for so many threads; or, in another thread, the queue whose `memory` that is. */
  constructor(tasks: number, threads: number | SharedArrayBuffer) {
    this.memory = typeof threads === 'number' ? new SharedArrayBuffer((TAKEN + threads) * Int32Array.BYTES_PER_ELEMENT) : threads;
    this.#cells = new Int32Array(this.memory);
    this.#tasks = tasks;
  }

  /** The number of the next task, for the thread at this place (from 0); undefined when there is none, or no more are to be taken. */
  take(place: number): number | undefined {
    if (this.isOver) return undefined;
    const index = Atomics.add(this.#cells, NEXT, 1);
    if (index >= this.#tasks) return undefined;
    Atomics.store(this.#cells, TAKEN + place, index + 1);
    return index;
  }

  /** What the thread at this place took last; undefined when it took nothing, or nothing since `leave`. */
  at(place: number): number | undefined {
    const taken = Atomics.load(this.#cells, TAKEN + place);
    return taken === 0 ? undefined : taken - 1;
  }

  /** The thread at this place is no more: another may have its place. */
  leave(place: number): void {
    Atomics.store(this.#cells, TAKEN + place, 0);
  }

  /** No more are taken from here on. */
  stop(): void {
    Atomics.store(this.#cells, STOPPED, 1);
  }

  /** Whether there is nothing more to take. */
  get isOver(): boolean {
    return Atomics.load(this.#cells, STOPPED) !== 0 || Atomics.load(this.#cells, NEXT) >= this.#tasks;
  }
}
