/** Recordings into a show file: what is new is added, what is missing is filled in, what somebody wrote stays. */
import { problem, type Report } from '../problems.js';
import { readShowFile } from '../show/read.js';
import type { ShowFile, ShowMedia, ShowSource } from '../show/show.js';
import { agrees, isSame, mediaEntry } from './entry.js';
import { keyOf } from './find.js';
import { isProgram, type Group } from './group.js';
import { editJson, jsonText, type JsonEdit } from './jsontext.js';
import { into, pairUp, type Pair } from './moved.js';
import type { Placed } from './order.js';
import { sameTail } from './paths.js';
import { pathFor, Written, type Known, type Owner, type ShowTarget } from './written.js';

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
 * is put right (`found`), in the source that its group goes to, else where the folders are most alike. Where several fit alike,
 * nothing is changed (`two-candidates`). Where the file is still there, this one is a copy, and is left out (`two-candidates`), unless `force` takes it.
 * A picture whose rate is none of the list's rates is written without it, and without its length, which is reported (`variable-rate`, `bad-rate`).
 * Undefined, reported, when the file is not a sound show file, or would not be one afterwards.
 */
export function showWith(groups: readonly Group[], target: ShowTarget, options: { readonly force: boolean }, report: Report): string | undefined {
  if (target.text === undefined) {
    for (const { files } of groups) for (const file of files) reportUnrated(file, undefined, report);
    return `${jsonText(newShow(groups, target))}\n`;
  }
  const show = readShowFile(target.text, target.file, report);
  if (show === undefined) return undefined;
  const text = editJson(target.text, new Merge(show, target, options.force, report).edits(groups));
  return readShowFile(text, target.file, report) === undefined ? undefined : text;
}

/** What lists make of a picture without a rate; `rate` is what somebody wrote. */
function reportUnrated({ recording, extent }: Placed, rate: string | undefined, report: Report): void {
  const { picture } = recording;
  if (picture === undefined || extent !== undefined || rate !== undefined) return;
  report(problem(picture.varying ? 'variable-rate' : 'bad-rate', "it was written without rate and length: lists play it at the show's rate, and as if it never ended; make a copy with a constant rate of SMPTE ST 12-1, and name that", { file: recording.path }, 'warning'));
}

/** A recording that the show does not name where it is, and its group. */
interface Stray {
  readonly file: Placed;
  readonly group: Group;
}

class Merge {
  readonly written: Written;
  /** Recordings that were moved, and where the show had them. */
  readonly moved = new Map<Placed, string>();
  /** What they are: a file that the show names is moved once. */
  readonly taken = new Set<Known>();
  /** Recordings of which it cannot be told what they are: the files that the show names and they may be. */
  readonly doubtful = new Map<Placed, readonly Known[]>();

  constructor(readonly show: ShowFile, readonly target: ShowTarget, readonly force: boolean, readonly report: Report) {
    this.written = new Written(show, target);
  }

  edits(groups: readonly Group[]): JsonEdit[] {
    const fresh: Group[] = [];
    this.follow(groups);
    for (const group of groups) {
      const rest = group.files.filter((file) => !this.isDoubtful(file) && !this.complete(file) && !this.isCopy(file, group));
      for (const file of rest) reportUnrated(file, undefined, this.report);
      if (rest.length === 0) continue;
      const owner = this.written.ownerOf(group);
      if (owner === undefined) fresh.push({ ...group, files: rest });
      else this.append(owner, rest, group);
    }
    const edits: JsonEdit[] = this.written.owners.filter(({ touched }) => touched).map(({ path, files }) => ({ path: [...path, 'files'], value: files }));
    const { sources = [], program } = newShow(fresh, this.target);
    if (this.show.sources === undefined) {
      if (sources.length > 0) edits.push({ path: ['sources'], value: sources });
    } else for (const source of sources) edits.push({ path: ['sources', '-'], value: source });
    if (program !== undefined) edits.push({ path: ['program'], value: program });
    return edits;
  }

  /** Fills in what a file that the show names lacks. False when the show does not name it. */
  complete(file: Placed): boolean {
    const found = this.written.known.get(this.written.placeOf(file));
    if (found === undefined) return false;
    const { owner, index } = found;
    const written = owner.files[index];
    if (written === undefined) return false;
    const from = this.moved.get(file);
    if (from !== undefined) this.report(problem('found', `source '${owner.label}' named it at ${from}; its path was put right`, { file: file.recording.path }));
    const measured = mediaEntry(file, written.path);
    const merged: Record<string, unknown> = { ...written };
    for (const [key, value] of Object.entries(measured) as [keyof ShowMedia, string | number][]) {
      if (written[key] === undefined) merged[key] = value;
      else if (!agrees(key, written, measured, file)) {
        if (this.force) merged[key] = value;
        else this.warn(`${file.name}: ${key} of source '${owner.label}' is ${String(written[key])}, and the recording says ${String(value)}; it was left as it is (--force takes the recording's)`);
      }
    }
    reportUnrated(file, written.rate, this.report);
    if (Object.keys(merged).some((key) => merged[key] !== written[key as keyof ShowMedia])) {
      owner.files[index] = merged as unknown as ShowMedia;
      owner.touched = true;
    }
    return true;
  }

  /** Puts right the paths of the files that were moved. What is found may tell whose the rest of its group is: until nothing more is found. */
  follow(groups: readonly Group[]): void {
    let strays = groups.flatMap((group) => group.files.flatMap((file) => (this.written.known.has(this.written.placeOf(file)) || !this.written.named.has(keyOf(file.name)) ? [] : [{ file, group }])));
    while (strays.length > 0) {
      const found = this.pairs(strays);
      for (const { file: { file }, entry } of found) this.move(file, entry);
      if (found.length === 0) return;
      strays = strays.filter(({ file }) => !this.moved.has(file));
    }
  }

  /** Which files the strays are that are gone: those of a group that goes to a source among that source's, the others among all. */
  pairs(strays: readonly Stray[]): Pair<Stray, Known>[] {
    this.doubtful.clear();
    const found: Pair<Stray, Known>[] = [];
    const [owned, free] = [new Map<string, Stray[]>(), new Map<string, Stray[]>()];
    for (const stray of strays) {
      const owner = this.written.ownerOf(stray.group);
      into(owner === undefined ? free : owned, JSON.stringify([owner?.path ?? [], keyOf(stray.file.name), stray.file.recording.bytes]), stray);
    }
    for (const alike of [...owned.values(), ...free.values()]) {
      const [{ file, group }] = alike as [Stray];
      const owner = this.written.ownerOf(group);
      const gone = (this.written.named.get(keyOf(file.name)) ?? []).filter((one) => (owner === undefined || one.owner === owner) && !this.taken.has(one) && one.owner.files[one.index]?.size === file.recording.bytes && !this.written.isThere(one));
      const { pairs, doubts } = pairUp(alike, gone, (stray, one) => this.likeness(stray.file, one));
      for (const { entry } of pairs) this.taken.add(entry);
      found.push(...pairs);
      for (const { file: stray, entries } of doubts) this.doubtful.set(stray.file, entries);
    }
    return found;
  }

  /** How many names, from the file upwards, a file's path shares with a written one; 0 where it is another recording. */
  likeness(file: Placed, { owner, index }: Known): number {
    const written = owner.files[index];
    // Names that are one may be written in two ways.
    return written !== undefined && isSame(written, file) ? Math.max(1, sameTail(this.written.placeOf(file), this.written.absolute(written.path))) : 0;
  }

  /** True, reported, for a recording that may be one of several that the show names, or one of several that may be. */
  isDoubtful(file: Placed): boolean {
    const entries = this.doubtful.get(file);
    if (entries === undefined) return false;
    const named = entries.slice(0, 3).map(({ owner, index }) => `source '${owner.label}' names at ${owner.files[index]?.path ?? ''}`);
    if (entries.length > 3) named.push(`${String(entries.length - 3)} more`);
    const others = entries.length > 1 ? '' : ', and so may another file';
    this.report(problem('two-candidates', `it may be what ${named.join(', or what ')}${others}; nothing was changed; write its path into the show file`, { file: file.recording.path }));
    return true;
  }

  /** True, reported, for a copy of a file that its source names and that is still there. With `force` it takes that file's place, once. */
  isCopy(file: Placed, group: Group): boolean {
    // Two recorders may give their files one name: what belongs to another source is no copy.
    const owner = this.written.ownerOf(group);
    const same = owner === undefined ? [] : (this.written.named.get(keyOf(file.name)) ?? []).filter((one) => one.owner === owner && this.likeness(file, one) > 0);
    const [found] = same.sort((a, b) => this.likeness(file, b) - this.likeness(file, a));
    if (found === undefined) return false;
    const free = this.force ? same.find((one) => !this.taken.has(one)) : undefined;
    if (free === undefined) {
      const hint = this.force ? '' : ' (--force takes it)';
      this.report(problem('two-candidates', `source '${found.owner.label}' names it at ${found.owner.files[found.index]?.path ?? ''}, and it is there too; this one was left out${hint}`, { file: file.recording.path }));
      return true;
    }
    this.taken.add(free);
    this.move(file, free);
    return this.complete(file);
  }

  /** Puts a file in the place of a written one. */
  move(file: Placed, found: Known): void {
    const written = found.owner.files[found.index];
    if (written === undefined) return;
    this.moved.set(file, written.path);
    found.owner.files[found.index] = { ...written, path: pathFor(file, this.target) };
    found.owner.touched = true;
    this.written.known.set(this.written.placeOf(file), found);
  }

  append(owner: Owner, files: readonly Placed[], group: Group): void {
    owner.touched = true;
    owner.files.push(...files.map((file) => mediaEntry(file, pathFor(file, this.target))));
    // In the order of the group where it has them all; else what somebody wrote comes first.
    const places = new Map(group.files.map((file, index) => [this.written.placeOf(file), index]));
    const order = owner.files.map(({ path }) => places.get(this.written.absolute(path)));
    if (order.every((place) => place !== undefined)) owner.files.sort((a, b) => (places.get(this.written.absolute(a.path)) ?? 0) - (places.get(this.written.absolute(b.path)) ?? 0));
    if (owner.source.recorded === false) this.warn(`source '${owner.label}' has "recorded": false, and recordings of it were found`);
  }

  warn(message: string): void {
    this.report(problem('bad-show-file', message, { file: this.target.file }, 'warning'));
  }
}
