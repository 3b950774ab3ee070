/** Random lists with everything that OTIO can carry, and helpers for its tests. */
import fc from 'fast-check';
import { BLACK, PROGRAM, type Angle, type CutList, type Shot, type Take } from '../../../src/cutlist/model.js';
import { writeOtio, type OtioOptions } from '../../../src/formats/otio/write.js';
import { convertFrames } from '../../../src/timecode/rate.js';
import { arbitraryList, type ListShape } from '../../support/lists.js';

export const BASE = '/srv/Harbour Kitchen 14';

export const otioText = (list: CutList, options: Partial<OtioOptions> = {}): string => [...writeOtio(list, { base: BASE, paths: 'relative', ...options }).chunks].join('');

/** Sound lists of every shape, with events, comments, clip names, several takes, replacements, colours, angles and speed. */
export function richList(shape: ListShape = {}): fc.Arbitrary<CutList> {
  return fc.record({ list: arbitraryList({ otherRates: true, ...shape }), seeds: fc.array(fc.nat(), { minLength: 8, maxLength: 8 }) }).map(({ list, seeds }) => enrich(list, seeds));
}

function enrich(list: CutList, seeds: readonly number[]): CutList {
  const pick = (which: number, index: number, from: number): number => (((seeds[which] ?? 0) % 1009) * (index + 3) * 7919 + index) % from;
  const ids = list.sources.map(({ id }) => id);
  const sources = list.sources.map((source, index) => ({
    ...source,
    ...(pick(0, index, 2) === 0 ? { reel: `R${String(index)}`, aliases: [`CAM ${String(index)}`], offset: index - 2, starts: [index * 100], sync: { this: 5, is: index } } : {}),
    files: source.files.flatMap((file) => [file, { path: `media/source ${source.id} #2 100%.mov`, start: 1000, frames: 90_000, count: source.count, channels: 2, size: 1_000_000 + index }]),
  }));
  const split = list.shots[Math.floor(list.shots.length / 2)]?.in ?? 0;
  const takes = pick(1, 0, 2) === 0 || split === 0 ? list.takes : takesAt(split, list.frames, pick(3, 0, 2) === 0);
  const takeOf = (from: number): number => (takes.length === 2 && from >= split ? 1 : 0);
  const shots = list.shots.map((shot, index): Shot => {
    const source = list.sources.find(({ id }) => id === shot.source);
    const fast = source !== undefined && pick(2, index, 9) === 0;
    const instead = (shot.source === BLACK || shot.source === PROGRAM) && pick(3, index, 2) === 0 ? (shot.source === PROGRAM && pick(3, index, 4) === 0 ? BLACK : ids[0]) : undefined;
    return {
      ...shot,
      take: takeOf(shot.in),
      ...(source === undefined ? {} : { file: pick(4, index, 2) }),
      ...(fast ? { sourceOut: shot.sourceIn + (shot.out - shot.in) * 2 + 3 } : {}),
      ...(instead === undefined ? {} : { instead }),
      ...(pick(5, index, 2) === 0 ? { event: { number: index + 1, action: shot.transition?.kind ?? 'cut', ...(pick(6, index, 2) === 0 ? { note: 'auf "heiß" & <now>' } : {}) } } : {}),
      ...(pick(6, index, 5) === 0 ? { clipName: `Clip ${String(index)}` } : {}),
      ...(pick(6, index, 4) === 0 ? { comments: ['REEL 2 HAS A SCRATCH', 'zweite Zeile'] } : {}),
    };
  });
  const audio = list.audio.map((piece) => {
    if (!piece.withPicture) return piece;
    const { sourceOut, take, file } = shots.find((shot) => shot.in === piece.in) ?? piece;
    return { ...piece, sourceOut, take, ...(file === undefined ? {} : { file }) };
  });
  const fixed = audio.length === 1 && audio[0]?.withPicture === false && takes.length === 2 ? halves(audio[0], split) : audio;
  const markers = list.markers.map((marker, index) => (index % 3 === 0 ? { ...marker, color: index % 2 === 0 ? 'RED' : 'CYAN' } : marker));
  const parts = list.audio.some(({ withPicture }) => withPicture) ? shots : shots.flatMap((shot, index) => (pick(7, index, 3) === 0 ? inTwo(shot) : [shot]));
  return { ...list, sources, takes, shots: parts, audio: fixed, markers, ...(pick(7, 0, 2) === 0 ? { angles: angles(list, takeOf, takes.length === 2 ? split : list.frames) } : {}) };
}

/** Two takes of a log that counts by timecode, or from its recordings. */
const takesAt = (split: number, frames: number, recording: boolean): Take[] =>
  recording
    ? [{ in: 0, out: split, logIn: 125, origin: 'recording', number: 2, recordingIn: 100, counterIn: 0 }, { in: split, out: frames, logIn: 90_000, origin: 'recording', number: 3, recordingIn: 90_000, counterIn: -5 }]
    : [{ in: 0, out: split, logIn: 500, origin: 'timecode' }, { in: split, out: frames, logIn: 90_000, origin: 'timecode' }];

/** A shot that goes on in the next file of its recording. */
function inTwo(shot: Shot): Shot[] {
  const at = shot.in + Math.max(1, shot.transition?.frames ?? 0);
  if (at >= shot.out || shot.source === BLACK || shot.sourceOut - shot.sourceIn !== shot.out - shot.in) return [shot];
  const sourceIn = shot.sourceIn + at - shot.in;
  return [
    { ...shot, out: at, sourceOut: sourceIn, file: 0 },
    { source: shot.source, in: at, out: shot.out, sourceIn, sourceOut: shot.sourceOut, take: shot.take, file: 1, continues: true, ...(shot.instead === undefined ? {} : { instead: shot.instead }) },
  ];
}

/** A piece of sound from another place in each take. */
function halves(piece: CutList['audio'][number], split: number): CutList['audio'] {
  const length = piece.sourceOut - piece.sourceIn;
  const first = Math.round((length * split) / piece.out);
  return [
    { ...piece, out: split, sourceOut: piece.sourceIn + first },
    { ...piece, in: split, sourceIn: piece.sourceIn + first, take: 1, continues: true },
  ];
}

function angles(list: CutList, takeOf: (from: number) => number, split: number): Angle[] {
  return list.sources.map((source, index) => {
    const ends = split < list.frames ? [0, split, list.frames] : [0, list.frames];
    const pieces = ends.slice(1).flatMap((out, nth) => {
      const from = (ends[nth] ?? 0) + (index % 2);
      if (out <= from) return [];
      const { rate } = source.count;
      const length = rate.nominal === list.count.rate.nominal ? out - from : convertFrames(out - from, list.count.rate, rate);
      return [{ in: from, out, sourceIn: 4000 * nth + index, sourceOut: 4000 * nth + index + length, take: takeOf(from), file: 0 }];
    });
    return { source: source.id, pieces };
  });
}
