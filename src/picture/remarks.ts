/** The tables of what is said of a list, and of its markers: text only, a row each. */
import { realSeconds } from '../timecode/rate.js';
import { clockText } from './scale.js';
import type { Side } from './scene.js';
import { recordLabel } from '../cutlist/record.js';

export const noteCaption = (two: boolean): string => (two ? 'Findings and changes' : 'Findings');

export const NOTE_COLUMNS = ['Record', 'Kind', 'Code', 'What'] as const;

export const MARKER_COLUMNS = ['Marker', 'Record', 'Elapsed', 'Note'] as const;

const label = ({ list }: Side, frame: number): string => recordLabel(list, frame);

export const noteRows = (side: Side): string[][] => side.notes.map((note) => [note.at === undefined ? '–' : label(side, note.at), note.severity, note.code, note.text]);

export const markerRows = (side: Side): string[][] =>
  side.list.markers.map((marker, index) => [String(index + 1), label(side, marker.at), clockText(realSeconds(marker.at, side.list.count.rate), true), marker.note]);
