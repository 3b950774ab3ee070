/** Lists that an earlier run left beside those of this one, and that are none of it any more. */
import { closeSync, openSync, readFileSync, readSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { partsOfOne } from '../formats/edl/record-side.js';
import { ENDINGS, endingsOf, partEnding, stemOf, takeEnding, takeIn, withoutPart } from '../formats/endings.js';
import { FORMATS, type Format } from '../formats/output.js';
import { nameKey, RECORDS } from './names.js';
import { exists } from './output.js';

/** The lists of a run. What follows the name of the log in theirs (nothing, `.take1`) is called `list` here. */
export interface RunLists {
  /** Absolute. */
  readonly folder: string;
  /** Name of the log's lists. */
  readonly own: string;
  readonly lists: readonly string[];
  /** Formats that were asked for: of others, nothing is stale. */
  readonly formats: readonly Format[];
  readonly written: readonly { readonly list: string; readonly format: Format; readonly target: string }[];
  /** Other logs of the same call, by `nameKey`: their lists are theirs. */
  readonly others?: ReadonlyMap<string, string>;
  /** Paths of what the call reads: none of it is a list that was left, whatever it looks like. */
  readonly reads: readonly string[];
}

/** What is known of the files that are there. */
export interface KnownFiles {
  /** Files that the record of the last run names. */
  readonly recorded: readonly { readonly name: string; readonly format: Format }[];
  /** True of a path where the last run wrote it and nobody changed it since. */
  readonly isOwn: (path: string) => boolean;
  /** What `oldParts` found before the new lists got their names, where EDLs are recognised without a record as well (`--force`). */
  readonly parts?: ReadonlySet<string>;
}

/** A file that stays, although it looks like a part of an older list, or like a list of other takes. */
export interface LeftFile {
  readonly name: string;
  readonly like: 'part' | 'take';
}

/** What became of the files that an earlier run left, by their names. */
export interface Settled {
  readonly removed: readonly string[];
  readonly left: readonly LeftFile[];
}

/**
 * The parts of divided EDLs that lie where those of a run will: from NAME-1.edl on, those that are one list (`OneList`). Lists of other logs that
 * are called NAME-1 and NAME-2 are not. Asked for before the new ones have their places.
 */
export function oldParts({ folder, own, lists }: Pick<RunLists, 'folder' | 'own' | 'lists'>): ReadonlySet<string> {
  const parts = new Set<string>();
  for (const list of lists) {
    const nameOf = (part: number): string => `${own}${list}${partEnding(part)}${ENDINGS.edl}`;
    if (!exists(join(folder, nameOf(2)))) continue;
    const length = partsOfOne(textsOf((part) => join(folder, nameOf(part))));
    for (let part = 1; length > 1 && part <= length; part += 1) parts.add(nameOf(part));
  }
  return parts;
}

/**
 * A list that became shorter must not leave the end of the longer one beside it, nor a log that lost a take, or whose takes are joined
 * now, the lists of takes. Removes, in the formats that were asked for, what the last run wrote and nobody changed; with `parts` also those, and
 * NAME.edl where it has the title of the new list, which is divided. A title alone makes no part: all logs of a show may have one. The others stay.
 */
export function removeStale(run: RunLists, files: KnownFiles): Settled {
  const { isOwn } = files;
  const removed: string[] = [];
  const left: LeftFile[] = [];
  const settle = (name: string, like: LeftFile['like'], mayGo = false): void => {
    const path = join(run.folder, name);
    if (!mayGo && !isOwn(path)) {
      left.push({ name, like });
      return;
    }
    rmSync(path, { force: true });
    removed.push(name);
  };
  for (const list of run.lists) {
    const first = run.written.find((one) => one.format === 'edl' && one.list === list);
    if (first === undefined) continue;
    const title = titleLine(first.target);
    for (const one of edlsOf(run, list, isOwn)) settle(one.name, 'part', files.parts !== undefined && (one.isPart ? files.parts.has(one.name) : one.title === title));
  }
  for (const name of ofOtherTakes(run, files)) settle(name, 'take');
  return { removed, left };
}

/** The texts of parts, from the first on, up to one that cannot be read. */
function* textsOf(pathOf: (part: number) => string): Generator<string> {
  try {
    for (let part = 1; ; part += 1) yield readFileSync(pathOf(part), 'latin1');
  } catch {
    // It is not there.
  }
}

interface FoundEdl {
  readonly name: string;
  readonly title: string;
  readonly isPart: boolean;
}

/** The EDLs called like a list or like parts of it (up to the first that is missing) that this run did not write, and that are not another log's: unless they are known to be ours (`isOwn`). */
function edlsOf(run: RunLists, list: string, isOwn: KnownFiles['isOwn']): FoundEdl[] {
  const { folder, own, others } = run;
  const mine = new Set(run.written.filter((one) => one.list === list).map(({ target }) => basename(target)));
  const found: FoundEdl[] = [];
  // Asked for by name: a folder of ten thousand lists is not read again for each of them.
  for (let part = 0; ; part += 1) {
    const stem = `${own}${list}${part === 0 ? '' : partEnding(part)}`;
    const name = `${stem}${ENDINGS.edl}`;
    const path = join(folder, name);
    if (mine.has(name) || run.reads.includes(path)) continue;
    if (!exists(path)) {
      if (part === 0) continue;
      return found;
    }
    const title = titleLine(path);
    // A list that says its own name as its title is a list of its own: parts have that of the whole.
    const ofAnother = others?.has(nameKey(stem)) === true || (part > 0 && hasMore(folder, stem)) || (stem !== own && title === `TITLE: ${stem}`);
    if (title !== undefined && (!ofAnother || isOwn(path))) found.push({ name, title, isPart: part > 0 });
  }
}

/** Lists that a log had when its takes were others: those of further takes, or of takes at all, or the one of all takes. */
function ofOtherTakes(run: RunLists, { recorded, isOwn }: KnownFiles): ReadonlySet<string> {
  const { folder, own, lists, formats, others, reads, written } = run;
  const names = new Set<string>();
  const isStale = (list: string): boolean => !lists.includes(list) && others?.has(nameKey(own + list)) !== true;
  for (const { name, format } of recorded) {
    // A cutlog holds the whole log, whatever lists its takes become.
    if (format === 'cutlog' || !formats.includes(format) || !name.startsWith(own) || reads.includes(join(folder, name))) continue;
    const stem = stemOf(name);
    const isMine = isOwn(join(folder, name));
    if (stem !== own && !isMine && (others?.has(nameKey(stem)) === true || (withoutPart(stem) !== stem ? hasMore(folder, stem) : hasRecord(folder, stem)))) continue;
    const take = takeIn(stem.slice(own.length));
    const list = take === undefined ? '' : takeEnding(take);
    if ((isMine ? !lists.includes(list) : isStale(list)) && exists(join(folder, name))) names.add(name);
  }
  const endings = new Set(written.filter(({ list, format }) => list === lists[0] && format !== 'edl' && format !== 'cutlog').map(({ list, target }) => basename(target).slice(own.length + list.length)));
  const look = (list: string): boolean => {
    if (!isStale(list) || (list !== '' && hasRecord(folder, own + list))) return false;
    const there = [
      ...(formats.includes('edl') ? edlsOf(run, list, isOwn).map(({ name }) => name) : []),
      ...[...endings].map((ending) => `${own}${list}${ending}`).filter((name) => exists(join(folder, name)) && !reads.includes(join(folder, name))),
    ];
    for (const name of there) names.add(name);
    return there.length > 0;
  };
  const takes = lists.length > 1 ? lists.length : 0;
  if (takes > 0) look('');
  let next = takes + 1;
  while (look(takeEnding(next))) next += 1;
  return names;
}

/** The EDL, or its first part, that lies where those of a list would be, and is not of `others` (as `RunLists` has them). */
export function leftEdl(folder: string, name: string, others?: ReadonlyMap<string, string>): string | undefined {
  const first = `${name}${partEnding(1)}`;
  const isAnothers = others?.has(nameKey(first)) === true || hasMore(folder, first);
  return [name, ...(isAnothers ? [] : [first])].map((stem) => `${stem}${ENDINGS.edl}`).find((file) => exists(join(folder, file)));
}

/** True where the lists of another log have this name: a part of an EDL has a file in no other format, and no record of its own. */
const hasMore = (folder: string, name: string): boolean =>
  FORMATS.some((format) => format !== 'edl' && endingsOf(format).some((ending) => exists(join(folder, `${name}${ending}`)))) || hasRecord(folder, name);

/** True where there is a record of a run with a log of this name. */
export const hasRecord = (folder: string, name: string): boolean => exists(join(folder, RECORDS, `${name}.json`));

const titleIn = (edl: string): string | undefined => /^TITLE:[^\r\n]*/.exec(edl)?.[0];

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
    return titleIn(bytes.toString('latin1', 0, length));
  } catch {
    return undefined;
  } finally {
    closeSync(file);
  }
}
