/** `--media-root`: the edge between the sources of a list and the files on the disk. */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Source } from '../cutlist/model.js';
import { pathKind } from '../path-kind.js';
import { problem, type Report } from '../problems.js';
import { recordingOf } from './facts.js';
import { keyOf, relocateSources, wantedNames, type FindOptions, type FoundMedia } from './find.js';
import { listFiles } from './listing.js';
import { namedAs } from './named.js';
import { probeAll } from './pool.js';
import { isUnread } from './probe.js';
import { extentIn, type Recording } from './recording.js';

/**
 * Finds the recordings of `sources` below a folder and gives the sources with their paths put right (`relocateSources`). Only files that
 * have the name of a recording are opened. As `relocate` of `LoadOptions` it is what `--media-root` does: `root` may be relative to `cwd`. What cannot be read is reported (`unreadable`), below it as a warning.
 */
export async function findBelow(
  root: string, sources: readonly Source[], options: Omit<FindOptions, 'root' | 'rootName' | 'isThere'> & { readonly cwd: string }, report: Report,
): Promise<Source[]> {
  const at = resolve(options.cwd, root);
  if (pathKind(at) === 'file') {
    report(problem('unreadable', 'it is a file; recordings are sought in a folder', { file: root }));
    return [...sources];
  }
  const wanted = wantedNames(sources);
  let readable = true;
  const files = listFiles(at, (name) => wanted.has(keyOf(name)), (one) => {
    const isRoot = one.place?.file === at;
    if (isRoot) readable = false;
    // What lies below it may be there once more, or not be wanted: a recording that is missing for it is reported by itself.
    namedAs(root, options.cwd, report)(isRoot ? one : { ...one, severity: 'warning' });
  });
  if (!readable) return [...sources];
  const recordings = new Map<string, Recording>();
  for (const found of await probeAll(files.map(({ path }) => path))) {
    // One that cannot be read is known by its name and size alone.
    const recording = isUnread(found) ? undefined : recordingOf(found).recording;
    if (recording !== undefined) recordings.set(recording.path, recording);
  }
  const listing = files.map(({ path, bytes }): FoundMedia => {
    const recording = recordings.get(path);
    return recording === undefined ? { path, bytes } : { path, bytes, extentOf: (source) => extentFor(recording, source) };
  });
  return relocateSources(sources, listing, { ...options, root: at, rootName: root, isThere: existsSync }, report);
}

/** A recording's extent, where it counts as the source does; of another rate nothing can be compared. */
function extentFor(recording: Recording, source: Source): { start?: number; frames?: number } | undefined {
  const extent = extentIn(recording, source.count);
  return extent?.count.rate.name === source.count.rate.name ? extent : undefined;
}
