/** What a job writes: every list or none, and over nothing that is not its own. */
import { basename, join, relative, resolve } from 'node:path';
import type { Converted } from '../convert.js';
import { stemOf } from '../formats/endings.js';
import type { Format } from '../formats/output.js';
import { known } from '../known.js';
import { problem, type Report } from '../problems.js';
import { isFolder } from '../path-kind.js';
import { fileTrouble } from '../trouble.js';
import type { Job } from './job.js';
import type { LastRun } from './last-run.js';
import { listName, nameKey, ownersOf, readHere, RECORDS, STANDARD } from './names.js';
import { exists, FileSet, prepareFolder } from './output.js';
import { hasRecord, leftEdl, oldParts, removeStale, type KnownFiles, type Settled } from './stale.js';

/** A file that a job is to write: its path in messages, and the absolute one. */
interface Target {
  readonly path: string;
  readonly target: string;
}

/** A list's file in one format, and what it is made of. */
interface ListFile extends Target {
  readonly list: string;
  readonly format: Format;
  readonly chunks: Iterable<string>;
}

/** Writes every output, or none; undefined when none could be, which was reported. */
export async function writeLists(job: Job, folder: string, converted: readonly Converted[], last: LastRun | undefined, report: Report): Promise<{ format: Format; path: string }[] | undefined> {
  const [own, into] = [listName(job.log), resolve(job.cwd, folder)];
  const outputs = listFiles(converted, own, folder, into);
  if (inTheWay(outputs, job, report) || await areAnothers(outputs, own, into, job, report) || isBlocked(outputs, job, last, report)) return undefined;
  const files = new FileSet();
  let at = folder;
  try {
    prepareFolder(into);
    for (const { path, target, chunks } of outputs) {
      at = path;
      await files.write(target, chunks);
    }
    if (last !== undefined) {
      const parts = new Map(files.parts.map(({ part, target }) => [target, part]));
      const names = new Set([...last.record?.files ?? [], ...last.record?.earlier ?? []].map(({ name }) => name));
      const why = ({ target }: Target): string => (names.has(basename(target)) ? 'was changed since an earlier run wrote it' : THERE);
      if (refused(outputs, ({ target }) => job.force || last.resume.isOurs(target, last.record, parts.get(target) ?? ''), job, report, why)) {
        files.discard();
        return undefined;
      }
      at = join(folder, RECORDS);
      const written = outputs.map(({ format, target }) => ({ format, target, part: parts.get(target) ?? '' }));
      await last.resume.saveRecord(into, own, { log: job.log === STANDARD ? undefined : resolve(job.cwd, job.log), key: last.key, written }, last.record);
      at = folder;
    }
    const run = { folder: into, own, lists: converted.map(({ name }) => name), formats: job.options.to, written: outputs, reads: job.reads, ...known({ others: job.beside }) };
    const parts = job.force ? oldParts(run) : undefined;
    files.commit({ onlyNew: !job.force && last === undefined });
    if (job.force || last !== undefined) tellStale(removeStale(run, { ...await lastFiles(job, into, own, last), ...known({ parts }) }), job, folder, report);
    return outputs.map(({ format, path }) => ({ format, path }));
  } catch (cause) {
    files.discard();
    if ((cause as NodeJS.ErrnoException).code === undefined) throw cause;
    const { code, dest } = cause as { readonly code: string; readonly dest?: string };
    const file = outputs.find(({ target }) => target === dest)?.path;
    // Somebody else took the name since this run looked.
    if (code === 'EEXIST' && file !== undefined) report(problem('file-exists', `${THERE}; ${REMEDY}`, { file }));
    else report(problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: file ?? at }));
    return undefined;
  }
}

const listFiles = (converted: readonly Converted[], own: string, folder: string, into: string): ListFile[] =>
  converted.flatMap(({ name, outputs }) => outputs.map(({ format, suffix, chunks }) => {
    // A cutlog holds the log as a whole, whichever take's list it comes with.
    const file = `${own}${format === 'cutlog' ? '' : name}${suffix}`;
    return { list: name, format, chunks, path: join(folder, file), target: join(into, file) };
  }));

/** True where a file or folder is in the way of a list, which was reported. Said before anything is written: the lists before it would have their names already. */
function isBlocked(outputs: readonly Target[], job: Job, last: LastRun | undefined, report: Report): boolean {
  const asks = !job.force && last === undefined;
  if (refused(outputs, ({ target }) => !asks || !exists(target), job, report)) return true;
  const blocked = asks ? undefined : outputs.find(({ target }) => isFolder(target));
  if (blocked === undefined) return false;
  report(problem('unreadable', `cannot be written: ${fileTrouble({ code: 'EISDIR' })}`, { file: blocked.path }));
  return true;
}

const THERE = 'is there already';
const REMEDY = '--force replaces it';

/** Says what became of older lists. */
function tellStale({ removed, left }: Settled, job: Job, folder: string, report: Report): void {
  for (const name of removed) report(problem('removed', 'was removed: it was left from an older list of this log', { file: join(folder, name) }));
  for (const { name, like } of left) {
    report(problem('file-exists', `stays beside the new lists, although it looks like ${LIKE[like](job.force)}`, { file: join(folder, name) }, 'warning'));
  }
}

/** Why a file that looks like an old list of ours was not removed, and what would do so. */
const LIKE = {
  part: (forced: boolean): string => (forced
    ? 'a part of an older one: nothing says that it is of this log, or it was changed since; remove it if it is not wanted'
    : 'a part of an older one: it was changed by somebody, or is not of an earlier run; --force removes it'),
  take: (): string => 'one of this log with other takes: it was changed by somebody, or is not of a run with --resume; remove it if it is not wanted',
};

/** What the last run of a log wrote: where there is no record, nothing is known. */
async function lastFiles({ log, cwd }: Job, folder: string, own: string, last: LastRun | undefined): Promise<Pick<KnownFiles, 'recorded' | 'isOwn'>> {
  if (last === undefined && !hasRecord(folder, own)) return { recorded: [], isOwn: () => false };
  const resume = last?.resume ?? await import('./resume.js');
  const record = last === undefined ? resume.readRecord(folder, own) : last.record;
  // The lists of another log of this name are not ours to remove.
  if (log !== STANDARD && resume.otherLog(folder, resolve(cwd, log), record) !== undefined) return { recorded: [], isOwn: () => false };
  return { recorded: record === undefined ? [] : [...record.files, ...record.earlier], isOwn: (path) => resume.isUntouched(path, record) };
}

/** An EDL that stays beside the new lists although these could not be written as one: nobody is to take it for theirs. */
export function warnOfLeftEdls({ log, cwd, beside, options }: Job, folder: string, converted: readonly Converted[], report: Report): void {
  if (!options.to.includes('edl')) return;
  for (const { name, outputs } of converted) {
    const left = outputs.some(({ format }) => format === 'edl') ? undefined : leftEdl(resolve(cwd, folder), `${listName(log)}${name}`, beside);
    if (left !== undefined) report(problem('file-exists', 'is of an earlier run: this list could not be written as an EDL', { file: join(folder, left) }, 'warning'));
  }
}

/** Reports, once for each, the logs of the call whose own lists would be written over; true when there is one. */
function inTheWay(outputs: readonly Target[], job: Job, report: Report): boolean {
  const { beside } = job;
  if (beside === undefined) return false;
  const told = new Set<string>();
  for (const { path } of outputs) {
    const other = beside.get(nameKey(stemOf(basename(path))));
    if (other === undefined || told.has(other)) continue;
    told.add(other);
    report(problem('same-output', `${path} would be written over the lists of ${other}; convert them in two calls, into different folders`, { file: job.log }));
  }
  return told.size > 0;
}

/**
 * Reports the lists that an earlier run wrote of another log, whose divided EDL or takes have the names that lists of this one are to have, or
 * the other way round; true when there is one. A part that got another list's place would leave a list that looks whole.
 */
async function areAnothers(outputs: readonly Target[], own: string, into: string, job: Job, report: Report): Promise<boolean> {
  const told = new Set<string>();
  for (const { path, target } of outputs) {
    const stem = stemOf(basename(target));
    const names = exists(target) ? [stem, ...ownersOf(stem)].filter((name) => nameKey(name) !== nameKey(own) && hasRecord(into, name)) : [];
    for (const name of names) {
      const { isUntouched, otherLog, readRecord } = await import('./resume.js');
      const record = readRecord(into, name);
      if (record === undefined || !isUntouched(target, { ...record, earlier: [] })) continue;
      const other = otherLog(into, resolve(job.cwd, job.log), record);
      if (other === undefined || told.has(other)) continue;
      told.add(other);
      report(problem('same-output', `${path} is one of the lists of ${relative(job.cwd, other)}; convert this log into another folder`, { file: job.log }));
    }
  }
  return told.size > 0;
}

/** Reports every path that must not be written over; true when there is one. What the call reads is never written over. */
function refused(outputs: readonly Target[], free: (one: Target) => boolean, job: Job, report: Report, why: (one: Target) => string = () => THERE): boolean {
  let found = false;
  for (const one of outputs) {
    const { path, target } = one;
    const own = job.reads.includes(target);
    if (!own && free(one)) continue;
    found = true;
    report(own ? readHere(path, 'choose another folder') : problem('file-exists', `${why(one)}; ${REMEDY}`, { file: path }));
  }
  return found;
}
