/** The shots after all corrections: who is on air where, then each shot's points, then how it comes on. */
import { fault, isFault, problemOf, type Fault, type Report } from '../problems.js';
import { without } from '../without.js';
import type { Correction } from './model.js';
import { placeText, type Edits, type InsertEdit, type Mix, type ShotEdit } from './edits.js';
import type { Kept } from './length.js';
import { shotText } from './where.js';
import { fileOf } from './files.js';
import { pointOf } from './points.js';
import { BLACK, type CutList, type Shot } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { shotIndexAt } from '../cutlist/record.js';
import { follower, type Follow, type Made } from '../cutlist/shift.js';
import { sourceLength } from '../cutlist/sync.js';
import { resized } from '../cutlist/transitions.js';

/** A stretch of the record side and who holds it: a shot of the (rippled) list, or an insertion over one. */
interface Segment {
  readonly in: number;
  readonly out: number;
  /** Index of the shot. */
  readonly from: number;
  readonly insert?: InsertEdit;
  /** The part of a shot that comes back after an insertion into it. */
  readonly rest?: true;
}

/** Frames of a mix that lie before the shot boundary. */
export type InOffset = (frames: number) => number;

/**
 * Makes the corrected shots of a list whose changes of length are done. Undefined, and reported, when corrections contradict
 * each other or leave a shot without frames.
 */
export function arranged(list: CutList, kept: Kept, edits: Edits, inOffset: InOffset, report: Report): Made[] | undefined {
  const builder = new Builder(list, kept, edits, inOffset, report);
  const held = builder.held();
  const inserts = held === undefined ? undefined : builder.inserts();
  if (held === undefined || inserts === undefined) return undefined;
  return builder.shots(overlaid(held, inserts));
}

class Builder {
  readonly #follow: Follow;
  /** Shots that an insertion divides, by index, for the part that comes back behind it. */
  readonly #firstParts = new Map<number, Shot>();
  #sound = true;

  constructor(
    readonly list: CutList,
    readonly kept: Kept,
    readonly edits: Edits,
    readonly inOffset: InOffset,
    readonly report: Report,
  ) {
    this.#follow = follower(list);
  }

  #bad(by: Correction, bad: Fault): undefined {
    this.#sound = false;
    this.report(problemOf({ ...bad, message: `${by.do}: ${bad.message}` }, by.place));
    return undefined;
  }

  #edit(from: number): ShotEdit | undefined {
    return this.edits.shots.get(this.kept.old[from] ?? -1);
  }

  /** Shots that are not removed, from their new starts; each holds the list until the next one. */
  held(): Segment[] | undefined {
    const { list, kept } = this;
    const left = list.shots.map((shot, from) => ({ shot, from, edit: this.#edit(from) })).filter(({ edit }) => edit?.remove !== true);
    const starts: number[] = [];
    left.forEach(({ shot, from, edit }, index) => {
      const start = edit?.start;
      const by = edit?.by.start;
      const at = start === undefined ? shot.in : typeof start === 'number' ? shot.in + start : kept.frameOf(start);
      const before = starts[index - 1];
      const name = shotText(list, from);
      if (by !== undefined && index === 0) this.#bad(by, fault('bad-corrections', `${name}; what comes before it is removed, so it begins the list`));
      else if (by !== undefined && at >= list.frames) this.#bad(by, fault('bad-corrections', `${name}; it would begin after the end of the list`));
      else if (before !== undefined && at <= before) {
        // One of the two was moved: blame that one.
        const mover = by ?? left[index - 1]?.edit?.by.start;
        const loser = left[index - 1]?.from ?? 0;
        if (mover !== undefined) this.#bad(mover, fault('bad-corrections', `${shotText(list, loser)}, and would have no frames left; remove it if that is meant`));
      }
      // The first shot that is left takes the frames of those removed before it.
      starts.push(index === 0 ? 0 : at);
    });
    return this.#sound ? left.map(({ from }, index) => ({ from, in: starts[index] ?? 0, out: starts[index + 1] ?? list.frames })) : undefined;
  }

  /** Insertions in order of time, checked against what they expect and against each other. */
  inserts(): Segment[] | undefined {
    const { list } = this;
    const out: Segment[] = [];
    for (const insert of this.edits.inserts) {
      const into = this.kept.frameOf(insert.spot);
      const from = shotIndexAt(list.shots, into);
      const covered = list.shots[from];
      const { by, expect } = insert;
      if (into + insert.frames > list.frames) {
        this.#bad(by, fault('bad-corrections', 'it reaches past the end of the list; only length changes the running time'));
      } else if (covered === undefined || (covered.source !== expect && covered.instead !== expect)) {
        this.#bad(by, fault('correction-mismatch', `it expects ${sourceText(list.sources, expect)}, and ${shotText(list, from)}`));
      } else {
        out.push({ in: into, out: into + insert.frames, from, insert });
      }
    }
    out.sort((a, b) => a.in - b.in);
    out.forEach((segment, index) => {
      const next = out[index + 1]?.insert;
      if (next !== undefined && (out[index + 1]?.in ?? 0) < segment.out) {
        this.#bad(next.by, fault('bad-corrections', `it begins before what ${placeText(segment.insert?.by.place ?? {})} inserts ends`));
      }
    });
    return this.#sound ? out : undefined;
  }

  shots(segments: readonly Segment[]): Made[] | undefined {
    const covers = segments.reduce((end, segment) => (segment.in === end ? segment.out : Number.NaN), 0) === this.list.frames;
    if (!covers || segments.length === 0) {
      const [first] = [...this.edits.shots.values()].flatMap(({ by }) => by.remove ?? by.length ?? []);
      if (first !== undefined) this.#bad(first, fault('bad-corrections', 'nothing is left to hold the frames of the shots that are removed'));
      return undefined;
    }
    const seen = new Set(segments.filter(({ insert }) => insert === undefined).map(({ from }) => from));
    this.list.shots.forEach((_, from) => {
      const by = Object.values(this.#edit(from)?.by ?? {}).find((one) => one.do !== 'remove' && one.do !== 'length');
      if (by !== undefined && !seen.has(from)) this.#bad(by, fault('bad-corrections', `${shotText(this.list, from)}, and another correction inserts something over all of it`));
    });
    const takes = this.#takes(segments);
    const made = segments.map((segment, index): Made | undefined => {
      const shot = segment.insert === undefined ? this.#kept(segment, segments[index - 1]) : this.#inserted(segment, segment.insert, takes[index] ?? 0);
      return shot === undefined ? undefined : { shot, from: segment.from };
    });
    return this.#sound ? made.filter((one) => one !== undefined) : undefined;
  }

  /** The take of each segment: what is inserted belongs to the take it covers, but never to an earlier one than what stays before it. */
  #takes(segments: readonly Segment[]): number[] {
    const takes = segments.map(({ from }) => this.list.shots[from]?.take ?? 0);
    let next = Infinity;
    for (let index = segments.length - 1; index >= 0; index -= 1) {
      if (segments[index]?.insert === undefined) next = takes[index] ?? 0;
      else takes[index] = Math.min(takes[index] ?? 0, next);
    }
    let before = 0;
    return takes.map((take) => (before = Math.max(before, take)));
  }

  #kept(segment: Segment, before: Segment | undefined): Shot | undefined {
    const { from } = segment;
    const first = this.#firstParts.get(from);
    if (segment.rest === true && first !== undefined) return without(this.#follow(first, segment.in, segment.out), 'transition', 'continues', 'event');
    const edit = this.#edit(from);
    const by = edit?.by.source;
    let shot: Shot | undefined = this.#follow(this.list.shots[from] as Shot, segment.in, segment.out);
    if (edit !== undefined && by !== undefined) shot = this.#resourced(shot, edit, by);
    // A piece goes on only from the piece before it.
    const goesOn = before?.from === from - 1 && before.insert === undefined && by === undefined && this.#edit(before.from)?.source === undefined;
    if (shot?.continues === true && !goesOn) shot = without(shot, 'continues');
    // What begins the list now has nothing left to mix from, unless a correction says so.
    if (before === undefined && shot?.transition !== undefined && edit?.mix === undefined && this.kept.old[from] !== 0) shot = without(shot, 'transition');
    if (shot !== undefined && edit?.mix !== undefined) shot = edit.mix === 'cut' ? without(shot, 'transition') : this.#mixed(shot, edit.mix, edit.by.mix);
    if (shot !== undefined) this.#firstParts.set(from, shot);
    return shot;
  }

  #resourced(shot: Shot, edit: ShotEdit, by: Correction): Shot | undefined {
    const source = edit.source ?? shot.source;
    const sourceIn = edit.sourceIn ?? (edit.source === undefined ? shot.sourceIn : pointOf(this.list, source, shot, this.report, by));
    if (isFault(sourceIn)) return this.#bad(by, sourceIn);
    const steady = edit.source === undefined ? shot.sourceOut - shot.sourceIn : this.#length(source, shot.out - shot.in);
    const base = edit.source === undefined ? shot : without(shot, 'file', 'instead', 'clipName', 'speed');
    const changed = { ...base, source, sourceIn, sourceOut: sourceIn + (edit.sourceFrames ?? steady) };
    return edit.source === undefined ? changed : { ...changed, ...fileOf(this.list, changed, this.report, by) };
  }

  #inserted(segment: Segment, insert: InsertEdit, take: number): Shot | undefined {
    const { source, by } = insert;
    const covered = this.list.shots[segment.from] as Shot;
    const moment = { in: segment.in, take: covered.take };
    const sourceIn = insert.sourceIn ?? pointOf(this.list, source, moment, this.report, by);
    if (isFault(sourceIn)) return this.#bad(by, sourceIn);
    const piece = { source, in: segment.in, out: segment.out, take, sourceIn, sourceOut: sourceIn + (insert.sourceFrames ?? this.#length(source, segment.out - segment.in)) };
    const shot: Shot = { ...piece, ...fileOf(this.list, { ...piece, ...moment }, this.report, by) };
    return insert.mix === undefined ? shot : this.#mixed(shot, insert.mix, by);
  }

  #length(source: string, frames: number): number {
    const found = source === BLACK ? undefined : this.list.sources.find(({ id }) => id === source);
    return found === undefined ? frames : sourceLength(frames, this.list.count, found.count);
  }

  #mixed(shot: Shot, mix: Mix, by: Correction | undefined): Shot | undefined {
    const room = shot.out - shot.in;
    if (by !== undefined && (mix.frames < 1 || mix.frames > room)) {
      return this.#bad(by, fault('bad-corrections', `a mix of ${String(mix.frames)} frames does not fit a shot of ${String(room)}`));
    }
    const old = shot.transition;
    const place = old === undefined ? this.inOffset(mix.frames) : resized(old, mix.frames, room, room).inOffset;
    return { ...shot, transition: { ...mix, inOffset: Math.min(place, mix.frames) } };
  }
}

/** Lays insertions, in order and apart, over what they cover. A shot that goes on behind one keeps the rest of its frames. */
function overlaid(held: readonly Segment[], inserts: readonly Segment[]): Segment[] {
  const out: Segment[] = [];
  let next = 0;
  for (const segment of held) {
    let at = segment.in;
    let began = false;
    while (at < segment.out) {
      const insert = inserts[next];
      if (insert === undefined || insert.in >= segment.out) {
        out.push({ ...segment, in: at, ...(began ? { rest: true } : {}) });
        break;
      }
      if (insert.in > at) {
        out.push({ ...segment, in: at, out: insert.in, ...(began ? { rest: true } : {}) });
        began = true;
      }
      if (out.at(-1) !== insert) out.push(insert);
      at = Math.max(at, insert.out);
      if (insert.out <= segment.out) next += 1;
      if (insert.out > segment.out) break;
    }
  }
  // With nothing held, insertions may still cover everything.
  return held.length === 0 ? [...inserts] : out;
}
