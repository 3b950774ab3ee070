/** Comments that mean something: what the writer writes, the reader takes back. Others are kept as they are. */
import { isFault } from '../../problems.js';
import { parseRate } from '../../timecode/rate.js';
import { asciiPath, asciiText, readPath } from './ascii.js';

/** A comment that the reader understands. */
export type Comment =
  | { readonly kind: 'from' | 'to'; readonly text: string }
  /** `side` is missing where the words do not say it: the place among the other comments does. */
  | { readonly kind: 'file'; readonly side?: 'from' | 'to'; readonly text: string }
  | { readonly kind: 'marker'; readonly label: string; readonly text: string; readonly color?: string }
  | { readonly kind: 'rate'; readonly text: string }
  | { readonly kind: 'reel'; readonly reel: string; readonly facts: ReelFacts }
  | { readonly kind: 'continued' }
  | { readonly kind: 'channels'; readonly channels: readonly number[] }
  | { readonly kind: 'other'; readonly text: string };

/** What the table of reels says of a source. */
export interface ReelFacts {
  readonly id?: string;
  /** The source's count as `--rate` takes it, where it is not the list's. */
  readonly rate?: string;
  /** False for sound-only recordings. */
  readonly picture: boolean;
  readonly name: string;
}

export const fromComment = (name: string): string => `* FROM CLIP NAME: ${asciiText(name)}`;
export const toComment = (name: string): string => `* TO CLIP NAME: ${asciiText(name)}`;
export const fileComment = (path: string): string => `* SOURCE FILE: ${asciiPath(path)}`;
export const markerComment = (label: string, note: string): string => `* MARKER: ${label} ${asciiText(note)}`.trimEnd();
export const rateComment = (rate: string): string => `* RATE: ${rate}`;
/** On an event that goes on from the one before it: a list was divided here, nobody switched. */
export const CONTINUED = '* CONTINUED';

/** Which of its source's channels feed an event's sound, in the order of the event's; only where they are not the same. */
export const channelsComment = (channels: readonly number[]): string => `* CHANNELS: ${channels.join(' ')}`;

/** One line of the table of reels: `* REEL WIDE: id=1 name=Stage wide`. */
export function reelComment(reel: string, { id, rate, picture, name }: ReelFacts): string {
  const facts = [
    id === undefined || id === reel ? '' : `id=${asciiPath(id).replace(/ /g, '%20')} `,
    rate === undefined ? '' : `rate=${rate} `,
    picture ? '' : 'picture=no ',
  ];
  return `* REEL ${reel}: ${facts.join('')}name=${asciiText(name)}`.trimEnd();
}

/** A comment kept from a list that was read, as a line again. */
export const otherComment = (text: string): string => `* ${asciiText(text)}`.trimEnd();

type Reader = (value: string) => Comment | undefined;

/** Opening words → reader. The longest that fits wins, so they stand longest first. */
const READERS: readonly (readonly [string, Reader])[] = [
  ['FROM CLIP NAME:', (text) => ({ kind: 'from', text })],
  ['TO CLIP NAME:', (text) => ({ kind: 'to', text })],
  ['SOURCE FILE:', (text) => ({ kind: 'file', text: readPath(text) })],
  // How otio-cmx3600-adapter 1.0.0 writes a clip's media.
  ['OTIO REFERENCE FROM:', (text) => ({ kind: 'file', side: 'from', text: readPath(text) })],
  ['OTIO REFERENCE TO:', (text) => ({ kind: 'file', side: 'to', text: readPath(text) })],
  ['FROM CLIP:', (text) => ({ kind: 'file', side: 'from', text: readPath(text) })],
  ['FROM FILE:', (text) => ({ kind: 'file', side: 'from', text: readPath(text) })],
  ['TO CLIP:', (text) => ({ kind: 'file', side: 'to', text: readPath(text) })],
  ['TO FILE:', (text) => ({ kind: 'file', side: 'to', text: readPath(text) })],
  ['CONTINUED', (text) => (text === '' ? { kind: 'continued' } : undefined)],
  ['CHANNELS:', (text) => (text.length < 200 && /^\d{1,4}(?: \d{1,4})*$/.test(text) ? { kind: 'channels', channels: text.split(' ').map(Number) } : undefined)],
  ['MARKER:', marker],
  ['LOC:', locator],
  ['RATE:', (text) => (isFault(parseRate(text)) ? undefined : { kind: 'rate', text })],
  ['REEL ', reel],
];

/** Reads a comment line without its `*`. Case of the opening words does not matter. */
export function readComment(line: string): Comment {
  for (const [words, read] of READERS) {
    if (line.length < words.length || line.slice(0, words.length).toUpperCase() !== words) continue;
    const found = read(line.slice(words.length).trim());
    if (found !== undefined) return found;
  }
  return { kind: 'other', text: line };
}

const LABEL_FIRST = /^(\d{1,2}[:;.,]\d\d[:;.,]\d\d[:;.,]\d\d)(?:\s+|$)(.*)$/;

function marker(text: string): Comment | undefined {
  const parts = LABEL_FIRST.exec(text);
  return parts === null ? undefined : { kind: 'marker', label: parts[1] ?? '', text: parts[2] ?? '' };
}

/** `LOC: 01:00:01:14 RED     NOTE`, as otio-cmx3600-adapter writes markers; the word after the label is a colour. */
function locator(text: string): Comment | undefined {
  const parts = LABEL_FIRST.exec(text);
  if (parts === null) return undefined;
  const [, color = '', note = ''] = /^(\S+)\s*(.*)$/.exec(parts[2] ?? '') ?? [];
  const known = COLORS.has(color.toUpperCase());
  const found = { kind: 'marker', label: parts[1] ?? '', text: known ? note : (parts[2] ?? '') } as const;
  return known ? { ...found, color: color.toUpperCase() } : found;
}

/** Marker.Color of the OpenTimelineIO schema (0.18.1). */
const COLORS: ReadonlySet<string> = new Set(['PINK', 'RED', 'ORANGE', 'YELLOW', 'GREEN', 'CYAN', 'BLUE', 'PURPLE', 'MAGENTA', 'BLACK', 'WHITE']);

function reel(text: string): Comment | undefined {
  const parts = /^([^\s:]+):(?:\s+id=(\S+))?(?:\s+rate=(\S+))?(?:\s+(picture=no))?\s+name=(.*)$/.exec(text);
  if (parts === null) return undefined;
  const [, name = '', id, rate, soundOnly, clip = ''] = parts;
  return {
    kind: 'reel',
    reel: name,
    facts: { name: clip, picture: soundOnly === undefined, ...(id === undefined ? {} : { id: readPath(id) }), ...(rate === undefined ? {} : { rate }) },
  };
}
