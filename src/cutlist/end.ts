/** Where a take without a `stop` ends (contract, rule 7): where the first of the recordings that it uses ends. */
import type { Count } from '../timecode/rate.js';
import { BLACK, PROGRAM, type Source } from './model.js';
import { cover, heldTo } from './cover.js';
import { daysTo, recordingEnd, Recordings, type SourceRecording } from './recording.js';
import { logFrameOf, plainSourceFrame, Run, runsAhead, sourceLength, type NumberedTake, type Played } from './sync.js';

type Begins = (at: number) => readonly number[];

/** A source that a take shows or plays sound from, and the log frame on which it does so first. */
export interface Use {
  readonly source: string;
  readonly at: number;
}

/**
 * The log frame (exclusive) on which the first of the recordings ends that are used before it, and which source that is; undefined
 * when none of their ends is known. `uses` are in order of time. A recording that had ended when it is first used does not count: what
 * it lacks becomes program or black, as it does before a `stop`. A source that was not recorded is replaced by the program recording.
 * With `wholeRecording` off, a recording ends where the run of files ends that holds the take's first frame: what comes later belongs
 * to other takes. `begins` gives the log frames on which what is seen and heard just before a frame begins: how far it reaches by then
 * depends on that.
 */
export function earliestEnd(
  uses: readonly Use[],
  sources: ReadonlyMap<string, Source>,
  take: NumberedTake,
  list: Count,
  wholeRecording: boolean,
  begins: Begins,
): { readonly at: number; readonly source: Source } | undefined {
  let earliest: { at: number; source: Source } | undefined;
  const seen = new Set<string>();
  for (const { source: id, at: from } of uses) {
    if (earliest !== undefined && from >= earliest.at) break;
    if (id === BLACK || seen.has(id)) continue;
    seen.add(id);
    const given = sources.get(id);
    const source = given?.recorded === false ? sources.get(PROGRAM) : given;
    if (source?.recorded !== true) continue;
    const at = endOnLog(source, take, list, wholeRecording, begins);
    if (at !== undefined && at > from && (earliest === undefined || at < earliest.at)) earliest = { at, source };
  }
  return earliest;
}

function endOnLog(source: Source, take: NumberedTake, list: Count, wholeRecording: boolean, begins: Begins): number | undefined {
  const recording = new Recordings().of(source, take);
  const first = plainSourceFrame(source, take, take.logIn, list);
  const days = daysTo(recording, first, first + 1);
  const labelled = wholeRecording ? recordingEnd(recording) : endOfRun(recording, first + days);
  if (labelled === undefined) return undefined;
  const end = labelled - days;
  const at = logFrameOf(source, take, end, list);
  const isAhead = runsAhead(source.count.rate, list.rate);
  // Frame for frame at a slower rate: how far it runs away is told on its own.
  if (source.count.rate.nominal === list.rate.nominal && !isAhead) return at;
  return heldEnd(source, take, list, at, begins, (shot) => (isAhead ? coveredTo(shot, source, recording, list) : heldTo(new Run(shot, list, source.count), shot.in, shot.out, end)));
}

/** The frame ≤ `at` up to which what begins last before it is held whole: a shot's own rounding may pass the end a frame before `at`. */
function heldEnd(source: Source, take: NumberedTake, list: Count, at: number, begins: Begins, heldOf: (shot: Played) => number): number {
  const held = begins(at).filter((from) => from < at).map((from) => {
    const sourceIn = plainSourceFrame(source, take, from, list);
    const shot = { in: from, out: at, sourceIn, sourceOut: sourceIn + sourceLength(at - from, list, source.count) };
    return Math.max(from, heldOf(shot));
  });
  const out = Math.min(at, ...held);
  return out < at ? heldEnd(source, take, list, out, begins, heldOf) : at;
}

/** Where files are left in real time, each part was rounded on its own: the last one may end a frame early. */
function coveredTo(shot: Played, source: Source, recording: SourceRecording, list: Count): number {
  const last = cover(shot, source, recording, list).at(-1);
  return last?.missing !== undefined && last.out - last.in === 1 ? last.in : shot.out;
}

/** The end of the run of files without a hole between them that holds `frame`, or that begins next after it. */
function endOfRun({ spans }: SourceRecording, frame: number): number | undefined {
  let end: number | undefined;
  for (const span of spans ?? []) {
    if (end !== undefined && span.start > end) break;
    if (span.end > frame) end = span.end;
  }
  return end === Infinity ? undefined : end;
}
