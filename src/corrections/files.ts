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

/** A new piece of picture or sound, before it has a file. */
type Piece = Moment & Pick<Shot, 'source' | 'sourceIn' | 'sourceOut'>;

/**
 * The file from which a new piece plays: its source's only one; where that has several and the list does not know where each begins, that of which the
 * list plays what lies around the piece's first frame, else that of the shots beside it that are in sync, else that of which the list plays the nearest
 * frames (note `found`). None where these do not say it (`unplaced-file`), or where the list knows: placing it on its recordings finds the file then.
 * `unplaced-file` too where the list plays the piece's last frames from another file.
 */
export function fileOf(list: CutList, piece: Piece, report: Report, by: Correction): { readonly file?: number } {
  const { source: id, sourceIn } = piece;
  const source = id === BLACK ? undefined : list.sources.find((one) => one.id === id);
  if (source === undefined || source.files.length === 0) return {};
  if (source.files.length === 1) return { file: 0 };
  if (source.files.every(isPlaced)) return {};
  const near = new Set(inSync(list, source, piece).filter(({ point }) => point === sourceIn).map(({ shot }) => shot.file));
  const [only] = near;
  const beside = near.size === 1 ? only : undefined;
  const played = playedFiles(list).get(id) ?? [];
  // A list that names no file of this source anywhere lacks nothing here.
  if (played.length === 0) return {};
  const around = fileAround(played, sourceIn);
  const file = around?.sure === true ? around.file : (beside ?? around?.file);
  const label = (frame: number): string => formatTimecode(frame, source.count);
  const at = `${by.do}: ${sourceText(list.sources, id)} at ${label(sourceIn)}`;
  if (file === undefined) {
    report(problem('unplaced-file', `${at} names no file: the source has ${String(source.files.length)}, and nothing says which of them holds that frame`, by.place));
    return {};
  }
  const rest = areApart(played) ? played.find((stretch) => stretch.file !== file && stretch.in > sourceIn && stretch.in < piece.sourceOut) : undefined;
  if (rest !== undefined) {
    report(problem('unplaced-file', `${at} is taken from ${pathOf(source, file)}, but from ${label(rest.in)} on the list plays ${pathOf(source, rest.file)}; correct what lies in each file for itself`, by.place));
  } else if (around?.sure !== true && beside === undefined) {
    report(problem('found', `${at} is taken from ${pathOf(source, file)}, of which the list plays the nearest frames`, by.place));
  }
  return { file };
}

const isPlaced = ({ start }: MediaFile): boolean => start !== undefined;

const pathOf = (source: Source, file: number): string => source.files[file]?.path ?? '';

/** False where files lie over one another, as those do that all begin at zero. */
const areApart = (played: readonly Stretch[]): boolean => !played.some((stretch, index) => index > 0 && stretch.in < (played[index - 1]?.out ?? 0));

/** The file that holds a frame, going by what is played of each; undefined between two, or where they lie over one another: labels say nothing then. */
function fileAround(played: readonly Stretch[], at: number): { readonly file: number; readonly sure: boolean } | undefined {
  if (!areApart(played)) return undefined;
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
