/** What a job reads: its log, and the show file, mapping and corrections that belong to it. */
import { dirname, resolve } from 'node:path';
import type { Correction } from '../corrections/model.js';
import { isCorrectionsTable, KIND_HEAD } from '../corrections/kind.js';
import { markedEncoding } from '../log/decode.js';
import type { LoadInput } from '../load.js';
import type { Mapping } from '../log/mapping.js';
import { problem, type Report } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { bytesOf, textOf, tooMuchInput } from './input.js';
import type { Job } from './job.js';
import { listName, spokenName, STANDARD } from './names.js';
import { showBeside } from './show-beside.js';

export interface Read {
  readonly input: LoadInput;
  readonly map?: Mapping;
  readonly corrections?: readonly Correction[];
  /** Absolute folder that media paths are relative to. */
  readonly base: string;
}

/**
 * A log and what belongs to it, read from disk; undefined when something could not be, which was reported. `no log` where a folder or glob
 * found a corrections file, which lies beside the log that it is for: a note says so.
 */
export async function readInput(job: Job, report: Report): Promise<Read | 'no log' | undefined> {
  const show = await readShow(job, report);
  const map = job.map === undefined ? undefined : await readMap(job, job.map, report);
  const corrections = job.corrections === undefined ? undefined : await correctionsOf(job, job.corrections, report);
  const bytes = job.bytes ?? (job.log === STANDARD ? tooMuchInput(job.options.maxBytes, report) : bytesOf(job.log, job.cwd, job.options.maxBytes, report));
  if (show === 'wrong' || (job.map !== undefined && map === undefined) || (job.corrections !== undefined && corrections === undefined) || bytes === undefined) return undefined;
  if (job.found === true && isCorrectionsTable(headOf(bytes))) {
    report(problem('found', 'a corrections file, no log: left out; --corrections gives it to the log that it is for', { file: job.log }));
    return 'no log';
  }
  const near = show?.file ?? (job.log === STANDARD ? '' : job.log);
  return {
    input: { name: spokenName(job.log), bytes, title: listName(job.log), ...(show === undefined ? {} : { show }) },
    ...(map === undefined ? {} : { map }),
    ...(corrections === undefined ? {} : { corrections }),
    base: dirname(resolve(job.cwd, near === '' ? '-' : near)),
  };
}

const headOf = (bytes: Uint8Array): string => new TextDecoder(markedEncoding(bytes)).decode(bytes.subarray(0, KIND_HEAD));

/** Path of the show file that was given, else of the one beside the log. */
const showPath = (job: Job): string | undefined => job.show ?? showBeside(job.log, job.cwd);

/** The files that a job reads, as messages name them: the log first. */
export const inputsOf = (job: Job): string[] => [job.log, showPath(job), job.map, job.corrections].filter((path) => path !== undefined);

async function readShow(job: Job, report: Report): Promise<{ file: string; show: ShowFile } | 'wrong' | undefined> {
  const file = showPath(job);
  if (file === undefined) return undefined;
  const text = textOf(file, job.cwd, report);
  if (text === undefined) return 'wrong';
  const { readShowFile } = await import('../show/read.js');
  const show = readShowFile(text, file, report);
  return show === undefined ? 'wrong' : { file, show };
}

async function readMap(job: Job, file: string, report: Report): Promise<Mapping | undefined> {
  const text = textOf(file, job.cwd, report);
  if (text === undefined) return undefined;
  const { readMapping } = await import('../log/mapping-file.js');
  return readMapping(text, file, report);
}

async function correctionsOf(job: Job, file: string, report: Report): Promise<readonly Correction[] | undefined> {
  const text = textOf(file, job.cwd, report);
  if (text === undefined) return undefined;
  const { readCorrections } = await import('../corrections/read.js');
  return readCorrections(text, file, report);
}
