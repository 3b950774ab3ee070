/** What stands for frames that a recording lacks, program or black, and the shot that it stands for. */
import { without } from '../without.js';
import { nearestRepeat } from '../timecode/day.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { Part } from './cover.js';
import { finderAfter } from './known-files.js';
import { BLACK, type CutList, type Shot, type Source } from './model.js';
import { follower, type Follow, type Refit } from './shift.js';
import { isRealSpeed, playedFrames } from './speed.js';
import { numberedTake, sourceFrame, sourceLength } from './sync.js';
import { wholeShots } from './whole-shots.js';

/** What was asked for where the shots of a list stand for missing frames, by their index; nothing of other shots. */
export type StoodFor = ReadonlyMap<number, Shot>;

/** Of no shot. */
export const NOTHING: StoodFor = new Map();

/** With `uncover`, what stands for missing frames grows only over what its recording lacks: the list is placed on its recordings (`refitter`). */
export interface Uncover {
  readonly uncover?: boolean;
}

/**
 * What was asked for where `list` shows a replacement: the source on air, in sync with the pieces of the shot that play from it, else with the
 * log. Left out where nothing says which frames these are, and where the recording is not known to lack them all: a mix comes from the
 * program as a whole.
 */
export function askedOf(list: CutList): StoodFor {
  if (list.shots.every(isOwn)) return NOTHING;
  const asked = new Map<number, Shot>();
  const finder = finderAfter(list, list);
  const follow = follower(list);
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  for (const whole of wholeShots(list.shots)) {
    let near = whole.find(({ shot }) => isOwn(shot))?.shot;
    for (const { shot, from } of whole) {
      if (isOwn(shot)) near = shot;
      const source = isOwn(shot) ? undefined : sources.get(shot.instead ?? BLACK);
      const wanted = source === undefined ? undefined : near === undefined ? byLog(shot, source, list) : besides(shot, near, source, list, follow);
      if (wanted !== undefined && lacks(shot, finder.of(wanted), list)) asked.set(from, wanted);
    }
  }
  return asked;
}

/**
 * Makes a function that gives what became of the shots of `list` another record range. What stands for missing frames gives way to what was
 * asked for where it would grow: the recording may have the frames there. Such a list is to be placed on its recordings.
 */
export function refitter(list: CutList, asked: StoodFor, follow: Follow): Refit {
  return ({ shot, from }, into, out) => {
    const [old, wanted] = [list.shots[from], asked.get(from)];
    const fitted = follow(shot, into, out);
    if (old === undefined || wanted === undefined || shot.instead === undefined || (into >= old.in && out <= old.out)) return fitted;
    return showing(fitted, follow(wanted, into, out));
  };
}

/** Whether a shot is not a replacement. */
const isOwn = ({ instead }: Shot): boolean => instead === undefined;

/** A shot that shows the frames of `what` and stands for nothing. */
function showing(shot: Shot, { source, sourceIn, sourceOut, file, clipName }: Pick<Shot, 'source' | 'sourceIn' | 'sourceOut' | 'file' | 'clipName'>): Shot {
  return {
    ...without(shot, 'instead', 'file', 'clipName', 'speed'), source, sourceIn, sourceOut,
    ...(file === undefined ? {} : { file }),
    ...(clipName === undefined ? {} : { clipName }),
  };
}

/** What was asked for by a piece of the same shot, if that is at real speed. */
function besides(shot: Shot, near: Shot, source: Source, list: CutList, follow: Follow): Shot | undefined {
  const [own, of] = [source.count.rate, list.count.rate];
  if (near.source !== source.id || near.speed !== undefined || !isRealSpeed(near.sourceOut - near.sourceIn, playedFrames(near.out - near.in, own, of), own, of)) return undefined;
  return showing(shot, follow(near, shot.in, shot.out));
}

function byLog(shot: Shot, source: Source, list: CutList): Shot | undefined {
  const take = numberedTake(list.takes, shot.take);
  if (take?.origin === undefined) return undefined;
  const sourceIn = sourceFrame(source, take, take.logIn + shot.in - take.in, list.count);
  const sourceOut = sourceIn + sourceLength(shot.out - shot.in, list.count, source.count);
  return showing(shot, { source: source.id, sourceIn, sourceOut, ...(source.recorded && source.files.length === 1 ? { file: 0 } : {}) });
}

/** Whether a recording lacks all that was asked for, and `shot` is what stands for it. */
function lacks(shot: Shot, [part, more]: readonly Part[], { sources }: CutList): boolean {
  if (part?.missing === undefined || more !== undefined || part.source !== shot.source) return false;
  const count = sources.find(({ id }) => id === shot.source)?.count;
  return count === undefined || nearestRepeat(part.sourceIn, framesPerDay(count), shot.sourceIn) === shot.sourceIn;
}
