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

/**
 * Runs every job and tells of each; a log with errors never stops the others. Ctrl-C (or another signal that ends) lets the logs that are being written
 * finish, and begins no others; a second one ends it at once. Gives the exit status: the highest of all.
 */
export async function runBatch(jobs: readonly Job[], options: BatchOptions, io: Io): Promise<number> {
  const { talk } = options;
  const began = Date.now();
  const bar = talk.quiet ? undefined : progressBar(io, 'logs');
  const missing = options.missing ?? [];
  const failed: JobResult[] = [...missing];
  const count = { done: 0, converted: 0, current: 0, leftOut: 0 };
  let status = 0;
  // Threads end in any order; logs are told of in theirs, so that the same call says the same text.
  const early = new Map<number, JobResult>();
  let turn = 0;
  // After a second signal nothing is told any more: threads end in the middle of their logs.
  let over = false;
  let died = false;
  const each = async (index: number, result: JobResult): Promise<void> => {
    if (over) return;
    count.done += 1;
    early.set(index, result);
    await bar?.clear();
    for (let next = early.get(turn); next !== undefined; next = early.get(turn)) {
      early.delete(turn);
      turn += 1;
      status = Math.max(status, next.status);
      if (next.status !== 0) failed.push(next);
      else if (next.leftOut === true) count.leftOut += 1;
      else if (next.current === true) count.current += 1;
      else count.converted += 1;
      await tellShort(next, talk, io);
    }
    bar?.show(count.done, jobs.length);
  };
  const stop = new AbortController();
  let signalled: EndingSignal | undefined;
  let ending: Promise<void> | undefined;
  stopsItself();
  const undo = onEndingSignal((signal) => {
    if (signalled !== undefined) {
      over = true;
      ending ??= endNow(jobs, signal);
    }
    signalled = signal;
    stop.abort();
  });
  try {
    const threads = threadsFor(jobs.length, options.threads);
    await inThreads<Job, JobResult>(threads > 1 ? jobs.map(withSharedBytes) : jobs, {
      module: threadModule(),
      threads,
      here: (job) => runJob(job, NOWHERE),
      takesPart: threads === 1 || !jobs.some(isLarge),
      each,
      lost: ({ log }, reason) => {
        died = true;
        return brokenResult(log, reason);
      },
      signal: stop.signal,
      loaded: optimiseLater,
      ...known({ begun: options.begun }),
    });
  } finally {
    // Threads that are ended end the work, too: the process is not to end before all is cleared away.
    await ending;
    undo();
    // What a thread that died was writing.
    if (died) removeParts(foldersOf(jobs));
    await bar?.clear();
  }
  if (!talk.quiet) await io.err.write(closing(jobs.length + missing.length, { ...count, done: count.done + missing.length }, failed, Date.now() - began, stop.signal.aborted));
  return signalled === undefined ? status : statusAfter(signalled);
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

function closing(
  total: number, { done, converted, current, leftOut }: { readonly done: number; readonly converted: number; readonly current: number; readonly leftOut: number },
  failed: readonly JobResult[], milliseconds: number, interrupted: boolean,
): string {
  const open = total - done;
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
