/** Times as they are written: `RationalTime.1` and `TimeRange.1`. */
import type { Rate } from '../../timecode/rate.js';
import { Double, type Json } from './json.js';
import { fps, SCHEMA } from './schema.js';

/** `value` counts frames of `rate`. */
export const time = (value: Json, rate: Rate): Json => ({ OTIO_SCHEMA: SCHEMA.time, rate: new Double(fps(rate)), value });

/** From `start` on, `duration` long; both count frames of `rate`. */
export const range = (start: Json, duration: Json, rate: Rate): Json => ({
  OTIO_SCHEMA: SCHEMA.range,
  duration: time(duration, rate),
  start_time: time(start, rate),
});
