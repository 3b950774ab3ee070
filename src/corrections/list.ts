/** Corrections of markers, of the list as a whole, of how a source counts; and takes that fit the corrected shots. */
import { problem, type Report } from '../problems.js';
import { relabel } from '../timecode/label.js';
import type { Edits, ShotSpot } from './edits.js';
import type { Kept } from './length.js';
import { isBetweenTakes } from '../cutlist/gap.js';
import type { CutList, Marker, Take } from '../cutlist/model.js';

/** The list with its new sources; points of sources that count differently now keep their labels. */
export function withSourceRates(list: CutList, { sources, recounted }: Edits): CutList {
  if (recounted.size === 0) return sources === list.sources ? list : { ...list, sources };
  const counts = new Map(sources.map((source) => [source.id, source.count]));
  const relabelled = <T extends { readonly source: string; readonly sourceIn: number; readonly sourceOut: number }>(piece: T): T => {
    const from = recounted.get(piece.source);
    const to = counts.get(piece.source);
    if (from === undefined || to === undefined) return piece;
    const sourceIn = relabel(piece.sourceIn, from, to);
    return { ...piece, sourceIn, sourceOut: Math.max(sourceIn, relabel(piece.sourceOut, from, to)) };
  };
  return { ...list, sources, shots: list.shots.map(relabelled), audio: list.audio.map(relabelled) };
}

/** Markers renamed, moved, removed and added. */
export function withMarkerEdits(list: CutList, kept: Kept, edits: Edits, report: Report): CutList | undefined {
  if (edits.markers.length === 0) return list;
  let sound = true;
  const placed = (spot: ShotSpot, edit: { readonly by: Edits['inserts'][number]['by'] }): number => {
    const at = kept.frameOf(spot);
    if (at > list.frames) {
      sound = false;
      report(problem('bad-corrections', `${edit.by.do}: it lies after the end of the list`, edit.by.place));
    }
    return at;
  };
  // Changes of length move markers, and keep their number and order.
  const markers: (Marker | undefined)[] = [...list.markers];
  const added: Marker[] = [];
  for (const edit of edits.markers) {
    if (edit.do === 'add') {
      added.push({ at: placed(edit.to, edit), note: edit.note, ...(edit.color === undefined ? {} : { color: edit.color }) });
      continue;
    }
    const marker = markers[edit.marker];
    if (marker === undefined) continue;
    if (edit.do === 'remove') markers[edit.marker] = undefined;
    else if (edit.do === 'move') markers[edit.marker] = { ...marker, at: placed(edit.to, edit) };
    else markers[edit.marker] = { ...marker, note: edit.note, ...(edit.color === undefined ? {} : { color: edit.color }) };
  }
  const all = [...markers.filter((marker) => marker !== undefined), ...added].sort((a, b) => a.at - b.at);
  return sound ? { ...list, markers: all } : undefined;
}

/** Title, record start and rate. A new rate counts the same frames. */
export function withListEdits(list: CutList, { title, recordStart, count }: Edits): CutList {
  if (title === undefined && recordStart === undefined && count === undefined) return list;
  return {
    ...list,
    ...(title === undefined ? {} : { title }),
    ...(recordStart === undefined ? {} : { recordStart }),
    ...(count === undefined ? {} : { count }),
  };
}

/**
 * Takes whose bounds are those of their shots again; a take without shots goes. A take that knows its log keeps telling which
 * log frame lies where.
 */
export function fitTakes(list: CutList): CutList {
  const takes: Take[] = [];
  const renumbered = new Map<number, number>();
  let same = true;
  const bounds = boundsOfTakes(list);
  list.takes.forEach((take, index) => {
    const range = bounds.get(index);
    if (range === undefined) {
      same = false;
      // Black that is left of it goes with the take before.
      renumbered.set(index, Math.max(0, takes.length - 1));
      return;
    }
    const [into, out] = range;
    const number = take.origin === undefined || take.number !== undefined || index === takes.length ? {} : { number: index + 1 };
    const fits = into === take.in && out === take.out;
    if (!fits) same = false;
    renumbered.set(index, takes.length);
    takes.push(fits && same ? take : { ...take, in: into, out, logIn: take.logIn + into - take.in, ...number });
  });
  if (same || takes.length === 0) return list;
  const retaken = <T extends { readonly take: number }>(piece: T): T => {
    const to = renumbered.get(piece.take) ?? Math.max(0, takes.length - 1);
    return to === piece.take ? piece : { ...piece, take: to };
  };
  return {
    ...list,
    takes,
    shots: list.shots.map(retaken),
    audio: list.audio.map(retaken),
    ...(list.angles === undefined ? {} : { angles: list.angles.map((angle) => ({ ...angle, pieces: angle.pieces.map(retaken) })) }),
  };
}

/** From the first to the last shot of each take; black that lay outside its take (between takes with distance) stays outside. */
function boundsOfTakes(list: CutList): Map<number, [number, number]> {
  const bounds = new Map<number, [number, number]>();
  for (const shot of list.shots) {
    if (isBetweenTakes(shot, list.takes)) continue;
    const range = bounds.get(shot.take);
    if (range === undefined) bounds.set(shot.take, [shot.in, shot.out]);
    else range[1] = shot.out;
  }
  return bounds;
}
