/** How long a transition is, and where a boundary in it lies (contract, rules 4 and 10). */
import { framesText } from '../frames-text.js';
import { problem, type Report } from '../problems.js';
import type { LogEvent } from './event.js';
import type { Transition } from './model.js';
import type { Mix } from './switches.js';

/** Where a format keeps the shot boundary in a mix: at its first frame, in its middle, at its end. */
export type DissolveAt = (typeof DISSOLVE_AT)[number];

/** In the order in which a boundary is told by them: zero is the start, also where a mix is too short to have a centre. */
export const DISSOLVE_AT = ['start', 'center', 'end'] as const;

export interface MixOptions {
  readonly dissolveAt: DissolveAt;
  /** The log has `dissolve-end` rows: a transition without a length may wait for one. */
  readonly hasEnds: boolean;
  readonly file: string;
}

/** `cut`, `dissolve of 30 frames`, `wipe 17 of 30 frames`. */
export function transitionText(transition: Transition | undefined): string {
  if (transition === undefined) return 'cut';
  const kind = transition.kind === 'wipe' ? `wipe ${String(transition.wipe ?? 0)}` : 'dissolve';
  return `${kind} of ${framesText(transition.frames)}`;
}

/** The same mix; where a format keeps the boundary in it does not count. A wipe without a code is one with code 0. */
export const sameMix = (a: Omit<Transition, 'inOffset'> | undefined, b: Omit<Transition, 'inOffset'> | undefined): boolean =>
  a?.kind === b?.kind && a?.frames === b?.frames && (a?.wipe ?? 0) === (b?.wipe ?? 0);

/** How many frames of a mix lie before the boundary: 0, ⌊n/2⌋ or n of its `frames`. */
export const inOffsetAt = (frames: number, dissolveAt: DissolveAt): number => (dissolveAt === 'start' ? 0 : dissolveAt === 'center' ? Math.floor(frames / 2) : frames);

/** The same in a shot of `length` frames, which keeps at least one behind it. */
export const inOffsetOf = (dissolveAt: DissolveAt, frames: number, length: number): number => Math.min(inOffsetAt(frames, dissolveAt), length - 1);

/**
 * A transition of other `frames`, or in a shot of another `length` (it was `oldLength`). The boundary stays where the rule that put
 * it there puts it in the new mix; where none did (a correction, a list that was read), it keeps its proportion.
 */
export function resized(transition: Transition, frames: number, oldLength: number, length: number): Transition {
  const rule = DISSOLVE_AT.find((place) => inOffsetOf(place, transition.frames, oldLength) === transition.inOffset);
  const inOffset = rule === undefined
    ? Math.min(Math.floor((transition.inOffset * frames) / transition.frames), length - 1)
    : inOffsetOf(rule, frames, length);
  return frames === transition.frames && inOffset === transition.inOffset ? transition : { ...transition, frames, inOffset };
}

/**
 * The transition of a shot of `length` frames that `event` began. One that is longer than the shot was interrupted, and is cut
 * short to what was on air (`transition-cut-short`); one without frames becomes a cut (`empty-transition`); one whose
 * length nobody gave (`missing-field`), or that would end before it begins (`bad-duration`), is an error.
 */
export function transitionOf(mix: Mix, length: number, event: LogEvent, options: MixOptions, report: Report): Transition | undefined {
  const place = { file: options.file, line: event.line, column: event.column };
  let { frames } = mix;
  if (frames === undefined && !options.hasEnds) {
    report(problem('missing-field', `a ${mix.kind} needs a duration, or an end, or a dissolve-end row`, place));
    return undefined;
  }
  if (frames !== undefined && frames < 0) {
    report(problem('bad-duration', `this ${mix.kind} is complete ${framesText(-frames)} before it begins`, place));
    return undefined;
  }
  if (frames === 0) {
    report(problem('empty-transition', `this ${mix.kind} has no frames; it became a cut`, place));
    return undefined;
  }
  if (frames === undefined || frames > length) {
    const meant = frames === undefined ? 'no dissolve-end row completed it' : `it was to have ${framesText(frames)}`;
    report(problem('transition-cut-short', `this ${mix.kind} was interrupted: ${meant}, and ${framesText(length)} were on air; it is cut short to these`, place));
    frames = length;
  }
  const inOffset = inOffsetOf(options.dissolveAt, frames, length);
  if (mix.kind === 'dissolve') return { kind: 'dissolve', frames, inOffset };
  return mix.wipe === undefined ? { kind: 'wipe', frames, inOffset } : { kind: 'wipe', frames, wipe: mix.wipe, inOffset };
}
