/** Recordings made up for tests that need no files. */
import type { Placed } from '../../src/media/order.js';
import { placed } from '../../src/media/order.js';
import type { Recording } from '../../src/media/recording.js';
import { parseRate, type Count } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';

export function count(name: string): Count {
  const spec = parseRate(name);
  if (!('rate' in spec)) throw new Error(spec.message);
  return countOf(spec.rate, spec.dropFrame ?? false);
}

export interface Made {
  /** Frames since label zero. */
  readonly start?: number;
  readonly frames?: number;
  readonly rate?: string;
  readonly sound?: boolean;
  readonly bytes?: number;
  readonly longName?: string;
}

/** A recording that lies at `name` below the folder `media`. */
export function made(name: string, { start, frames = 1000, rate = '29.97df', sound = false, bytes = 4096, longName }: Made = {}): Placed {
  const recording: Recording = {
    path: `media/${name}`,
    bytes,
    container: sound ? 'BWF' : 'MOV',
    ...(sound ? { sound: { channels: 2, sampleRate: 48_000 } } : { picture: { width: 1920, height: 1080, scan: 'progressive', rate: count(rate).rate, frames, varying: false } }),
    count: count(rate),
    frames,
    ...(start === undefined ? {} : { start }),
  };
  return placed(recording, name, undefined, longName);
}
