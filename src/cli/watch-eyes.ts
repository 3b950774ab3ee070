/** The watchers of watched folders: they only ring, for a look, and what was said of folders is said once. */
import { statSync } from 'node:fs';
import { basename, relative, resolve } from 'node:path';
import type { FSWatcher } from 'chokidar';
import { problem, problemLine, type Problem } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { isLogName } from './inputs.js';
import type { Io } from './io.js';
import { complain, printable, type Talk } from './report.js';
import type { Look } from './watch-look.js';

/** Wakes who waits. */
export class Bell {
  #wake: (() => void) | undefined;
  #rung = false;

  readonly ring = (): void => {
    this.#rung = true;
    this.#wake?.();
  };

  /** Until it rings, or has rung since the last time; at most so many milliseconds. */
  async wait(milliseconds: number): Promise<void> {
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, this.#rung ? 0 : milliseconds);
      this.#wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
    this.#wake = undefined;
    this.#rung = false;
  }
}

/** The watchers of the folders, and what was said of folders. */
export class Eyes {
  readonly #watchers = new Map<string, { readonly identity: string; readonly watcher: Promise<FSWatcher> }>();
  readonly #said = new Set<string>();
  /** What watchers said since the last look. */
  readonly #late: Problem[] = [];
  #gone: ReadonlySet<string> = new Set();

  constructor(
    readonly folders: readonly string[],
    readonly io: Io,
    readonly bell: Bell,
    readonly talk: Talk,
  ) {}

  /** Says what cannot be looked into, and which folders went away or are back; sees to it that those that are there are watched. */
  async compare({ gone, problems }: Look): Promise<void> {
    await this.#sayOnce(problems);
    for (const folder of this.folders) {
      const [was, is] = [this.#gone.has(folder), gone.has(folder)];
      if (is && !was) await complain([problem('unreadable', 'the watched folder is gone; it is watched again when it is back', { file: folder })], this.io);
      if (was && !is && !this.talk.quiet) await this.io.err.write(printable(`watching ${folder} again\n`));
      await this.#watch(folder, is);
    }
    this.#gone = new Set(gone);
  }

  async close(): Promise<void> {
    await Promise.all([...this.#watchers.values()].map(async ({ watcher }) => (await watcher).close()));
  }

  /** A folder that was removed and made again is another one: who watched the old one would hear nothing. */
  async #watch(folder: string, isGone: boolean): Promise<void> {
    const at = resolve(this.io.cwd, folder);
    const identity = isGone ? '' : identityOf(at);
    const had = this.#watchers.get(folder);
    if (had?.identity === identity) return;
    this.#watchers.delete(folder);
    if (had !== undefined) await (await had.watcher).close();
    if (identity !== '') this.#watchers.set(folder, { identity, watcher: this.#open(folder, at) });
  }

  async #open(folder: string, at: string): Promise<FSWatcher> {
    const { watch } = await import('chokidar');
    return watch(at, {
      ignoreInitial: true,
      // Links may lead in a circle; what they lead to is looked at all the same.
      followSymlinks: false,
      ignored: (path, stats) => basename(path).startsWith('.') ? path !== at : stats?.isFile() === true && !isLogName(path) && !path.endsWith('.json'),
      ignorePermissionErrors: true,
    })
      .on('all', this.bell.ring)
      .on('error', (cause) => {
        // Told with the next look, by the same mouth as everything else.
        if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') this.#late.push(troubleOf(cause, folder, this.io.cwd));
        this.bell.ring();
      });
  }

  async #sayOnce(problems: readonly Problem[]): Promise<void> {
    const all = [...problems, ...this.#late.splice(0)];
    await complain(all.filter((one) => !this.#said.has(problemLine(one))), this.io);
    for (const one of all) this.#said.add(problemLine(one));
  }
}

/** Which folder lies at a path, whatever it is called; empty where none does. */
function identityOf(path: string): string {
  try {
    const { dev, ino } = statSync(path);
    return `${String(dev)} ${String(ino)}`;
  } catch {
    return '';
  }
}

/** A folder of which no events come, or a part of it. */
function troubleOf(cause: unknown, folder: string, cwd: string): Problem {
  const { path } = cause as { readonly path?: unknown };
  return problem('unreadable', `cannot be watched: ${fileTrouble(cause)}`, { file: typeof path === 'string' ? relative(cwd, path) || path : folder });
}
