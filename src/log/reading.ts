/** What reading a log takes and gives. */
import type { LogEvent } from '../cutlist/event.js';
import type { Rounding } from '../timecode/exact.js';
import type { Count, RateSpec } from '../timecode/rate.js';
import type { Mapping, TimeKind } from './mapping.js';
import type { LogHead } from './rows.js';
import type { KnownSource, NamedSource } from './sources.js';

/** How a log is read. What is given here wins over the mapping, which wins over what is found. */
export interface LogOptions {
  /** Name for messages. */
  readonly file: string;
  readonly map?: Mapping;
  /** Of the command line, else of the show file. */
  readonly rate?: RateSpec;
  /** Default: found by itself. */
  readonly timeAs?: TimeKind;
  /** Rate that labels count at, where it is half the list's (frame pairs, ST 12-1). Wins over the mapping's. */
  readonly logRate?: RateSpec;
  /** To which frame a time between two goes (default: the nearest, halves up). */
  readonly rounding?: Rounding;
  /** A clock time and the label of the same moment: clock times then become labels. */
  readonly anchor?: { readonly clock: string; readonly timecode: string };
  /** The show file's. Undefined or empty: the sources are those that the log names. */
  readonly sources?: readonly KnownSource[];
  /** Most rows, ≥ 1 (default 2,000,000), and most bytes (default 512 MiB): `too-large` above them. */
  readonly maxRows?: number;
  readonly maxBytes?: number;
  /** Where the list ends, in the log's kind of time. */
  readonly end?: string;
  /** Give back what could be read in spite of errors, for looking at it; never for making a list. */
  readonly partial?: boolean;
}

/** What a log says: events on frames, before there is a list. */
export interface LogReading {
  /** In the log's order; rows a shot in order of time. */
  readonly events: LogEvent[];
  /** The list's rate, and how its labels are written. */
  readonly count: Count;
  /** What the events' frames count from. */
  readonly origin: 'timecode' | 'recording';
  /** Whether a `start` that is lower than the row before is a counter that began again: a new take. Labels and clocks do not. */
  readonly restarts: boolean;
  readonly timeAs: TimeKind;
  readonly title?: string;
  /** Without known sources: those that the log names, in order of appearance. Else empty. */
  readonly sources: readonly NamedSource[];
  /** `end` of the options as a frame. */
  readonly endAt?: number;
  readonly head: LogHead;
  /** How far the time that moved most was moved to a whole frame. */
  readonly moved?: { readonly frames: number; readonly line: number };
  /** Rows that were sent to `ignore`. */
  readonly ignored: number;
  /** Everything that was given and found, as a mapping: what `--write-map` writes. */
  readonly map: Mapping;
}
