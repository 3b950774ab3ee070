/**
 * The cut list: what every reader makes and every writer writes.
 *
 * Frames are whole numbers. Record frames count from the start of the list (0 ≤ frame < `frames`); label zero of
 * the record side is `recordStart` frames before it. Source frames count from label zero of the source, at the
 * source's own rate, and do not wrap. All ranges are half-open: [in, out).
 */
import type { Count } from '../timecode/rate.js';

/** The source id of black; always known, never in `sources`. */
export const BLACK = 'black';

/** The id of the program recording as a source. */
export const PROGRAM = 'program';

/** A word for where sound comes from, beside the sources: the shot's own source. */
export const FOLLOW = 'follow';
/** No sound. */
export const NONE = 'none';

/** One recorded file. What is not known is left out. */
export interface MediaFile {
  /** As the show file or list gives it: relative to the show file, absolute, or a file URL. */
  readonly path: string;
  /** First frame, since label zero of the source, at `count`'s rate. */
  readonly start?: number;
  /** Length in frames of `count`'s rate. */
  readonly frames?: number;
  readonly count?: Count;
  /** How many sound channels. */
  readonly channels?: number;
  /** Bytes: by this it is known again after a move. */
  readonly size?: number;
}

/** One input of the switcher, or the program recording (`id` is PROGRAM). */
export interface Source {
  readonly id: string;
  readonly name: string;
  /** As the show file or list gives it; the EDL makes it legal and unique. */
  readonly reel?: string;
  readonly aliases: readonly string[];
  /** False for a sound-only recording: can be heard, never switched to. */
  readonly picture: boolean;
  /** False when the input was not recorded. */
  readonly recorded: boolean;
  /** How the source's own labels count; the list's count where nothing else is known. */
  readonly count: Count;
  /** First frame of the recording of take 1, 2, …; one entry serves every take; empty when not given. */
  readonly starts: readonly number[];
  /** Frames of this source added to every source in-point. */
  readonly offset: number;
  /** This recording's frame `this` shows the moment of the log's frame `is` (at the list's rate). */
  readonly sync?: { readonly this: number; readonly is: number };
  /** In order of `start`. */
  readonly files: readonly MediaFile[];
}

/** A mix: how a shot comes on. It begins on the shot's `in` and is complete `frames` later; 1 ≤ frames ≤ out − in. */
export interface Transition {
  readonly kind: 'dissolve' | 'wipe';
  readonly frames: number;
  /** SMPTE wipe code, 0–999; only on wipes. */
  readonly wipe?: number;
  /**
   * Where a format keeps a boundary inside the mix (OTIO): this many of its frames lie before the boundary,
   * 0 ≤ inOffset ≤ frames. The shot's own `in` stays where the mix begins.
   */
  readonly inOffset: number;
}

/** What a log said where a shot begins. Never a line number or a path, so that CSV and XML give the same bytes. */
export interface EventRef {
  /** The event's number in its log, from 1. */
  readonly number: number;
  readonly action: string;
  readonly note?: string;
}

/**
 * A stretch of program on one source. `in` is the first frame of the shot, or of the mix that brings it on. Black has the
 * source points 0 and its length.
 */
export interface Shot {
  /** A source's id, PROGRAM or BLACK. */
  readonly source: string;
  readonly in: number;
  readonly out: number;
  /** Source frame that is on program at `in`. */
  readonly sourceIn: number;
  /** Source frame after the last; sourceOut − sourceIn differs from out − in only where the rates differ or the speed changes. */
  readonly sourceOut: number;
  readonly transition?: Transition;
  /** Times real speed, ≥ 0, where a list that was read says it and whole source frames cannot (half speed over an odd number of frames). */
  readonly speed?: number;
  /** Index into the source's `files` of the recording this plays from; left out when not known. */
  readonly file?: number;
  /** Index into `takes`. */
  readonly take: number;
  /** True when this is the shot before, going on in the next file: the operator did not switch here. */
  readonly continues?: boolean;
  /** The source that was on air, where this shot shows a replacement: program, or black. Black itself in a mix to it that comes from the program. */
  readonly instead?: string;
  readonly event?: EventRef;
  /** Clip name from a list that was read, where it is not the source's name. */
  readonly clipName?: string;
  /** Comments of a list that was read, kept as they were. */
  readonly comments?: readonly string[];
}

/** A stretch of program sound from one source; silence is where there is none. Pieces of one channel never overlap. */
export interface AudioPiece {
  readonly source: string;
  readonly in: number;
  readonly out: number;
  readonly sourceIn: number;
  readonly sourceOut: number;
  /** Program channels this fills, from 1, ascending: [1, 2] for a pair. */
  readonly tracks: readonly number[];
  /** The source's channel that feeds each of `tracks`, from 1. */
  readonly channels: readonly number[];
  /**
   * Crossfade that brings it on; begins on `in`, as a shot's does. Only where sound follows picture: it is the mix of the shot that
   * begins there, complete before the piece ends.
   */
  readonly transition?: Transition;
  /** As a shot's. */
  readonly speed?: number;
  readonly file?: number;
  readonly take: number;
  readonly continues?: boolean;
  /**
   * True when it was cut with the picture (`follow`): same points as a shot, written as one event with it. False also where it leaves
   * its shot early, for other sound; it may come on by the shot's mix even so.
   */
  readonly withPicture: boolean;
}

/** A stretch [in, out) in which a log has sound follow the picture, on `tracks`. */
export type Followed = Pick<AudioPiece, 'in' | 'out' | 'tracks' | 'channels'>;

/** A named point: `at` in record frames, 0 ≤ at ≤ frames. */
export interface Marker {
  readonly at: number;
  readonly note: string;
  /** One of the OpenTimelineIO standard's colour names, where the list that was read had one. */
  readonly color?: string;
}

/** One continuous recording: its stretch of the record side, and the log frame (list rate) that lies on `in`. */
export interface Take {
  readonly in: number;
  readonly out: number;
  /** Frame of the log on `in`: since label zero for timecode logs, since the first frame of the recording for others. */
  readonly logIn: number;
  /** What `logIn` counts from. Undefined for takes of a list that was read. */
  readonly origin?: 'timecode' | 'recording';
  /** The take's number in its log, from 1, where that is not its place among the takes (a correction of length divides a take). */
  readonly number?: number;
  /** Log frame on which the recording of this take starts, for logs counted from the recording: its `start` row, else 0. */
  readonly recordingIn?: number;
  /** The same for the first take on the same counter: what a single `start` of a source belongs to. */
  readonly counterIn?: number;
}

/** A source's recording over the list, in sync with the cut, for `--angles`; pieces in order, gaps where it has none. */
export interface Angle {
  readonly source: string;
  readonly pieces: readonly Pick<Shot, 'in' | 'out' | 'sourceIn' | 'sourceOut' | 'file' | 'take'>[];
}

/** Record frames [in, out). */
export interface FrameRange {
  readonly in: number;
  readonly out: number;
}

/** A cut list: what every reader gives and every writer takes. All frames are whole and at the rate of `count`, but those of sources, which count as the source does. */
export interface CutList {
  readonly title: string;
  /** The list's rate, and how its labels are written. */
  readonly count: Count;
  /** Record frame 0 has this many frames of labels before it. */
  readonly recordStart: number;
  /** Length. The shots cover [0, frames) without hole or overlap. */
  readonly frames: number;
  /** All sources known, in the show file's order (else that of first appearance), then the program recording. */
  readonly sources: readonly Source[];
  readonly takes: readonly Take[];
  readonly shots: readonly Shot[];
  /** In order of `in`, then of track. */
  readonly audio: readonly AudioPiece[];
  /**
   * Where the log has sound follow the picture, in order: what its recordings lack moves the picture in a mix, and the sound with it.
   * Elsewhere sound was chosen, as one source or as none, and stays where it is. Left out where nobody knows: in a list that was read, or corrected.
   */
  readonly follows?: readonly Followed[];
  /** In order of `at`. */
  readonly markers: readonly Marker[];
  readonly angles?: readonly Angle[];
}
