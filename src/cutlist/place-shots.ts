/** Shots on their recordings: files, replacements, and what transitions need of both (contract §4 end, rule 11). */
import { isAsIs, reachOf, type Missing, type Part } from './cover.js';
import type { PartFinder } from './parts.js';
import { BLACK, PROGRAM, type Shot, type Transition } from './model.js';
import { resized } from './transitions.js';

/** What became of shots. `first[i]` is the index of the first of `shots` that came of shot `i`; one more entry at the end. */
export interface PlacedShots {
  readonly shots: Shot[];
  readonly first: number[];
}

/** What a transition lacks: frames of the outgoing file, of the incoming one, or the first `late` frames of the incoming recording; or any picture, with black on both sides. */
export type ShortOf = { readonly lacks: 'outgoing' | 'incoming'; readonly source: string } | { readonly late: number } | { readonly lacks: 'picture' };

/** Told of everything that could not be as the log has it. */
export interface ShotNews {
  /** Frames of a shot that its recording does not have, and how many of them became black. */
  readonly missing: (shot: Shot, missing: Missing, black: number) => void;
  /** A transition shortened to `frames` (0: a cut). */
  readonly short: (shot: Shot, frames: number, why: ShortOf) => void;
  /** A transition whose frames come from the program, `black` of them from nowhere. */
  readonly replaced: (shot: Shot, black: number) => void;
}

/**
 * Divides shots into what their recordings hold.
 *
 * A part that a recording does not have comes from the program recording, else it is black; the parts behind the first
 * one `continue` the shot. A transition that touches frames from the program is taken from there as a whole: program from its
 * first frame to its completion, then the incoming source, or black, as a cut. A transition that the outgoing file cannot feed to its
 * end, or the incoming one, is shortened; where the incoming recording begins in the middle of the mix, the outgoing
 * shot goes on until it does. A shot that `isKept` stays as it is; the transition to it does where the shot before is kept, too.
 */
export function placeShots(shots: readonly Shot[], finder: PartFinder, news: ShotNews, isKept: (shot: Shot) => boolean = () => false): PlacedShots {
  const placer = new ShotPlacer(finder, news, isKept);
  for (const shot of shots) placer.add(shot);
  placer.first.push(placer.shots.length);
  return placer;
}

class ShotPlacer implements PlacedShots {
  readonly shots: Shot[] = [];
  readonly first: number[] = [];
  /** The last part, as it was placed. */
  #last: Part | undefined;
  /** The last shot was kept; so is what is before the first one. */
  #keptLast = true;

  constructor(
    readonly finder: PartFinder,
    readonly news: ShotNews,
    readonly isKept: (shot: Shot) => boolean,
  ) {}

  add(shot: Shot): void {
    this.first.push(this.shots.length);
    const kept = this.isKept(shot);
    this.#place(shot, kept, this.#keptLast);
    // A mix may have made another shot of it.
    this.#keptLast = kept && this.shots.at(-1) === shot;
  }

  #place(shot: Shot, kept: boolean, followsKept: boolean): void {
    const { transition } = shot;
    if (kept && (transition === undefined || followsKept)) {
      this.shots.push(shot);
      this.#last = this.finder.asItIs(shot);
      return;
    }
    const parts = kept ? [this.finder.asItIs(shot)] : this.finder.of(shot);
    if (transition === undefined) {
      this.#report(shot, parts);
      this.#push(shot, { parts, transition, mixOn: 0 });
    } else if (this.#touchesProgram(shot, parts, shot.in + transition.frames)) {
      this.#report(shot, parts);
      this.#push(shot, { parts: this.#fromProgram(shot, shot.in + transition.frames), transition: undefined, mixOn: 0 });
    } else {
      const fitted = this.#startsLate(shot, parts, transition) ?? this.#fit(shot, parts, transition);
      this.#report(shot, fitted.parts);
      this.#push(shot, fitted);
    }
  }

  #touchesProgram(shot: Shot, parts: readonly Part[], end: number): boolean {
    if (!this.finder.hasProgram) return false;
    // A shot that was placed before says so itself.
    if ([this.shots.at(-1), shot].some((one) => one?.source === PROGRAM && one.instead !== undefined)) return true;
    return parts.some((part) => part.in < end && part.source === PROGRAM && part.missing !== undefined);
  }

  /** Program up to the completion of the mix, then what the shot has from there on. */
  #fromProgram(shot: Shot, end: number): Part[] {
    const mix = this.finder.mix(shot, this.shots.at(-1), shot.in, end);
    this.news.replaced(shot, mix.reduce((sum, part) => sum + (part.source === BLACK ? part.out - part.in : 0), 0));
    return joined(end < shot.out ? [...mix, ...this.finder.of(shot, end)] : mix);
  }

  #fit(shot: Shot, parts: readonly Part[], transition: Transition): Fitted {
    const wanted = transition.frames;
    const before = this.shots.at(-1);
    const toBlack = parts[0]?.source === BLACK && (before?.source ?? BLACK) === BLACK;
    if (toBlack && (parts[0]?.missing !== undefined || shot.instead !== undefined || before?.instead !== undefined)) {
      // From black to black there is nothing to mix.
      this.news.short(shot, 0, { lacks: 'picture' });
      return { parts, transition: undefined, mixOn: 0 };
    }
    const length = (parts[0]?.out ?? shot.out) - shot.in;
    const outgoing = Math.max(0, Math.min(wanted, this.#reach() - shot.in));
    const frames = Math.min(wanted, length, outgoing);
    if (frames < wanted) {
      const isOutgoing = outgoing === frames;
      this.news.short(shot, frames, isOutgoing ? { lacks: 'outgoing', source: before?.source ?? BLACK } : { lacks: 'incoming', source: shot.source });
    }
    return { parts, transition: shortened(transition, frames, shot.out - shot.in, length), mixOn: 0 };
  }

  /**
   * The incoming recording begins in the middle of the mix, and there is no program: the mix begins where it does. Until then
   * the shot before goes on, as far as it can; black stays black.
   */
  #startsLate(shot: Shot, parts: readonly Part[], transition: Transition): Fitted | undefined {
    const [head, next] = parts;
    const before = this.shots.at(-1);
    if (head?.missing === undefined || head.source !== BLACK || next === undefined || next.missing !== undefined) return undefined;
    const goesOn = before?.take === shot.take && before.source !== BLACK;
    const fromBlack = before === undefined || before.source === BLACK;
    if (!goesOn && !fromBlack) return undefined;
    const reach = goesOn ? this.#reach() : Infinity;
    const frames = Math.min(shot.in + transition.frames, reach, next.out) - next.in;
    if (frames < 1) return undefined;
    if (goesOn) this.#extend(before, next.in);
    this.news.short(shot, frames, { late: next.in - shot.in });
    return { parts: goesOn ? parts.slice(1) : parts, transition: shortened(transition, frames, shot.out - shot.in, next.out - next.in), mixOn: goesOn ? 0 : 1 };
  }

  /** Record frame up to which the last part could go on. */
  #reach(): number {
    return this.#last === undefined ? Infinity : reachOf(this.#last);
  }

  #extend(before: Shot, out: number): void {
    const sourceOut = this.finder.sourceOutAt(before, out);
    this.shots[this.shots.length - 1] = { ...before, out, sourceOut };
  }

  /** One word for each stretch that is missing, however many parts replace it. */
  #report(shot: Shot, parts: readonly Part[]): void {
    if (parts.every(({ missing }) => missing === undefined)) return;
    const told = new Map<Missing, number>();
    for (const { missing, source, in: into, out } of parts) {
      if (missing === undefined || missing.why === 'mix') continue;
      told.set(missing, (told.get(missing) ?? 0) + (source === BLACK ? out - into : 0));
    }
    for (const [missing, black] of told) this.news.missing(shot, missing, black);
  }

  #push(shot: Shot, { parts, transition, mixOn }: Fitted): void {
    const only = parts.length === 1 ? parts[0] : undefined;
    if (only !== undefined && isAsIs(shot, only) && shot.transition === transition) this.shots.push(shot);
    else {
      // A hole beside another is told of by itself, and is black as one.
      for (const [index, part] of (parts.length > 1 ? joined(parts, ({ source }) => source === BLACK) : parts).entries()) {
        const mix = index === mixOn ? transition : undefined;
        this.shots.push(shotOf(shot, part, mix, index === 0, index === 0 ? shot.continues === true : mix === undefined));
      }
    }
    this.#last = parts.at(-1);
  }
}

/** The parts of a shot, and the transition with the index of the part that it brings on. */
interface Fitted {
  readonly parts: readonly Part[];
  readonly transition: Transition | undefined;
  readonly mixOn: number;
}

function shotOf(shot: Shot, part: Part, transition: Transition | undefined, isFirst: boolean, continues: boolean): Shot {
  const { source, in: into, out, sourceIn, sourceOut, file, missing } = part;
  // Assigned one by one: spreading costs too much where a million shots get their file.
  const made: { -readonly [Key in keyof Shot]: Shot[Key] } = { source, in: into, out, sourceIn, sourceOut, take: shot.take };
  if (transition !== undefined) made.transition = transition;
  if (shot.speed !== undefined && missing === undefined) made.speed = shot.speed;
  if (file !== undefined) made.file = file;
  if (continues) made.continues = true;
  // In a mix to black, black where the program has nothing is what was asked for.
  const asked = shot.instead ?? (missing === undefined ? undefined : shot.source);
  if (asked !== undefined && asked !== source) made.instead = asked;
  if (isFirst && shot.event !== undefined) made.event = shot.event;
  if (shot.clipName !== undefined && missing === undefined) made.clipName = shot.clipName;
  if (isFirst && shot.comments !== undefined) made.comments = shot.comments;
  return made;
}

/**
 * The transition of a shot of `oldLength` frames with `frames` of them left, and at least one frame behind its boundary in the
 * `length` that its recording holds, unless nothing changed.
 */
function shortened(transition: Transition, frames: number, oldLength: number, length: number): Transition | undefined {
  if (frames < 1) return undefined;
  return frames === transition.frames && length === oldLength ? transition : resized(transition, frames, oldLength, length);
}

/** Parts that go on in the same recording without a seam are one; `mayJoin`: of those alone. */
function joined(parts: readonly Part[], mayJoin: (part: Part) => boolean = () => true): Part[] {
  const out: Part[] = [];
  for (const part of parts) {
    const before = out.at(-1);
    if (mayJoin(part) && before?.source === part.source && before.file === part.file && (part.source === BLACK || before.sourceOut === part.sourceIn)) {
      out[out.length - 1] = part.source === BLACK
        ? { ...before, out: part.out, sourceOut: part.out - before.in }
        : { ...before, out: part.out, sourceOut: part.sourceOut, run: part.run, end: part.end };
    } else out.push(part);
  }
  return out;
}
