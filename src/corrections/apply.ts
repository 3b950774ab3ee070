/**
 * Corrections: what an editor says once about a finished list, to get the list put right. They are written against the
 * list that the same call gives without them; each names what it expects to find there. One that does not fit is an error,
 * and then nothing is applied. See README, "Corrections", for the file.
 */
import type { Report } from '../problems.js';
import { without } from '../without.js';
import { findEdits } from './find.js';
import { rippled } from './length.js';
import { fitTakes, withListEdits, withMarkerEdits, withSourceRates } from './list.js';
import type { Correction } from './model.js';
import { arranged } from './shots.js';
import { withSounds } from './sound.js';
import type { CutList } from '../cutlist/model.js';
import type { Made } from '../cutlist/shift.js';
import { soundFollowing } from '../cutlist/sound-follow.js';
import { inOffsetAt, type DissolveAt } from '../cutlist/transitions.js';

/**
 * Applies all corrections at once, or none: undefined when one of them is an error. All name the list as it was; `length`
 * is done first and moves what follows it, then starts, removals and insertions, then everything else.
 *
 * Nothing that is not named changes: but for `length` the running time stays, and shots keep their points save where a
 * neighbour gave or took frames. Problems: `correction-mismatch` (what is expected is not there), `unknown-source`, `bad-time`,
 * `dropped-label`, `bad-rate`, `bad-corrections` (they contradict each other or the list), `found` (a source point worked out, or the file
 * it lies in), `unplaced-file` (nobody knows which file).
 */
export function applyCorrections(list: CutList, corrections: readonly Correction[], report: Report, options: { readonly dissolveAt?: DissolveAt } = {}): CutList | undefined {
  if (corrections.length === 0) return list;
  const edits = findEdits(list, corrections, report);
  if (edits === undefined) return undefined;
  const place = options.dissolveAt ?? 'start';
  const { list: ready, kept } = rippled(withSourceRates(list, edits), edits);
  const made = arranged(ready, kept, edits, (frames) => inOffsetAt(frames, place), report)?.map(goingOn);
  if (made === undefined) return undefined;
  const shots = made.map(({ shot }) => shot);
  const sounding = withSounds({ ...ready, shots, audio: soundFollowing(ready, made) }, ready, kept, edits, report);
  if (sounding === undefined) return undefined;
  const marked = withMarkerEdits(sounding, kept, edits, report);
  // The log's rows no longer say where sound follows.
  return marked === undefined ? undefined : without(fitTakes(withListEdits(marked, edits)), 'follows');
}

/** A shot goes on in a further file only behind what it goes on from: a correction may have put something else there. */
function goingOn(made: Made, index: number, all: readonly Made[]): Made {
  const { shot, from } = made;
  const before = all[index - 1]?.shot;
  const goesOn = before !== undefined && shot.transition === undefined && before.take === shot.take && (before.instead ?? before.source) === (shot.instead ?? shot.source);
  return shot.continues !== true || goesOn ? made : { shot: without(shot, 'continues'), from };
}
