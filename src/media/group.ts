/** Which recorded files belong to one source: by their names, checked against their timecode. */
import { PROGRAM } from '../cutlist/model.js';
import { RESERVED_IDS } from '../cutlist/naming.js';
import { framesText } from '../frames-text.js';
import { problem, type Problem } from '../problems.js';
import { folderAbove, folderOf, foldersOf, hasWeakNumber, saysNothing, stemOf, titleOf, withoutEnding } from './names.js';
import { byName, canBeOne, inOrder, sharedFrames, type Placed } from './order.js';

/** The recordings that are one source. */
export interface Group {
  /** What the source is called: unique among the groups in any case. */
  readonly name: string;
  /** False where the files hold only sound. */
  readonly picture: boolean;
  /** In order of timecode. */
  readonly files: readonly Placed[];
}

/** All groups, in order of name: pictures first, then those of sound only. */
export interface Grouping {
  readonly groups: readonly Group[];
  /** Files that a pattern does not match: they belong to no source. */
  readonly ungrouped: readonly Placed[];
  /** Files that are called like parts of one recording and share frames, so that they were told apart (`recording-overlap`, a note). */
  readonly problems: readonly Problem[];
}

/**
 * Puts files into sources, in order of name. With a `pattern` a file's source is what the pattern's group named `source`, else its first
 * group, else its whole match finds in the file's name below the folder. Without one it is the name without a part
 * number behind it (`wide-1`, `wide_part2`, `wide 0003` → `wide`); files that cannot be parts of one recording, because they
 * hold the same time or count differently, are told apart by their folder, then by a folder above it, then by their whole name. A few frames that parts in
 * one folder share do not part them (`Shared`). Where several folders were read that hold files of one path, the folder's own name counts
 * as the first of the path; a pattern is tried on the path without it first. Sound-only files
 * are never in one source with pictures. Only the program recording may be called `program`: `isProgram` finds it.
 */
export function groupRecordings(given: readonly Placed[], pattern?: RegExp): Grouping {
  const files = (pattern === undefined ? withFolders(given) : [...given]).sort((a, b) => byName(a.name, b.name));
  const ungrouped: Placed[] = [];
  const problems: Problem[] = [];
  const groups: Group[] = [];
  const names = new Set<string>();
  for (const picture of [true, false]) {
    const kind = files.filter(({ recording }) => (recording.picture !== undefined) === picture);
    for (const { name, files: members } of pattern === undefined ? byKeys(kind, 0, problems) : byPattern(kind, pattern, ungrouped)) {
      groups.push({ name: unique(name, picture, names), picture, files: inOrder(members) });
    }
  }
  return { groups, ungrouped, problems };
}

/** The files by their long names, where two of them have one name. */
function withFolders(files: readonly Placed[]): Placed[] {
  const isUnique = new Set(files.map(({ name }) => name.toLowerCase())).size === files.length;
  return isUnique ? [...files] : files.map((file) => ({ ...file, name: file.longName ?? file.name }));
}

/** True for the program recording: the trade calls the switched output program, PGM (common practice, no source). */
export const isProgram = ({ name, picture }: Group): boolean => picture && /^(?:program|programme|pgm)$/i.test(name);

interface Named {
  readonly name: string;
  readonly files: readonly Placed[];
}

/** Keys from the coarsest to the finest: each tells apart what the one before could not. */
const KEYS: readonly ((name: string) => string)[] = [
  titleOf,
  (name) => folderOf(name) ?? stemOf(name),
  stemOf,
  withoutEnding,
  (name) => name,
];

/** Places in `KEYS`. */
const STEM = 2;
const WHOLE = 3;

function byKeys(files: readonly Placed[], level: number, problems: Problem[]): Named[] {
  const higher = level === STEM ? byHigherFolder(files, problems) : undefined;
  if (higher !== undefined) return higher;
  const key = KEYS[level];
  // Even whole names can be alike, but for the case of a letter.
  if (key === undefined) return files.map((file) => ({ name: file.name, files: [file] }));
  const found: Named[] = [];
  for (const [, members] of collect(files, ({ name }) => key(name))) {
    const name = key(members[0]?.name ?? '');
    if (!areApart(members) && !(level === 0 && mayBeSeveral(members))) found.push({ name, files: members });
    else {
      if (level === 0) problems.push(...partedBy(name, members));
      found.push(...byKeys(members, level + 1, problems));
    }
  }
  return found.sort((a, b) => byName(a.name, b.name));
}

/**
 * Cards keep their clips in folders of one name (`card1/CLIP/C0001.mov`, `card2/CLIP/C0001.mov`): the lowest folder above that parts the files into
 * recordings. Where none does, and whole names would not either, the lowest that parts those of one name; what is still no recording below it stays apart.
 */
function byHigherFolder(files: readonly Placed[], problems: Problem[]): Named[] | undefined {
  const deepest = files.reduce((most, { name }) => Math.max(most, name.split('/').length - 1), 0);
  const keys = Array.from({ length: Math.max(0, deepest - 1) }, (_, index) => (name: string): string => folderAbove(name, index + 2) ?? stemOf(name));
  const parted = [...keys, foldersOf].map((key) => ({ key, cells: [...collect(files, ({ name }) => key(name)).values()] })).filter(({ cells }) => cells.length > 1 && cells.length < files.length);
  const whole = parted.find(({ cells }) => !cells.some(areApart));
  const isNeeded = whole === undefined && [...collect(files, ({ name }) => stemOf(name)).values()].some(areApart);
  const found = whole ?? (isNeeded ? parted.find(({ cells }) => cells.every(haveOwnNames)) : undefined);
  return found?.cells.flatMap((cell) => (areApart(cell) ? byKeys(cell, WHOLE, problems) : [{ name: below(found.key(cell[0]?.name ?? ''), titleOf(cell[0]?.name ?? '')), files: cell }]));
}

/** What files of one title are called that a folder above parts: by that, where the title says nothing, or by both. */
const below = (folder: string, title: string): string => (saysNothing(title) || folder === title || folder.endsWith(`/${title}`) ? folder : `${folder}/${title}`);

const haveOwnNames = (files: readonly Placed[]): boolean => new Set(files.map(({ name }) => name.slice(name.lastIndexOf('/') + 1).toLowerCase())).size === files.length;

/** True for files that are not one recording. A short overlap is one of parts where they lie in one folder and are surely counted as parts. */
function areApart(files: readonly Placed[]): boolean {
  if (files.length < 2) return false;
  const fit = canBeOne(files);
  return fit === 'no' || (fit === 'overlaps' && !areParts(files)) || sameName(files);
}

/** In one folder, also where several were read, and with numbers that are surely parts'. */
const areParts = (files: readonly Placed[]): boolean => new Set(files.map(({ name, longName }) => foldersOf(longName ?? name))).size === 1 && !files.some(({ name }) => hasWeakNumber(name));

/** Says so where frames that they share are why files called alike were told apart, unless it is plain that they are several cameras. */
function partedBy(title: string, files: readonly Placed[]): Problem[] {
  if (sameName(files)) return [];
  const are = areParts(files);
  const [one] = sharedFrames(files).filter(({ isShort, file, before }) => (isShort || are) && file.extent?.count.rate.name === before.extent?.count.rate.name);
  if (one === undefined) return [];
  return [problem('recording-overlap', `it shares ${framesText(one.frames)} with ${one.before.name}, so the files called '${title}' were told apart; if they are one recording, join them with --group`, { file: one.file.recording.path }, 'note')];
}

/** `CAM 1` and `CAM 2` without timecode: two cameras, or two parts? Told apart, because sources are easier joined by hand than parted. */
const mayBeSeveral = (files: readonly Placed[]): boolean =>
  files.some(({ extent }) => extent?.start === undefined) && files.some(({ name }) => hasWeakNumber(name));

/** Files that differ only in their ending are copies in two formats, not parts. */
const sameName = (files: readonly Placed[]): boolean => new Set(files.map(({ name }) => withoutEnding(name).toLowerCase())).size < files.length;

function byPattern(files: readonly Placed[], pattern: RegExp, ungrouped: Placed[]): Named[] {
  const matched: { name: string; file: Placed }[] = [];
  const once = new RegExp(pattern.source, pattern.flags.replace(/[gy]/g, ''));
  for (const file of files) {
    const match = once.exec(file.name) ?? once.exec(file.longName ?? file.name);
    const name = (match?.groups?.['source'] ?? Object.values(match?.groups ?? {})[0] ?? match?.[1] ?? match?.[0] ?? '').trim();
    if (name === '') ungrouped.push(file);
    else matched.push({ name, file });
  }
  return [...collect(matched, ({ name }) => name)]
    .flatMap(([, members]) => byRate(members[0]?.name ?? '', members.map(({ file }) => file)))
    .sort((a, b) => byName(a.name, b.name));
}

/** A show file gives each rate a source of its own; so must a pattern's groups. */
function byRate(name: string, files: readonly Placed[]): Named[] {
  const rates = collect(files, ({ extent }) => extent?.count.rate.name ?? '');
  if (rates.size === 1 || (rates.size === 2 && rates.has(''))) return [{ name, files }];
  return [...rates].map(([rate, members]) => ({ name: `${name} ${rate}`.trim(), files: members }));
}

/** Collects under a key in any case, in order of appearance. */
function collect<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item).toLowerCase();
    const members = found.get(key);
    if (members === undefined) found.set(key, [item]);
    else members.push(item);
  }
  return found;
}

function unique(wanted: string, picture: boolean, names: Set<string>): string {
  const taken = (name: string): boolean => names.has(name.toLowerCase()) || (RESERVED_IDS.includes(name.toLowerCase()) && !(picture && name.toLowerCase() === PROGRAM));
  let name = wanted;
  if (taken(name) && !picture) name = `${wanted} sound`;
  for (let number = 2; taken(name); number += 1) name = `${wanted} ${String(number)}`;
  names.add(name.toLowerCase());
  return name;
}
