/** Random sound cut lists for property tests. Whatever comes from here obeys every rule of src/cutlist/model.ts. */
import fc from 'fast-check';
import { BLACK, PROGRAM, type AudioPiece, type CutList, type Marker, type Shot, type Source, type Transition } from '../../src/cutlist/model.js';
import { convertFrames, hasDropFrame, RATES, type Count } from '../../src/timecode/rate.js';
import { countOf, framesPerDay } from '../../src/timecode/timecode.js';

/** All twelve counts: ten rates, two of them with and without drop-frame. */
export const COUNTS: readonly Count[] = RATES.flatMap((rate) =>
  hasDropFrame(rate) ? [countOf(rate, false), countOf(rate, true)] : [countOf(rate, false)],
);

export const arbitraryCount: fc.Arbitrary<Count> = fc.constantFrom(...COUNTS);

export interface ListShape {
  /** Counts to choose from (default all twelve). */
  readonly counts?: readonly Count[];
  readonly maxShots?: number;
  readonly maxShotFrames?: number;
  readonly transitions?: boolean;
  /** Which sound: by default any but `early`, which follows too, and leaves some shots before their end. */
  readonly audio?: readonly ('none' | 'fixed' | 'follow' | 'early')[];
  readonly black?: boolean;
  readonly markers?: boolean;
  /** Let source points and the record side cross midnight (default true). */
  readonly midnight?: boolean;
  /** Let some sources run at another rate than the list (default false). */
  readonly otherRates?: boolean;
  /** Let the first shot come on by a transition (default true). */
  readonly openWithTransition?: boolean;
}

const NAMES = ['Stage wide', 'Close-up', 'Overhead', 'Slides', 'Küche links', 'Hand "B"'];

/** A random sound list: shots that tile [0, frames), transitions that fit, sound, markers. */
export function arbitraryList(shape: ListShape = {}): fc.Arbitrary<CutList> {
  const counts = shape.counts ?? COUNTS;
  return fc
    .record({
      count: fc.constantFrom(...counts),
      sourceCount: fc.integer({ min: 1, max: NAMES.length }),
      program: fc.boolean(),
      start: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
      mode: fc.constantFrom(...(shape.audio ?? (['none', 'fixed', 'follow'] as const))),
      shots: fc.array(
        fc.record({
          source: fc.nat(),
          frames: fc.oneof(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: shape.maxShotFrames ?? 600 })),
          at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
          kind: fc.constantFrom('cut', 'cut', 'dissolve', 'wipe'),
          mix: fc.integer({ min: 1, max: 60 }),
          code: fc.integer({ min: 0, max: 999 }),
          lead: fc.constantFrom('start', 'center', 'end'),
          note: fc.option(fc.constantFrom('The stock comes to the boil', 'Über den Tisch', 'Pan & lid <hot>'), { nil: undefined }),
        }),
        { minLength: 1, maxLength: shape.maxShots ?? 30 },
      ),
      otherRate: fc.array(fc.option(fc.constantFrom(...COUNTS), { nil: undefined, freq: 2 }), { minLength: NAMES.length, maxLength: NAMES.length }),
      channels: fc.constantFrom([1, 2], [1], [2, 1], [1, 2, 3, 4]),
    })
    .map((given) => {
      const { count } = given;
      const day = framesPerDay(count);
      const place = (at: number, room: number): number => Math.floor(at * (shape.midnight === false ? Math.max(1, day - room) : day));
      const total = given.shots.reduce((sum, shot) => sum + shot.frames, 0);
      const sources: Source[] = Array.from({ length: given.sourceCount }, (_, index) => ({
        id: String(index + 1),
        name: NAMES[index] as string,
        aliases: [],
        picture: true,
        recorded: true,
        count: (shape.otherRates === true ? given.otherRate[index] : undefined) ?? count,
        starts: [],
        offset: 0,
        files: [{ path: `media/source ${String(index + 1)}.mov`, channels: 4 }],
      }));
      if (given.program) {
        sources.push({ id: PROGRAM, name: 'Program', reel: 'PGM', aliases: [], picture: true, recorded: true, count, starts: [], offset: 0, files: [{ path: 'media/program.mov', channels: 4 }] });
      }
      const shots: Shot[] = [];
      const markers: Marker[] = [];
      let at = 0;
      for (const item of given.shots) {
        const choices = shape.black === false ? sources : [...sources, undefined];
        const before = shots.at(-1);
        let source = choices[item.source % choices.length];
        if (choices.length > 1 && before !== undefined && (source?.id ?? BLACK) === before.source) source = choices[(item.source + 1) % choices.length];
        const length = source === undefined ? item.frames : sourceLength(item.frames, count, source.count);
        const sourceIn = source === undefined ? 0 : Math.min(place(item.at, 2 * total + 200), framesPerDay(source.count) - 1);
        const mixes = shape.transitions !== false && item.kind !== 'cut' && (before !== undefined || shape.openWithTransition !== false);
        const frames = Math.min(item.mix, item.frames);
        const inOffset = item.lead === 'start' ? 0 : item.lead === 'center' ? Math.floor(frames / 2) : frames;
        const transition: Transition | undefined = !mixes
          ? undefined
          : item.kind === 'wipe' ? { kind: 'wipe', frames, wipe: item.code, inOffset } : { kind: 'dissolve', frames, inOffset };
        shots.push({
          source: source?.id ?? BLACK,
          in: at,
          out: at + item.frames,
          sourceIn,
          sourceOut: sourceIn + length,
          take: 0,
          ...(transition === undefined ? {} : { transition }),
          ...(source === undefined ? {} : { file: 0 }),
        });
        if (item.note !== undefined && shape.markers !== false) markers.push({ at: at + Math.floor(item.frames / 2), note: item.note });
        at += item.frames;
      }
      const audio = sound(given.mode, shots, sources, count, given.channels, at);
      return {
        title: 'Harbour Kitchen 14',
        count,
        recordStart: place(given.start, 2 * total),
        frames: at,
        sources,
        takes: [{ in: 0, out: at, logIn: 0 }],
        shots,
        audio,
        markers,
      };
    });
}

/** Length on the source side of `frames` on the record side: equal for one nominal count, else real time. */
function sourceLength(frames: number, list: Count, source: Count): number {
  return list.rate.nominal === source.rate.nominal ? frames : convertFrames(frames, list.rate, source.rate);
}

function sound(mode: string, shots: readonly Shot[], sources: readonly Source[], count: Count, channels: readonly number[], frames: number): AudioPiece[] {
  const tracks = channels.map((_, index) => index + 1);
  if (mode === 'follow') {
    return shots.map((shot) => ({
      source: shot.source,
      in: shot.in,
      out: shot.out,
      sourceIn: shot.sourceIn,
      sourceOut: shot.sourceOut,
      tracks,
      channels,
      take: shot.take,
      withPicture: true,
      ...(shot.transition === undefined ? {} : { transition: shot.transition }),
      ...(shot.file === undefined ? {} : { file: shot.file }),
    }));
  }
  if (mode === 'early') return sound('follow', shots, sources, count, channels, frames).flatMap((piece, index) => early(piece, index, sources, count));
  if (mode === 'none') return [];
  const from = sources[0] as Source;
  return [{ source: from.id, in: 0, out: frames, sourceIn: 1000, sourceOut: 1000 + sourceLength(frames, count, from.count), tracks, channels, file: 0, take: 0, withPicture: false }];
}

/**
 * Of sound that follows the picture, some pieces leave their shot once its mix is complete; what does not mix in black is silent then. After some
 * that came on by a mix their source is heard on, by a row of its own.
 */
function early(piece: AudioPiece, index: number, sources: readonly Source[], count: Count): AudioPiece[] {
  const length = piece.out - piece.in;
  const kept = Math.max(piece.transition?.frames ?? 1, Math.ceil(length / 2));
  if (index % 2 === 0 || kept === length) return [piece];
  const source = sources.find(({ id }) => id === piece.source);
  if (source === undefined && piece.transition === undefined) return [];
  const used = piece.sourceOut - piece.sourceIn;
  const sourceFrames = source === undefined || used === length ? kept : sourceLength(kept, count, source.count);
  const left: AudioPiece = { ...piece, out: piece.in + kept, sourceOut: piece.sourceIn + Math.min(sourceFrames, used), withPicture: false };
  const { transition, ...plain } = left;
  return index % 4 === 1 || transition === undefined || source === undefined ? [left] : [left, { ...plain, in: left.out, out: piece.out, sourceIn: left.sourceOut, sourceOut: piece.sourceOut }];
}
