/** One recorded file, as measured: what the table shows and a show file keeps. */
import type { Count, Rate } from '../timecode/rate.js';
import { scale } from '../timecode/exact.js';

export type Scan = 'progressive' | 'interlaced' | 'top first' | 'bottom first';

/** What a recorded file says of itself. */
export interface Recording {
  /** As the file was found: the folder that was asked for, joined with the path below it. */
  readonly path: string;
  readonly bytes: number;
  /** MOV, MP4, MXF, MKV, BWF, WAV, or the library's own word for another format. */
  readonly container: string;
  readonly picture?: Picture;
  readonly sound?: Sound;
  /** How its frames are labelled; undefined where nothing in the file says so (sound without timecode, an odd rate). */
  readonly count?: Count;
  /** First frame, since label zero, in frames of `count`; undefined when the file carries no timecode. */
  readonly start?: number;
  /** Length in frames of `count`. */
  readonly frames?: number;
  /** The label as the timecode track writes it; other than `start` where the track counts frame pairs (ST 12-1). */
  readonly label?: string;
  /** True when the timecode track counts pairs of frames: half the picture's rate. */
  readonly framePairs?: boolean;
}

/** Its picture; width and height in pixels. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly scan?: Scan;
  /** The exact rate, where it is one of SMPTE ST 12-1. */
  readonly rate?: Rate;
  /** Frames a second as measured, to three decimals, for a rate that is none of them. */
  readonly fps?: number;
  /** Number of frames. */
  readonly frames?: number;
  /** True when frames are not evenly spaced in time. */
  readonly varying: boolean;
}

/** Its sound. */
export interface Sound {
  /** Channels of all sound tracks together. */
  readonly channels: number;
  /** Samples a second. */
  readonly sampleRate: number;
  /** Length in samples, of the first track. */
  readonly samples?: number;
  /** Samples from midnight to the first (EBU Tech 3285, TimeReference). */
  readonly timeReference?: number;
}

/** Start and length in frames of `count`, as far as the recording says. */
export interface Extent {
  readonly start?: number;
  readonly frames?: number;
  readonly count: Count;
}

/**
 * Where a recording lies in a source that counts as `count`. A recording with a count of its own keeps it. Sound is put on frames: its
 * start is the frame nearest to the time reference, its end the one nearest to the end of its last sample, so that recordings that follow
 * one another to the sample do so to the frame. The last frame may then be one that the samples fill only in part: the next recording
 * fills the rest, if there is one. Without a time reference nothing follows it to the sample, and its length is the whole frames that its samples fill.
 */
export function extentIn(recording: Recording, count: Count | undefined): Extent | undefined {
  const own = recording.count;
  if (own !== undefined) {
    return {
      count: own,
      ...(recording.start === undefined ? {} : { start: recording.start }),
      ...(recording.frames === undefined ? {} : { frames: recording.frames }),
    };
  }
  const { sound, picture } = recording;
  if (picture !== undefined || sound === undefined || count === undefined) return undefined;
  const perSample = (samples: number, rounding: 'nearest' | 'floor'): number => scale(samples, count.rate.num, count.rate.den * sound.sampleRate, rounding);
  const { timeReference, samples } = sound;
  if (timeReference === undefined) return { count, ...(samples === undefined ? {} : { frames: perSample(samples, 'floor') }) };
  const start = perSample(timeReference, 'nearest');
  return { count, start, ...(samples === undefined ? {} : { frames: perSample(timeReference + samples, 'nearest') - start }) };
}

/** Real time of the recording in milliseconds, rounded to the nearest; undefined when it is not known. */
export function lengthMs({ picture, sound, count, frames }: Recording): number | undefined {
  if (count !== undefined && frames !== undefined) return scale(frames, count.rate.den * 1000, count.rate.num);
  if (picture?.frames !== undefined && picture.fps !== undefined) return Math.round((picture.frames / picture.fps) * 1000);
  return sound?.samples === undefined ? undefined : scale(sound.samples, 1000, sound.sampleRate);
}
