/** What both lists can say, going by the formats they come from. */
import type { CutList } from '../cutlist/model.js';
import { asciiText, edlTitle } from '../formats/edl/ascii.js';
import { CHANNELS } from '../formats/edl/columns.js';
import type { Form } from '../formats/form.js';
import { problem, type Problem } from '../problems.js';

/** What both lists can say, by the formats they come from: the rest is not compared. */
export interface Carried {
  /** Both carry markers. */
  readonly markers: boolean;
  /** Program sound channels up to this one are held by both: an EDL has no others. */
  readonly tracks: number;
  /** One of them holds ASCII only (an EDL): titles and notes are compared as it would write them. */
  readonly ascii: boolean;
}

export const EVERYTHING: Carried = { markers: true, tracks: Infinity, ascii: false };

/**
 * What two lists can say by the formats they come from. An EDL holds ASCII, four sound channels, and markers as comments that not every system writes: one
 * without any may have left them out.
 */
export function carriedBy(a: Form, b: Form, listA: CutList, listB: CutList): Carried {
  const silent = (form: Form, list: CutList): boolean => form === 'edl' && list.markers.length === 0;
  const edl = a === 'edl' || b === 'edl';
  return { markers: !silent(a, listA) && !silent(b, listB), tracks: edl ? CHANNELS : Infinity, ascii: edl };
}

/** What one of two lists has and the other cannot say, as notes. */
export const notCompared = ({ markers }: Carried, ...lists: readonly CutList[]): Problem[] =>
  !markers && lists.some((list) => list.markers.length > 0) ? [problem('found', 'one of the two is an EDL without markers; markers are not compared')] : [];

/** A text as both lists can hold it. */
export const textAs = (text: string, { ascii }: Carried): string => (ascii ? asciiText(text) : text.trim());

/** Whether two titles are one as both lists can hold them. */
export const sameTitle = (a: string, b: string, { ascii }: Carried): boolean => (ascii ? edlTitle(a) === edlTitle(b) : a.trim() === b.trim());
