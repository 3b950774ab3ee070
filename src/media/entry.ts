/** What one recording gives to a show file, and whether what is written there is the same recording. */
import type { ShowMedia } from '../show/show.js';
import { countName, parseRate } from '../timecode/rate.js';
import { formatTimecode, parseTimecode } from '../timecode/timecode.js';
import type { Placed } from './order.js';

/** Its keys, as they are written: `path` as given, the rest as measured. */
export function mediaEntry({ recording, extent }: Placed, path: string): ShowMedia {
  const channels = recording.sound?.channels ?? 0;
  return {
    path,
    ...(extent?.start === undefined ? {} : { start: formatTimecode(extent.start, extent.count) }),
    ...(extent?.frames === undefined || extent.frames < 1 ? {} : { frames: extent.frames }),
    ...(extent === undefined ? {} : { rate: countName(extent.count) }),
    channels,
    size: recording.bytes,
  };
}

/** True for one recording in two places, as far as its name is one: its size is one too, and start and length where they are written. */
export const isSame = (written: ShowMedia | undefined, file: Placed): boolean => {
  if (written?.size !== file.recording.bytes) return false;
  const measured = mediaEntry(file, written.path);
  return (['start', 'frames'] as const).every((key) => written[key] === undefined || agrees(key, written, measured, file));
};

/** Whether what somebody wrote means what was measured: a label may be written with another mark, a rate in another spelling. */
export function agrees(key: keyof ShowMedia, written: ShowMedia, measured: ShowMedia, { extent }: Placed): boolean {
  if (key === 'path') return true;
  if (key === 'start' && extent !== undefined && written.start !== undefined) return parseTimecode(written.start, extent.count) === extent.start;
  if (key === 'rate' && extent !== undefined && written.rate !== undefined) {
    const spec = parseRate(written.rate);
    return 'rate' in spec && spec.rate.name === extent.count.rate.name && (spec.dropFrame ?? extent.count.dropFrame) === extent.count.dropFrame;
  }
  return written[key] === measured[key];
}
