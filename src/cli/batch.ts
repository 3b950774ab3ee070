/** Many logs in one call: a thread a core, one line a log, one summary with the failures at its end. */
import { statSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { known } from '../known.js';
import { problemLine } from '../problems.js';
import { compiledThread, endThreads, inThreads, startThread, type Thread } from '../threads.js';
import { NOWHERE, type Io } from './io.js';
import { brokenResult, runJob, type Job, type JobResult } from './job.js';
import { RECORDS, spokenName } from './names.js';
import { removeParts, stopsItself } from './output.js';
import { progressBar } from './progress.js';
import { objectOf, printable, tellProblems, type Talk } from './report.js';
import { dieOf, onEndingSignal, statusAfter, type EndingSignal } from './signals.js';
import { clockOf, counted } from './summary.js';

export interface BatchOptions {
  /** Threads (default: one a core). */
  readonly threads?: number;
  /** Those of them that have begun already: see `beginThreads`. */
  readonly begun?: readonly JobThread[];
  readonly talk: Talk;
  /** What was asked for and is not there: told of already, and counted and listed with what failed. */
  readonly missing?: readonly JobResult[];
}

/** Below this many logs a thread costs more than it brings. */
const WORTH_A_THREAD = 16;

/** A thread of a batch. */
export type JobThread = Thread<Job, JobResult>;

const threadModule = (): URL | undefined => compiledThread('job-thread.cjs', import.meta.url);

/** How many threads a batch of so many logs is worth, of as many as were asked for (default: one a core). */
const threadsFor = (logs: number, threads = availableParallelism()): number => Math.max(1, Math.min(threads, Math.floor(logs / WORTH_A_THREAD)));

/** The threads beside this one for a batch, which load their code while its logs are still being found. */
export function beginThreads(logs: number, threads?: number): JobThread[] {
  const module = threadModule();
  if (module === undefined) return [];
  return Array.from({ length: threadsFor(logs, threads) - 1 }, () => startThread<Job, JobResult>(module)).filter((thread) => thread !== undefined);
}

/** A log from this many bytes on takes so long that a signal should not have to wait for it. */
const LARGE = 1_000_000;

function isLarge({ log, cwd, bytes }: Job): boolean {
  if (bytes !== undefined) return bytes.length >= LARGE;
  try {
    return statSync(resolve(cwd, log)).size >= LARGE;
  } catch {
    return false;
  }
}

/** Standard input in memory that all threads see, not copied for each. */
function withSharedBytes(job: Job): Job {
  if (job.bytes === undefined) return job;
  const bytes = new Uint8Array(new SharedArrayBuffer(job.bytes.length));
  bytes.set(job.bytes);
  return { ...job, bytes };
}

/**
 * V8 optimises whatever is hot, again for each thread, and of a batch of small logs that is a quarter of the work, most of it for code that
 * runs once a log. So it is told to wait longer; what a large log is made of is optimised all the same. Only once the code of every
 * thread is loaded: told earlier, V8 would not take what was compiled at the build. Node 20 alone has this flag: later ones have a
 * compiler in between, and say of flags that they do not know.
 */
function optimiseLater(): void {
  if (process.versions.v8.startsWith('11.3.')) setFlagsFromString('--interrupt-budget=400000');
}

/** What became of the logs. Threads end in any order; logs are told of in theirs, so that the same call says the same text. */
class Results {
  status = 0;
  converted = 0;
  current = 0;
  /** What a folder held that is no log. */
  leftOut = 0;
  /** How many ended, told of or not. */
  done = 0;
  readonly failed: JobResult[];
  readonly #early = new Map<number, JobResult>();
  #turn = 0;

  constructor(missing: readonly JobResult[], readonly talk: Talk, readonly io: Io) {
    this.failed = [...missing];
  }

  async add(index: number, result: JobResult): Promise<void> {
    this.done += 1;
    this.#early.set(index, result);
    for (let next = this.#early.get(this.#turn); next !== undefined; next = this.#early.get(this.#turn)) {
      this.#early.delete(this.#turn);
      this.#turn += 1;
      this.status = Math.max(this.status, next.status);
      if (next.status !== 0) this.failed.push(next);
      else if (next.leftOut === true) this.leftOut += 1;
      else if (next.current === true) this.current += 1;
      else this.converted += 1;
      await tellShort(next, this.talk, this.io);
    }
  }
}

/** Signals that end, while a batch runs: at the first no further log is begun, a second one ends the process. */
class Stop {
  readonly #controller = new AbortController();
  readonly #undo: () => void;
  #ending: Promise<void> | undefined;
  /** The last one. */
  by: EndingSignal | undefined;

  constructor(jobs: readonly Job[]) {
    stopsItself();
    this.#undo = onEndingSignal((signal) => {
      if (this.by !== undefined) this.#ending ??= endNow(jobs, signal);
      this.by = signal;
      this.#controller.abort();
    });
  }

  get signal(): AbortSignal {
    return this.#controller.signal;
  }

  /** True after a second signal: threads end in the middle of their logs, and nothing is told any more. */
  get isOver(): boolean {
    return this.#ending !== undefined;
  }

  /** Threads that are ended end the work, too: the process is not to end before all is cleared away. */
  async settle(): Promise<void> {
    await this.#ending;
    this.#undo();
  }
}

/**
 * Runs every job and tells of each; a log with errors never stops the others. Ctrl-C (or another signal that ends) lets the logs that are being written
 * finish, and begins no others; a second one ends it at once. Gives the exit status: the highest of all.
 */
export async function runBatch(jobs: readonly Job[], { talk, missing = [], begun, threads: asked }: BatchOptions, io: Io): Promise<number> {
  const start = Date.now();
  const bar = talk.quiet ? undefined : progressBar(io, 'logs');
  const results = new Results(missing, talk, io);
  const stop = new Stop(jobs);
  let died = false;
  try {
    const threads = threadsFor(jobs.length, asked);
    await inThreads<Job, JobResult>(threads > 1 ? jobs.map(withSharedBytes) : jobs, {
      module: threadModule(),
      threads,
      here: (job) => runJob(job, NOWHERE),
      takesPart: threads === 1 || !jobs.some(isLarge),
      each: async (index, result) => {
        if (stop.isOver) return;
        await bar?.clear();
        await results.add(index, result);
        bar?.show(results.done, jobs.length);
      },
      lost: ({ log }, reason) => {
        died = true;
        return brokenResult(log, reason);
      },
      signal: stop.signal,
      loaded: optimiseLater,
      ...known({ begun }),
    });
  } finally {
    await stop.settle();
    // What a thread that died was writing.
    if (died) removeParts(foldersOf(jobs));
    await bar?.clear();
  }
  if (!talk.quiet) await io.err.write(closing(jobs.length, missing.length, results, Date.now() - start, stop.by !== undefined));
  return stop.by === undefined ? results.status : statusAfter(stop.by);
}

/** Somebody does not want to wait for the logs in work: nothing half-written stays behind. */
async function endNow(jobs: readonly Job[], signal: EndingSignal): Promise<void> {
  await endThreads();
  removeParts(foldersOf(jobs));
  dieOf(signal);
}

/** Every folder that the jobs write into. */
const foldersOf = (jobs: readonly Job[]): Set<string> =>
  new Set(jobs.flatMap(({ cwd, folder, resume }) => {
    const at = folder === undefined ? undefined : resolve(cwd, folder);
    return at === undefined ? [] : resume === true ? [at, join(at, RECORDS)] : [at];
  }));

/** One line a log, and its errors and warnings; notes of a batch are in `--json` only. */
async function tellShort(result: JobResult, talk: Talk, io: Io): Promise<void> {
  await tellProblems({ ...result, problems: result.problems.filter(({ severity }) => severity !== 'note') }, talk, io);
  if (!talk.quiet) await io.err.write(printable(`${shortLine(result)}\n`));
  if (talk.json) await io.out.write(`${JSON.stringify(objectOf(result))}\n`);
}

/** True of a log that has errors and lists all the same: one of its formats could not hold it. */
const isPartly = ({ outputs, status }: Pick<JobResult, 'outputs' | 'status'>): boolean => status !== 0 && outputs.length > 0;

function shortLine({ log: given, outputs, facts, status, current, leftOut }: JobResult): string {
  const log = spokenName(given);
  if (isPartly({ outputs, status })) return `${log}: has errors; ${counted(outputs.length, 'list')} written all the same`;
  if (status !== 0) return `${log}: not converted`;
  if (leftOut === true) return `${log}: corrections, left out`;
  if (current === true) return `${log}: current`;
  return facts === undefined ? `${log}: done` : `${log}: ${counted(facts.shots, 'shot')} in ${clockOf(facts.seconds)} at ${facts.count}`;
}

/** The summary; `missing` of what was asked for was not there. */
function closing(logs: number, missing: number, { done, converted, current, leftOut, failed }: Results, milliseconds: number, interrupted: boolean): string {
  const total = logs + missing;
  const open = logs - done;
  const partly = failed.filter(isPartly);
  const not = failed.filter((one) => !isPartly(one));
  const some = (count: number, what: string): string => (count > 0 ? `${counted(count, what, '')}, ` : '');
  const lines = [
    // What is no log is not counted among them.
    `${counted(total - leftOut, 'log')}: ${counted(converted, 'converted', '')}, ${some(current, 'current')}${some(partly.length, 'with errors')}${counted(not.length, 'failed', '')}, in ${(milliseconds / 1000).toFixed(1)} s`,
    ...(interrupted ? [open === 0 ? 'interrupted, with every log done' : `interrupted: ${counted(open, 'log')} not begun`] : []),
    ...listed('with errors, and lists written all the same:', partly),
    ...listed('not converted:', not),
  ];
  return `${lines.join('\n')}\n`;
}

const listed = (title: string, logs: readonly JobResult[]): string[] => (logs.length === 0 ? [] : [title, ...logs.map((one) => `  ${printable(failureOf(one))}`)]);

/** A log and its first error: of what is said of an option, a show file or a list, the log is not told from the place. */
function failureOf({ log, problems }: JobResult): string {
  const [first, name] = [problems.find(({ severity }) => severity === 'error'), spokenName(log)];
  if (first === undefined) return name;
  return `${first.place?.file === name ? '' : `${name}: `}${problemLine(first)}`;
}
