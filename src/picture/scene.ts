/** What a picture is drawn from: lists, what is said of them, and the lanes and strips that all of them share. */
import type { CutList } from '../cutlist/model.js';
import type { Lane, Laned } from './lanes.js';
import type { Strip } from './scale.js';
import type { ShotRow } from './shots.js';
import type { SoundRow } from './sound.js';

/** Something to show at a place: a finding of `check`, or a change between two lists. */
export interface PictureNote {
  /** Record frame; left out where it is not known, and then only the table has it. */
  readonly at?: number;
  readonly code: string;
  readonly text: string;
  readonly severity: 'error' | 'warning' | 'note' | 'change';
}

export interface PictureInput {
  readonly list: CutList;
  readonly notes: readonly PictureNote[];
}

/** One list as it is drawn: its key (`a`, `b`) begins the ids of its rows. */
export interface Side extends Laned {
  readonly key: 'a' | 'b';
  readonly rows: readonly ShotRow[];
  readonly sound: readonly SoundRow[];
  readonly notes: readonly PictureNote[];
}

/** Everything that the two forms, page and sheet, draw. */
export interface Scene {
  readonly title: string;
  readonly sides: readonly Side[];
  readonly lanes: readonly Lane[];
  readonly strips: readonly Strip[];
}
