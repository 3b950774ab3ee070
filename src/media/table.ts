/** What was measured, as a table for people and as plain data for scripts. */
import { elapsedText } from '../timecode/elapsed.js';
import { scale } from '../timecode/exact.js';
import { countName } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import { visible } from '../visible.js';
import type { Group } from './group.js';
import type { Placed } from './order.js';
import { lengthMs, type Extent, type Recording } from './recording.js';

const HEAD = ['source', 'file', 'start', 'rate', 'frames', 'length', 'picture', 'scan', 'sound', 'size'] as const;
/** Columns of figures: they end at one edge. */
const RIGHT = new Set<string>(['frames', 'length', 'size']);

/** One line a file, source by source; a dash where nothing is known. Files without a source come last. */
export function recordingTable(groups: readonly Group[], ungrouped: readonly Placed[]): string {
  const rows: string[][] = [[...HEAD]];
  for (const { name, files } of [...groups, { name: '-', files: ungrouped }]) for (const file of files) rows.push([name, ...cells(file)].map(visible));
  const widths = HEAD.map((_, column) => rows.reduce((width, row) => Math.max(width, row[column]?.length ?? 0), 0));
  return rows
    .map((row) => row.map((cell, column) => (RIGHT.has(HEAD[column] ?? '') ? cell.padStart(widths[column] ?? 0) : cell.padEnd(widths[column] ?? 0))).join('  ').trimEnd())
    .map((line) => `${line}\n`)
    .join('');
}

function cells({ recording, extent }: Placed): string[] {
  const { picture, sound } = recording;
  return [
    recording.path,
    startOf(recording, extent),
    extent !== undefined ? countName(extent.count) : picture?.fps !== undefined ? `about ${String(picture.fps)}` : '-',
    extent?.frames === undefined ? '-' : String(extent.frames),
    lengthOf(recording),
    picture === undefined ? '-' : `${String(picture.width)}x${String(picture.height)}`,
    picture?.scan ?? '-',
    sound === undefined ? '-' : `${String(sound.channels)} x ${String(sound.sampleRate)}`,
    sizeOf(recording.bytes),
  ];
}

/** The first frame's label; of sound that is on no frames the time of day. */
function startOf({ sound }: Recording, extent: Extent | undefined): string {
  if (extent?.start !== undefined) return formatTimecode(extent.start, extent.count);
  return sound?.timeReference === undefined || extent !== undefined ? '-' : elapsedText(scale(sound.timeReference, 1000, sound.sampleRate), 1000);
}

function lengthOf(recording: Recording): string {
  const ms = lengthMs(recording);
  return ms === undefined ? '-' : elapsedText(ms, 1000);
}

/** Bytes in decimal units, three figures: `812 kB`, `1.23 GB`. */
export function sizeOf(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let value = bytes;
  let unit = 0;
  // 999.5 would be written as 1000.
  while (value >= 999.5 && unit < units.length - 1) {
    value /= 1000;
    unit += 1;
  }
  return `${unit === 0 ? String(value) : value.toPrecision(3)} ${units[unit] ?? ''}`;
}

/** One recording as plain data: `--json`. Frames since label zero, samples since midnight, bytes. */
export function recordingData({ recording, extent }: Placed, source: string | undefined): Readonly<Record<string, unknown>> {
  const { picture, sound } = recording;
  const ms = lengthMs(recording);
  return {
    path: recording.path,
    ...(source === undefined ? {} : { source }),
    container: recording.container,
    ...(extent?.start === undefined ? {} : { start: formatTimecode(extent.start, extent.count), startFrame: extent.start }),
    ...(extent === undefined ? {} : { rate: extent.count.rate.name, rateExact: `${String(extent.count.rate.num)}/${String(extent.count.rate.den)}`, dropFrame: extent.count.dropFrame }),
    ...(extent === undefined && picture?.fps !== undefined ? { fps: picture.fps } : {}),
    ...(extent?.frames === undefined ? {} : { frames: extent.frames }),
    ...(ms === undefined ? {} : { seconds: ms / 1000 }),
    ...(picture === undefined ? {} : { width: picture.width, height: picture.height, scan: picture.scan, varyingRate: picture.varying }),
    ...(sound === undefined ? {} : { channels: sound.channels, sampleRate: sound.sampleRate, samples: sound.samples, timeReference: sound.timeReference }),
    ...(recording.framePairs === true ? { framePairs: true } : {}),
    ...(recording.label === undefined ? {} : { label: recording.label }),
    bytes: recording.bytes,
  };
}
