/** A list in one format as a whole: one file, or the parts of a divided EDL, which are one list only together. */
import type { CutList } from '../cutlist/model.js';
import { assembleEdl } from '../formats/edl/assemble.js';
import type { EdlDocument } from '../formats/edl/document.js';
import { problem, type Place } from '../problems.js';
import { withinDay } from '../timecode/day.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';
import type { Checked } from './check.js';

export interface Whole {
  readonly files: readonly Checked[];
  readonly list: CutList;
  /** Where a shot of the list stands. */
  readonly spotOf: (shot: number) => Spot;
}

export interface Spot {
  readonly file: Checked;
  readonly place: Place;
  /** Frame of the whole list on which the file's own list begins. */
  readonly begin: number;
}

/** A list that is one file; undefined when it could not be read. */
export function wholeFile(file: Checked | undefined): Whole | undefined {
  const { placed } = file ?? {};
  return file === undefined || placed === undefined ? undefined : { files: [file], list: placed.list, spotOf: (shot) => ({ file, place: placed.placeOf(shot), begin: 0 }) };
}

/** The list of an EDL or of the parts of a divided one, in order; undefined when one of them could not be read. `hole` and `overlap` between parts are reported. */
export function wholeEdl(files: readonly Checked[]): Whole | undefined {
  const documents = files.map(({ document }) => document).filter((document) => document !== undefined);
  const [first, ...rest] = documents;
  if (first === undefined || documents.length < files.length) return undefined;
  if (rest.length === 0) return wholeFile(files[0]);
  files.forEach((part, index) => {
    const [before, after] = [documents[index - 1], documents[index]];
    if (before !== undefined && after !== undefined) checkSeam(before, after, part);
  });
  const list = assembleEdl([first, ...rest], () => undefined);
  const spots = spotsOf(list, files, framesPerDay(first.labels));
  return { files, list, spotOf: (shot) => spots[shot] as Spot };
}

/** For each shot the event that begins with it, found by its label; a shot without one (black in a hole) stands with the shot before. */
function spotsOf(list: CutList, files: readonly Checked[], day: number): Spot[] {
  const byLabel = new Map<number, Spot>();
  let spot: Spot | undefined;
  for (const file of [...files].reverse()) {
    const { document, placed } = file;
    if (document === undefined || placed === undefined) continue;
    const begin = (placed.list.recordStart - list.recordStart + day) % day;
    for (const event of [...document.events].reverse()) {
      spot = { file, place: { file: document.file, line: event.line, column: 1 }, begin };
      if (event.picture) byLabel.set(event.recordIn % day, spot);
    }
  }
  return list.shots.map((shot) => (spot = byLabel.get((list.recordStart + shot.in) % day) ?? spot) as Spot);
}

/** A part begins where the one before it ends. */
function checkSeam(before: EdlDocument, after: EdlDocument, { findings, placed }: Checked): void {
  const end = Math.max(...lastOf(before));
  const [first] = after.events;
  if (first === undefined) return;
  const day = framesPerDay(after.labels);
  const away = withinDay(first.recordIn - end, day);
  if (away === 0) return;
  const late = away <= day / 2;
  const frames = late ? away : day - away;
  const message = `the part begins at ${formatTimecode(first.recordIn, after.count)}, ${String(frames)} frames ${late ? 'after' : 'before'} the end of ${before.file}`;
  findings.add({ ...problem(late ? 'hole' : 'overlap', message, { file: after.file, line: first.line, column: 1 }), ...(placed === undefined ? {} : { at: 0 }) });
}

/** Record out-points of the last events: sound may end with the picture or before it. */
const lastOf = ({ events }: EdlDocument): number[] => events.slice(-64).map(({ recordOut }) => recordOut);
