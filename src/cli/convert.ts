/** `linecut convert`: logs in, lists out. */
import { dirname, join, resolve } from 'node:path';
import { roughText } from '../byte-order-mark.js';
import { formatOf } from '../formats/endings.js';
import { FORMATS } from '../formats/output.js';
import { known } from '../known.js';
import { MAX_BYTES } from '../log/limits.js';
import { isFolder } from '../path-kind.js';
import { problem, ProblemList, type Problem } from '../problems.js';
import { Adjusting } from './adjusting.js';
import type { Call, Command, Values } from './command.js';
import { bytesOf, tooMuchInput } from './input.js';
import { withoutParts } from './edl-parts.js';
import { expandLogs, expectedLogs, type LogInput } from './inputs.js';
import type { Io } from './io.js';
import { runJob, type Job, type JobResult } from './job.js';
import { loadOptions } from './loading.js';
import { nameClashes, namesBeside, STANDARD } from './names.js';
import * as option from './options.js';
import { removeParts, stopsItself } from './output.js';
import { complain, tell, type Talk } from './report.js';
import { dieOf, onEndingSignal } from './signals.js';

const ADJUSTING = new Adjusting('Adjusting the list', { cutsOnly: option.CUTS_ONLY });

export const convert: Command = {
  name: 'convert',
  summary: 'a log, EDL or OTIO in; EDL, OTIO and chapters out',
  description: [
    'Turns the switching log of a live show into cut lists: EDL (CMX3600 layout), OTIO and chapters, named after the log.',
    'LOG is CSV or XML, or a list to be written in other formats (EDL, OTIO); - is standard input.',
    'A show file NAME.show.json beside NAME.csv is found by itself.',
    'Exit status: 0 done, 1 a log has errors, 2 wrong usage or a file that cannot be read or written.',
  ].join('\n'),
  args: [{ name: 'LOG', help: 'logs, folders of logs, globs, or - for standard input', many: true, optional: true }],
  options: [
    option.OUT, option.TO, option.FORCE,
    option.SHOW, option.MAP, option.MEDIA_ROOT, option.RATE, option.TIME_AS, option.LOG_RATE, option.ROUNDING, option.ANCHOR,
    option.TITLE, option.START, option.END, option.AUDIO, option.TAKES, option.DISSOLVE_AT, option.CUTS_ONLY,
    ...ADJUSTING.options,
    option.NEWLINE, option.REEL_LENGTH, option.EDL_ORDER, option.PATHS, option.PRETTY, option.ANGLES,
    option.CHAPTERS_FROM, option.CHAPTERS_MIN, option.CHAPTERS_AS,
    option.EXPLAIN, option.WRITE_MAP, option.MAX_ROWS, option.MAX_BYTES,
    option.LOGS_FROM, option.JOBS, option.RESUME, option.WATCH, option.SETTLE,
    option.STRICT, option.QUIET, option.JSON_LINES,
  ],
  examples: [
    { says: 'EDL, OTIO and chapters of a show, into the folder lists', command: 'linecut convert harbour-kitchen-14.csv -o lists' },
    { says: 'a log that says nothing about the show', command: 'linecut convert log.csv --rate 29.97df --audio 1 --title "Harbour Kitchen 14"' },
    { says: 'only the EDL, on standard output', command: 'linecut convert log.csv --rate 25 --to edl -o -' },
    { says: 'how a log in its own columns would be read; then a mapping to edit', command: 'linecut convert --explain --write-map switcher.map.json log.csv' },
    { says: 'what became of each log, for a script', command: 'linecut convert shows/*.csv -o lists --json --quiet' },
  ],
  run,
};

async function run(call: Call): Promise<number> {
  const { values, io } = call;
  const args = await namesOf(call);
  if (args === undefined) return 2;
  if (values.has(option.WATCH)) return watch(args, values, io);
  const threads = values.get(option.JOBS);
  const explaining = values.has(option.EXPLAIN) || values.has(option.WRITE_MAP);
  const expected = explaining ? 0 : expectedLogs(args, io.cwd);
  const begun = expected > 1 ? (await import('./batch.js')).beginThreads(expected, threads) : [];
  const { logs: all, problems } = await expandLogs(args, io.cwd);
  const { logs, parts } = withoutParts(withoutCorrections(all, values, io.cwd), io.cwd);
  const wrong = [...nameClashes(logs), ...usageFaults(logs.map(({ path }) => path), values)];
  await complain(wrong, io);
  if (wrong.length > 0) return 2;
  const reads = readsOf([...logs.map(({ path }) => path), ...parts], values, io.cwd);
  const beside = namesBeside(logs);
  const jobOf = jobMaker(reads, values, io.cwd);
  const talk = talkOf(values);
  const missing = problems.map((found): JobResult => ({ log: found.place?.file ?? '', outputs: [], problems: [found], dropped: [], status: 2 }));
  for (const one of missing) await tell(one, talk, io);
  const status = missing.length > 0 ? 2 : 0;
  const jobs = await Promise.all(logs.map((log) => withStandardInput({ ...jobOf(log), ...known({ beside: beside.get(log.path) }) }, io)));
  if (explaining) {
    const { explain } = await import('./explain.js');
    const explained = await explain(jobs, values, io);
    if (values.has(option.EXPLAIN) || explained === 2) return Math.max(status, explained);
  }
  const [first, ...more] = jobs;
  if (first === undefined) return status;
  if (more.length > 0) {
    const { runBatch } = await import('./batch.js');
    return Math.max(status, await runBatch(jobs, { talk, missing, begun, ...known({ threads }) }, io));
  }
  const result = await runJob(first, io.out);
  await tell(result, talk, io);
  return Math.max(status, result.status);
}

/** Corrections that lie in the folder of their log are found with it. */
function withoutCorrections(logs: LogInput[], values: Values, cwd: string): LogInput[] {
  const corrections = values.get(ADJUSTING.corrections);
  if (corrections === undefined) return logs;
  const path = resolve(cwd, corrections);
  return logs.filter((log) => log.found !== true || resolve(cwd, log.path) !== path);
}

const talkOf = (values: Values): Talk => ({ quiet: values.has(option.QUIET), json: values.has(option.JSON_LINES) });

/** The names on the command line, and those of --logs-from; undefined when there is none, which was said. */
async function namesOf({ args, values, io }: Call): Promise<readonly string[] | undefined> {
  const list = values.get(option.LOGS_FROM);
  const names = [...args];
  if (list !== undefined) {
    const found = new ProblemList();
    const most = Math.max(values.get(option.MAX_BYTES) ?? 0, MAX_BYTES);
    const bytes = list === STANDARD ? (await io.readStdin(most)) ?? tooMuchInput(most, found.add) : bytesOf(list, io.cwd, most, found.add);
    await complain(found.problems, io);
    if (bytes === undefined) return undefined;
    names.push(...namesIn(roughText(bytes)));
  }
  if (names.length > 0) return names;
  await complain([problem('bad-option', list === undefined ? 'no LOG was given' : `${list} names no log`)], io);
  return undefined;
}

/** Names, one a line, blank lines left out; or each with a NUL behind it (`find -print0`), and then exactly as they stand. */
function namesIn(text: string): string[] {
  const names = text.includes('\0') ? text.split('\0') : text.split(/\r?\n/).map((line) => line.trim());
  return names.filter((name) => name !== '');
}

async function watch(folders: readonly string[], values: Values, io: Io): Promise<number> {
  const wrong = [
    ...folders.filter((folder) => !isFolder(resolve(io.cwd, folder))).map((folder) => problem('unreadable', 'is no folder that can be watched', { file: folder })),
    ...(values.get(option.OUT) === STANDARD ? [problem('bad-option', 'a watched folder needs a folder for its lists', { option: '--out' })] : []),
    ...[option.EXPLAIN, option.WRITE_MAP].filter((one) => values.has(one)).map(({ name }) => problem('bad-option', 'is for logs that are there, not for a watched folder', { option: `--${name}` })),
    ...(values.has(ADJUSTING.corrections) ? [problem('bad-option', 'corrections are of one list, and a watched folder may hold many logs', { option: `--${ADJUSTING.corrections.name}` })] : []),
    ...ADJUSTING.faults(values, 1),
  ];
  await complain(wrong, io);
  if (wrong.length > 0) return 2;
  const stop = new AbortController();
  stopsItself();
  onEndingSignal((signal) => {
    if (!stop.signal.aborted) {
      stop.abort();
      return;
    }
    removeParts();
    dieOf(signal);
  });
  const { watchFolders } = await import('./watch.js');
  const jobOf = jobMaker(readsOf([], values, io.cwd), values, io.cwd);
  return watchFolders(folders, {
    settle: values.get(option.SETTLE) ?? 2000,
    talk: talkOf(values),
    jobOf: (log) => ({ ...jobOf(log), resume: true, reads: [resolve(io.cwd, log.path)] }),
    signal: stop.signal,
  }, io);
}

/** A job with the bytes of standard input, where that is its log: they can be read once. */
async function withStandardInput(job: Job, io: Io): Promise<Job> {
  if (job.log !== STANDARD) return job;
  const bytes = await io.readStdin(job.options.maxBytes);
  return bytes === undefined ? job : { ...job, bytes };
}

/** What the table of options cannot refuse by itself. */
function usageFaults(logs: readonly string[], values: Values): Problem[] {
  const faults: Problem[] = [];
  const wrong = (message: string, of: { readonly name: string }): void => {
    faults.push(problem('bad-option', message, { option: `--${of.name}` }));
  };
  if (values.get(option.OUT) === STANDARD && !values.has(option.EXPLAIN)) {
    if (logs.length > 1) wrong(`standard output holds one log, and there are ${String(logs.length)}; give a folder`, option.OUT);
    if (values.get(option.TO)?.length !== 1) wrong('standard output holds one format; say which with --to', option.OUT);
    if (values.has(option.JSON_LINES)) wrong('standard output is taken by --out -', option.JSON_LINES);
  }
  if (values.has(option.EXPLAIN) && values.has(option.JSON_LINES)) wrong('standard output is taken by --explain', option.JSON_LINES);
  if (values.has(option.WRITE_MAP) && logs.length > 1) wrong(`a mapping is of one log, and there are ${String(logs.length)}`, option.WRITE_MAP);
  if (values.get(option.LOGS_FROM) === STANDARD && logs.includes(STANDARD)) wrong('standard input holds the names of logs, so it is no log itself', option.LOGS_FROM);
  faults.push(...ADJUSTING.faults(values, logs.length));
  return faults;
}

/** What a call reads, by folder: lists must not be written over it. Among a thousand logs beside one another, only those that are called like a list could be. */
function readsOf(logs: readonly string[], values: Values, cwd: string): ReadonlyMap<string, readonly string[]> {
  const reads = new Map<string, string[]>();
  for (const path of [...logs.filter((path) => formatOf(path) !== undefined), values.get(option.SHOW), values.get(option.MAP), values.get(ADJUSTING.corrections)]) {
    if (path === undefined || path === STANDARD) continue;
    const full = resolve(cwd, path);
    const folder = reads.get(dirname(full));
    if (folder === undefined) reads.set(dirname(full), [full]);
    else folder.push(full);
  }
  return reads;
}

/** What makes a job of a log: all that the options say is the same for every log of a call. */
function jobMaker(reads: ReadonlyMap<string, readonly string[]>, values: Values, cwd: string): (log: LogInput) => Job {
  const out = values.get(option.OUT) ?? '';
  const common = {
    cwd,
    force: values.has(option.FORCE),
    strict: values.has(option.STRICT),
    resume: values.has(option.RESUME),
    ...known({ show: values.get(option.SHOW), map: values.get(option.MAP), mediaRoot: values.get(option.MEDIA_ROOT), corrections: values.get(ADJUSTING.corrections) }),
    options: {
      to: values.get(option.TO) ?? FORMATS.filter((format) => format !== 'cutlog'),
      maxBytes: MAX_BYTES,
      otio: known({ paths: values.get(option.PATHS), pretty: values.get(option.PRETTY) }),
      edl: known({ newline: values.get(option.NEWLINE), reelLength: values.get(option.REEL_LENGTH), order: values.get(option.EDL_ORDER) }),
      chapters: known({ from: values.get(option.CHAPTERS_FROM), least: values.get(option.CHAPTERS_MIN), as: values.get(option.CHAPTERS_AS) }),
      ...loadOptions(values),
      ...known({ adjust: ADJUSTING.rules(values) }),
    },
  };
  return ({ path, folder, found }) => ({
    ...known({ found }),
    ...common,
    log: path,
    folder: out === STANDARD ? undefined : join(out, folder),
    reads: reads.size === 0 ? [] : (reads.get(resolve(cwd, out, folder)) ?? []),
  });
}
