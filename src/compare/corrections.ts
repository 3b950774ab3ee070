/** The differences of two lists as corrections: applied to A they give B. */
import type { Correction } from '../corrections/model.js';
import type { CutList } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import { countName } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import { EVERYTHING, sameTitle, type Carried } from './carried.js';
import { markerCorrections, soundCorrections } from './corrections-rest.js';
import { lengthsAtEnd, lengthsInside, shotCorrections, type Lengths } from './corrections-shots.js';
import { applied, placed, type Draft } from './draft.js';
import { matchLists, type Matched } from './match.js';
import { sameCount, samePiece } from './points.js';
import { SourceNames } from './source-names.js';
import { spotsOf } from './spots.js';

/** What turns the picture of A into that of B, and the list that it gives. */
export interface PictureCorrections {
  readonly drafts: readonly Draft[];
  readonly list: CutList;
  readonly lengths: Lengths;
  readonly names: SourceNames;
}

/**
 * All corrections that make A into B, in the order: sources, rate, shots, sound, markers, title and record start. Sources that
 * match keep A's id, name and files; what one of the two lists cannot say (`carried`) is not compared.
 */
export function correctionsFor(a: CutList, b: CutList, carried: Carried = EVERYTHING): Correction[] {
  const matched = matchLists(a, b);
  const names = new SourceNames(matched);
  // Where the lists run at one rate, a source counts as its labels say; else its rate changes with the list's.
  if (!sameCount(a.count, b.count)) for (const { id } of b.sources) if (names.isKnown(id)) names.countFor(id);
  // What is found out about a source late (it counts otherwise) changes what shots before looked like: once more, then.
  for (;;) {
    const known = names.changes;
    const picture = pictureCorrections(matched, names);
    const rest = [...soundCorrections(matched, picture, carried), ...markerCorrections(matched, picture, carried), ...factCorrections(a, b, carried)];
    if (known === names.changes) return placed([...names.drafts(), ...picture.drafts, ...rest]);
  }
}

/**
 * The corrections of shots. Changes of the running time are written where they seem to be, so that what follows needs no word;
 * where that does not lead to B, all of it is put at the end of the list, which always does.
 */
export function pictureCorrections(matched: Matched, names: SourceNames): PictureCorrections {
  const inside = lengthsInside(matched);
  for (const lengths of [...(inside === undefined ? [] : [inside]), lengthsAtEnd(matched)]) {
    const found = withLengths(matched, lengths, names);
    if (found !== undefined) return found;
  }
  throw new Error('no corrections lead from one list to the other');
}

function withLengths(matched: Matched, lengths: Lengths, names: SourceNames): PictureCorrections | undefined {
  for (;;) {
    const known = names.changes;
    const drafts = shotCorrections(matched, lengths, spotsOf(matched.a, lengths), names);
    if (drafts === undefined) return undefined;
    if (known !== names.changes) continue;
    const list = applied(matched.a, [...names.drafts(), ...drafts]);
    if (list === undefined) return undefined;
    return sameShots(names.pair(list), list, matched.b) ? { drafts, list, lengths, names } : undefined;
  }
}

const sameShots = (pair: Parameters<typeof samePiece>[0], list: CutList, b: CutList): boolean =>
  list.shots.length === b.shots.length && list.frames === b.frames && list.shots.every((shot, index) => samePiece(pair, shot, b.shots[index] as CutList['shots'][number]));

function factCorrections(a: CutList, b: CutList, carried: Carried): Draft[] {
  const out: Draft[] = [];
  if (!sameTitle(a.title, b.title, carried)) out.push({ do: 'title', expect: a.title, to: b.title });
  if (countName(a.count) !== countName(b.count)) out.push({ do: 'rate', expect: countName(a.count), to: countName(b.count) });
  const start = formatTimecode(b.recordStart, b.count);
  if (formatTimecode(a.recordStart, b.count) !== start) out.push({ do: 'record-start', expect: recordLabel(a, 0), to: start });
  return out;
}
