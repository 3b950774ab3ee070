/** Where a take without a `stop` ends (contract, rule 7): where the first of the recordings that it uses ends. */
import type { Count } from '../timecode/rate.js';
import { BLACK, PROGRAM, type Source } from './model.js';
import { daysTo, recordingEnd, Recordings, type Recording } from './recording.js';
import { logFrameOf, plainSourceFrame, type NumberedTake } from './sync.js';

/**
 * The log frame (exclusive) on which the first of the recordings of `used` ends, and which source that is; undefined when none of
 * their ends is known. A source that was not recorded is replaced by the program recording. With `wholeRecording` off, a
 * recording ends where the run of files ends that holds the take's first frame: what comes later belongs to other takes.
 */
export function earliestEnd(
  used: Iterable<string>,
  sources: ReadonlyMap<string, Source>,
  take: NumberedTake,
  list: Count,
  wholeRecording: boolean,
): { readonly at: number; readonly source: Source } | undefined {
  let earliest: { at: number; source: Source } | undefined;
  for (const id of used) {
    if (id === BLACK) continue;
    const given = sources.get(id);
    const source = given?.recorded === false ? sources.get(PROGRAM) : given;
    if (source?.recorded !== true) continue;
    const at = endOnLog(source, take, list, wholeRecording);
    if (at !== undefined && at > take.logIn && (earliest === undefined || at < earliest.at)) earliest = { at, source };
  }
  return earliest;
}

function endOnLog(source: Source, take: NumberedTake, list: Count, wholeRecording: boolean): number | undefined {
  const recording = new Recordings().of(source, take);
  const first = plainSourceFrame(source, take, take.logIn, list);
  const days = daysTo(recording, first, first + 1);
  const end = wholeRecording ? recordingEnd(recording) : endOfRun(recording, first + days);
  return end === undefined ? undefined : logFrameOf(source, take, end - days, list);
}

/** The end of the run of files without a hole between them that holds `frame`, or that begins next after it. */
function endOfRun({ spans }: Recording, frame: number): number | undefined {
  let end: number | undefined;
  for (const span of spans ?? []) {
    if (end !== undefined && span.start > end) break;
    if (span.end > frame) end = span.end;
  }
  return end === Infinity ? undefined : end;
}
