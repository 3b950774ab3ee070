/** `--explain` and `--write-map`: how a log is read, before anything is made of it. */
import { resolve } from 'node:path';
import { readLogOf } from '../load.js';
import { explainLog } from '../log/explain.js';
import type { LogReading } from '../log/reading.js';
import { problem, ProblemList, type Report } from '../problems.js';
import { visible } from '../visible.js';
import type { Values } from './command.js';
import type { Io } from './io.js';
import { readInput } from './job-input.js';
import type { Job } from './job.js';
import { spokenName } from './names.js';
import * as option from './options.js';
import { tell } from './report.js';
import { saveText } from './save.js';
import { statusOf } from './status.js';

/**
 * Prints the reading of each log on standard output (`--explain`), or saves it as a mapping file (`--write-map`). A log with
 * errors is explained as far as it could be read: that is when it helps most.
 */
export async function explain(jobs: readonly Job[], values: Values, io: Io): Promise<number> {
  const print = values.has(option.EXPLAIN);
  const target = values.get(option.WRITE_MAP);
  let status = 0;
  for (const job of jobs) {
    const found = new ProblemList({ strict: job.strict });
    const reading = await readingOf(job, found.add);
    if (print && reading !== undefined) {
      await io.out.write(`${[spokenName(job.log), ...explainLog(reading)].map(visible).join('\n')}\n`);
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

async function readingOf(job: Job, report: Report): Promise<LogReading | undefined> {
  const read = await readInput(job, report);
  if (read === undefined || read === 'no log') return undefined;
  const { input, map } = read;
  return readLogOf(input, { ...job.options, ...(map === undefined ? {} : { map }), partial: true }, report);
}

async function save(target: string, { map }: LogReading, job: Job, report: Report): Promise<void> {
  const path = resolve(job.cwd, target);
  const own = job.reads.includes(path) || path === resolve(job.cwd, job.log);
  const trouble = own
    ? problem('file-exists', 'this file is read by the same call and is not written over', { file: target })
    : await saveText(path, target, `${JSON.stringify(map, null, 2)}\n`, job.force);
  if (trouble !== undefined) report(trouble);
}
