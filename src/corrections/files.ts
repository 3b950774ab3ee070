/** Which file of a source a new piece plays from, in a list that does not say where its files begin. */
import { BLACK, type CutList, type MediaFile, type Shot, type Source } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { shotIndexAt } from '../cutlist/record.js';
import { problem, type Report } from '../problems.js';
import { formatTimecode } from '../timecode/timecode.js';
import type { Correction } from './model.js';
import { inSync, type Moment } from './points.js';

/** What a list plays of one file: source frames, from the first to behind the last. */
interface Stretch {
  readonly in: number;
  readonly out: number;
  readonly file: number;
}

/**
 * The file from which a source plays `sourceIn` at `moment`: its only one; where it has several and the list does not know where each begins, that of the
 * shots beside it that are in sync, else that of which the list plays what lies around this frame, or nearest to it (note `found`). None where these do not
 * say it (`unplaced-file`), or where the list knows: placing it on its recordings finds the file then.
 */
export function fileOf(list: CutList, id: string, sourceIn: number, moment: Moment, report: Report, by: Correction): { readonly file?: number } {
  const source = id === BLACK ? undefined : list.sources.find((one) => one.id === id);
  if (source === undefined || source.files.length === 0) return {};
  if (source.files.length === 1) return { file: 0 };
  if (source.files.every(isPlaced)) return {};
  const near = new Set(inSync(list, source, moment).filter(({ point }) => point === sourceIn).map(({ shot }) => shot.file));
  const [only] = near;
  if (near.size === 1 && only !== undefined) return { file: only };
  const played = playedFiles(list).get(id) ?? [];
  // A list that names no file of this source anywhere lacks nothing here.
  if (played.length === 0) return {};
  const file = fileAround(played, sourceIn);
  const at = `${by.do}: ${sourceText(list.sources, id)} at ${formatTimecode(sourceIn, source.count)}`;
  if (file === undefined) {
    report(problem('unplaced-file', `${at} names no file: the source has ${String(source.files.length)}, and nothing says which of them holds that frame`, by.place));
    return {};
  }
  if (!file.sure) report(problem('found', `${at} is taken from ${pathOf(source, file.file)}, of which the list plays the nearest frames`, by.place));
  return { file: file.file };
}

const isPlaced = ({ start }: MediaFile): boolean => start !== undefined;

const pathOf = (source: Source, file: number): string => source.files[file]?.path ?? '';

/** The file that holds a frame, going by what is played of each; undefined between two, or where they lie over one another: labels say nothing then. */
function fileAround(played: readonly Stretch[], at: number): { readonly file: number; readonly sure: boolean } | undefined {
  if (played.some((stretch, index) => index > 0 && stretch.in < (played[index - 1]?.out ?? 0))) return undefined;
  const index = shotIndexAt(played, at);
  const found = played[index];
  if (found === undefined) return undefined;
  const sure = at >= found.in && at < found.out;
  return sure || at < found.in || index === played.length - 1 ? { file: found.file, sure } : undefined;
}

const indexes = new WeakMap<readonly Shot[], ReadonlyMap<string, readonly Stretch[]>>();

/** What a list plays of each file, by source, in order. */
function playedFiles({ shots, audio }: CutList): ReadonlyMap<string, readonly Stretch[]> {
  const known = indexes.get(shots);
  if (known !== undefined) return known;
  const found = new Map<string, Map<number, Stretch>>();
  for (const pieces of [shots, audio]) {
    for (const { source, file, sourceIn, sourceOut } of pieces) {
      if (file === undefined) continue;
      const files = found.get(source) ?? new Map<number, Stretch>();
      const old = files.get(file);
      const [from, to] = sourceIn <= sourceOut ? [sourceIn, sourceOut] : [sourceOut, sourceIn];
      files.set(file, { in: Math.min(from, old?.in ?? from), out: Math.max(to, old?.out ?? to), file });
      found.set(source, files);
    }
  }
  const index = new Map([...found].map(([source, files]) => [source, [...files.values()].sort((a, b) => a.in - b.in)]));
  indexes.set(shots, index);
  return index;
}
