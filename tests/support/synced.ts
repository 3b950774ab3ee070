/** Random lists as a log gives them: several takes, every source in sync with the log. Beside arbitraryList, whose points are at random. */
import fc from 'fast-check';
import { BLACK, type CutList, type Shot, type Take } from '../../src/cutlist/model.js';
import { numberedTake, sourceFrame, sourceLength } from '../../src/cutlist/sync.js';
import { arbitraryList, type ListShape } from './lists.js';

/** Divides a list into takes at some of its shots (`cuts`, each 0 ≤ x < 1); sound cut with the picture goes along, other sound stays in take 1. */
export function withTakes(list: CutList, cuts: readonly number[]): CutList {
  const firsts = [...new Set([0, ...cuts.map((cut) => Math.floor(cut * list.shots.length))])].sort((a, b) => a - b);
  const takes: Take[] = firsts.map((first, index) => {
    const end = firsts[index + 1];
    const into = (list.shots[first] as Shot).in;
    return { in: into, out: end === undefined ? list.frames : (list.shots[end] as Shot).in, logIn: 90_000 + into + 500 * index, origin: 'timecode' };
  });
  let take = -1;
  const shots = list.shots.map((shot, index) => {
    if (firsts.includes(index)) take += 1;
    return { ...shot, take };
  });
  const byIn = new Map(shots.map((shot) => [shot.in, shot]));
  const audio = list.audio.map((piece) => (piece.withPicture ? { ...piece, take: byIn.get(piece.in)?.take ?? 0 } : piece));
  return { ...list, takes, shots, audio };
}

/** The same list with the source points that its log asks for. */
export function synced(list: CutList): CutList {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const shots = list.shots.map((shot): Shot => {
    const source = sources.get(shot.source);
    const take = numberedTake(list.takes, shot.take);
    if (shot.source === BLACK || source === undefined || take === undefined) return shot;
    const sourceIn = sourceFrame(source, take, take.logIn + shot.in - take.in, list.count);
    return { ...shot, sourceIn, sourceOut: sourceIn + sourceLength(shot.out - shot.in, list.count, source.count) };
  });
  const byIn = new Map(shots.map((shot) => [shot.in, shot]));
  const audio = list.audio.map((piece) => {
    const shot = piece.withPicture ? byIn.get(piece.in) : undefined;
    return shot === undefined ? piece : { ...piece, sourceIn: shot.sourceIn, sourceOut: shot.sourceOut };
  });
  return { ...list, shots, audio };
}

/** Lists of every kind: read ones and ones in sync, with one take and with several. */
export const anyList = (shape: ListShape = {}): fc.Arbitrary<CutList> =>
  fc.tuple(arbitraryList({ otherRates: true, ...shape }), fc.array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), { maxLength: 3 }), fc.boolean())
    .map(([list, cuts, inSync]) => {
      const taken = withTakes(list, cuts);
      return inSync ? synced(taken) : { ...taken, takes: taken.takes.map(({ in: into, out, logIn }) => ({ in: into, out, logIn })) };
    });
