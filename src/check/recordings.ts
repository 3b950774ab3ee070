/** A list against the recordings that its show file, or the list itself, knows of. */
import { matchSources } from '../compare/sources.js';
import { BLACK, PROGRAM, type CutList, type Source } from '../cutlist/model.js';
import { placeOnRecordings } from '../cutlist/place.js';
import { without } from '../cutlist/shift.js';
import { problem, type Problem, type Report } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { showSources } from '../show/sources.js';
import type { PlacedList } from './list.js';

/** The list with the show file's sources in place of its own. Sources on air that the show file lacks are `unknown-source`. */
export function withShow({ list, placeOf }: PlacedList, show: ShowFile, file: string, report: Report): CutList {
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
  const program = known.filter(({ id }) => id === PROGRAM);
  const sources = [...known.filter(({ id }) => id !== PROGRAM), ...strangers, ...program];
  return { ...list, sources, shots: list.shots.map(renamed), audio: list.audio.map(renamed) };
}

/** True when something is known of a recording that a list could break. */
export const knowsRecordings = (list: CutList): boolean =>
  list.sources.some(({ recorded, files }) => !recorded || files.some(({ start, frames }) => start !== undefined || frames !== undefined));

/** Reports what the recordings lack: `beyond-recording`, `short-handle`, `not-recorded`, `recording-hole`, … What is unused is no finding. */
export function checkRecordings(list: CutList, placed: (problem: Problem) => void): void {
  placeOnRecordings(list, (found) => {
    if (found.code !== 'unused-recording') placed(found);
  });
}
