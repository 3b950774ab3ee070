/** Which recorded files belong to one source: by their names, checked against their timecode. */
import { PROGRAM } from '../cutlist/model.js';
import { RESERVED_IDS } from '../cutlist/naming.js';
import { folderOf, hasWeakNumber, stemOf, titleOf, withoutEnding } from './names.js';
import { byName, cannotBeOne, inOrder, type Placed } from './order.js';

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
}

/**
 * Puts files into sources, in order of name. With a `pattern` a file's source is what the pattern's group named `source`, else its first
 * group, else its whole match finds in the file's name below the folder. Without one it is the name without a part
 * number behind it (`wide-1`, `wide_part2`, `wide 0003` → `wide`); files that cannot be parts of one recording, because they
 * hold the same time or count differently, are told apart by their folder, then by their whole name. Sound-only files
 * are never in one source with pictures. Only the program recording may be called `program`: `isProgram` finds it.
 */
export function groupRecordings(given: readonly Placed[], pattern?: RegExp): Grouping {
  const files = [...given].sort((a, b) => byName(a.name, b.name));
  const ungrouped: Placed[] = [];
  const groups: Group[] = [];
  const names = new Set<string>();
  for (const picture of [true, false]) {
    const kind = files.filter(({ recording }) => (recording.picture !== undefined) === picture);
    for (const { name, files: members } of pattern === undefined ? byKeys(kind, 0) : byPattern(kind, pattern, ungrouped)) {
      groups.push({ name: unique(name, picture, names), picture, files: inOrder(members) });
    }
  }
  return { groups, ungrouped };
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

function byKeys(files: readonly Placed[], level: number): Named[] {
  const key = KEYS[level];
  // Even whole names can be alike, but for the case of a letter.
  if (key === undefined) return files.map((file) => ({ name: file.name, files: [file] }));
  const found: Named[] = [];
  for (const [, members] of collect(files, ({ name }) => key(name))) {
    const apart = members.length > 1 && (cannotBeOne(members) || sameName(members) || (level === 0 && mayBeSeveral(members)));
    if (apart) found.push(...byKeys(members, level + 1));
    else found.push({ name: key(members[0]?.name ?? ''), files: members });
  }
  return found.sort((a, b) => byName(a.name, b.name));
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
    const match = once.exec(file.name);
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
