/** What a job reads: its log, and the show file, mapping and corrections that belong to it. */
import { roughText } from '../byte-order-mark.js';
import type { Correction } from '../corrections/model.js';
import { isCorrectionsTable, KIND_HEAD } from '../corrections/kind.js';
import type { LoadInput } from '../load.js';
import type { Mapping } from '../log/mapping.js';
import { problem, type Report } from '../problems.js';
import { CORRECTIONS, MAPPING, readByHand, SHOW_FILE } from './by-hand.js';
import { otherParts, textsOfParts } from './edl-parts.js';
import { homeOf } from './home.js';
import { bytesOf, tooMuchInput } from './input.js';
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
  const show = await readByHand(showPath(job), SHOW_FILE, job.cwd, report);
  const map = await readByHand(job.map, MAPPING, job.cwd, report);
  const corrections = await readByHand(job.corrections, CORRECTIONS, job.cwd, report);
  const bytes = job.bytes ?? (job.log === STANDARD ? tooMuchInput(job.options.maxBytes, report) : bytesOf(job.log, job.cwd, job.options.maxBytes, report));
  if (show === 'wrong' || map === 'wrong' || corrections === 'wrong' || bytes === undefined) return undefined;
  if (job.found === true && isCorrectionsTable(roughText(bytes.subarray(0, KIND_HEAD)))) {
    report(problem('found', 'a corrections file, no log: left out; --corrections gives it to the log that it is for', { file: job.log }));
    return 'no log';
  }
  const parts = textsOfParts(job.log, otherParts(job.log, job.cwd), job.cwd, report);
  if (parts === undefined) return undefined;
  const near = show?.file ?? (job.log === STANDARD ? '' : job.log);
  return {
    input: { name: spokenName(job.log), bytes, title: listName(job.log), parts, ...(show === undefined ? {} : { show }) },
    ...(map === undefined ? {} : { map }),
    ...(corrections === undefined ? {} : { corrections }),
    base: homeOf(near === '' ? '-' : near, job.cwd).folder,
  };
}

/** Path of the show file that was given, else of the one beside the log. */
const showPath = (job: Job): string | undefined => job.show ?? showBeside(job.log, job.cwd);

/** The files that a job reads, as messages name them: the log first. */
export const inputsOf = (job: Job): string[] => [job.log, ...otherParts(job.log, job.cwd).parts.map(({ file }) => file), showPath(job), job.map, job.corrections].filter((path) => path !== undefined);
