/** Mapping files: how a log in anybody's own columns or elements becomes linecut's rows. */

export const FIELDS = ['time', 'action', 'source', 'duration', 'end', 'wipe', 'note'] as const;

export type Field = (typeof FIELDS)[number];

/** How a value begins that a mapping leaves to be filled in; no log can be read with it. */
export const FILL_IN = 'FILL IN';

export const TIME_KINDS = ['timecode', 'frames', 'seconds', 'milliseconds', 'clock'] as const;

/** What the times of a log are: labels, numbers from the first frame of the recording, or clock times. */
export type TimeKind = (typeof TIME_KINDS)[number];

/** How a log in its own columns or elements is read: a mapping file, or `log` in a show file (mapping.schema.json). */
export interface Mapping {
  /** XML only: path of element names to a row, `/session/list/item`. */
  readonly rows?: string;
  /** CSV only: lines before the header row. */
  readonly skipLines?: number;
  readonly delimiter?: string;
  readonly encoding?: string;
  readonly decimal?: '.' | ',';
  /** A column's name, its number from 1, or for XML a path below the row (`what/@kind`); null: the log has no such field, whatever its columns are called. */
  readonly fields?: Partial<Readonly<Record<Field, string | number | null>>>;
  /** The log's own action words → linecut's actions or `ignore`; a blank word (`""`): rows without an action. */
  readonly actions?: Readonly<Record<string, string>>;
  /** The log's own source words → source ids. */
  readonly sources?: Readonly<Record<string, string>>;
  readonly timeAs?: TimeKind;
  /** luxon's format tokens (Unicode TR 35 style), `dd.MM.yyyy HH:mm:ss.SSS`. */
  readonly clockFormat?: string;
  /** IANA time-zone name of clock times that carry no offset. */
  readonly zone?: string;
  /** Rate that the log's labels count at, where it is half the list's (frame pairs, ST 12-1). */
  readonly rate?: string;
  readonly rowsAre?: 'events' | 'shots';
}
