/** What belongs together in two lists: sources, shots, and where the running time changed. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { sourceStep } from '../cutlist/shift.js';
import { withinDay } from '../timecode/day.js';
import { convertFrames } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import { align, type Match, type Token } from './align.js';
import { pairOf, slip, type Pair } from './points.js';
import { runningTime } from './running-time.js';
import { matchSources } from './sources.js';

export interface Matched extends Pair {
  /** Matched shots, rising in both lists. */
  readonly matches: readonly Match[];
  /** For each match, by how much the running time before it differs (B less A). */
  readonly shifts: readonly number[];
}

export function matchLists(a: CutList, b: CutList): Matched {
  const pair = pairOf(a, b, matchSources(a, b));
  const matches = align(tokens(a, pair.key.a, pair.countA), tokens(b, pair.key.b, pair.countB));
  const shifts = runningTime(matches.map(([i, j]) => placed(pair, i, j)), b.frames - a.frames);
  return { ...pair, matches, shifts };
}

function tokens(list: CutList, key: (id: string) => string, countOf: Pair['countA']): Token[] {
  return list.shots.map((shot) => {
    const day = framesPerDay(countOf(shot.source));
    const { transition: mix } = shot;
    return {
      source: key(shot.source),
      in: shot.in,
      frames: shot.out - shot.in,
      sourceIn: withinDay(shot.sourceIn, day),
      mix: mix === undefined ? '' : `${mix.kind} ${String(mix.frames)} ${String(mix.wipe ?? 0)}`,
    };
  });
}

function placed(pair: Pair, i: number, j: number): { later: number; slipped: number | undefined } {
  const [a, b] = [pair.a.shots[i], pair.b.shots[j]];
  if (a === undefined || b === undefined) return { later: 0, slipped: undefined };
  const later = b.in - a.in;
  if (a.source === BLACK || pair.key.a(a.source) !== pair.key.b(b.source)) return { later, slipped: undefined };
  const frames = slip(pair, a, b);
  const [list, source] = [pair.a.count, pair.countA(a.source)];
  const back = Math.sign(frames) * convertFrames(Math.abs(frames), source.rate, list.rate);
  return { later, slipped: list.rate.nominal === source.rate.nominal ? frames : sourceStep(later, list, source) === frames ? later : back };
}
