/** What corrections ask for once they have found their shots: numbers instead of words, sorted by what they change. */
import type { Place } from '../problems.js';
import type { Count } from '../timecode/rate.js';
import type { Correction } from './model.js';
import type { Source, Transition } from '../cutlist/model.js';

/** A place on the record side that a change of length moves along: so many frames into a shot of the list as it was. */
export interface ShotSpot {
  /** Index of the shot. */
  readonly shot: number;
  /** Frames from its `in`. May lie past the end of the last shot, and of one that `#12+250` names. */
  readonly offset: number;
}

export interface ShotEdit {
  /** The correction that asks for each part. */
  readonly by: Partial<Record<'source' | 'start' | 'mix' | 'length' | 'remove', Correction>>;
  readonly source?: string;
  readonly sourceIn?: number;
  readonly sourceFrames?: number;
  /** The new start: so many frames later (negative: earlier), or on a spot. */
  readonly start?: number | ShotSpot;
  readonly mix?: Mix | 'cut';
  /** The new length; 0 takes the shot and its time out of the list. */
  readonly length?: number;
  readonly remove?: true;
}

/** A transition but for the place of its boundary. */
export type Mix = Omit<Transition, 'inOffset'>;

export interface InsertEdit {
  readonly spot: ShotSpot;
  readonly frames: number;
  readonly expect: string;
  readonly source: string;
  readonly sourceIn?: number;
  readonly sourceFrames?: number;
  readonly mix?: Mix;
  readonly by: Correction;
}

/** `source` and `expect` are `none` for silence. */
export interface SoundEdit extends InsertEdit {
  readonly tracks?: readonly number[];
  readonly channels?: readonly number[];
}

export type MarkerEdit =
  | { readonly do: 'rename'; readonly marker: number; readonly note: string; readonly color?: string }
  | { readonly do: 'move'; readonly marker: number; readonly to: ShotSpot; readonly by: Correction }
  | { readonly do: 'remove'; readonly marker: number }
  | { readonly do: 'add'; readonly to: ShotSpot; readonly note: string; readonly color?: string; readonly by: Correction };

export interface Edits {
  /** By index of the shot. */
  readonly shots: ReadonlyMap<number, ShotEdit>;
  readonly inserts: readonly InsertEdit[];
  readonly sounds: readonly SoundEdit[];
  readonly markers: readonly MarkerEdit[];
  /** The list's sources with the new ones and the new rates. */
  readonly sources: readonly Source[];
  /** Sources that got another count, with the one they had. */
  readonly recounted: ReadonlyMap<string, Count>;
  readonly title?: string;
  readonly recordStart?: number;
  readonly count?: Count;
}

/** `the correction on line 7`: for messages that name another one. */
export const placeText = ({ line }: Place): string => (line === undefined ? 'another correction' : `the correction on line ${String(line)}`);
