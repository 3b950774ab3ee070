/** A list in one format as a whole: one file, or the parts of a divided EDL, which are one list only together. */
import type { CutList } from '../cutlist/model.js';
import { assembleEdl } from '../formats/edl/assemble.js';
import type { EdlDocument } from '../formats/edl/document.js';
import { OneList, type Stretch } from '../formats/edl/one-list.js';
import type { PlacedEvent } from '../formats/edl/unwrap.js';
import { problem, type Place } from '../problems.js';
import { withinDay } from '../timecode/day.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';
import type { Checked } from './check.js';
import { eventPlace, soundEvents } from './where.js';

export interface Whole {
  readonly files: readonly Checked[];
  readonly list: CutList;
  /** Where a shot of the list stands. */
  readonly spotOf: (shot: number) => Spot;
  /** Where the sound stands that begins on a record frame; undefined where none does, or where it has no place of its own. */
  readonly soundSpotOf: (frame: number) => Spot | undefined;
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
  if (file === undefined || placed === undefined) return undefined;
  const spot = (place: Place): Spot => ({ file, place, begin: 0 });
  return {
    files: [file],
    list: placed.list,
    spotOf: (shot) => spot(placed.placeOf(shot)),
    soundSpotOf: (frame) => {
      const place = placed.soundAt?.(frame);
      return place === undefined ? undefined : spot(place);
    },
  };
}

/** The list of an EDL or of the parts of a divided one, in order; undefined when one of them could not be read. `hole` and `overlap` between parts are reported. */
export function wholeEdl(files: readonly Checked[]): Whole | undefined {
  const documents = files.map(({ document }) => document).filter((document) => document !== undefined);
  const [first, ...rest] = documents;
  if (first === undefined || documents.length < files.length) return undefined;
  if (rest.length === 0) return wholeFile(files[0]);
  const one = oneListOf(documents);
  if (one.length < documents.length) checkSeams(documents, files);
  // In source order, what one part lacks lies in the others.
  if (one.length === documents.length && one.isWhole) for (const { findings } of files) findings.withdraw('hole');
  const assembled = assembleEdl([first, ...rest], () => undefined);
  const { list, events, start, begun } = assembled;
  const filesOf = new Map(files.map((file) => [file.document, file]));
  const parts = new Map<EdlDocument, Omit<Spot, 'place'>>();
  for (const { document, at } of events) {
    // The first of a part's events in order of time is where its own list begins.
    if (!parts.has(document)) parts.set(document, { file: filesOf.get(document) as Checked, begin: at - start });
  }
  const spot = (event: PlacedEvent): Spot => ({ ...parts.get(event.document) as Omit<Spot, 'place'>, place: eventPlace(event) });
  const sounds = soundEvents(assembled);
  return {
    files,
    list,
    spotOf: (shot) => spot(begun[shot] as PlacedEvent),
    soundSpotOf: (frame) => {
      const event = sounds.get(frame);
      return event === undefined ? undefined : spot(event);
    },
  };
}

/** How many of the parts are one list, in record order or in source order, and whether all of it is there. */
function oneListOf(documents: readonly EdlDocument[]): OneList<Stretch> {
  const day = framesPerDay((documents[0] as EdlDocument).labels);
  const one = new OneList(day);
  for (const { events } of documents) one.add(events.map(({ picture, recordIn, recordOut }) => ({ picture, in: recordIn, out: withinDay(recordOut, day) })));
  return one;
}

function checkSeams(documents: readonly EdlDocument[], files: readonly Checked[]): void {
  files.forEach((part, index) => {
    const [before, after] = [documents[index - 1], documents[index]];
    if (before !== undefined && after !== undefined) checkSeam(before, after, part);
  });
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
