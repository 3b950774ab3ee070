/** What is known of an earlier run with the log of a job that resumes. */
import { join, relative, resolve } from 'node:path';
import type { Format } from '../formats/output.js';
import { VERSION } from '../version.js';
import { bytesOf } from './input.js';
import { inputsOf } from './job-input.js';
import type { Job } from './job.js';
import { listName, STANDARD } from './names.js';
import type * as Resume from './resume.js';

/** What is known of the last run with this log; `current` are its lists, when nothing that they depend on has changed. */
export interface LastRun {
  /** Loaded for jobs that resume alone: digests need Node's cryptography, which is slow to start. */
  readonly resume: typeof Resume;
  /** What the record of this run is to have: see `RunRecord`. */
  readonly key: string | undefined;
  readonly record: Resume.RunRecord | undefined;
  /** Another log of the same name whose lists lie there already. */
  readonly other?: string;
  readonly current?: { readonly format: Format; readonly path: string }[];
}

/** Undefined when the inputs cannot be read: the run that follows says so. */
export async function lastRun(job: Job): Promise<LastRun | undefined> {
  if (job.folder === undefined) return undefined;
  const resume = await import('./resume.js');
  const { cwd, folder, options, strict } = job;
  const at = resolve(cwd, folder);
  // Relative paths to the recordings are seen from the lists, and wrong once these lie elsewhere.
  const seenFrom = options.otio.paths === 'relative' ? at : undefined;
  const parts: (string | Uint8Array)[] = [VERSION, JSON.stringify({ options, strict, mediaRoot: job.mediaRoot, seenFrom })];
  for (const path of [...new Set(inputsOf(job))]) {
    const bytes = path === STANDARD ? job.bytes : bytesOf(path, cwd, options.maxBytes, () => undefined);
    if (bytes === undefined) return undefined;
    parts.push(resolve(cwd, path), bytes);
  }
  const key = resume.runKey(parts);
  resume.clearOutputs(at);
  const record = resume.readRecord(at, listName(job.log));
  const other = job.log === STANDARD ? undefined : resume.otherLog(at, resolve(cwd, job.log), record);
  if (other !== undefined) return { resume, key, record, other: relative(cwd, other) || other };
  // Where the recordings are may have changed without a trace in any input.
  if (job.mediaRoot !== undefined || !resume.isCurrent(record, key, at)) return { resume, key, record };
  return { resume, key, record, current: record.files.map(({ name, format }) => ({ format, path: join(folder, name) })) };
}
