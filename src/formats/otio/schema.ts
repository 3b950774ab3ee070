/**
 * What the OpenTimelineIO reader and writer share: schema names, the standard's words, and linecut's own metadata.
 * Source: OpenTimelineIO 0.18, "serialized schema" and file-format documents of the reference library.
 */
import { BLACK, type CutList, type Source, type Transition } from '../../cutlist/model.js';
import type { Count, Rate } from '../../timecode/rate.js';

/** The schema versions that are written. */
export const SCHEMA = {
  timeline: 'Timeline.1',
  stack: 'Stack.1',
  track: 'Track.1',
  clip: 'Clip.2',
  gap: 'Gap.1',
  transition: 'Transition.1',
  external: 'ExternalReference.1',
  missing: 'MissingReference.1',
  marker: 'Marker.2',
  warp: 'LinearTimeWarp.1',
  range: 'TimeRange.1',
  time: 'RationalTime.1',
} as const;

/** The one media reference of a clip has this key, as in the reference library. */
export const MEDIA_KEY = 'DEFAULT_MEDIA';

export const VIDEO = 'Video';
export const AUDIO = 'Audio';

/** Names of transition kinds. The standard defines the first (and `Custom_Transition`); the reference EDL adapter uses the second. */
export const DISSOLVE = 'SMPTE_Dissolve';
export const WIPE = 'SMPTE_Wipe';

/** Names of the picture track and of the tracks of program channels 1, 2, …: as the reference EDL adapter names an EDL's. */
export const VIDEO_TRACK = 'V';
export const audioTrack = (channel: number): string => `A${String(channel)}`;

/** The standard's marker colours. */
export const COLORS: readonly string[] = ['BLACK', 'BLUE', 'CYAN', 'GREEN', 'MAGENTA', 'ORANGE', 'PINK', 'PURPLE', 'RED', 'WHITE', 'YELLOW'];

/** The reference library's colour of a marker that was given none. */
export const PLAIN_COLOR = 'RED';

/** Where our own data lie (`metadata.linecut`), and where the reference EDL adapter keeps reel, transition and comments. */
export const OURS = 'linecut';
export const EDL_KEY = 'cmx_3600';

/** Frames a second as the double nearest to the exact fraction: 30000/1001 → 29.97002997002997. */
export const fps = (rate: Rate): number => rate.num / rate.den;

/** `W017` for a wipe with a code, `D` for a dissolve; undefined for a wipe without. */
export function transitionCode({ kind, wipe }: Transition): string | undefined {
  if (kind === 'dissolve') return 'D';
  return wipe === undefined ? undefined : `W${String(wipe).padStart(3, '0')}`;
}

/**
 * A source frame as a time of the list's rate, in frames: the same real time (a double, not rounded), so that it lies where
 * it belongs in an `available_range` that counts in the source's rate, also where both count the same nominal labels.
 */
export function sourceTime(frame: number, source: Rate, list: Rate): number {
  return source === list ? frame : (frame * (list.num * source.den)) / (list.den * source.num);
}

/** How a source counts; black, and ids that the list does not know, count as the list does. */
export function countsOf(list: CutList): (id: string) => Count {
  const known = new Map(list.sources.map((source: Source) => [source.id, source.count]));
  return (id) => (id === BLACK ? list.count : (known.get(id) ?? list.count));
}
