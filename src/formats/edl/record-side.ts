/** The record side of an EDL, seen without reading it as a list: labels and title, as they are written. */
import { isFault } from '../../problems.js';
import { OneList, type Stretch } from './one-list.js';
import { linesOf, readFields } from './tokens.js';

/** How many of the parts of an EDL, given in order by their texts, are one list, from the first on. */
export function partsOfOne(texts: Iterable<string>): number {
  const one = labelledParts();
  let title: string | undefined;
  for (const text of texts) {
    if (titleIn(text) !== (title ??= titleIn(text)) || !one.add(recordSide(text)) || !one.isOpen) break;
  }
  return one.length;
}

/** A stretch of an EDL's text, with its record labels as they are written. */
export interface LabelStretch extends Stretch {
  readonly labels: readonly [string, string];
}

/** Parts of an EDL, none yet: add the record side of each (`recordSide`). */
export const labelledParts = (): OneList<LabelStretch> => new OneList(LABELS_PER_DAY);

/** Labels as numbers in their order, which need no rate: a thousand a second. */
const LABELS_PER_DAY = 86_400_000;

const numberOf = (label: string): number => {
  const [hours = 0, minutes = 0, seconds = 0, frames = 0] = label.split(/[:;.,]/).map(Number);
  return ((hours * 60 + minutes) * 60 + seconds) * 1000 + frames;
};

/** The record side of an EDL, in the order of its lines; lines that cannot be read are left out. */
export function recordSide(text: string): LabelStretch[] {
  const stretches: LabelStretch[] = [];
  for (const line of linesOf(text)) {
    const fields = /^\s*\d/.test(line) ? readFields(line) : undefined;
    if (fields === undefined || isFault(fields) || fields.kind === 'key') continue;
    const [, , from = '', out = ''] = fields.labels;
    stretches.push({ picture: fields.channels.picture, in: numberOf(from), out: numberOf(out), labels: [from, out] });
  }
  return stretches;
}

/** An EDL's title as it writes it; empty where it has none. */
export const titleIn = (text: string): string => /^[ \t]*TITLE:([^\r\n]*)/im.exec(text)?.[1]?.trim() ?? '';
