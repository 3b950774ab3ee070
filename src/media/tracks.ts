/** Reading single facts out of the library's tracks. Names of fields are MediaInfoLib's. */
import { rateNear, rateOf, type Rate } from '../timecode/rate.js';
import type { Track } from './probe.js';
import type { Scan, Sound } from './recording.js';

/** A field as text. Of a Matroska file below 64 KiB the library reads the header twice, and gives a value twice: `CFR / CFR`. */
export const text = (track: Track, field: string): string | undefined => {
  const value = track[field];
  return typeof value === 'string' ? value.replace(/^(.+) \/ \1$/, '$1') : typeof value === 'number' ? String(value) : undefined;
};

export const number = (track: Track, field: string): number | undefined => {
  const value = Number(track[field] ?? NaN);
  return Number.isFinite(value) ? value : undefined;
};

/** A field below `extra`, where the library puts what has no field of its own. */
export const extra = (track: Track, field: string): string | undefined => text((track['extra'] ?? {}) as Track, field);

/**
 * A track's rate, where it is one of SMPTE ST 12-1: the exact fraction where the file has one, else the rate that the measured
 * number means (containers that keep milliseconds come out as 29970/1000).
 */
export function rateIn(track: Track): Rate | undefined {
  const [num, den, fps] = [number(track, 'FrameRate_Num'), number(track, 'FrameRate_Den'), number(track, 'FrameRate')];
  const exact = num === undefined || den === undefined ? undefined : rateOf(num, den);
  return exact ?? (fps === undefined ? undefined : rateNear(fps));
}

export function scanOf(video: Track): Scan | undefined {
  const type = text(video, 'ScanType');
  const order = text(video, 'ScanOrder');
  if (type === undefined) return undefined;
  if (type === 'Progressive') return 'progressive';
  return order === 'TFF' ? 'top first' : order === 'BFF' ? 'bottom first' : 'interlaced';
}

const CONTAINERS: Readonly<Record<string, string>> = { 'MPEG-4': 'MP4', Matroska: 'MKV', Wave: 'WAV' };

export function containerOf(general: Track): string {
  const format = text(general, 'Format') ?? 'unknown';
  if (format === 'MPEG-4' && text(general, 'Format_Profile') === 'QuickTime') return 'MOV';
  if (format === 'Wave' && extra(general, 'bext_Present') === 'Yes') return 'BWF';
  return CONTAINERS[format] ?? format;
}

/** The sound of all tracks together; the first one's rate and length. */
export function soundOf(tracks: readonly Track[]): Sound | undefined {
  const [first] = tracks;
  const sampleRate = first === undefined ? undefined : number(first, 'SamplingRate');
  if (first === undefined || sampleRate === undefined || sampleRate <= 0) return undefined;
  const samples = number(first, 'SamplingCount');
  const delay = number(first, 'Delay');
  // The library gives the time reference in seconds to nine decimals: exact to the sample below 1 GHz.
  const reference = text(first, 'Delay_Source') === 'Container (bext)' && delay !== undefined ? Math.round(delay * sampleRate) : 0;
  return {
    channels: tracks.reduce((sum, track) => sum + Math.max(1, number(track, 'Channels') ?? 1), 0),
    sampleRate,
    ...(samples === undefined ? {} : { samples }),
    // Zero is what a recorder writes that has no clock.
    ...(reference > 0 ? { timeReference: reference } : {}),
  };
}

/** What a timecode track says. */
export interface TrackCode {
  readonly label: string;
  readonly last: string | undefined;
  /** What its labels count; undefined when only the picture says. */
  readonly rate: Rate | undefined;
  /** True when the track is not one unbroken run. */
  readonly broken: boolean;
}

const LABEL = /^\d\d:\d\d:\d\d[:;]\d\d/;

/**
 * The timecode of a recording: of an MXF the material package's, of a MOV or MP4 the first timecode track's, of a Matroska
 * file its tag's. Labels inside the picture's own stream (group-of-pictures headers) are what the encoder made up, and are not used.
 */
export function timecodeOf(tracks: readonly Track[]): TrackCode | undefined {
  const codes = tracks.filter((track) => track['@type'] === 'Other' && LABEL.test(text(track, 'TimeCode_FirstFrame') ?? ''));
  const best = codes.find((track) => text(track, 'TimeCode_Settings') === 'Material Package') ?? codes[0];
  // A tag may be the picture's, or the whole file's.
  const tagged = tracks.flatMap((track) => [track, (track['extra'] ?? {}) as Track]).find((track) => text(track, 'TimeCode_Source') === 'Matroska tags');
  const track = best ?? tagged;
  const label = track === undefined ? undefined : LABEL.exec(text(track, 'TimeCode_FirstFrame') ?? '')?.[0];
  if (track === undefined || label === undefined) return undefined;
  return {
    label,
    last: LABEL.exec(text(track, 'TimeCode_LastFrame') ?? '')?.[0],
    rate: best === undefined ? undefined : rateIn(best),
    broken: extra(track, 'Discontinuities') !== undefined,
  };
}
