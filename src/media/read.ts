/** Reads the recordings of folders: lists, measures, places them. What `linecut media` does, without the command line. */
import { dirname, resolve } from 'node:path';
import { problem, type Report } from '../problems.js';
import type { Count, RateSpec } from '../timecode/rate.js';
import { countOf } from '../timecode/timecode.js';
import { recordingOf, unread } from './facts.js';
import { listRecordings } from './listing.js';
import { asNamed, namedAs } from './named.js';
import { placed, type Placed } from './order.js';
import { probeAll, type PoolOptions } from './pool.js';
import { isUnread } from './probe.js';
import type { Recording } from './recording.js';

/** How recordings are read. */
export interface ReadOptions extends PoolOptions {
  /** Absolute folder that relative paths are below. */
  readonly cwd: string;
  /** The rate that sound without timecode of its own is counted at; where it is not given, as all pictures count, if they agree. */
  readonly rate?: RateSpec;
}

/** All recordings below the folders (files may be named too), each once, in the order found. What cannot be read is reported, and the rest comes back. */
export async function readRecordings(folders: readonly string[], options: ReadOptions, report: Report): Promise<Placed[]> {
  const files = new Map<string, { path: string; name: string; below: string }>();
  for (const folder of folders) {
    const at = resolve(options.cwd, folder);
    for (const { path, name } of listRecordings(at, namedAs(folder, options.cwd, report))) {
      // Messages and tables name a file the way the folder was named.
      if (!files.has(path)) files.set(path, { path: asNamed(folder, path, options.cwd), name, below: path === at ? dirname(at) : at });
    }
  }
  const folderNames = shortNames([...files.values()].map(({ below }) => below));
  const recordings: { recording: Recording; name: string; longName: string | undefined }[] = [];
  const given = [...files.entries()];
  const probes = await probeAll(given.map(([path]) => path), options);
  probes.forEach((found, index) => {
    const { path, name, below } = given[index]?.[1] ?? { path: found.path, name: found.path, below: '' };
    const folderName = folderNames.get(below);
    const facts = isUnread(found) ? unread({ ...found, path }) : recordingOf({ ...found, path });
    for (const one of facts.problems) report(one);
    if (facts.recording !== undefined) recordings.push({ recording: facts.recording, name, longName: folderName === undefined ? undefined : `${folderName}/${name}` });
  });
  const count = soundCount(options.rate, commonCount(recordings.map(({ recording }) => recording)));
  return recordings.map(({ recording, name, longName }) => {
    const one = placed(recording, name, count, longName);
    if (one.extent === undefined && recording.picture === undefined && recording.sound?.timeReference !== undefined) {
      report(problem('found', 'its time reference is a time of day; give the rate to put it on frames (--rate)', { file: recording.path }));
    }
    return one;
  });
}

/** What folders are called beside one another: their own names, with as many of those above as it takes to tell them apart. Of one folder nothing. */
function shortNames(given: readonly string[]): Map<string, string> {
  const folders = [...new Set(given)].map((folder) => ({ folder, names: folder.split(/[\\/]+/).filter((name) => name !== '') }));
  if (folders.length < 2) return new Map();
  const deepest = Math.max(...folders.map(({ names }) => names.length));
  for (let length = 1; ; length += 1) {
    const found = new Map(folders.map(({ folder, names }) => [folder, names.slice(-length).join('/')]));
    if (length >= deepest || new Set(found.values()).size === found.size) return found;
  }
}

/** A bare 29.97 or 59.94 counts drop-frame where the pictures of that rate do. */
function soundCount(spec: RateSpec | undefined, pictures: Count | undefined): Count | undefined {
  if (spec === undefined) return pictures;
  return countOf(spec.rate, spec.dropFrame ?? (pictures?.rate.name === spec.rate.name && pictures.dropFrame));
}

/** The one way in which all pictures with timecode count; undefined when they differ or there are none. */
function commonCount(recordings: readonly Recording[]): Count | undefined {
  const counts = recordings.flatMap(({ picture, count, start }) => (picture === undefined || count === undefined || start === undefined ? [] : [count]));
  const [first] = counts;
  return first !== undefined && counts.every(({ rate, dropFrame }) => rate.name === first.rate.name && dropFrame === first.dropFrame) ? first : undefined;
}
