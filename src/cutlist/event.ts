/** Events: what a log says, each on its frame. The readers in `log` make them; `build` turns them into a cut list. */

export const ACTIONS = ['cut', 'dissolve', 'dissolve-end', 'wipe', 'cue', 'start', 'stop', 'marker', 'audio'] as const;

/** What a row of a log does; rows of other kinds are sent to `ignore`. */
export type Action = (typeof ACTIONS)[number];

/** One row of a log, in the log's order. */
export interface LogEvent {
  /** From 1, in the order of the log; rows that were sent to `ignore` do not count. */
  readonly number: number;
  readonly action: Action;
  /**
   * Frame at the list's rate. Timecode logs: since label zero of the earliest row's day, so it may pass 24 h. Other logs:
   * since the first frame of the recording; below zero for clock times before it.
   */
  readonly at: number;
  /** A source's id, BLACK, and for `audio` also PROGRAM, `follow` or `none`. */
  readonly source?: string;
  /** Frames, ≥ 0. Of `duration` and `end` at most one is there. */
  readonly duration?: number;
  /** Frame on which a transition by hand is complete (exclusive), counted as `at` is. */
  readonly end?: number;
  /** SMPTE wipe code, 0–999. */
  readonly wipe?: number;
  readonly note?: string;
  /** Line and column (of the row's time) in the log, from 1, for messages. */
  readonly line: number;
  readonly column: number;
}

/** True for an action that puts a source on program. */
export const isSwitch = ({ action }: Pick<LogEvent, 'action'>): boolean => action === 'cut' || action === 'dissolve' || action === 'wipe';
