/** One thing in which two lists differ, and how it is said. */
import { framesText } from '../frames-text.js';

/** What is different. */
export type DifferenceKind =
  | 'title' | 'rate' | 'record-start' | 'running-time'
  | 'moved' | 'lengthened' | 'shortened' | 'shifted' | 're-sourced' | 'source-points' | 'speed' | 'transition' | 'added' | 'removed'
  | 'sound'
  | 'marker-moved' | 'marker-renamed' | 'marker-added' | 'marker-removed';

/** Where it is in one of the lists. */
export interface DifferenceSide {
  /** Number of the shot, from 1. */
  readonly shot?: number;
  /** Record frame from the start of the list, and its timecode. */
  readonly frame: number;
  readonly at: string;
}

/** One thing in which list B differs from list A. */
export interface Difference {
  readonly kind: DifferenceKind;
  readonly a?: DifferenceSide;
  readonly b?: DifferenceSide;
  /**
   * By how many frames, B less A: how much later, longer, more. Of something added or removed, or that sounds different: its
   * length. In the source's frames for `source-points` and `speed`.
   */
  readonly frames?: number;
  /** Of a shot that became longer or shorter: by how many frames what follows lies later, B less A; not there where nothing follows. */
  readonly shift?: number;
  /** What it was in A and is in B: a source, a transition, a title, a label, a marker's text. */
  readonly from?: string;
  readonly to?: string;
  /** Program channels, for sound. */
  readonly tracks?: readonly number[];
  /** What it is, in words, without its place. */
  readonly text: string;
}

/** A difference with its words. */
export const difference = (given: Omit<Difference, 'text'>): Difference => ({ ...given, text: words(given) });

const count = (frames: number): string => framesText(Math.abs(frames));

function words({ kind, frames = 0, shift, from = '', to = '', tracks = [] }: Omit<Difference, 'text'>): string {
  const later = frames > 0 ? 'later' : 'earlier';
  switch (kind) {
    case 'title': return `title '${from}' became '${to}'`;
    case 'rate': return `rate ${from} became ${to}; frames are compared by number`;
    case 'record-start': return `record start ${from} became ${to}`;
    case 'running-time': return `running time is ${count(frames)} ${frames > 0 ? 'longer' : 'shorter'} (${from} became ${to})`;
    case 'moved': return `${from} begins ${count(frames)} ${later}`;
    case 'lengthened': return `${from} is ${count(frames)} longer${followed(frames, shift)}`;
    case 'shortened': return `${from} is ${count(frames)} shorter${followed(frames, shift)}`;
    case 'shifted': return `what follows ${from === '' ? 'the start' : from} lies ${count(frames)} ${later}`;
    case 're-sourced': return `${from} became ${to}`;
    case 'source-points': return `source point ${from} became ${to} (${count(frames)} ${later} than it would be)`;
    case 'speed': return `${from} uses ${count(frames)} ${frames > 0 ? 'more' : 'fewer'} of its source`;
    case 'transition': return `${from} became ${to}`;
    case 'added': return `${to} added, ${count(frames)}`;
    case 'removed': return `${from} removed, ${count(frames)}`;
    case 'sound': return `sound on ${tracks.length === 1 ? 'channel' : 'channels'} ${tracks.join(' ')}: ${from} became ${to}, for ${count(frames)}`;
    case 'marker-moved': return `marker '${to}' lies ${count(frames)} ${later}`;
    case 'marker-renamed': return `marker '${from}' became '${to}'`;
    case 'marker-added': return `marker '${to}' added`;
    case 'marker-removed': return `marker '${from}' removed`;
  }
}

/** What follows a shot whose length changed: as many frames later or earlier, unless said otherwise. */
function followed(frames: number, shift: number | undefined): string {
  if (shift === undefined) return '';
  return `, and what follows ${shift === frames ? '' : `${count(shift)} `}${shift > 0 ? 'later' : 'earlier'}`;
}

/** One line: the number of the shot in A and B, the record timecode, what is different. */
export function differenceLine({ a, b, text }: Difference): string {
  const number = [a?.shot, b?.shot].map((shot) => (shot === undefined ? '-' : String(shot)));
  const shots = a?.shot === undefined && b?.shot === undefined ? '' : number[0] === number[1] ? `shot ${number[0] ?? ''}` : `shot ${number.join('>')}`;
  const at = a === undefined || b === undefined || a.at === b.at ? (a ?? b)?.at : `${a.at}>${b.at}`;
  return [at ?? '', shots, text].filter((part) => part !== '').join('  ');
}
