/**
 * Moving the ends of shots and sound on the record side, with the source points following. One place for the rule
 * that adjustments and corrections share: what a boundary uncovers is the recording as it ran, nothing else moves.
 */
import { nearestRepeat } from '../timecode/day.js';
import type { Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import { BLACK, type CutList, type Shot, type Source, type Transition } from './model.js';
import { toSource } from './recording.js';
import { isRealSpeed, playedFrames, saidSpeed } from './speed.js';
import { numberedTake, sourceFrame, sourceLength } from './sync.js';
import { resized } from './transitions.js';

/** What shots and sound pieces have in common. */
export type Piece = Pick<Shot, 'source' | 'file' | 'in' | 'out' | 'sourceIn' | 'sourceOut' | 'take' | 'transition' | 'speed'>;

/** Gives a piece another record range [in, out), in < out, within its take. */
export type Follow = <T extends Piece>(piece: T, into: number, out: number) => T;

/** Source frames that go with `frames` record frames (rule 12). Signed, and the sign apart: a step forth and the same step back cancel out. */
export const sourceStep = (frames: number, list: Count, source: Count): number =>
  frames < 0 ? -sourceLength(-frames, list, source) : sourceLength(frames, list, source);

/**
 * Makes a function that gives pieces of `list` another record range. Where a piece lies in sync with its log, its new
 * in-point is the source frame of that moment (rules 5 and 12); elsewhere it moves as far as the boundary did, at the
 * piece's own speed. A transition that no longer fits is shortened.
 */
export function follower(list: Pick<CutList, 'count' | 'sources' | 'takes'>): Follow {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  return <T extends Piece>(piece: T, into: number, out: number): T => {
    if (piece.in === into && piece.out === out) return piece;
    const points = pointsAt(list, sources.get(piece.source), piece, into, out);
    const { transition, ...rest } = piece;
    const moved = { ...rest, in: into, out, ...points } as T;
    return transition === undefined ? moved : { ...moved, transition: shrunk(transition, piece.out - piece.in, out - into) };
  };
}

/** A transition in a shot of another length (it was `oldLength`): no longer than that. */
export const shrunk = (transition: Transition, oldLength: number, length: number): Transition =>
  transition.frames <= length ? transition : resized(transition, length, oldLength, length);

interface Points {
  readonly sourceIn: number;
  readonly sourceOut: number;
}

function pointsAt(list: Pick<CutList, 'count' | 'takes'>, source: Source | undefined, piece: Piece, into: number, out: number): Points {
  const old = piece.out - piece.in;
  const used = piece.sourceOut - piece.sourceIn;
  if (piece.source === BLACK || source === undefined) return { sourceIn: piece.sourceIn, sourceOut: piece.sourceIn + out - into };
  const [own, of] = [source.count.rate, list.count.rate];
  // Up to the end of a file of another rate, a piece at real speed is a frame or two shorter.
  const steady = sourceLength(old, list.count, source.count) === used || (endsFile(source, piece) && isRealSpeed(used, playedFrames(old, own, of), own, of));
  const said = saidSpeed(piece, own, of);
  const along = (frames: number): number => (said !== undefined ? round(said * playedFrames(frames, own, of)) : steady ? sourceStep(frames, list.count, source.count) : round((frames * used) / old));
  const synced = steady && said === undefined ? syncedFrame(list, source, piece, into) : undefined;
  const sourceIn = synced ?? piece.sourceIn + along(into - piece.in);
  return { sourceIn, sourceOut: sourceIn + (out - into === old ? used : along(out - into)) };
}

/** The source frame at record frame `at`, when the piece shows at its `in` what its log says, on whichever day; else undefined. */
function syncedFrame(list: Pick<CutList, 'count' | 'takes'>, source: Source, piece: Piece, at: number): number | undefined {
  const take = numberedTake(list.takes, piece.take);
  if (take?.origin === undefined) return undefined;
  const days = piece.sourceIn - sourceFrame(source, take, take.logIn + piece.in - take.in, list.count);
  return days % framesPerDay(source.count) === 0 ? sourceFrame(source, take, take.logIn + at - take.in, list.count) + days : undefined;
}

/** Whether a piece goes up to the end of its file, or to where the next one begins: on it, or one frame behind it where that goes on (`cover`). */
function endsFile(source: Source, { file, sourceOut }: Piece): boolean {
  const played = file === undefined ? undefined : source.files[file];
  if (played?.start === undefined || played.frames === undefined) return false;
  const day = framesPerDay(source.count);
  const end = toSource(played.start, played, source) + toSource(played.frames, played, source);
  const isAt = (frame: number): boolean => Math.abs(nearestRepeat(sourceOut, day, frame) - frame) <= 1;
  return isAt(end) || source.files.some((other) => other.start !== undefined && isAt(toSource(other.start, other, source)));
}

/** To the nearest whole frame, halves away from zero: a step forth and the same step back cancel out. */
const round = (exact: number): number => (exact < 0 ? -Math.round(-exact) : Math.round(exact));

/** A shot that a change made, and the index of the old shot that it comes from (of the one it covers, for a new one). */
export interface Made {
  readonly shot: Shot;
  readonly from: number;
}

/** Gives what became of a shot another record range [into, out), into < out, within its take. */
export type Refit = (made: Made, into: number, out: number) => Shot;
