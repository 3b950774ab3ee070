/** One log of a call: read its files, convert, write its lists. Plain data in, plain data out, so that it can run anywhere. */
import { basename, dirname, extname, join, resolve } from 'node:path';
import { convertLog, type Converted, type ConvertOptions } from '../convert.js';
import type { Correction } from '../cutlist/corrections.js';
import type { Format } from '../formats/output.js';
import type { LoadInput } from '../load.js';
import type { Mapping } from '../log/mapping.js';
import { problem, ProblemList, type Code, type Problem, type Report, type Severity } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { fileTrouble } from '../trouble.js';
import { VERSION } from '../version.js';
import { listFacts, type ListFacts } from './facts.js';
import type { Sink } from './io.js';
import { listName, nameKey, spokenName, STANDARD } from './names.js';
import { bytesOf } from './input.js';
import { exists, FileSet, prepareFolder } from './output.js';
import type * as Resume from './resume.js';
import { leftEdl, removeStaleParts } from './stale.js';

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
  if (known?.current !== undefined) return { ...end(known.current), current: true };
  const read = await readInput(job, report);
  if (read === undefined) return end([]);
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
  const outputs = isRefused() ? undefined : await write(job, job.folder, converted, known, report);
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
  readonly corrections?: readonly Correction[];
  /** Absolute folder that media paths are relative to. */
  readonly base: string;
}

/** A log and what belongs to it, read from disk; undefined when something could not be, which was reported. */
export async function readInput(job: Job, report: Report): Promise<Read | undefined> {
  const show = await readShow(job, report);
  const map = job.map === undefined ? undefined : await readMap(job, job.map, report);
  const corrections = job.corrections === undefined ? undefined : await correctionsOf(job, job.corrections, report);
  const bytes = job.bytes ?? (job.log === STANDARD ? tooMuchInput(job, report) : bytesOf(job.log, job.cwd, job.options.maxBytes, report));
  if (show === 'wrong' || (job.map !== undefined && map === undefined) || (job.corrections !== undefined && corrections === undefined) || bytes === undefined) return undefined;
  const near = show?.file ?? (job.log === STANDARD ? '' : job.log);
  return {
    input: { name: spokenName(job.log), bytes, title: listName(job.log), ...(show === undefined ? {} : { show }) },
    ...(map === undefined ? {} : { map }),
    ...(corrections === undefined ? {} : { corrections }),
    base: dirname(resolve(job.cwd, near === '' ? '-' : near)),
  };
}

/** Standard input without bytes is one that passed its limit. */
function tooMuchInput({ options }: Job, report: Report): undefined {
  report(problem('too-large', `standard input passes the limit of ${String(options.maxBytes)} bytes; --max-bytes raises it`, { file: 'log' }));
}

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

/** Path of the show file that was given, else of the one beside the log. */
function showPath(job: Job): string | undefined {
  const beside = job.log === STANDARD ? undefined : `${job.log.slice(0, job.log.length - extname(job.log).length)}.show.json`;
  return job.show ?? (beside !== undefined && exists(resolve(job.cwd, beside)) ? beside : undefined);
}

async function readShow(job: Job, report: Report): Promise<{ file: string; show: ShowFile } | 'wrong' | undefined> {
  const file = showPath(job);
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

async function correctionsOf(job: Job, file: string, report: Report): Promise<readonly Correction[] | undefined> {
  const text = textOf(file, job, report);
  if (text === undefined) return undefined;
  const { readCorrections } = await import('../cutlist/corrections-read.js');
  return readCorrections(text, file, report);
}

/** Small files of JSON: at most this many bytes. */
const MAX_SMALL = 64 * 1024 * 1024;

function textOf(file: string, job: Job, report: Report): string | undefined {
  const bytes = bytesOf(file, job.cwd, MAX_SMALL, report);
  return bytes === undefined ? undefined : new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
}

/** What is known of the last run with this log; `current` are its lists, when nothing that they depend on has changed. */
interface LastRun {
  /** Loaded for jobs that resume alone: digests need Node's cryptography, which is slow to start. */
  readonly resume: typeof Resume;
  readonly key: string;
  readonly record: Resume.RunRecord | undefined;
  readonly current?: { readonly format: Format; readonly path: string }[];
}

/** Undefined when the inputs cannot be read: the run that follows says so. */
async function lastRun(job: Job): Promise<LastRun | undefined> {
  if (job.folder === undefined) return undefined;
  const resume = await import('./resume.js');
  const { cwd, folder, options, strict } = job;
  const inputs = [job.log, showPath(job), job.map, job.corrections].filter((path) => path !== undefined);
  const parts: (string | Uint8Array)[] = [VERSION, JSON.stringify({ options, strict, mediaRoot: job.mediaRoot })];
  for (const path of [...new Set(inputs)]) {
    const bytes = path === STANDARD ? job.bytes : bytesOf(path, cwd, options.maxBytes, () => undefined);
    if (bytes === undefined) return undefined;
    parts.push(resolve(cwd, path), bytes);
  }
  const key = resume.runKey(parts);
  const at = resolve(cwd, folder);
  const record = resume.readRecord(at, listName(job.log));
  // Where the recordings are may have changed without a trace in any input.
  if (job.mediaRoot !== undefined || !resume.isCurrent(record, key, at)) return { resume, key, record };
  return { resume, key, record, current: record.files.map(({ name, format }) => ({ format, path: join(folder, name) })) };
}

/** Writes every output, or none; undefined when none could be, which was reported. */
async function write(job: Job, folder: string, converted: readonly Converted[], last: LastRun | undefined, report: Report): Promise<{ format: Format; path: string }[] | undefined> {
  // A cutlog holds the log as a whole, whichever take's list it comes with.
  const outputs = converted.flatMap(({ name, outputs: made }) =>
    made.map(({ format, suffix, chunks }) => ({ list: name, format, chunks, path: join(folder, `${listName(job.log)}${format === 'cutlog' ? '' : name}${suffix}`) })));
  const target = (path: string): string => resolve(job.cwd, path);
  if (inTheWay(outputs.map(({ path }) => path), job, report)) return undefined;
  const asks = !job.force && last === undefined;
  if (refused(outputs.map(({ path }) => path), (path) => !asks || !exists(target(path)), job, report)) return undefined;
  const files = new FileSet();
  let at = folder;
  try {
    prepareFolder(target(folder));
    for (const { path, chunks } of outputs) {
      at = path;
      await files.write(target(path), chunks);
    }
    if (last !== undefined) {
      const parts = new Map(files.parts.map(({ part, target: to }) => [to, part]));
      const mine = (path: string): boolean => job.force || last.resume.isOurs(target(path), last.record, parts.get(target(path)) ?? '');
      if (refused(outputs.map(({ path }) => path), mine, job, report)) {
        files.discard();
        return undefined;
      }
      at = join(folder, '.linecut');
      await last.resume.saveRecord(target(folder), listName(job.log), last.key, outputs.map(({ format, path }) => ({ format, path: target(path) })), false);
      at = folder;
    }
    files.commit();
    if (job.force || last !== undefined) {
      for (const { name } of converted) {
        const edls = outputs.filter((one) => one.format === 'edl' && one.list === name).map(({ path }) => target(path));
        removeStaleParts(`${listName(job.log)}${name}`, edls, job.beside);
      }
    }
    if (last !== undefined) {
      await last.resume.saveRecord(target(folder), listName(job.log), last.key, outputs.map(({ format, path }) => ({ format, path: target(path) })), true);
    }
    return outputs.map(({ format, path }) => ({ format, path }));
  } catch (cause) {
    files.discard();
    if ((cause as NodeJS.ErrnoException).code === undefined) throw cause;
    report(problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: at }));
    return undefined;
  }
}

/** An EDL that stays beside the new lists although these could not be written as one: nobody is to take it for theirs. */
function warnOfLeftEdls({ log, cwd, beside, options }: Job, folder: string, converted: readonly Converted[], report: Report): void {
  if (!options.to.includes('edl')) return;
  for (const { name, outputs } of converted) {
    const left = outputs.some(({ format }) => format === 'edl') ? undefined : leftEdl(resolve(cwd, folder), `${listName(log)}${name}`, beside);
    if (left !== undefined) report(problem('file-exists', 'is of an earlier run: this list could not be written as an EDL', { file: join(folder, left) }, 'warning'));
  }
}

/** Reports, once for each, the logs of the call whose own lists would be written over; true when there is one. */
function inTheWay(paths: readonly string[], job: Job, report: Report): boolean {
  const { beside } = job;
  if (beside === undefined) return false;
  const told = new Set<string>();
  for (const path of paths) {
    const other = beside.get(nameKey(basename(path).replace(/(?:\.chapters|\.cutlog)?\.[^.]+$/, '')));
    if (other === undefined || told.has(other)) continue;
    told.add(other);
    report(problem('same-output', `${path} would be written over the lists of ${other}; convert them in two calls, into different folders`, { file: job.log }));
  }
  return told.size > 0;
}

/** Reports every path that must not be written over; true when there is one. What the call reads is never written over. */
function refused(paths: readonly string[], free: (path: string) => boolean, job: Job, report: Report): boolean {
  let found = false;
  for (const path of paths) {
    const own = job.reads.includes(resolve(job.cwd, path));
    if (!own && free(path)) continue;
    found = true;
    report(problem('file-exists', own ? 'this file is read by the same call and is not written over; choose another folder' : 'is there already; --force replaces it', { file: path }));
  }
  return found;
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
