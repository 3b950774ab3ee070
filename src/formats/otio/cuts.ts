/** Where OpenTimelineIO cuts: the model's shots begin with the mix that brings them on, OTIO's clips at a point inside it. */
import type { Transition } from '../../cutlist/model.js';

/** What shots, sound pieces and angle pieces have in common: a stretch of a track. */
export interface TrackStretch {
  readonly in: number;
  readonly out: number;
  readonly sourceIn: number;
  readonly sourceOut: number;
  readonly take: number;
  readonly file?: number;
  readonly transition?: Transition;
  readonly speed?: number;
}

/** A stretch as a track holds it: record frames [in, out), `lead` frames of its mix before `in`. A hole has no stretch. */
export interface Cut<T> {
  readonly stretch: T | undefined;
  readonly in: number;
  readonly out: number;
  readonly lead: number;
}

/** How many frames of a stretch's mix lie before its cut point: its `inOffset`, but the clip keeps at least one frame. */
function leadOf({ in: from, out, transition }: Pick<TrackStretch, 'in' | 'out' | 'transition'>): number {
  return transition === undefined ? 0 : Math.min(transition.inOffset, out - from - 1);
}

/**
 * The items of a track from record frame 0 on, holes included, without the transitions between them: those belong to
 * the item they bring on. Stretches are in order and do not overlap; frames after the last are left out. A hole
 * reaches into a mix as far as any clip before it would, so a mix that comes from nothing comes from a hole.
 */
export function* cutPoints<T extends TrackStretch>(stretches: Iterable<T>): Generator<Cut<T>> {
  let before: T | undefined;
  let at = 0;
  for (const stretch of stretches) {
    const lead = leadOf(stretch);
    const cut = stretch.in + lead;
    if (before !== undefined && before.out === stretch.in) yield { stretch: before, in: at, out: cut, lead: leadOf(before) };
    else {
      if (before !== undefined) yield { stretch: before, in: at, out: before.out, lead: leadOf(before) };
      const hole = before?.out ?? 0;
      if (cut > hole) yield { stretch: undefined, in: hole, out: cut, lead: 0 };
    }
    before = stretch;
    at = cut;
  }
  if (before !== undefined) yield { stretch: before, in: at, out: before.out, lead: leadOf(before) };
}
