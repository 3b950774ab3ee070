/** `--explain` and `--write-map`: how a log is read, before anything is made of it. */
import { resolve } from 'node:path';
import { known } from '../known.js';
import { isCorrectionsTable } from '../corrections/kind.js';
import { formOf } from '../formats/form.js';
import { decodedText } from '../file-text.js';
import { readLogOf } from '../load.js';
import { explainLog, explainOutline } from '../log/explain.js';
import { FILL_IN } from '../log/mapping.js';
import { outlineLog, type Outline } from '../log/outline.js';
import { showMapping } from '../log/own-form.js';
import type { LogReading } from '../log/reading.js';
import { problem, ProblemList, type Report } from '../problems.js';
import { visible } from '../visible.js';
import type { Values } from './command.js';
import type { Io } from './io.js';
import { readInput } from './job-input.js';
import type { Job } from './job.js';
import { readHere, spokenName } from './names.js';
import * as option from './options.js';
import { tell } from './report.js';
import { saveText } from './save.js';
import { statusOf } from './status.js';

/**
 * Prints the reading of each log on standard output (`--explain`), or saves it as a mapping file (`--write-map`). A log with
 * errors is explained as far as it could be read: that is when it helps most. One that cannot be read at all (no rate, columns in another
 * language) is explained by what can be seen of it, and its mapping leaves to be filled in what is missing.
 */
export async function explain(jobs: readonly Job[], values: Values, io: Io): Promise<number> {
  const print = values.has(option.EXPLAIN);
  const target = values.get(option.WRITE_MAP);
  let status = 0;
  for (const job of jobs) {
    const found = new ProblemList({ strict: job.strict });
    const reading = await readingOf(job, found.add);
    if (print && reading !== undefined) {
      await io.out.write(`${[spokenName(job.log), ...('open' in reading ? explainOutline(reading) : explainLog(reading))].map(visible).join('\n')}\n`);
    }
    // The conversion that follows says again what the reading found.
    const before = print ? 0 : found.problems.length;
    if (target !== undefined && reading !== undefined) await save(target, reading, job, found.add);
    const problems = found.problems.slice(before);
    status = Math.max(status, statusOf(problems));
    await tell({ log: job.log, outputs: [], problems, dropped: print ? found.dropped : [], status }, { quiet: values.has(option.QUIET), json: false }, io);
  }
  return status;
}

async function readingOf(job: Job, report: Report): Promise<LogReading | Outline | undefined> {
  const read = await readInput(job, report);
  if (read === undefined || read === 'no log') return undefined;
  const { input } = read;
  const options = { ...job.options, ...known({ map: read.map }) };
  const reading = await readLogOf(input, { ...options, partial: true }, report);
  if (reading !== undefined) return reading;
  // Why it has no text was said.
  const text = decodedText(input, options, () => undefined);
  if (text === undefined || formOf(text) !== 'log' || isCorrectionsTable(text)) return undefined;
  return outlineLog(text, read.map ?? showMapping(input.bytes, input.show?.show.log), job.options.timeAs);
}

async function save(target: string, reading: LogReading | Outline, job: Job, report: Report): Promise<void> {
  const { map } = reading;
  const path = resolve(job.cwd, target);
  const own = job.reads.includes(path) || path === resolve(job.cwd, job.log);
  const trouble = own
    ? readHere(target)
    : await saveText(path, target, `${JSON.stringify(map, null, 2)}\n`, job.force);
  if (trouble !== undefined) report(trouble);
  else if (JSON.stringify(map).includes(`"${FILL_IN}`)) report(problem('found', `what is missing is marked ${FILL_IN}: write it there, and convert with --map`, { file: target }));
}
