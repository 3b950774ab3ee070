/** What changed between two lists. */
import { BLACK, type CutList, type Shot, type Source, type Transition } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import type { ChannelStretch } from '../cutlist/stretches.js';
import { sameMix, transitionText } from '../cutlist/transitions.js';
import { digits } from '../timecode/label.js';
import { countName } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';
import { EVERYTHING, sameTitle, textAs, type Carried } from './carried.js';
import { pictureCorrections } from './corrections.js';
import { difference, type Difference, type DifferenceSide } from './difference.js';
import { markerChanges } from './markers.js';
import { matchLists, type Matched } from './match.js';
import { following, slip, useDiffers, type Pair } from './points.js';
import { heardText, soundDifferences } from './sound.js';
import { SourceNames } from './source-names.js';

/** What counts as a difference. */
export interface CompareOptions {
  /** Distances of so many frames, or fewer, are no difference. */
  readonly within?: number;
  /** What both lists can say, going by their formats; everything by default. */
  readonly carried?: Carried;
}

/**
 * Everything in which B differs from A: the list as a whole, then shots in record order, then sound, then markers. Empty when they are
 * the same. Sources are matched by reel, else name, else file; source points are compared modulo 24 h; where in a mix a
 * format keeps its boundary is no difference. Frames are compared by number, also between lists of different rates (which is a
 * difference of its own). Sound that followed a picture that changed is not listed again.
 */
export function compareLists(a: CutList, b: CutList, options: CompareOptions = {}): Difference[] {
  const { within = 0, carried = EVERYTHING } = options;
  const matched = matchLists(a, b);
  return [
    ...facts(a, b, within, carried),
    ...new ShotComparison(matched, within).differences(),
    ...sounds(matched, within, carried),
    ...markers(matched, within, carried),
  ];
}

function facts(a: CutList, b: CutList, within: number, carried: Carried): Difference[] {
  const out: Difference[] = [];
  if (!sameTitle(a.title, b.title, carried)) out.push(difference({ kind: 'title', from: a.title, to: b.title }));
  const [rateA, rateB] = [countName(a.count), countName(b.count)];
  if (rateA !== rateB) out.push(difference({ kind: 'rate', from: rateA, to: rateB }));
  if (digits(a.recordStart, a.count) !== digits(b.recordStart, b.count)) out.push(difference({ kind: 'record-start', from: recordLabel(a, 0), to: recordLabel(b, 0) }));
  const longer = b.frames - a.frames;
  if (Math.abs(longer) > within) out.push(difference({ kind: 'running-time', frames: longer, from: String(a.frames), to: String(b.frames) }));
  return out;
}

class ShotComparison {
  readonly #names: { readonly a: (id: string) => string; readonly b: (id: string) => string };

  constructor(
    readonly matched: Matched,
    readonly within: number,
  ) {
    this.#names = { a: namer(matched.a.sources), b: namer(matched.b.sources) };
  }

  /** In order of B, each shot that only A has where it would be. */
  differences(): Difference[] {
    const { a, b, matches, shifts } = this.matched;
    const out: Difference[] = [];
    let [fromA, fromB, shift] = [0, 0, 0];
    for (let index = 0; index <= matches.length; index += 1) {
      const [i, j] = matches[index] ?? [a.shots.length, b.shots.length];
      const next = shifts[index] ?? b.frames - a.frames;
      out.push(...this.#between([fromA, i], [fromB, j], next - shift, index === matches.length));
      if (index < matches.length) out.push(...this.#matched(i, j, next));
      [fromA, fromB, shift] = [i + 1, j + 1, next];
    }
    return out;
  }

  /** Shots that only one list has, and a change of the running time that they do not explain, on the shot before them. */
  #between([a0, a1]: readonly [number, number], [b0, b1]: readonly [number, number], change: number, atEnd: boolean): Difference[] {
    const { a, b } = this.matched;
    const out: Difference[] = [];
    let explained = 0;
    for (let index = a0; index < a1; index += 1) {
      const shot = a.shots[index] as Shot;
      explained -= shot.out - shot.in;
      out.push(difference({ kind: 'removed', a: this.#side('a', index), frames: shot.out - shot.in, from: this.#names.a(shot.source) }));
    }
    for (let index = b0; index < b1; index += 1) {
      const shot = b.shots[index] as Shot;
      explained += shot.out - shot.in;
      out.push(difference({ kind: 'added', b: this.#side('b', index), frames: shot.out - shot.in, to: this.#names.b(shot.source) }));
    }
    if (change === explained || Math.abs(change) <= this.within) return out;
    const [before, now] = [a.shots[a0 - 1], b.shots[b0 - 1]];
    const sides = before === undefined ? {} : { a: this.#side('a', a0 - 1), b: this.#side('b', b0 - 1), from: this.#names.a(before.source) };
    // Not the change itself: what came or went beside the shot, and starts that moved, have their part in that.
    const longer = before === undefined || now === undefined ? 0 : now.out - now.in - (before.out - before.in);
    const shift = atEnd ? {} : { shift: change };
    if (Math.abs(longer) > this.within) return [difference({ kind: longer > 0 ? 'lengthened' : 'shortened', ...sides, frames: longer, ...shift }), ...out];
    return atEnd ? out : [difference({ kind: 'shifted', ...sides, frames: change }), ...out];
  }

  #matched(i: number, j: number, shift: number): Difference[] {
    const pair = this.matched;
    const [a, b] = [pair.a.shots[i] as Shot, pair.b.shots[j] as Shot];
    const sides = { a: this.#side('a', i), b: this.#side('b', j) };
    const [nameA, nameB] = [this.#names.a(a.source), this.#names.b(b.source)];
    const out: Difference[] = [];
    const later = b.in - a.in - shift;
    if (Math.abs(later) > this.within) out.push(difference({ kind: 'moved', ...sides, frames: later, from: nameA }));
    if (pair.key.a(a.source) !== pair.key.b(b.source)) {
      out.push(difference({ kind: 're-sourced', ...sides, from: nameA, to: nameB }));
    } else {
      // What a boundary that moved takes along is no difference of its own.
      const slipped = slip(pair, a, b) - following(pair, a, later);
      if (Math.abs(slipped) > this.within) {
        out.push(difference({ kind: 'source-points', ...sides, frames: slipped, from: label(a, pair.countA), to: label(b, pair.countB) }));
      }
      const more = useDiffers(pair, a, b) - (useDiffers(pair, a, b) === 0 ? 0 : following(pair, a, b.out - b.in - (a.out - a.in)));
      if (Math.abs(more) > this.within) out.push(difference({ kind: 'speed', ...sides, frames: more, from: nameA }));
    }
    if (!sameMix(a.transition, b.transition) && !this.#nearMix(a.transition, b.transition)) {
      out.push(difference({ kind: 'transition', ...sides, from: transitionText(a.transition), to: transitionText(b.transition) }));
    }
    return out;
  }

  #nearMix(a: Transition | undefined, b: Transition | undefined): boolean {
    return a !== undefined && b !== undefined && sameMix({ ...a, frames: b.frames }, b) && Math.abs(a.frames - b.frames) <= this.within;
  }

  #side(which: 'a' | 'b', index: number): DifferenceSide {
    const list = this.matched[which];
    const frame = list.shots[index]?.in ?? 0;
    return { shot: index + 1, frame, at: recordLabel(list, frame) };
  }
}

/** How sources are called in what is said. */
function namer(sources: readonly Source[]): (id: string) => string {
  const names = new Map(sources.map(({ id, name }) => [id, name]));
  return (id) => (id === BLACK ? 'black' : (names.get(id) ?? id));
}

const label = ({ source, sourceIn }: Shot, countOf: Pair['countA']): string => formatTimecode(sourceIn, countOf(source));

/** Sound is compared after A's has followed the picture to where B has it. */
function sounds(matched: Matched, within: number, carried: Carried): Difference[] {
  const { a, b } = matched;
  const names = new SourceNames(matched);
  const follows = a.audio.some(({ withPicture }) => withPicture) || a.frames !== b.frames;
  const list = follows ? pictureCorrections(matched, names).list : a;
  const pair: Pair = names.pair(list);
  const [nameA, nameB] = [namer(list.sources), namer(b.sources)];
  return soundDifferences(pair, carried)
    .filter((one) => one.out - one.in > within && !nearSound(pair, one.a, one.b, within))
    .map((one) => difference({
      kind: 'sound', b: { frame: one.in, at: recordLabel(b, one.in) }, frames: one.out - one.in, tracks: one.tracks,
      from: heardText(one.a, one.in, nameA, pair.countA), to: heardText(one.b, one.in, nameB, pair.countB),
    }));
}

function nearSound(pair: Pair, a: ChannelStretch | undefined, b: ChannelStretch | undefined, within: number): boolean {
  if (within === 0 || a === undefined || b === undefined || pair.key.a(a.source) !== pair.key.b(b.source) || a.channel !== b.channel) return false;
  return Math.abs(slip(pair, a, b) - (b.in - a.in)) <= within && sameMix(a.transition, b.transition);
}

/** A marker moves along where the running time changed before it. */
function markers({ a, b, matches, shifts }: Matched, within: number, carried: Carried): Difference[] {
  if (!carried.markers) return [];
  let match = -1;
  const now = a.markers.map((marker) => {
    while (match + 1 < matches.length && (a.shots[matches[match + 1]?.[0] ?? -1]?.in ?? Infinity) <= marker.at) match += 1;
    return { ...marker, at: Math.min(marker.at + (shifts[match] ?? 0), b.frames) };
  });
  const side = (list: CutList, index: number): { frame: number; at: string } => {
    const frame = list.markers[index]?.at ?? 0;
    return { frame, at: recordLabel(list, frame) };
  };
  return markerChanges(now, b.markers, within, (note) => textAs(note, carried)).map(({ what, a: from, b: to }) => difference({
    kind: `marker-${what}`,
    ...(from === undefined ? {} : { a: side(a, from), from: a.markers[from]?.note ?? '' }),
    ...(to === undefined ? {} : { b: side(b, to), to: b.markers[to]?.note ?? '' }),
    ...(what !== 'moved' ? {} : { frames: (b.markers[to ?? -1]?.at ?? 0) - (now[from ?? -1]?.at ?? 0) }),
  }));
}
