/** A list against the recordings that its show file, or the list itself, knows of. */
import { matchSources } from '../compare/sources.js';
import { BLACK, PROGRAM, type CutList, type Shot, type Source } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { PartFinder } from '../cutlist/parts.js';
import { placeOnRecordings } from '../cutlist/place.js';
import { recordLabel } from '../cutlist/record.js';
import { framesText } from '../frames-text.js';
import { problem, type Problem, type Report } from '../problems.js';
import { without } from '../without.js';
import type { ShowFile } from '../show/show.js';
import { showSources } from '../show/sources.js';
import { relabel } from '../timecode/label.js';
import { convertFrames, type Count } from '../timecode/rate.js';
import type { PlacedList } from './list.js';

/**
 * The list with the show file's sources in place of its own. Sources on air that the show file lacks are `unknown-source`. A list that
 * does not say how a source counts was read as if all counted alike: its source points then keep their labels (EDL) or their real
 * times (OTIO) at the rate that the show file says.
 */
export function withShow({ list, placeOf }: PlacedList, show: ShowFile, file: string, report: Report, keeps: 'labels' | 'times' = 'labels'): CutList {
  const known = showSources(show, list.count, file, report);
  const match = matchSources({ ...list, sources: known }, list);
  const taken = new Set([BLACK, ...known.map(({ id }) => id)]);
  const ids = new Map<string, string>([[BLACK, BLACK]]);
  const strangers: Source[] = [];
  for (const source of list.sources) {
    const id = match.b(source.id);
    if (known.some((one) => one.id === id)) {
      ids.set(source.id, id);
      continue;
    }
    // An id of the list may be another source's in the show file.
    let free = source.id;
    while (taken.has(free)) free += ' ';
    taken.add(free);
    ids.set(source.id, free);
    strangers.push({ ...source, id: free });
    const shot = list.shots.findIndex((one) => one.source === source.id);
    if (shot === -1 && list.audio.every((piece) => piece.source !== source.id)) continue;
    const reel = source.reel === undefined || source.reel === source.name ? '' : ` (reel ${source.reel})`;
    report(problem('unknown-source', `${source.name}${reel} is no source of ${file}, which has ${known.map(({ name }) => name).join(', ')}`, placeOf(shot)));
  }
  const renamed = <T extends { readonly source: string; readonly file?: number; readonly instead?: string }>(piece: T): Omit<T, 'file' | 'instead'> =>
    ({ ...without(piece, 'file', 'instead'), source: ids.get(piece.source) ?? piece.source });
  const counts = { was: countsOf(list.sources), is: countsOf(known) };
  const recounted = <T extends Points>(piece: T): T => {
    const [from, to] = [counts.was.get(piece.source), counts.is.get(ids.get(piece.source) ?? '')];
    if (from === undefined || to === undefined || from.rate.nominal === to.rate.nominal) return piece;
    const moved = (frame: number): number => (keeps === 'labels' ? relabel(frame, from, to) : convertFrames(frame, from.rate, to.rate));
    return { ...piece, sourceIn: moved(piece.sourceIn), sourceOut: moved(piece.sourceOut) };
  };
  const program = known.filter(({ id }) => id === PROGRAM);
  const sources = [...known.filter(({ id }) => id !== PROGRAM), ...strangers, ...program];
  return { ...list, sources, shots: list.shots.map((shot) => renamed(recounted(shot))), audio: list.audio.map((piece) => renamed(recounted(piece))) };
}

type Points = Pick<Shot, 'source' | 'sourceIn' | 'sourceOut'>;

const countsOf = (sources: readonly Source[]): ReadonlyMap<string, Count> => new Map(sources.map(({ id, count }) => [id, count]));

/** True when something is known of a recording that a list could break. */
export const knowsRecordings = (list: CutList): boolean =>
  list.sources.some(({ recorded, files }) => !recorded || files.some(({ start, frames }) => start !== undefined || frames !== undefined));

/** That a source runs at another rate is a fact of the show, which its lists take care of (rule 12): no fault to be found in a file. */
export const asFinding = (found: Problem): Problem => (found.code === 'rate-differs' ? { ...found, severity: 'note' } : found);

/** Reports what the recordings lack: `beyond-recording`, `short-handle`, `not-recorded`, `recording-hole`, … What is unused is no finding. */
export function checkRecordings(list: CutList, report: Report): void {
  placeOnRecordings(list, (found) => {
    if (found.code !== 'unused-recording') report(asFinding(found));
  });
  checkFiles(list, report);
}

/** What a list plays from one file, and only another file of the source has (`beyond-recording`): whoever opens the list finds nothing there. */
function checkFiles(list: CutList, report: Report): void {
  const finder = new PartFinder(list);
  const pieces = [...list.shots.map((piece) => ({ piece, what: 'the shot on' })), ...list.audio.filter(({ withPicture }) => !withPicture).map((piece) => ({ piece, what: 'the sound from' }))];
  for (const { piece, what } of pieces) {
    const { source, file } = piece;
    const missing = (finder.inItsFile(piece) ?? []).filter((part) => part.missing !== undefined);
    if (missing.length === 0 || file === undefined) continue;
    const parts = finder.of(piece);
    const other = parts.find((part) => part.source === source && part.file !== undefined && part.file !== file)?.file;
    if (other === undefined || parts.some((part) => part.missing !== undefined)) continue;
    const frames = missing.reduce((sum, part) => sum + part.out - part.in, 0);
    const path = (index: number): string => list.sources.find(({ id }) => id === source)?.files[index]?.path ?? '';
    const where = `${what} ${sourceText(list.sources, source)} at ${recordLabel(list, piece.in)}`;
    const message = `${where}: ${framesText(frames)} ${frames === 1 ? 'lies' : 'lie'} outside ${path(file)}, which it names; ${path(other)} has ${frames === 1 ? 'it' : 'them'}`;
    report({ ...problem('beyond-recording', message), at: piece.in });
  }
}
