/**
 * Adjusting a cut list by rules that hold for all its shots. The order is always: lead, lag, min-shot, then dissolve-all
 * or cuts-only (corrections come after). No rule moves a frame that it was not asked to: the running time, the bounds of
 * the takes, markers and sound of its own stay.
 */
import { didYouMean } from '../nearest.js';
import { fault, problem, type Fault, type Report } from '../problems.js';
import type { Absorb } from './absorb.js';
import { moveSwitches, type FramesOf } from './adjust-lead.js';
import { absorbShort, type Around } from './adjust-short.js';
import { cutAll, dissolveAll } from './adjust-mix.js';
import { soundAnew } from './followed.js';
import { isBetweenTakes, type IsGap } from './gap.js';
import { BLACK, type CutList, type Shot, type Source } from './model.js';
import { findSource, sourceWords } from './naming.js';
import { follower, type Follow, type Made } from './shift.js';
import { soundFollowing } from './sound-follow.js';
import { askedOf, refitter, NOTHING, type StoodFor, type Uncover } from './stand-ins.js';
import { nearestRepeat } from '../timecode/day.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { DissolveAt } from './transitions.js';
import { wholeShots, type WholeShot } from './whole-shots.js';

/** Frames (≥ 0) for every source, or for single ones; a source's own value wins. */
export interface SourceFrames {
  readonly all?: number;
  /** By the source's id, alias, name or reel. */
  readonly of?: Readonly<Record<string, number>>;
}

/** Rules for all shots of a list, in frames of the list. */
export interface AdjustOptions {
  /** Switches come this many frames earlier: the operator's reaction time. */
  readonly lead?: SourceFrames;
  /** Switches come this many frames later. */
  readonly lag?: SourceFrames;
  /** A shot of fewer frames, ≥ 1, goes to a neighbour. */
  readonly minShot?: number;
  /** Which neighbour: `previous` by default; `longer` takes the previous one of two that are equally long. */
  readonly absorb?: Absorb;
  /** Every switch becomes a dissolve of this many frames, ≥ 1. */
  readonly dissolveAll?: number;
  /** Where new dissolves keep the shot boundary (rule 10): `start` by default. */
  readonly dissolveAt?: DissolveAt;
  /** Every transition becomes a cut where its mix begins. */
  readonly cutsOnly?: boolean;
}

/**
 * Reads the values of `--lead` or `--lag`: `6` for all, `4=6` for the switches to source 4. Whole frames, ≥ 0.
 * Faults: `bad-option`.
 */
export function readSourceFrames(values: readonly string[], option: string): SourceFrames | Fault {
  let all: number | undefined;
  const of = new Map<string, number>();
  for (const value of values) {
    const parts = /^(?:(.*)=)?\s*(\d{1,9})\s*$/s.exec(value);
    const name = parts?.[1]?.trim();
    if (parts === null || name === '') {
      const other = option === '--lead' ? '--lag' : '--lead';
      const negative = /^(?:.*=)?\s*-\d+\s*$/s.test(value);
      return fault('bad-option', `'${value}' is not frames (6), or a source and frames (4=6)${negative ? `; for the other direction use ${other}` : ''}`);
    }
    const frames = Number(parts[2]);
    if (name === undefined ? all !== undefined : of.has(name)) {
      return fault('bad-option', `frames for ${name === undefined ? 'all sources' : `source '${name}'`} are given twice`);
    }
    if (name === undefined) all = frames;
    else of.set(name, frames);
  }
  return { ...(all === undefined ? {} : { all }), of: Object.fromEntries(of) };
}

/**
 * Applies the rules in their fixed order. What each did is reported with its count (note `adjusted`, the place is the
 * option); a source that is not known is an error (`unknown-source`) and leaves the list as it was. With `uncover` the list is one to be placed.
 */
export function adjustList(list: CutList, options: AdjustOptions, report: Report, { uncover = false }: Uncover = {}): CutList {
  const lead = framesById(list.sources, options.lead, '--lead', report);
  const lag = framesById(list.sources, options.lag, '--lag', report);
  if (lead === undefined || lag === undefined) return list;
  const follow = follower(list);
  const asked = uncover ? askedOf(list) : NOTHING;
  const refit = refitter(list, asked, follow);
  const isGap: IsGap = (shot) => isBetweenTakes(shot, list.takes);
  const say = (option: string, message: string): void => report(problem('adjusted', message, { option }));
  let shots: readonly WholeShot[] = wholeShots(list.shots);
  const bounds = { frames: list.frames, isGap, refit };
  if (options.lead !== undefined) shots = moveSwitches(shots, 'lead', lead, bounds, say);
  if (options.lag !== undefined) shots = moveSwitches(shots, 'lag', lag, bounds, say);
  if (options.minShot !== undefined) {
    shots = absorbShort(shots, { least: options.minShot, absorb: options.absorb ?? 'previous' }, { isGap, follow, refit, ...joinsOf(list, asked, follow) }, say);
  }
  if (options.cutsOnly === true) shots = cutAll(shots, say);
  else if (options.dissolveAll !== undefined) shots = dissolveAll(shots, options.dissolveAll, options.dissolveAt ?? 'start', isGap, say);
  const made = shots.flat();
  if (made.length === list.shots.length && made.every(({ shot }, index) => shot === list.shots[index])) return list;
  const changed = made.map(({ shot }) => shot);
  const { follows } = list;
  return { ...list, shots: changed, audio: follows === undefined || !uncover ? soundFollowing(list, made) : soundAnew(list, follows, changed) };
}

/** What tells whether shots run on in each other, by what the list knows of its sources. */
function joinsOf({ sources, count }: CutList, asked: StoodFor, follow: Follow): Pick<Around, 'isSeam' | 'runsOn' | 'day'> {
  const known = new Map(sources.map((source) => [source.id, source]));
  const isKnown = ({ source, file }: Shot): boolean => file !== undefined && known.get(source)?.files[file]?.start !== undefined;
  const day = (source: string): number => framesPerDay(known.get(source)?.count ?? count);
  // As it was asked for.
  const wanted = ({ shot, from }: Made): Shot => {
    const one = shot.instead === undefined ? undefined : asked.get(from);
    return one === undefined ? shot : follow(one, shot.in, shot.out);
  };
  return {
    isSeam: (left, right) => isKnown(left) && isKnown(right),
    day,
    runsOn: (left, right) => {
      if (!asked.has(left.from) && !asked.has(right.from)) return false;
      const [one, other] = [wanted(left), wanted(right)];
      const even = known.get(one.source)?.count.rate.nominal === count.rate.nominal;
      return one.source === other.source && one.instead === other.instead && one.source !== BLACK
        && Math.abs(nearestRepeat(one.sourceOut, day(one.source), other.sourceIn) - other.sourceIn) <= (even ? 0 : 1);
    },
  };
}

function framesById(sources: readonly Source[], given: SourceFrames | undefined, option: string, report: Report): FramesOf | undefined {
  const frames = new Map<string, number>();
  let sound = true;
  for (const [word, value] of Object.entries(given?.of ?? {})) {
    const id = findSource(sources, word);
    if (id !== undefined) frames.set(id, value);
    else {
      sound = false;
      report(problem('unknown-source', `source '${word}' is not known${didYouMean(word, sourceWords(sources))}; the list has ${sourceWords(sources).join(', ')}`, { option }));
    }
  }
  const all = given?.all ?? 0;
  return sound ? (source) => frames.get(source) ?? all : undefined;
}
