/** A look at watched folders: which logs lie there now, and in what state is all that each depends on. */
import { lstatSync, realpathSync, statSync, type Stats } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { isFolder } from '../path-kind.js';
import { problem, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { isLogName, type LogInput } from './inputs.js';
import type { Job } from './job.js';
import { inputsOf } from './job-input.js';
import { search } from './search.js';

/** A log as a look found it. */
export interface Seen {
  readonly log: LogInput;
  /** The watched folder that it was found in, as it was given. */
  readonly root: string;
  readonly job: Job;
  /** Differs whenever the log, or another file that it is read with, was written, replaced, came or went. */
  readonly state: string;
  /** When one of them was last written, in milliseconds of the system's clock. */
  readonly written: number;
}

export interface Look {
  /** By the path of the log, as messages name it. */
  readonly logs: ReadonlyMap<string, Seen>;
  /** Watched folders that are not there. */
  readonly gone: ReadonlySet<string>;
  /** Folders below them that cannot be looked into, and links that lead to no log. */
  readonly problems: readonly Problem[];
}

/**
 * Looks through `folders` as a call with these folders does: the same files count as logs. A log that several of them hold, or that a
 * link leads back to, is seen once, below the first.
 */
export async function lookInto(folders: readonly string[], cwd: string, jobOf: (log: LogInput) => Job): Promise<Look> {
  const logs = new Map<string, Seen>();
  const gone = new Set<string>();
  const problems: Problem[] = [];
  const known = new Set<string>();
  for (const root of folders) {
    const at = resolve(cwd, root);
    if (!isFolder(at)) {
      gone.add(root);
      continue;
    }
    const { names, closed } = await search(['**/*'], at);
    problems.push(...closed.map((one) => ({ ...one, place: { file: join(root, one.place.file) } })));
    const realOf = realFolders();
    const found = names.filter(isLogName).map((name) => {
      const folder = dirname(join(at, name));
      const real = realOf(folder);
      return { name, real: join(real, basename(name)), isDirect: real === join(realOf(at), dirname(name)) };
    });
    // What a link leads to as well is seen where it lies.
    for (const { name, real } of [...found.filter(({ isDirect }) => isDirect), ...found.filter(({ isDirect }) => !isDirect)]) {
      if (known.has(real)) continue;
      const [file, below] = [join(at, name), dirname(name)];
      const log: LogInput = { path: relative(cwd, file) || file, folder: below === '.' ? '' : below.replaceAll('\\', '/'), found: true };
      const job = jobOf(log);
      const now = stateOf(job);
      if (now === undefined) {
        // It went away again while we looked, or is a link that leads nowhere.
        const cause = linkTrouble(file);
        if (cause !== undefined) problems.push(problem('unreadable', `cannot be read: ${fileTrouble(cause)}`, { file: log.path }));
        continue;
      }
      known.add(real);
      logs.set(log.path, { log, root, job, ...now });
    }
  }
  return { logs, gone, problems };
}

/** Why a link cannot be followed; undefined for what is no link, or leads somewhere. */
function linkTrouble(path: string): unknown {
  try {
    if (!lstatSync(path).isSymbolicLink()) return undefined;
  } catch {
    return undefined;
  }
  try {
    statSync(path);
    return undefined;
  } catch (cause) {
    return cause;
  }
}

/** The real path of folders, each asked for once. */
function realFolders(): (folder: string) => string {
  const found = new Map<string, string>();
  return (folder) => {
    let real = found.get(folder);
    if (real === undefined) {
      try {
        real = realpathSync(folder);
      } catch {
        real = folder;
      }
      found.set(folder, real);
    }
    return real;
  };
}

/** In what state everything is that a job reads; undefined where its log is no file (any more). */
export function stateOf(job: Job): Pick<Seen, 'state' | 'written'> | undefined {
  const [log, ...others] = inputsOf(job).map((path) => statOf(resolve(job.cwd, path)));
  if (log?.isFile() !== true) return undefined;
  let [state, written] = ['', 0];
  for (const found of [log, ...others]) {
    // The time of change tells of permissions, and of a file that another of the same size and time took the place of.
    state += found === undefined ? '-' : `${String(found.ino)} ${String(found.size)} ${String(found.mtimeMs)} ${String(found.ctimeMs)} `;
    written = Math.max(written, found?.mtimeMs ?? 0);
  }
  return { state, written };
}

function statOf(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch {
    return undefined;
  }
}
