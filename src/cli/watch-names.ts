/** Which of the watched logs has a name, where several would have one. */
import { basename, join, resolve } from 'node:path';
import type { LogInput } from './inputs.js';
import type { Job } from './job.js';
import { listName, nameKey } from './names.js';
import { readRecord } from './resume.js';

/** Logs of one folder whose lists would have one name: `a.csv` and `a.xml`. The one that has it keeps it as long as it is there. */
export class Names {
  readonly #logs = new Map<string, Set<string>>();
  readonly #owners = new Map<string, string>();

  add(log: LogInput): void {
    const key = keyOf(log);
    const logs = this.#logs.get(key);
    if (logs === undefined) this.#logs.set(key, new Set([log.path]));
    else logs.add(log.path);
  }

  /** Gives the other logs of that name, where it is free now. */
  remove(log: LogInput): Iterable<string> {
    const key = keyOf(log);
    const logs = this.#logs.get(key);
    logs?.delete(log.path);
    if (logs?.size === 0) this.#logs.delete(key);
    if (this.#owners.get(key) !== log.path) return [];
    this.#owners.delete(key);
    return logs ?? [];
  }

  /** The log that has the name already, in this run or since an earlier one; undefined when it is this log's own from now on. */
  other(log: LogInput, job: Job): string | undefined {
    const key = keyOf(log);
    const logs = this.#logs.get(key);
    let owner = this.#owners.get(key);
    if (owner === undefined) {
      const earlier = job.folder === undefined || (logs?.size ?? 0) < 2 ? undefined : readRecord(resolve(job.cwd, job.folder), listName(log.path))?.log;
      owner = [...(logs ?? [])].find((path) => earlier !== undefined && basename(path) === basename(earlier)) ?? log.path;
      this.#owners.set(key, owner);
    }
    return owner === log.path ? undefined : owner;
  }
}

const keyOf = ({ folder, path }: LogInput): string => nameKey(join(folder, listName(path)));
