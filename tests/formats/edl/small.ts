/** Small cut lists written out by hand, and the text they become. */
import type { AudioPiece, CutList, Shot, Source } from '../../../src/cutlist/model.js';
import { writeEdl, type EdlOptions } from '../../../src/formats/edl/write.js';
import { isFault, type Problem } from '../../../src/problems.js';
import { parseRate, type Count } from '../../../src/timecode/rate.js';
import { countOf, parseTimecode } from '../../../src/timecode/timecode.js';

export function count(name: string): Count {
  const spec = parseRate(name);
  if (isFault(spec)) throw new Error(spec.message);
  return countOf(spec.rate, spec.dropFrame ?? false);
}

export function frame(label: string, at: Count): number {
  const value = parseTimecode(label, at);
  if (isFault(value)) throw new Error(value.message);
  return value;
}

export const source = (id: string, name: string, at: Count, more: Partial<Source> = {}): Source => ({
  id, name, aliases: [], picture: true, recorded: true, count: at, starts: [], offset: 0, files: [], ...more,
});

type GivenShot = Pick<Shot, 'source' | 'sourceIn'> & { readonly frames: number; readonly sourceFrames?: number } & Partial<Shot>;

/** Shots one after the other; a fixed length each. */
export function listOf(at: Count, recordStart: string, sources: readonly Source[], given: readonly GivenShot[], more: Partial<CutList> = {}): CutList {
  let next = 0;
  const shots = given.map(({ frames, sourceFrames, ...shot }): Shot => {
    const begin = next;
    next += frames;
    return { take: 0, in: begin, out: next, sourceOut: shot.sourceIn + (sourceFrames ?? frames), ...shot };
  });
  return { title: 'Harbour Kitchen 14', count: at, recordStart: frame(recordStart, at), frames: next, sources, takes: [{ in: 0, out: next, logIn: 0 }], shots, audio: [], markers: [], ...more };
}

export const sound = (from: string, begin: number, out: number, sourceIn: number, more: Partial<AudioPiece> = {}): AudioPiece => ({
  source: from, in: begin, out, sourceIn, sourceOut: sourceIn + out - begin, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false, ...more,
});

/** Sound that is cut with each shot. */
export const follow = (shots: readonly Shot[], tracks: readonly number[]): AudioPiece[] =>
  shots.map(({ source: from, in: begin, out, sourceIn, sourceOut, transition, take, file }) => ({
    source: from, in: begin, out, sourceIn, sourceOut, take, tracks, channels: tracks, withPicture: true,
    ...(transition === undefined ? {} : { transition }), ...(file === undefined ? {} : { file }),
  }));

export interface Written {
  readonly suffixes: readonly string[];
  readonly texts: readonly string[];
  /** Of all parts, without line ends. */
  readonly lines: readonly string[];
  readonly problems: readonly Problem[];
}

export function written(list: CutList, options: EdlOptions = {}): Written {
  const problems: Problem[] = [];
  const outputs = writeEdl(list, options, (problem) => problems.push(problem));
  const texts = outputs.map(({ chunks }) => [...chunks].join(''));
  return { suffixes: outputs.map(({ suffix }) => suffix), texts, lines: texts.flatMap((text) => text.split(/\r?\n/).slice(0, -1)), problems };
}

/** Without the table of reels and the rate. */
export const events = (list: CutList, options: EdlOptions = {}): string[] => written(list, options).lines.filter((line) => !/^\* (RATE:|REEL )|^TITLE:/.test(line));
