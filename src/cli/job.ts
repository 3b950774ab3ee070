/** One log of a call: read its files, convert, write its lists. Plain data in, plain data out, so that it can run anywhere. */
import { resolve } from 'node:path';
import { convertLog, type Converted, type ConvertOptions } from '../convert.js';
import type { Format } from '../formats/output.js';
import { problem, ProblemList, type Code, type Problem, type Report, type Severity } from '../problems.js';
import { listFacts, type ListFacts } from './facts.js';
import type { Sink } from './io.js';
import { readInput, type Read } from './job-input.js';
import { warnOfLeftEdls, writeLists } from './job-output.js';
import { lastRun } from './last-run.js';
import { spokenName } from './names.js';
import { statusOf } from './status.js';

export interface Job {
  /** As messages name it. */
  readonly log: string;
  /** True where a folder or glob found it: see `LogInput`. */
  readonly found?: true;
  /** What it holds, when it is standard input. */
  readonly bytes?: Uint8Array;
  readonly cwd: string;
  /** Folder for its lists, for a path in messages; undefined when they go to standard output. */
  readonly folder: string | undefined;
  /** Show file and mapping file, as they were given. */
  readonly show?: string;
  readonly map?: string;
  /** Corrections file, as it was given. */
  readonly corrections?: string;
  /** Folder below which recordings are sought, as it was given. */
  readonly mediaRoot?: string;
  readonly force: boolean;
  readonly strict: boolean;
  /** Pass over what is current, replace what an earlier run wrote: see resume.ts. */
  readonly resume?: boolean;
  readonly options: Omit<ConvertOptions, 'otio' | 'map' | 'maxBytes'> & { readonly maxBytes: number; readonly otio: Omit<ConvertOptions['otio'], 'base'> };
  /** Files that must not be written over even with `force`: everything that the call reads. */
  readonly reads: readonly string[];
  /** Names, as `nameKey` has them, that its lists may take but that other logs of the call have, with these logs: see `namesBeside`. */
  readonly beside?: ReadonlyMap<string, string>;
}

export interface JobResult {
  readonly log: string;
  readonly outputs: readonly { readonly format: Format; readonly path: string }[];
  /** True when an earlier run had made these lists already. */
  readonly current?: boolean;
  /** True of a file that is no log, and was only found beside logs. */
  readonly leftOut?: boolean;
  readonly facts?: ListFacts;
  readonly problems: readonly Problem[];
  /** Problems beyond those that are kept. */
  readonly dropped: readonly { readonly code: Code; readonly severity: Severity; readonly count: number }[];
  readonly status: number;
}

/** Runs a job; its only output goes to `out` where it has no folder. Never throws for what a file system or an input does. */
export async function runJob(job: Job, out: Sink): Promise<JobResult> {
  const found = new ProblemList({ strict: job.strict });
  let escalated = false;
  const isRefused = (): boolean => escalated;
  const report: Report = (one) => {
    if (job.strict && one.severity === 'warning') escalated = true;
    // Of many logs, each is named by what is said of its list as a whole.
    found.add(one.place === undefined ? { ...one, place: { file: spokenName(job.log) } } : one);
  };
  const end = (outputs: JobResult['outputs'], converted: readonly Converted[] = []): JobResult => {
    const facts = listFacts(converted.map(({ list }) => list));
    return {
      log: job.log,
      outputs,
      problems: found.problems,
      dropped: found.dropped,
      status: statusOf(found.problems),
      ...(facts === undefined ? {} : { facts }),
    };
  };
  const known = job.resume === true ? await lastRun(job) : undefined;
  if (known?.other !== undefined) {
    report(problem('same-output', `its lists would be written over those of ${known.other}; convert it into another folder`, { file: spokenName(job.log) }));
    return end([]);
  }
  if (known?.current !== undefined) return { ...end(known.current), current: true };
  const read = await readInput(job, report);
  if (read === undefined) return end([]);
  if (read === 'no log') return { ...end([]), leftOut: true };
  const { input, map, corrections } = read;
  const converted = await convertLog(input, { ...job.options, otio: otioOptions(job, read), ...(map === undefined ? {} : { map }), ...(corrections === undefined ? {} : { corrections }), ...relocation(job, read) }, report);
  if (converted.length === 0 || isRefused()) return end([]);
  if (job.folder === undefined) {
    const outputs = converted.flatMap((one) => one.outputs);
    if (outputs.length > 1) {
      report(problem('bad-option', `this log gives ${String(outputs.length)} files, and standard output holds one; give a folder`, { option: '--out' }));
      return end([]);
    }
    for (const text of gathered(outputs[0]?.chunks ?? [])) await out.write(text);
    return end([], converted);
  }
  warnOfLeftEdls(job, job.folder, converted, report);
  // Errors beside lists (one that could not be written in its format) are said by every run, until they are mended: none is to find this log current.
  const last = known !== undefined && found.hasErrors ? { ...known, key: undefined } : known;
  const outputs = isRefused() ? undefined : await writeLists(job, job.folder, converted, last, report);
  return outputs === undefined ? end([]) : end(outputs, converted);
}

/** A log on which we failed ourselves: it is told of, and others are converted. */
export const brokenResult = (log: string, cause: unknown): JobResult => ({
  log,
  outputs: [],
  problems: [problem('unreadable', `converting it failed: ${cause instanceof Error ? cause.message : String(cause)}`, { file: spokenName(log) })],
  dropped: [],
  status: 2,
});

const otioOptions = (job: Job, { base }: Read): ConvertOptions['otio'] => ({
  ...job.options.otio,
  base,
  ...(job.folder === undefined ? {} : { folder: resolve(job.cwd, job.folder) }),
});

/** How recordings are found again that were moved. */
function relocation(job: Job, { base }: Read): Pick<ConvertOptions, 'relocate'> {
  const { mediaRoot, cwd } = job;
  if (mediaRoot === undefined) return {};
  const { paths } = job.options.otio;
  return {
    relocate: async (sources, report) => {
      const { findBelow } = await import('../media/root.js');
      return findBelow(mediaRoot, sources, { base, cwd, ...(paths === undefined ? {} : { paths }) }, report);
    },
  };
}

/** Chunks in larger pieces: a stream costs more a write than a string costs to grow. */
function* gathered(chunks: Iterable<string>): Generator<string> {
  let text = '';
  for (const chunk of chunks) {
    text += chunk;
    if (text.length < 65_536) continue;
    yield text;
    text = '';
  }
  yield text;
}
