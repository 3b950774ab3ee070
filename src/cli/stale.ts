/** EDLs that an earlier run left beside the lists of this one. */
import { closeSync, openSync, readSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { nameKey, RECORDS } from './names.js';
import { exists } from './output.js';

/**
 * A list that became shorter must not leave the end of the longer one beside it.
 * Removes `NAME.edl` and `NAME-1.edl`, `NAME-2.edl`, … beside the EDLs just written, where they are not among these and begin
 * with the same title (parts up to the first that is missing): a file of another list with such a name stays, and so does one of `others` (a log of the same call,
 * by `nameKey`). Gives the names of those that `mayGo` does not let go, and that stay therefore.
 */
export function removeStaleParts(name: string, written: readonly string[], mayGo: (path: string) => boolean, others?: ReadonlyMap<string, string>): string[] {
  const [first] = written;
  const title = first === undefined ? undefined : titleLine(first);
  if (first === undefined || title === undefined) return [];
  const folder = dirname(first);
  const mine = new Set(written.map((path) => basename(path)));
  const kept: string[] = [];
  // Asked for by name: a folder of ten thousand lists is not read again for each of them.
  for (let part = 0; ; part += 1) {
    const own = part === 0 ? name : `${name}-${String(part)}`;
    const file = `${own}.edl`;
    if (mine.has(file)) continue;
    const path = join(folder, file);
    if (!exists(path)) {
      if (part === 0) continue;
      break;
    }
    if (titleLine(path) !== title || others?.has(nameKey(own)) === true || (part > 0 && hasMore(folder, own))) continue;
    if (mayGo(path)) rmSync(path, { force: true });
    else kept.push(file);
  }
  return kept;
}

/** The EDL, or its first part, that lies where those of a list would be, and is not of `others` (as `removeStaleParts` has them). */
export const leftEdl = (folder: string, name: string, others?: ReadonlyMap<string, string>): string | undefined =>
  [`${name}.edl`, ...(others?.has(nameKey(`${name}-1`)) === true || hasMore(folder, `${name}-1`) ? [] : [`${name}-1.edl`])].find((file) => exists(join(folder, file)));

/** True where the lists of another log have this name: a part of an EDL has neither an OTIO, nor chapters, nor a record of its own. */
const hasMore = (folder: string, name: string): boolean =>
  [`${name}.otio`, `${name}.chapters.txt`, join(RECORDS, `${name}.json`)].some((file) => exists(join(folder, file)));

/** The first line of an EDL, when that is its title. */
function titleLine(path: string): string | undefined {
  const bytes = Buffer.alloc(200);
  let file: number;
  try {
    file = openSync(path, 'r');
  } catch {
    // It is not a file that could be read, so it is not a part of ours.
    return undefined;
  }
  try {
    const length = readSync(file, bytes, 0, bytes.length, 0);
    const [line = ''] = bytes.toString('latin1', 0, length).split(/\r?\n/, 1);
    return line.startsWith('TITLE:') ? line : undefined;
  } catch {
    return undefined;
  } finally {
    closeSync(file);
  }
}
