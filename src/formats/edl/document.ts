/** An EDL as it stands in its file: events with their places, before anybody asks whether they make a list. */
import type { Count } from '../../timecode/rate.js';
import type { ReelFacts } from './comments.js';

/** The first of two lines of an event that mixes: what is on program when the mix begins. */
export interface EdlFrom {
  /** In capitals. */
  readonly reel: string;
  readonly line: number;
  /** The source label of the line, as written. */
  readonly sourceIn: string;
  /** That label in frames from label zero, and how it counts. */
  readonly at: number;
  readonly count: Count;
}

export interface EdlMarker {
  /** Frames since label zero, at the list's count. */
  readonly at: number;
  readonly note: string;
  readonly color?: string;
  readonly line: number;
}

/**
 * One event. Frames count from label zero; in-points lie in [0, 24 h), an out-point is not before its in-point (24 h
 * later where the label had passed midnight). Ranges are half-open.
 */
export interface EdlEvent {
  readonly number: number;
  /** Of the event's line (the second of two), from 1. */
  readonly line: number;
  /** The line itself; `fieldColumn` says where in it a field stands. */
  readonly text: string;
  /** In capitals. */
  readonly reel: string;
  readonly picture: boolean;
  /** Program sound channels, from 1, ascending. */
  readonly tracks: readonly number[];
  /** The source's channel that feeds each of `tracks`, where a comment says so. */
  readonly channels?: readonly number[];
  readonly kind: 'cut' | 'dissolve' | 'wipe';
  /** Length of the mix in record frames; 0 for a cut. */
  readonly frames: number;
  readonly wipe?: number;
  /** How the source columns count. */
  readonly sourceCount: Count;
  readonly sourceIn: number;
  readonly sourceOut: number;
  readonly recordIn: number;
  readonly recordOut: number;
  readonly from?: EdlFrom;
  /** Source frames a second, of a speed line; negative for backwards. */
  readonly speed?: number;
  readonly fromName?: string;
  readonly toName?: string;
  /** Path of the recording, of the comments on either side. */
  readonly fromFile?: string;
  readonly toFile?: string;
  /** The event goes on from the one before: the list was divided here. */
  readonly continued: boolean;
  readonly markers: readonly EdlMarker[];
  /** Comments that nobody understands, without their `*`; and other lines, as they stand. */
  readonly comments: readonly string[];
}

/** One file of an EDL that was divided, with its name for messages. */
export interface EdlPart {
  readonly file: string;
  readonly text: string;
}

export interface EdlDocument {
  readonly file: string;
  readonly title?: string;
  /** The list's count: how it is written again. */
  readonly count: Count;
  /** How its record labels were read; the same frames as in `count`, but the labels begin again after 24 h of this. */
  readonly labels: Count;
  /** A label without drop-frame mark was read as drop-frame: the FCM line says so, else the rate given. */
  readonly plainDrops: boolean;
  /** What the FCM line at the head says: true for drop-frame. */
  readonly fcm?: boolean;
  /** The table of reels, in its order, by reel in capitals. */
  readonly reels: ReadonlyMap<string, ReelFacts>;
  /** Comments before the first event. */
  readonly head: readonly string[];
  /** In the order of the file. */
  readonly events: readonly EdlEvent[];
}
