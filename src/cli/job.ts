/** One log of a call: read its files, convert, write its lists. Plain data in, plain data out, so that it can run anywhere. */
import { dirname, extname, join, resolve } from 'node:path';
import { convertLog, type Converted, type ConvertOptions } from '../convert.js';
import type { Format } from '../formats/output.js';
import type { LoadInput } from '../load.js';
import type { Mapping } from '../log/mapping.js';
import { problem, ProblemList, type Code, type Problem, type Report, type Severity } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { listFacts, type ListFacts } from './facts.js';
import type { Sink } from './io.js';
import { listName, STANDARD } from './names.js';
import { bytesOf } from './input.js';
import { exists, FileSet, fileTrouble, prepareFolder } from './output.js';
import { removeStaleParts } from './stale.js';

export interface Job {
  /** As messages name it. */
  readonly log: string;
  /** What it holds, when it is standard input. */
  readonly bytes?: Uint8Array;
  readonly cwd: string;
  /** Folder for its lists, for a path in messages; undefined when they go to standard output. */
  readonly folder: string | undefined;
  /** Show file and mapping file, as they were given. */
  readonly show?: string;
  readonly map?: string;
  readonly force: boolean;
  readonly strict: boolean;
  readonly options: Omit<ConvertOptions, 'otio' | 'map' | 'maxBytes'> & { readonly maxBytes: number; readonly otio: Omit<ConvertOptions['otio'], 'base'> };
  /** Files that must not be written over even with `force`: everything that the call reads. */
  readonly reads: readonly string[];
}

export interface JobResult {
  readonly log: string;
  readonly outputs: readonly { readonly format: Format; readonly path: string }[];
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
  const report: Report = (one) => {
    if (job.strict && one.severity === 'warning') escalated = true;
    found.add(one);
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
  const read = await readInput(job, report);
  if (read === undefined) return end([]);
  const { input, map } = read;
  const converted = await convertLog(input, { ...job.options, otio: otioOptions(job, read), ...(map === undefined ? {} : { map }) }, report);
  if (converted.length === 0 || escalated) return end([]);
  if (job.folder === undefined) {
    const outputs = converted.flatMap((one) => one.outputs);
    if (outputs.length > 1) {
      report(problem('bad-option', `this log gives ${String(outputs.length)} files, and standard output holds one; give a folder`, { option: '--out' }));
      return end([]);
    }
    for (const text of gathered(outputs[0]?.chunks ?? [])) await out.write(text);
    return end([], converted);
  }
  const outputs = await write(job, job.folder, converted, report);
  return outputs === undefined ? end([]) : end(outputs, converted);
}

/** Exit status of what was found: 2 for trouble with files and usage, 1 for errors of the input. */
export function statusOf(problems: readonly Problem[]): number {
  let status = 0;
  for (const { severity, code, place } of problems) {
    if (severity !== 'error') continue;
    const trouble = code === 'unreadable' || code === 'file-exists' || code === 'same-output' || code === 'bad-option' || place?.option !== undefined;
    status = Math.max(status, trouble ? 2 : 1);
  }
  return status;
}

export interface Read {
  readonly input: LoadInput;
  readonly map?: Mapping;
  /** Absolute folder that media paths are relative to. */
  readonly base: string;
}

/** A log and what belongs to it, read from disk; undefined when something could not be, which was reported. */
export async function readInput(job: Job, report: Report): Promise<Read | undefined> {
  const show = await readShow(job, report);
  const map = job.map === undefined ? undefined : await readMap(job, job.map, report);
  const bytes = job.bytes ?? bytesOf(job.log, job.cwd, job.options.maxBytes, report);
  if (show === 'wrong' || (job.map !== undefined && map === undefined) || bytes === undefined) return undefined;
  const near = show?.file ?? (job.log === STANDARD ? '' : job.log);
  return {
    input: { name: job.log === STANDARD ? 'log' : job.log, bytes, title: listName(job.log), ...(show === undefined ? {} : { show }) },
    ...(map === undefined ? {} : { map }),
    base: dirname(resolve(job.cwd, near === '' ? '-' : near)),
  };
}

const otioOptions = (job: Job, { base }: Read): ConvertOptions['otio'] => ({
  ...job.options.otio,
  base,
  ...(job.folder === undefined ? {} : { folder: resolve(job.cwd, job.folder) }),
});

/** The show file that was given, else the one beside the log. */
async function readShow(job: Job, report: Report): Promise<{ file: string; show: ShowFile } | 'wrong' | undefined> {
  const beside = job.log === STANDARD ? undefined : `${job.log.slice(0, job.log.length - extname(job.log).length)}.show.json`;
  const file = job.show ?? (beside !== undefined && exists(resolve(job.cwd, beside)) ? beside : undefined);
  if (file === undefined) return undefined;
  const text = textOf(file, job, report);
  if (text === undefined) return 'wrong';
  const { readShowFile } = await import('../show/read.js');
  const show = readShowFile(text, file, report);
  return show === undefined ? 'wrong' : { file, show };
}

async function readMap(job: Job, file: string, report: Report): Promise<Mapping | undefined> {
  const text = textOf(file, job, report);
  if (text === undefined) return undefined;
  const { readMapping } = await import('../log/mapping-file.js');
  return readMapping(text, file, report);
}

/** Small files of JSON: at most this many bytes. */
const MAX_SMALL = 64 * 1024 * 1024;

function textOf(file: string, job: Job, report: Report): string | undefined {
  const bytes = bytesOf(file, job.cwd, MAX_SMALL, report);
  return bytes === undefined ? undefined : new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
}

/** Writes every output, or none; undefined when none could be, which was reported. */
async function write(job: Job, folder: string, converted: readonly Converted[], report: Report): Promise<{ format: Format; path: string }[] | undefined> {
  const outputs = converted.flatMap(({ name, outputs: made }) =>
    made.map(({ format, suffix, chunks }) => ({ list: name, format, chunks, path: join(folder, `${listName(job.log)}${name}${suffix}`) })));
  const inTheWay = outputs.filter(({ path }) => job.reads.includes(resolve(job.cwd, path)) || (!job.force && exists(resolve(job.cwd, path))));
  for (const { path } of inTheWay) {
    const own = job.reads.includes(resolve(job.cwd, path));
    report(problem('file-exists', own ? 'this file is read by the same call and is not written over; choose another folder' : 'is there already; --force replaces it', { file: path }));
  }
  if (inTheWay.length > 0) return undefined;
  const files = new FileSet();
  let at = folder;
  try {
    prepareFolder(resolve(job.cwd, folder));
    for (const { path, chunks } of outputs) {
      at = path;
      await files.write(resolve(job.cwd, path), chunks);
    }
    files.commit();
    if (job.force) {
      for (const { name } of converted) {
        const edls = outputs.filter((one) => one.format === 'edl' && one.list === name).map(({ path }) => resolve(job.cwd, path));
        removeStaleParts(`${listName(job.log)}${name}`, edls);
      }
    }
    return outputs.map(({ format, path }) => ({ format, path }));
  } catch (cause) {
    files.discard();
    if ((cause as NodeJS.ErrnoException).code === undefined) throw cause;
    report(problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: at }));
    return undefined;
  }
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
