/** Lists the files below a folder: the edge of `media` and `--media-root` towards the disk. */
import { readdirSync, realpathSync, statSync } from 'node:fs';
import { join, resolve, sep } from 'node:path';
import { problem, type Report } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { byName } from './order.js';

export interface FoundFile {
  /** As asked for: the folder given, joined with `name`. */
  readonly path: string;
  /** Below the folder, with `/` on every system. */
  readonly name: string;
  readonly bytes: number;
}

/** Endings of the formats that are read. A file that is named itself is read whatever its ending. */
const ENDINGS = /\.(?:mov|qt|mp4|m4v|mxf|mkv|wav|wave|bwf|rf64)$/i;

/** All recordings below `folder`, in order of name; a file comes back alone, whatever its ending. See `listFiles`. */
export const listRecordings = (folder: string, report: Report): FoundFile[] => listFiles(folder, (name) => ENDINGS.test(name), report);

/**
 * The files below `folder` that `wants` takes by their name, in order of name; a file that was asked for itself comes back
 * alone. Hidden files and folders are left out (also the `._` files that some systems put beside every file on a card: common
 * practice, no source), links are followed, each folder is read once. What cannot be read is reported
 * (`unreadable`), and the rest is listed.
 */
export function listFiles(folder: string, wants: (name: string) => boolean, report: Report): FoundFile[] {
  const found: FoundFile[] = [];
  const seen = new Set<string>();
  const visit = (path: string, name: string, asked: boolean): void => {
    try {
      const stat = statSync(path);
      if (stat.isDirectory()) {
        const real = realpathSync(path);
        if (seen.has(real)) return;
        seen.add(real);
        for (const entry of readdirSync(path, { withFileTypes: true })) {
          const below = name === '' ? entry.name : `${name}/${entry.name}`;
          // Plain files that nobody wants cost no further look: a media root may hold a hundred thousand.
          if (!entry.name.startsWith('.') && (!entry.isFile() || wants(below))) visit(join(path, entry.name), below, false);
        }
      } else if (stat.isFile() && (asked || wants(name))) {
        found.push({ path, name: name === '' ? (resolve(path).split(sep).at(-1) ?? path) : name, bytes: stat.size });
      }
    } catch (cause) {
      // A link that leads nowhere is nothing, unless it is called like something that is wanted.
      if (!asked && !wants(name) && (cause as NodeJS.ErrnoException).code === 'ENOENT') return;
      report(problem('unreadable', `cannot be read: ${fileTrouble(cause)}`, { file: path }));
    }
  };
  visit(folder, '', true);
  return found.sort((a, b) => byName(a.name, b.name));
}
