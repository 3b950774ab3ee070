/** A correction, and the operations there are: what each needs and takes. */
import type { Place } from '../problems.js';

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
  /** How many source frames are used, ≥ 0 (0 is a still frame). Left out: as many as the rates ask for. */
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

/** What an operation needs and takes. */
export interface OperationEntry {
  readonly needs: readonly CorrectionKey[];
  readonly takes: readonly CorrectionKey[];
  /** Of those that it needs, the texts that may be empty: an empty cell of a CSV file is one, a column that is not there is none. */
  readonly empty?: readonly CorrectionKey[];
}

const SHOT: readonly CorrectionKey[] = ['shot', 'at', 'was'];

/** Every operation. A new one gets its line here, its edit in `find.ts`, which does not compile without. */
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
  'rename-marker': { needs: ['at', 'expect', 'note'], takes: ['color'], empty: ['expect'] },
  'move-marker': { needs: ['at', 'expect', 'to'], takes: [], empty: ['expect'] },
  'remove-marker': { needs: ['at', 'expect'], takes: [], empty: ['expect'] },
  'add-marker': { needs: ['at'], takes: ['note', 'color'] },
  title: { needs: ['expect', 'to'], takes: [], empty: ['expect', 'to'] },
  'record-start': { needs: ['expect', 'to'], takes: [] },
  rate: { needs: ['expect', 'to'], takes: [] },
  'add-source': { needs: ['source'], takes: ['name', 'reel', 'rate', 'file'] },
  'source-rate': { needs: ['source', 'expect', 'to'], takes: [] },
} as const satisfies Record<string, OperationEntry>;

export type Operation = keyof typeof OPERATIONS;
