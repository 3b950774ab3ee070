/**
 * The layout of an EDL's lines: one place for writer and reader. Columns, channel codes and `BL` are from memory of SMPTE 258M;
 * the `M2` line, `AUD` lines and comments are common practice, no source.
 */

import { scale } from '../../timecode/exact.js';
import type { Rate } from '../../timecode/rate.js';

/** Numbers have three digits, so a list has at most 999 events. */
export const MAX_EVENTS = 999;

/** Longest transition of the classic field, and of three digits, in frames. Common practice, no source. */
export const CLASSIC_MIX = 255;
export const LONGEST_MIX = 999;

/** At most so many characters of title, and of the classic reel. */
export const TITLE_LENGTH = 70;
export const REEL_LENGTH = 8;

/** What can be chosen: the longest reel, line ends, by what events are in order. */
export const REEL_LENGTHS = [8, 32] as const;
export const NEWLINES = ['crlf', 'lf'] as const;
export const EVENT_ORDERS = ['record', 'source'] as const;

/** Black, picture or sound, and its long spelling in lists of others. */
export const BLACK_REEL = 'BL';
/** A source without a reel of its own. */
export const AUXILIARY_REEL = 'AX';

export const isBlackReel = (reel: string): boolean => reel === BLACK_REEL || reel === 'BLACK';

/** What an event records: picture, and program sound channels from 1. */
export interface Channels {
  readonly picture: boolean;
  readonly tracks: readonly number[];
}

/** Picture, channel 1, channel 2 → code. Channels 3 and 4 have no letter: the `AUD` line names them. */
const CODES = ['NONE', 'A', 'A2', 'AA', 'V', 'B', 'A2/V', 'AA/V'] as const;

const COLUMNS = CODES.map((code) => code.padEnd(4));

/** The code of the channel column, filled up to its width; `NONE` where only channels 3 and 4, which the `AUD` line names, are recorded. */
export const channelCode = ({ picture, tracks }: Channels): string =>
  COLUMNS[(picture ? 4 : 0) + (tracks.includes(1) ? 1 : 0) + (tracks.includes(2) ? 2 : 0)] as string;

/** The line for channels 3 and 4 (`AUD  3  4`), or undefined where neither is recorded. */
export function audLine(tracks: readonly number[]): string | undefined {
  const three = tracks.includes(3);
  const four = tracks.includes(4);
  if (!three && !four) return undefined;
  return `AUD${three ? '  3' : '   '}${four ? '  4' : ''}`.trimEnd();
}

/** Program sound channels of the layout (from memory of SMPTE 258M): two have letters, two more the `AUD` line. */
export const CHANNELS = 4;

/** Whether an event can record a sound channel of this number. */
export const isChannel = (track: number): boolean => track >= 1 && track <= CHANNELS;

/** The channels of an `AUD` line, or undefined when the line is none. */
export function readAud(line: string): number[] | undefined {
  const parts = line.length > 200 ? null : /^AUD((?:[\s,]+\d{1,2})+)\s*$/i.exec(line);
  return parts === null ? undefined : (parts[1] ?? '').split(/[\s,]+/).filter(Boolean).map(Number);
}

const READ_CODES = new Map<string, Channels>([
  ...CODES.map((code, index): [string, Channels] => [code, { picture: index >= 4, tracks: [1, 2].filter((track) => (index & track) !== 0) }]),
  ['V1', { picture: true, tracks: [] }],
]);

/** Reads a channel code: those that are written, in any case and order, and `A1`, `A3`, `A1A2`, `VA1`, … Undefined when it is none, as `A9`. */
export function readChannels(text: string): Channels | undefined {
  const code = text.toUpperCase();
  const known = READ_CODES.get(code);
  if (known !== undefined) return known;
  if (!/^(?:V1?(?!\d)|B|AA|A\d{0,2}|[/,+])+$/.test(code)) return undefined;
  let picture = false;
  const tracks = new Set<number>();
  for (const part of code.match(/V1?|B|AA|A\d{0,2}/g) ?? []) {
    const one = READ_CODES.get(part);
    if (one === undefined) tracks.add(Number(part.slice(1)));
    if (one?.picture === true) picture = true;
    one?.tracks.forEach((track) => tracks.add(track));
  }
  return ![...tracks].every(isChannel) || (!picture && tracks.size === 0) ? undefined : { picture, tracks: [...tracks].sort((a, b) => a - b) };
}

/** The four labels of an event, as one run of columns. */
export const labels = (sourceIn: string, sourceOut: string, recordIn: string, recordOut: string): string =>
  `${sourceIn} ${sourceOut} ${recordIn} ${recordOut}`;

/** The type of an event that is no mix, and of a dissolve, as they stand in their column. */
export const CUT = 'C   ';
export const DISSOLVE = 'D   ';

/** The type of a wipe with a code of three digits. */
export const wipeType = (code: number): string => `W${String(code).padStart(3, '0')}`;

/**
 * One event line: 76 characters with a reel column of 8. `reel`, `channels` and `type` come filled up to their columns, `frames` is the
 * length of the mix (0 for a cut).
 */
export function eventLine(number: number, reel: string, channels: string, type: string, frames: number, points: string): string {
  const length = frames === 0 ? '   ' : String(frames).padStart(3, '0');
  return `${String(number).padStart(3, '0')}  ${reel} ${channels}  ${type} ${length} ${points}`;
}

/** The FCM line that says how the labels after it count. */
export const fcmLine = (dropFrame: boolean): string => (dropFrame ? 'FCM: DROP FRAME' : 'FCM: NON-DROP FRAME');

/** What an FCM line says: true for drop-frame, undefined when it cannot be told. */
export function readFcm(text: string): boolean | undefined {
  if (/^NON[\s-]*DROP/i.test(text)) return false;
  return /^DROP/i.test(text) ? true : undefined;
}

/**
 * The speed line: `M2   REEL      nnn.n                HH:MM:SS:FF`. `tenths` is ten times the source frames that
 * play in a second; the label is written with `:`, also where it is drop-frame.
 */
export function speedLine(reel: string, tenths: number, label: string): string {
  const value = `${String(Math.floor(tenths / 10)).padStart(3, '0')}.${String(tenths % 10)}`;
  return `M2   ${reel}  ${value}                ${label.replace(/[;,]/g, ':')}`;
}

/** Ten times the source frames that play in a second where `played` of them take `recorded` (≥ 1) frames of the list; halves up. */
export const speedTenths = (played: number, recorded: number, list: Rate): number => scale(10 * played, list.num, list.den * recorded);

/** A speed line's parts, or undefined when the line is none. `rate` is source frames a second, negative for backwards. */
export function readSpeed(line: string): { readonly reel: string; readonly rate: number; readonly label: string | undefined } | undefined {
  const parts = /^M2\s+(\S.*)$/i.exec(line.slice(0, 300))?.[1]?.trim().split(/\s+/);
  if (parts === undefined) return undefined;
  const label = /[:;.,]\d\d$/.test(parts.at(-1) ?? '') && (parts.at(-1) ?? '').length >= 8 ? parts.pop() : undefined;
  const rate = Number(parts.pop() ?? '');
  return parts.length === 0 || !Number.isFinite(rate) ? undefined : { reel: parts.join(' '), rate, label };
}
