/** Sound where a log has it follow the picture: what each shot is heard with, before it is put on its recording and after. */
import { without } from '../without.js';
import { nearestRepeat } from '../timecode/day.js';
import type { Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import { BLACK, type AudioPiece, type CutList, type Followed, type Shot, type Source, type Take } from './model.js';
import { shotIndexAt } from './record.js';
import { sortedSound } from './sound-order.js';
import { numberedTake, Run, sourceFrame, sourceLength } from './sync.js';
import { soundWith } from './with-picture.js';

/** What the sound of shots is made from. */
export interface Pictured {
  readonly count: Count;
  readonly takes: readonly Take[];
  readonly shots: readonly Shot[];
  readonly sources: ReadonlyMap<string, Source>;
}

/**
 * Hands over the sound of all shots in a stretch, in order. It has a shot's transition where the sound before followed too, also
 * where the sound changes later in the shot, once the mix is complete; a shot that follows from its middle on, or changes in its mix, has
 * a plain piece. Black has no sound, but a piece that goes with it is cut with the picture.
 */
export function soundFollowed(list: Pictured, stretch: Followed, each: (piece: AudioPiece, shot: Shot) => void): void {
  const { shots } = list;
  for (let index = shotIndexAt(shots, stretch.in); index < shots.length; index += 1) {
    const shot = shots[index] as Shot;
    if (shot.in >= stretch.out) break;
    const piece = shot.out <= stretch.in ? undefined : following(list, shot, stretch);
    if (piece !== undefined) each(piece, shot);
  }
}

function following(list: Pictured, shot: Shot, { in: start, out: end, tracks, channels }: Followed): AudioPiece | undefined {
  const { transition } = shot;
  // What mixes in the sound is the sound before; where that did not follow the picture, the sound is cut.
  const mixes = transition !== undefined && shot.in + transition.frames <= end && (shot.in > start || (shot.in === 0 && start === 0));
  const withPicture = shot.in >= start && shot.out <= end && (transition === undefined || mixes);
  if (!withPicture && !mixes && shot.source === BLACK) return undefined;
  const whole = soundWith(shot, { tracks, channels });
  // What comes on by a change of sound goes on from nothing.
  const piece = whole.continues === true && shot.in <= start ? without(whole, 'continues') : whole;
  if (withPicture) return piece;
  const [into, out] = [Math.max(shot.in, start), Math.min(shot.out, end)];
  const part: AudioPiece = { ...without(piece, 'speed'), in: into, out, ...pointsOf(list, shot, into, out), withPicture: false };
  return mixes ? part : without(part, 'transition');
}

function pointsOf(list: Pictured, shot: Shot, into: number, out: number): Pick<Shot, 'sourceIn' | 'sourceOut'> {
  const source = list.sources.get(shot.source);
  if (source === undefined) return { sourceIn: 0, sourceOut: out - into };
  const sourceIn = into === shot.in ? shot.sourceIn : sourceInAt(list, shot, source, into);
  return { sourceIn, sourceOut: sourceIn + sourceLength(out - into, list.count, source.count) };
}

/**
 * Where sound begins inside a shot, at record frame `at`: as sound of a fixed source does (rule 12), so not counted from the shot's own first frame,
 * which was rounded, and from which a source at another rate may be played frame for frame.
 */
function sourceInAt({ takes, count }: Pictured, shot: Shot, source: Source, at: number): number {
  const seen = new Run(shot, count, source.count).at(at);
  const take = numberedTake(takes, shot.take);
  // Where a list that was read lay in its log is not known.
  if (take?.origin === undefined) return seen;
  return nearestRepeat(sourceFrame(source, take, take.logIn + at - take.in, count), framesPerDay(source.count), seen);
}

/** The sound of a list that does not follow the picture. `follows` are in order. */
export function soundApart(audio: readonly AudioPiece[], follows: readonly Followed[]): readonly AudioPiece[] {
  if (follows.length === 0) return audio;
  let next = 0;
  return audio.filter((piece) => {
    while ((follows[next]?.out ?? Infinity) <= piece.in) next += 1;
    return (follows[next]?.in ?? Infinity) >= piece.out;
  });
}

/** The sound of a list from a log whose shots changed; what follows the picture is made anew, all other sound stays. */
export function soundAnew(list: CutList, follows: readonly Followed[], shots: readonly Shot[]): AudioPiece[] {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const out = [...soundApart(list.audio, follows)];
  for (const stretch of follows) soundFollowed({ count: list.count, takes: list.takes, shots, sources }, stretch, (piece) => out.push(piece));
  return sortedSound(out);
}
