/** A list of more than 999 events becomes several parts, each beginning at a cut. */
import { problem, type Report } from '../../problems.js';
import type { Arranged, PictureStretch, SoundStretch } from './arrange.js';

/** A part: the record frames [from, to), and where its shots and sounds begin. */
export interface ListPart {
  readonly from: number;
  readonly to: number;
  /** Index of the first shot that reaches past `from`. */
  readonly shot: number;
  /** Index of the first sound that begins on `from` or later. */
  readonly sound: number;
  /** Sounds that began before `from` and go on. */
  readonly carried: readonly number[];
}

/** Where a part may begin, best first: where a shot is cut to; in a shot, after its mix (the shot is divided); on a mix. */
type Class = 'cut' | 'inside' | 'mix';

interface Place extends Omit<ListPart, 'to'> {
  readonly kind: Class;
  /** Events before this place, of the whole list. */
  readonly events: number;
  /** Events that the part has beside those: what is on when it begins. */
  readonly more: number;
}

/**
 * Plans the parts so that each has at most `limit` events and begins at a cut. Where nobody cut, a shot is divided after its
 * mix; where shots are mix from end to end, a part begins with a mix, reported as `part-in-mix`. Undefined, with an error, where
 * no part can be made at all.
 */
export function splitParts({ shots, sounds }: Arranged, frames: number, limit: number, report: Report): ListPart[] | undefined {
  const starts: Place[] = [{ kind: 'cut', from: 0, shot: 0, sound: 0, carried: [], events: 0, more: 0 }];
  if (shots.length + sounds.length > limit) {
    const planner = new Planner(sounds, limit, starts);
    if (!shots.every((shot, index) => planner.addShot(shot, index))) {
      report(problem('too-large', `more than ${String(limit)} sounds begin inside one mix; an EDL cannot be divided there`));
      return undefined;
    }
  }
  starts.forEach(({ kind }, index) => {
    if (kind === 'mix') report(problem('part-in-mix', `part ${String(index + 1)} of the EDL begins with a mix: no shot before it is free of one`));
  });
  return starts.map(({ from, shot, sound, carried }, index) => ({ from, to: starts[index + 1]?.from ?? frames, shot, sound, carried }));
}

class Planner {
  readonly #sounds: readonly SoundStretch[];
  readonly #limit: number;
  readonly #starts: Place[];
  /** The latest place of each class. */
  readonly #latest = new Map<Class, Place>();
  /** Sounds that may still be on; a handful at most. */
  #on: number[] = [];
  #sound = 0;
  #events = 0;

  constructor(sounds: readonly SoundStretch[], limit: number, starts: Place[]) {
    this.#sounds = sounds;
    this.#limit = limit;
    this.#starts = starts;
  }

  /** Counts a shot's event and those of the sounds that begin during it. False when a part has too many and nowhere to begin another. */
  addShot(shot: PictureStretch, index: number): boolean {
    const mixed = shot.in + (shot.transition?.frames ?? 0);
    this.#place(shot.in, shot.transition === undefined ? 'cut' : 'mix', index, 0);
    if (!this.#count()) return false;
    let open = mixed > shot.in && mixed < shot.out;
    for (; this.#sound < this.#sounds.length && (this.#sounds[this.#sound] as SoundStretch).in < shot.out; this.#sound += 1) {
      const { in: at } = this.#sounds[this.#sound] as SoundStretch;
      if (open && at > mixed) {
        this.#place(mixed, 'inside', index, 1);
        open = false;
      }
      if (at > shot.in && at >= mixed) this.#place(at, 'inside', index, 1);
      this.#on.push(this.#sound);
      if (!this.#count()) return false;
    }
    if (open) this.#place(mixed, 'inside', index, 1);
    return true;
  }

  #place(from: number, wanted: Class, shot: number, more: number): void {
    this.#on = this.#on.filter((index) => (this.#sounds[index] as SoundStretch).out > from);
    // Several sounds on one frame: the part begins before the first of them.
    if (this.#latest.get(wanted)?.from === from) return;
    const mixing = this.#on.some((index) => {
      const { in: at, transition } = this.#sounds[index] as SoundStretch;
      return at < from && at + (transition?.frames ?? 0) > from;
    });
    if (mixing) return;
    const carried = [...this.#on];
    this.#latest.set(wanted, { kind: wanted, from, shot, sound: this.#sound, carried, events: this.#events, more: more + carried.length });
  }

  /** One more event; begins a new part before it where the part is full. */
  #count(): boolean {
    const part = this.#starts.at(-1) as Place;
    if (this.#events + 1 - part.events + part.more > this.#limit) {
      const fits = (place: Place | undefined): place is Place =>
        place !== undefined && place.from > part.from && this.#events + 1 - place.events + place.more <= this.#limit;
      const place = (['cut', 'inside', 'mix'] as const).map((kind) => this.#latest.get(kind)).find(fits);
      if (place === undefined) return false;
      this.#starts.push(place);
    }
    this.#events += 1;
    return true;
  }
}
