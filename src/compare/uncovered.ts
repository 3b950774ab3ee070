/** What corrections ask of recordings that A does not have: sources that match keep A's files. */
import { applyCorrections } from '../corrections/apply.js';
import type { Correction } from '../corrections/model.js';
import type { CutList } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { placeChanged, placeOnRecordings } from '../cutlist/place.js';
import { framesText } from '../frames-text.js';
import { problem, type Report } from '../problems.js';

/** Reports, for each source of A, how many frames of picture the corrected list lacks that B has (`beyond-recording`). `ofLog`: A comes from a log. */
export function reportUncovered(a: CutList, corrections: readonly Correction[], ofLog: boolean, report: Report): void {
  const nobody: Report = () => undefined;
  const corrected = corrections.length === 0 ? undefined : applyCorrections(a, corrections, nobody);
  if (corrected === undefined) return;
  const was = standIns(corrected);
  for (const [source, frames] of standIns(ofLog ? placeOnRecordings(corrected, nobody) : placeChanged(corrected, a, nobody))) {
    const more = frames - (was.get(source) ?? 0);
    if (more <= 0) continue;
    report(problem('beyond-recording', `B plays ${framesText(more)} of ${sourceText(corrected.sources, source)} that A's recording does not have: what the corrections give differs there`));
  }
}

/** By source, the frames for which something else stands. */
function standIns({ shots }: CutList): ReadonlyMap<string, number> {
  const frames = new Map<string, number>();
  for (const { instead, in: into, out } of shots) if (instead !== undefined) frames.set(instead, (frames.get(instead) ?? 0) + out - into);
  return frames;
}
