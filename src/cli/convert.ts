/** `linecut convert`: logs in, lists out. */
import { join, resolve } from 'node:path';
import { FORMATS } from '../formats/output.js';
import { known } from '../known.js';
import { MAX_BYTES } from '../log/limits.js';
import { problem, type Problem } from '../problems.js';
import type { Call, Command, Values } from './command.js';
import { expandLogs, type LogInput } from './inputs.js';
import { runJob, type Job, type JobResult } from './job.js';
import { nameClashes, STANDARD } from './names.js';
import * as option from './options.js';
import { complain, tell } from './report.js';

export const convert: Command = {
  name: 'convert',
  summary: 'a log, EDL or OTIO in; EDL, OTIO and chapters out',
  description: [
    'Turns the switching log of a live show into cut lists: EDL (CMX3600 layout), OTIO and chapters, named after the log.',
    'LOG is CSV or XML, or a list to be written in other formats (EDL, OTIO); - is standard input.',
    'A show file NAME.show.json beside NAME.csv is found by itself.',
    'Exit status: 0 done, 1 a log has errors, 2 wrong usage or a file that cannot be read or written.',
  ].join('\n'),
  args: [{ name: 'LOG', help: 'logs, folders of logs, or - for standard input', many: true }],
  options: [
    option.OUT, option.TO, option.FORCE,
    option.SHOW, option.MAP, option.RATE, option.TIME_AS, option.LOG_RATE, option.ROUNDING, option.ANCHOR,
    option.TITLE, option.START, option.END, option.AUDIO, option.TAKES, option.DISSOLVE_AT, option.CUTS_ONLY,
    option.NEWLINE, option.REEL_LENGTH, option.EDL_ORDER, option.PATHS, option.ANGLES,
    option.CHAPTERS_FROM, option.CHAPTERS_MIN, option.CHAPTERS_AS,
    option.EXPLAIN, option.WRITE_MAP, option.MAX_ROWS, option.MAX_BYTES,
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

async function run({ args, values, io }: Call): Promise<number> {
  const { logs, problems } = await expandLogs(args, io.cwd);
  const wrong = [...nameClashes(logs), ...usageFaults(logs.map(({ path }) => path), values)];
  await complain(wrong, io);
  if (wrong.length > 0) return 2;
  if (values.has(option.EXPLAIN) || values.has(option.WRITE_MAP)) {
    const { explain } = await import('./explain.js');
    const status = await explain(logs.map((log) => jobOf(log, logs, values, io.cwd)), values, io);
    if (values.has(option.EXPLAIN) || status === 2) return problems.length > 0 ? 2 : status;
  }
  const talk = { quiet: values.has(option.QUIET), json: values.has(option.JSON_LINES) };
  let status = 0;
  const done = async (result: JobResult): Promise<void> => {
    await tell(result, talk, io);
    status = Math.max(status, result.status);
  };
  for (const found of problems) await done({ log: found.place?.file ?? '', outputs: [], problems: [found], dropped: [], status: 2 });
  for (const log of logs) {
    const job = jobOf(log, logs, values, io.cwd);
    if (log.path !== STANDARD) {
      await done(await runJob(job, io.out));
      continue;
    }
    const maxBytes = job.options.maxBytes;
    const bytes = await io.readStdin(maxBytes);
    if (bytes === undefined) await done(tooLarge(job, maxBytes));
    else await done(await runJob({ ...job, bytes }, io.out));
  }
  return status;
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
  if (values.has(option.WRITE_MAP) && logs.length > 1) wrong(`a mapping is of one log, and there are ${String(logs.length)}`, option.WRITE_MAP);
  return faults;
}

function jobOf(log: LogInput, all: readonly LogInput[], values: Values, cwd: string): Job {
  const out = values.get(option.OUT) ?? '';
  const [show, map] = [values.get(option.SHOW), values.get(option.MAP)];
  const cutsOnly = values.get(option.CUTS_ONLY);
  return {
    log: log.path,
    cwd,
    folder: out === STANDARD ? undefined : join(out, log.folder),
    force: values.has(option.FORCE),
    strict: values.has(option.STRICT),
    reads: [...all.map(({ path }) => path), show, map].filter((path) => path !== undefined && path !== STANDARD).map((path) => resolve(cwd, path ?? '')),
    ...known({ show, map }),
    options: {
      to: values.get(option.TO) ?? FORMATS.filter((format) => format !== 'cutlog'),
      maxBytes: values.get(option.MAX_BYTES) ?? MAX_BYTES,
      otio: known({ paths: values.get(option.PATHS) }),
      edl: known({ newline: values.get(option.NEWLINE), reelLength: values.get(option.REEL_LENGTH), order: values.get(option.EDL_ORDER) }),
      chapters: known({ from: values.get(option.CHAPTERS_FROM), least: values.get(option.CHAPTERS_MIN), as: values.get(option.CHAPTERS_AS) }),
      ...known({
        rate: values.get(option.RATE),
        timeAs: values.get(option.TIME_AS),
        logRate: values.get(option.LOG_RATE),
        rounding: values.get(option.ROUNDING),
        anchor: values.get(option.ANCHOR),
        maxRows: values.get(option.MAX_ROWS),
        end: values.get(option.END),
        title: values.get(option.TITLE),
        start: values.get(option.START),
        audio: values.get(option.AUDIO),
        dissolveAt: values.get(option.DISSOLVE_AT),
        takes: values.get(option.TAKES),
        angles: values.get(option.ANGLES),
      }),
      ...(cutsOnly === undefined ? {} : { adjust: { cutsOnly } }),
    },
  };
}

function tooLarge(job: Job, maxBytes: number): JobResult {
  const found = problem('too-large', `standard input passes the limit of ${String(maxBytes)} bytes; --max-bytes raises it`, { file: 'log' });
  return { log: job.log, outputs: [], problems: [found], dropped: [], status: 1 };
}
