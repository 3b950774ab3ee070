/** Recordings into a show file: what is new is added, what is missing is filled in, what somebody wrote stays. */
import { resolve } from 'node:path';
import { PROGRAM } from '../cutlist/model.js';
import { problem, type Report } from '../problems.js';
import { readShowFile } from '../show/read.js';
import type { ShowFile, ShowMedia, ShowSource } from '../show/show.js';
import { countName, parseRate } from '../timecode/rate.js';
import { formatTimecode, parseTimecode } from '../timecode/timecode.js';
import { keyOf } from './find.js';
import { isProgram, type Group } from './group.js';
import { editJson, jsonText, type JsonEdit } from './jsontext.js';
import type { Placed } from './order.js';
import { inFolder, pathTo } from './paths.js';

/** The show file into which recordings are written. */
export interface ShowTarget {
  /** As messages name it. */
  readonly file: string;
  /** Absolute folder that paths in it are relative to. */
  readonly folder: string;
  /** Absolute folder that the recordings' paths are relative to. */
  readonly from: string;
  /** What is in it now; undefined when it is not there yet. */
  readonly text?: string;
  /** Whether a file is there; absolute path. All are where it is not given. */
  readonly isThere?: (path: string) => boolean;
}

/** What one recording gives to a show file. */
function mediaEntry({ recording, extent }: Placed, path: string): ShowMedia {
  const channels = recording.sound?.channels ?? 0;
  return {
    path,
    ...(extent?.start === undefined ? {} : { start: formatTimecode(extent.start, extent.count) }),
    ...(extent?.frames === undefined || extent.frames < 1 ? {} : { frames: extent.frames }),
    ...(extent === undefined ? {} : { rate: countName(extent.count) }),
    channels,
    size: recording.bytes,
  };
}

/** Sources made of groups alone, as they would stand in a new show file. */
export function newShow(groups: readonly Group[], target: ShowTarget): Pick<ShowFile, 'sources' | 'program'> {
  const sources: ShowSource[] = [];
  let program: ShowFile['program'];
  for (const group of groups) {
    const files = group.files.map((file) => mediaEntry(file, pathFor(file, target)));
    if (isProgram(group) && program === undefined) program = { files };
    else sources.push({ id: group.name, name: group.name, ...(group.picture ? {} : { picture: false }), files });
  }
  return { sources, ...(program === undefined ? {} : { program }) };
}

/**
 * The text of the show file with the recordings in it. A group goes to the source that has one of its files already, else to the one
 * that is called like it (id, name, alias or reel, in any case), else it becomes a new one. A value that somebody wrote
 * and the recording contradicts stays and is reported (`bad-show-file`, a warning); with `force` the recording's replaces it.
 * A recording of which the show names a file of the same name, size, start and length was moved, where that file is gone: its path
 * is put right (`found`). Where it is still there, this one is a copy, and is left out (`two-candidates`), unless `force` takes it.
 * Undefined, reported, when the file is not a sound show file, or would not be one afterwards.
 */
export function showWith(groups: readonly Group[], target: ShowTarget, options: { readonly force: boolean }, report: Report): string | undefined {
  if (target.text === undefined) return `${jsonText(newShow(groups, target))}\n`;
  const show = readShowFile(target.text, target.file, report);
  if (show === undefined) return undefined;
  const text = editJson(target.text, new Merge(show, target, options.force, report).edits(groups));
  return readShowFile(text, target.file, report) === undefined ? undefined : text;
}

/** A source of the show file, or its program recording. */
interface Owner {
  readonly path: readonly (string | number)[];
  readonly label: string;
  readonly source: Partial<ShowSource>;
  readonly files: ShowMedia[];
  touched: boolean;
}

class Merge {
  readonly owners: Owner[];
  /** Owner and place of every file that the show names, by absolute path. */
  readonly known = new Map<string, { owner: Owner; index: number }>();
  /** The same by the file's own name. */
  readonly named = new Map<string, { owner: Owner; index: number }[]>();
  /** Owner of every word that a source is called by, in lower case; the first one where several are. */
  readonly called = new Map<string, Owner>();

  constructor(readonly show: ShowFile, readonly target: ShowTarget, readonly force: boolean, readonly report: Report) {
    const owner = (source: Partial<ShowSource>, path: readonly (string | number)[], label: string): Owner => ({ path, label, source, files: [...(source.files ?? [])], touched: false });
    this.owners = (show.sources ?? []).map((source, index) => owner(source, ['sources', index], source.id));
    if (show.program !== undefined) this.owners.push(owner(show.program, ['program'], PROGRAM));
    for (const one of this.owners) {
      one.files.forEach(({ path }, index) => {
        const found = { owner: one, index };
        this.known.set(this.absolute(path), found);
        if (this.named.get(keyOf(path))?.push(found) === undefined) this.named.set(keyOf(path), [found]);
      });
      const { id, name, reel, aliases = [] } = one.source;
      for (const word of [id, name, reel, ...aliases]) {
        const key = word?.trim().toLowerCase();
        if (key !== undefined && !this.called.has(key)) this.called.set(key, one);
      }
    }
  }

  edits(groups: readonly Group[]): JsonEdit[] {
    const fresh: Group[] = [];
    for (const group of groups) {
      const rest = group.files.filter((file) => !this.complete(file) && !this.elsewhere(file, group));
      if (rest.length === 0) continue;
      const owner = this.ownerOf(group);
      if (owner === undefined) fresh.push({ ...group, files: rest });
      else this.append(owner, rest, group);
    }
    const edits: JsonEdit[] = this.owners.filter(({ touched }) => touched).map(({ path, files }) => ({ path: [...path, 'files'], value: files }));
    const { sources = [], program } = newShow(fresh, this.target);
    if (this.show.sources === undefined) {
      if (sources.length > 0) edits.push({ path: ['sources'], value: sources });
    } else for (const source of sources) edits.push({ path: ['sources', '-'], value: source });
    if (program !== undefined) edits.push({ path: ['program'], value: program });
    return edits;
  }

  /** Fills in what a file that the show names lacks. False when the show does not name it. */
  complete(file: Placed): boolean {
    const found = this.known.get(resolve(this.target.from, file.recording.path));
    if (found === undefined) return false;
    const { owner, index } = found;
    const written = owner.files[index];
    if (written === undefined) return false;
    const measured = mediaEntry(file, written.path);
    const merged: Record<string, unknown> = { ...written };
    for (const [key, value] of Object.entries(measured) as [keyof ShowMedia, string | number][]) {
      if (written[key] === undefined) merged[key] = value;
      else if (!agrees(key, written, measured, file)) {
        if (this.force) merged[key] = value;
        else this.warn(`${file.name}: ${key} of source '${owner.label}' is ${String(written[key])}, and the recording says ${String(value)}; it was left as it is (--force takes the recording's)`);
      }
    }
    if (Object.keys(merged).some((key) => merged[key] !== written[key as keyof ShowMedia])) {
      owner.files[index] = merged as unknown as ShowMedia;
      owner.touched = true;
    }
    return true;
  }

  /** True for a recording that the show names in another place: one that was moved, or a copy. */
  elsewhere(file: Placed, group: Group): boolean {
    const found = this.named.get(keyOf(file.name))?.find(({ owner, index }) => isSame(owner.files[index], file));
    const written = found?.owner.files[found.index];
    if (found === undefined || written === undefined) return false;
    const { label } = found.owner;
    const isThere = this.target.isThere?.(this.absolute(written.path)) ?? true;
    const owner = this.ownerOf(group);
    // Two recorders may give their files one name: what belongs to another source is neither moved nor a copy.
    if (owner !== found.owner && (isThere || owner !== undefined)) return false;
    const place = { file: file.recording.path };
    if (isThere && !this.force) {
      this.report(problem('two-candidates', `source '${label}' names it at ${written.path}, and it is there too; this one was left out (--force takes it)`, place));
      return true;
    }
    found.owner.files[found.index] = { ...written, path: pathFor(file, this.target) };
    found.owner.touched = true;
    this.known.set(resolve(this.target.from, file.recording.path), found);
    this.report(problem('found', `source '${label}' named it at ${written.path}; its path was put right`, place));
    return this.complete(file);
  }

  append(owner: Owner, files: readonly Placed[], group: Group): void {
    owner.touched = true;
    owner.files.push(...files.map((file) => mediaEntry(file, pathFor(file, this.target))));
    // In the order of the group where it has them all; else what somebody wrote comes first.
    const places = new Map(group.files.map((file, index) => [resolve(this.target.from, file.recording.path), index]));
    const order = owner.files.map(({ path }) => places.get(this.absolute(path)));
    if (order.every((place) => place !== undefined)) owner.files.sort((a, b) => (places.get(this.absolute(a.path)) ?? 0) - (places.get(this.absolute(b.path)) ?? 0));
    if (owner.source.recorded === false) this.warn(`source '${owner.label}' has "recorded": false, and recordings of it were found`);
  }

  ownerOf(group: Group): Owner | undefined {
    for (const file of group.files) {
      const found = this.known.get(resolve(this.target.from, file.recording.path));
      if (found !== undefined) return found.owner;
    }
    if (isProgram(group)) {
      const program = this.owners.find(({ label, path }) => label === PROGRAM && path.length === 1);
      if (program !== undefined) return program;
    }
    return this.called.get(group.name.toLowerCase());
  }

  absolute(path: string): string {
    return pathTo(path, this.target.folder);
  }

  warn(message: string): void {
    this.report(problem('bad-show-file', message, { file: this.target.file }, 'warning'));
  }
}

/** True for one recording in two places, as far as its name is one: its size is one too, and start and length where they are written. */
const isSame = (written: ShowMedia | undefined, file: Placed): boolean => {
  if (written?.size !== file.recording.bytes) return false;
  const measured = mediaEntry(file, written.path);
  return (['start', 'frames'] as const).every((key) => written[key] === undefined || agrees(key, written, measured, file));
};

/** Whether what somebody wrote means what was measured: a label may be written with another mark, a rate in another spelling. */
function agrees(key: keyof ShowMedia, written: ShowMedia, measured: ShowMedia, { extent }: Placed): boolean {
  if (key === 'path') return true;
  if (key === 'start' && extent !== undefined && written.start !== undefined) return parseTimecode(written.start, extent.count) === extent.start;
  if (key === 'rate' && extent !== undefined && written.rate !== undefined) {
    const spec = parseRate(written.rate);
    return 'rate' in spec && spec.rate.name === extent.count.rate.name && (spec.dropFrame ?? extent.count.dropFrame) === extent.count.dropFrame;
  }
  return written[key] === measured[key];
}

/** A recording's path as the show file keeps it: relative to it, with `/`; absolute where no relative path leads there. */
const pathFor = ({ recording }: Placed, { folder, from }: ShowTarget): string => inFolder(resolve(from, recording.path), folder, 'relative');
