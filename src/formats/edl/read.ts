/** EDL → cut list: parse (lines → events with places), then assemble (events → shots, sound, markers). */
import type { CutList } from '../../cutlist/model.js';
import type { Report } from '../../problems.js';
import { assembleEdl } from './assemble.js';
import type { EdlDocument, EdlPart } from './document.js';
import { parseEdl, type ParseOptions } from './parse.js';
import { rateSigns } from './which-rate.js';

/**
 * Reads an EDL as a cut list: sources by reel (named after their clips), shots in record order, holes black. What is wrong is
 * reported with line and column, and a list is given all the same where there is one event to read; undefined otherwise.
 */
export function readEdl(text: string, options: ParseOptions, report: Report): CutList | undefined {
  const document = parseEdl(text, options, report);
  return document === undefined ? undefined : assembleEdl([document], report).list;
}

/**
 * Reads the parts of a list that was split (`NAME-1.edl`, `NAME-2.edl`, …), given in order, as the one list they were:
 * sound and shots that were divided at a part's end are whole again. All are at one rate, the one that fits all of them.
 */
export function readEdlParts(parts: readonly EdlPart[], options: Omit<ParseOptions, 'file' | 'signs'>, report: Report): CutList | undefined {
  const documents: EdlDocument[] = [];
  const signs = rateSigns(parts);
  for (const { file, text } of parts) {
    const document = parseEdl(text, { ...options, file, signs }, report);
    if (document === undefined) return undefined;
    documents.push(document);
  }
  const [first, ...others] = documents;
  return first === undefined ? undefined : assembleEdl([first, ...others], report).list;
}
