/** A watched folder: every log that arrives is converted once, when it has finished arriving. */
import { setTimeout as sleep } from 'node:timers/promises';
import { problem, problemLine } from '../problems.js';
import type { LogInput } from './inputs.js';
import { NOWHERE, type Io } from './io.js';
import { brokenResult, runJob, type Job, type JobResult } from './job.js';
import { printable, tell, type Talk } from './report.js';
import { Bell, Eyes } from './watch-eyes.js';
import { lookInto, stateOf, type Look, type Seen } from './watch-look.js';
import { Names } from './watch-names.js';

export interface WatchOptions {
  /** A log counts as complete when nothing that it depends on has changed for this many milliseconds. */
  readonly settle: number;
  readonly talk: Talk;
  readonly jobOf: (log: LogInput) => Job;
  /** Told when the logs that were there already are known; for tests. */
  readonly ready?: () => void;
  readonly signal: AbortSignal;
}

/** How often something that is still arriving is looked at, and folders of which no event came (a share may have none), in milliseconds. */
const POLL = 100;
const RESCAN = 1000;

/** So many times as long as a look took, nobody looks again: while something arrives, and while nothing does. */
const PAUSE = { arriving: 4, idle: 50 } as const;

/** After trouble with files a log is tried again, later and later, in milliseconds. */
const RETRY = { first: 1000, last: 60_000 } as const;

/**
 * Watches folders until `signal` is aborted; gives 0. A log whose lists are current is passed over, so that nothing is
 * converted twice, whatever restarts or renames come; one that changes is converted again. Logs are taken one by one.
 *
 * Events only say that it is time for a look: what lies there counts, so that nothing is lost where an event was.
 */
export async function watchFolders(folders: readonly string[], options: WatchOptions, io: Io): Promise<number> {
  const { settle, talk, jobOf, signal } = options;
  const bell = new Bell();
  const eyes = new Eyes(folders, io, bell, talk);
  const logs = new Logs(options, io);
  signal.addEventListener('abort', bell.ring);
  try {
    for (let first = true; !signal.aborted; first = false) {
      const began = Date.now();
      const look = await lookInto(folders, io.cwd, jobOf);
      await eyes.compare(look);
      logs.take(look, began, first);
      if (first) {
        options.ready?.();
        if (!talk.quiet) await io.err.write(printable(`watching ${folders.join(', ')}; Ctrl-C ends it\n`));
      }
      const took = Date.now() - began;
      await logs.convertDue();
      const now = Date.now();
      const next = logs.areArriving ? Math.max(Math.min(POLL, settle), PAUSE.arriving * took, 1) : Math.max(Math.min(RESCAN, logs.nextTry - now), PAUSE.idle * took, 1);
      await bell.wait(next);
      // What rang is seldom alone.
      if (!signal.aborted) await sleep(Math.max(Math.min(POLL, settle) / 2, 1));
    }
  } finally {
    await eyes.close();
  }
  return 0;
}

/** What is known of one log. */
interface Kept {
  seen: Seen;
  /** Since when its state is what it is; long ago for one that lay there already, and was not being written. */
  since: number;
  /** It has been so for long enough, by the last look. */
  settled: boolean;
  /** Its state when it was last dealt with. */
  dealt?: string;
  /** After trouble with files: when it is tried again, after what pause, and what was said. */
  again?: { readonly at: number; readonly pause: number; readonly said: string };
}

/** The logs that lie in the folders: which are still arriving, which are to be converted. */
class Logs {
  readonly #kept = new Map<string, Kept>();
  readonly #names = new Names();

  constructor(
    readonly options: WatchOptions,
    readonly io: Io,
  ) {}

  /** Takes up what a look found that began at `began`, in milliseconds of the system's clock. */
  take({ logs, gone }: Look, began: number, isFirst: boolean): void {
    const now = Date.now();
    const { settle } = this.options;
    for (const [path, seen] of logs) {
      const kept = this.#kept.get(path);
      if (kept === undefined) {
        this.#names.add(seen.log);
        const settled = isFirst && began - seen.written > settle;
        this.#kept.set(path, { seen, since: settled ? 0 : now, settled });
      } else {
        if (kept.seen.state !== seen.state) kept.since = now;
        kept.settled = began - kept.since >= settle;
        kept.seen = seen;
      }
    }
    for (const [path, { seen }] of this.#kept) {
      // Logs of a folder that is not there are not gone: it may be a share that comes back.
      if (logs.has(path) || gone.has(seen.root)) continue;
      this.#kept.delete(path);
      // Who wanted its name has another chance.
      for (const other of this.#names.remove(seen.log)) delete this.#kept.get(other)?.dealt;
    }
  }

  get areArriving(): boolean {
    return [...this.#kept.values()].some(({ dealt, seen }) => dealt !== seen.state);
  }

  /** When the next log is tried again, in milliseconds of the system's clock. */
  get nextTry(): number {
    let next = Infinity;
    for (const { again } of this.#kept.values()) next = Math.min(next, again?.at ?? Infinity);
    return next;
  }

  /** Converts, one after the other, what has settled, and what is to be tried again. */
  async convertDue(): Promise<void> {
    for (const kept of this.#kept.values()) {
      if (this.options.signal.aborted) return;
      const isNew = kept.dealt !== kept.seen.state;
      if (isNew ? !kept.settled : Date.now() < (kept.again?.at ?? Infinity)) continue;
      // Others were converted since the look: one that changed meanwhile waits for the next.
      if (stateOf(kept.seen.job)?.state === kept.seen.state) await this.#deal(kept, isNew);
    }
  }

  async #deal(kept: Kept, isNew: boolean): Promise<void> {
    const { log, job, state } = kept.seen;
    kept.dealt = state;
    const other = this.#names.other(log, job);
    const result = other === undefined ? await runJob(job, NOWHERE).catch((cause: unknown) => brokenResult(log.path, cause)) : taken(log, other);
    const said = result.problems.map(problemLine).join('\n');
    const before = isNew ? undefined : kept.again;
    delete kept.again;
    if (result.status === 2 && other === undefined) {
      const pause = before === undefined ? RETRY.first : Math.min(2 * before.pause, RETRY.last);
      kept.again = { at: Date.now() + pause, pause, said };
    }
    if (result.current !== true && said !== before?.said) await tell(result, this.options.talk, this.io);
  }
}

const taken = ({ path, folder }: LogInput, other: string): JobResult => ({
  log: path,
  outputs: [],
  problems: [problem('same-output', `its lists would be written over those of ${other}; give it another name${folder === '' ? '' : `, or move it out of ${folder}`}`, { file: path })],
  dropped: [],
  status: 2,
});
