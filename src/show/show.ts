/** The show file (contract of the package: show.schema.json): the user's description of a show. */
import type { Mapping } from '../log/mapping.js';

/** One recorded file, as written in a show file. */
export interface ShowMedia {
  readonly path: string;
  readonly start?: string;
  readonly frames?: number;
  readonly rate?: string;
  readonly channels?: number;
  /** Bytes. */
  readonly size?: number;
}

/** One source of a show. Only `id` has to be there. */
export interface ShowSource {
  readonly id: string;
  readonly name?: string;
  readonly reel?: string;
  readonly aliases?: readonly string[];
  /** Timecode of the first frame of the recording; a list has one for each take. */
  readonly start?: string | readonly string[];
  /** Frames added to every source in-point. */
  readonly offset?: number;
  readonly sync?: { readonly this: string; readonly is: string };
  readonly files?: readonly ShowMedia[];
  readonly recorded?: boolean;
  readonly picture?: boolean;
}

/** A show file, read and found sound: times are still labels, paths as they were written. */
export interface ShowFile {
  readonly title?: string;
  readonly rate?: string;
  readonly recordStart?: string;
  readonly sources?: readonly ShowSource[];
  readonly program?: Omit<ShowSource, 'id'>;
  readonly audio?: { readonly from?: string; readonly channels?: readonly number[] };
  readonly log?: Mapping;
}
