/** What is to say of a list's recordings beside its shots: overlaps, holes, rates, recordings that nobody uses. */
import { problem, type Report } from '../problems.js';
import { BLACK, PROGRAM, type CutList, type Source } from './model.js';
import { sourceText } from './naming.js';
import { daysTo, pathOf, spansBefore, type SourceRecording, type Recordings, type Span } from './recording.js';
import { rateText } from './rates.js';
import { numberedTake, plainSourceFrame, type NumberedTake } from './sync.js';
import { framesText } from '../frames-text.js';

/**
 * Reports `recording-overlap`, `recording-hole` (of holes that no shot met; `met` are the sources whose holes were reported with
 * shots), `unplaced-file`, `rate-differs` and `unused-recording`. `given` is the list before it was placed, `placed` after it.
 */
export function reportRecordings(given: CutList, placed: CutList, recordings: Recordings, met: ReadonlySet<string>, report: Report): void {
  const used = usedSources(given);
  for (const id of usedSources(placed)) used.add(id);
  const takes = given.takes.map((_, index) => numberedTake(given.takes, index) as NumberedTake);
  for (const source of given.sources) {
    const name = sourceText(given.sources, source.id);
    if (!used.has(source.id)) {
      if (source.id !== PROGRAM && source.recorded && source.files.length > 0) report(problem('unused-recording', `the recording of ${name} is neither seen nor heard in this list`));
      continue;
    }
    const seen = new Set<SourceRecording>();
    for (const take of takes) {
      const recording = recordings.of(source, take);
      if (!met.has(source.id)) reportHoles(source, name, recording, take, given, report);
      if (seen.has(recording)) continue;
      seen.add(recording);
      reportFiles(source, name, recording, take, report);
    }
    if (source.recorded && source.count.rate !== given.count.rate) report(problem('rate-differs', rateText(name, source.count, given.count, given.frames)));
  }
}

function reportFiles(source: Source, name: string, recording: SourceRecording, take: NumberedTake, report: Report): void {
  const path = (file: number): string => source.files[file]?.path ?? '';
  for (const overlap of recording.overlaps) {
    report(problem('recording-overlap', `${name}: ${path(overlap.file)} holds ${framesText(overlap.frames)} that ${path(overlap.with)} holds too; the one that goes on longer is used`));
  }
  if (source.files.length > 1 && recording.unplaced && recording.onlyFile === undefined) {
    report(problem('unplaced-file', `${name} has ${String(source.files.length)} files, and nothing says where they begin: which one a shot plays from is not known`));
  }
  // A file of which a show file says nothing but its path is usual: whoever wrote that trusts its labels. One that was measured has none.
  const [only] = source.files;
  if (take.origin === 'timecode' && recording.unplaced && source.files.length === 1 && only?.frames !== undefined && source.starts.length === 0 && source.sync === undefined) {
    report(problem('unplaced-file', `${name}: ${only.path} has ${framesText(only.frames)}, and nothing says at which timecode they begin: that of the log is written for it; give the source's start or sync`));
  }
}

/** Holes that lie within a take: the cut does not need these frames, but they are missing. */
function reportHoles(source: Source, name: string, recording: SourceRecording, take: NumberedTake, list: CutList, report: Report): void {
  if (take.origin === undefined || recording.spans === undefined || !source.recorded) return;
  const length = take.out - take.in;
  const from = plainSourceFrame(source, take, take.logIn, list.count);
  const to = plainSourceFrame(source, take, take.logIn + length, list.count);
  const days = daysTo(recording, from, to);
  const { spans } = recording;
  for (let index = Math.max(0, spansBefore(spans, from + days) - 1); index + 1 < spans.length; index += 1) {
    const [span, next] = [spans[index] as Span, spans[index + 1] as Span];
    if (span.end >= to + days) break;
    if (next.start <= span.end) continue;
    const [a, b] = [pathOf(source, span), pathOf(source, next)];
    report(problem('recording-hole', `${name}: ${framesText(next.start - span.end)} are missing between ${a} and ${b}; no shot shows them`, undefined, 'note'));
  }
}

/** Every source that a list shows or plays, black left out. */
function usedSources({ shots, audio }: Pick<CutList, 'shots' | 'audio'>): Set<string> {
  const used = new Set<string>();
  let last = '';
  for (const pieces of [shots, audio]) {
    for (const { source } of pieces) {
      if (source !== last) used.add(source);
      last = source;
    }
  }
  used.delete(BLACK);
  return used;
}
