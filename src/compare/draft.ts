/** Corrections on the way: not yet of any file. */
import { applyCorrections } from '../corrections/apply.js';
import type { Correction } from '../corrections/model.js';
import type { CutList } from '../cutlist/model.js';

/** A correction without its place in a file. */
export type Draft = Omit<Correction, 'place'>;

export const placed = (drafts: readonly Draft[]): Correction[] => drafts.map((draft) => ({ ...draft, place: {} }));

/** The corrected list; undefined when the drafts do not fit. */
export const applied = (list: CutList, drafts: readonly Draft[]): CutList | undefined => applyCorrections(list, placed(drafts), () => undefined);
