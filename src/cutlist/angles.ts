/** Angles: every source's recording over the whole list, take by take, in sync with the cut (`--angles`). */
import { cover } from './cover.js';
import type { Angle, CutList, Source } from './model.js';
import { Recordings } from './recording.js';
import { lacksStart } from './starts.js';
import { numberedTake, sourceFrame, sourceLength, type NumberedTake } from './sync.js';

type Piece = Angle['pieces'][number];

/**
 * One angle for each recorded source, sound-only ones too, in the list's order, the program recording last. Its pieces are what its files
 * hold of each take; gaps are where they hold nothing. A source that is played frame for frame at another rate (30 in 29.97)
 * would run away, so it has a piece for each shot: there it is in sync, as the cut is. Takes of a list that was read know no
 * log, and have no pieces. Right for a list before and after `placeOnRecordings`.
 */
export function anglesOf(list: Pick<CutList, 'sources' | 'takes' | 'count' | 'shots'>): Angle[] {
  const recordings = new Recordings();
  return list.sources.filter(({ recorded }) => recorded).map((source) => {
    const pieces: Piece[] = [];
    for (const { into, out, take, index } of stretches(list, source)) {
      const sourceIn = sourceFrame(source, take, take.logIn + into - take.in, list.count);
      const whole = { in: into, out, sourceIn, sourceOut: sourceIn + sourceLength(out - into, list.count, source.count) };
      for (const part of cover(whole, source, recordings.of(source, take), list.count)) {
        if (part.missing !== undefined) continue;
        const piece: Piece = { in: part.in, out: part.out, sourceIn: part.sourceIn, sourceOut: part.sourceOut, take: index };
        pieces.push(part.file === undefined ? piece : { ...piece, file: part.file });
      }
    }
    return { source: source.id, pieces };
  });
}

interface Stretch {
  readonly into: number;
  readonly out: number;
  readonly take: NumberedTake;
  readonly index: number;
}

/** The stretches of record side on which a source runs on by itself: takes, or the shots of takes. */
function* stretches(list: Pick<CutList, 'takes' | 'count' | 'shots'>, source: Source): Generator<Stretch> {
  const drifts = source.count.rate !== list.count.rate && source.count.rate.nominal === list.count.rate.nominal;
  let shot = 0;
  for (let index = 0; index < list.takes.length; index += 1) {
    const take = numberedTake(list.takes, index);
    if (take?.origin === undefined || (take.origin === 'recording' && lacksStart(source, take.number))) continue;
    let into = take.in;
    while ((list.shots[shot]?.in ?? Infinity) <= take.in) shot += 1;
    for (; drifts && (list.shots[shot]?.in ?? Infinity) < take.out; shot += 1) {
      const out = list.shots[shot]?.in ?? take.out;
      if (list.shots[shot]?.continues === true) continue;
      yield { into, out, take, index };
      into = out;
    }
    yield { into, out: take.out, take, index };
  }
}
