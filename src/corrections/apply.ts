/**
 * Corrections: what an editor says once about a finished list, to get the list put right. They are written against the
 * list that the same call gives without them; each names what it expects to find there. One that does not fit is an error,
 * and then nothing is applied. See README, "Corrections", for the file.
 */
import type { Place, Report } from '../problems.js';
import { findEdits } from './find.js';
import { rippled } from './length.js';
import { fitTakes, withListEdits, withMarkerEdits, withSourceRates } from './list.js';
import { arranged } from './shots.js';
import { withSounds } from './sound.js';
import type { CutList } from '../cutlist/model.js';
import { without, type Made } from '../cutlist/shift.js';
import { soundFollowing } from '../cutlist/sound-follow.js';
import type { Uncover } from '../cutlist/stand-ins.js';
import { inOffsetAt, type DissolveAt } from '../cutlist/transitions.js';

/**
 * What a correction names its shot or place by, what it expects there, and what it changes; the keys of a JSON file and
 * the columns of a CSV file. Which of them an operation needs and takes is in OPERATIONS.
 */
export interface Correction {
  readonly do: Operation;
  /** Number of the shot, from 1. */
  readonly shot?: number;
  /** Record time: a timecode, a whole number of frames from the start of the list, or `#12+250`, 250 frames into shot 12. */
  readonly at?: string;
  /** What is there now: the source on air or heard (`none` for silence), a marker's note, the old title, record start or rate. */
  readonly expect?: string;
  /** How many frames the shot has now. */
  readonly was?: number;
  /** The new value: `5 later`, `+5`, `12 earlier`, a timecode, `10 longer`, a title, a rate. */
  readonly to?: string;
  readonly source?: string;
  /** Source timecode of the first frame, or a whole number of frames since label zero. */
  readonly sourceIn?: string;
  /** How many source frames are used; negative backwards. Left out: as many as the rates ask for. */
  readonly sourceFrames?: number;
  /** Length: of a transition, of what is inserted, or the new length of a shot. */
  readonly frames?: number;
  /** Frames of the transition by which something inserted comes on. */
  readonly mix?: number;
  /** SMPTE wipe code, 0–999. */
  readonly wipe?: number;
  /** A marker's new text. */
  readonly note?: string;
  readonly color?: string;
  /** Program channels, from 1. */
  readonly tracks?: readonly number[];
  /** The source's channels that feed them. */
  readonly channels?: readonly number[];
  readonly name?: string;
  readonly reel?: string;
  readonly rate?: string;
  readonly file?: string;
  /** Where it stands in its file, for messages. */
  readonly place: Place;
}

export type CorrectionKey = Exclude<keyof Correction, 'place'>;

interface OperationEntry {
  readonly needs: readonly CorrectionKey[];
  readonly takes: readonly CorrectionKey[];
}

const SHOT: readonly CorrectionKey[] = ['shot', 'at', 'was'];

/** Every operation. A new one gets its line here, its edit in corrections-find. */
export const OPERATIONS = {
  source: { needs: ['expect', 'source'], takes: [...SHOT, 'sourceIn', 'sourceFrames'] },
  points: { needs: ['expect'], takes: [...SHOT, 'sourceIn', 'sourceFrames'] },
  start: { needs: ['expect', 'to'], takes: SHOT },
  dissolve: { needs: ['expect', 'frames'], takes: SHOT },
  wipe: { needs: ['expect', 'frames', 'wipe'], takes: SHOT },
  cut: { needs: ['expect'], takes: SHOT },
  remove: { needs: ['expect'], takes: SHOT },
  length: { needs: ['expect'], takes: [...SHOT, 'to', 'frames'] },
  insert: { needs: ['at', 'expect', 'source', 'frames'], takes: ['sourceIn', 'sourceFrames', 'mix', 'wipe'] },
  sound: { needs: ['at', 'expect', 'source', 'frames'], takes: ['sourceIn', 'sourceFrames', 'mix', 'wipe', 'tracks', 'channels'] },
  'rename-marker': { needs: ['at', 'note'], takes: ['expect', 'color'] },
  'move-marker': { needs: ['at', 'to'], takes: ['expect'] },
  'remove-marker': { needs: ['at'], takes: ['expect'] },
  'add-marker': { needs: ['at'], takes: ['note', 'color'] },
  title: { needs: [], takes: ['expect', 'to'] },
  'record-start': { needs: ['expect', 'to'], takes: [] },
  rate: { needs: ['expect', 'to'], takes: [] },
  'add-source': { needs: ['source'], takes: ['name', 'reel', 'rate', 'file'] },
  'source-rate': { needs: ['source', 'expect', 'to'], takes: [] },
} as const satisfies Record<string, OperationEntry>;

export type Operation = keyof typeof OPERATIONS;

/**
 * Applies all corrections at once, or none: undefined when one of them is an error. All name the list as it was; `length`
 * is done first and moves what follows it, then starts, removals and insertions, then everything else.
 *
 * Nothing that is not named changes: but for `length` the running time stays, and shots keep their points save where a
 * neighbour gave or took frames. With `uncover` the list is one to be placed. Problems: `correction-mismatch` (what is expected is not there), `unknown-source`, `bad-time`,
 * `dropped-label`, `bad-rate`, `bad-corrections` (they contradict each other or the list), `found` (a source point worked out).
 */
export function applyCorrections(list: CutList, corrections: readonly Correction[], report: Report, options: Uncover & { readonly dissolveAt?: DissolveAt } = {}): CutList | undefined {
  if (corrections.length === 0) return list;
  const edits = findEdits(list, corrections, report);
  if (edits === undefined) return undefined;
  const place = options.dissolveAt ?? 'start';
  const { list: ready, kept } = rippled(withSourceRates(list, edits), edits, options);
  const made = arranged(ready, kept, edits, (frames) => inOffsetAt(frames, place), report, options)?.map(goingOn);
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
