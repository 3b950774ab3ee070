/** What each row does to program (contract, rules 2, 3, 6): switches one by one, cues, re-taps, two on one frame. */
import { problem, type Code, type Report } from '../problems.js';
import { isSwitch, type LogEvent } from './event.js';
import { BLACK, NONE, type Source } from './model.js';
import type { LogTake, LogStretch } from './takes.js';

/** A transition as the log asks for it. */
export interface Mix {
  readonly kind: 'dissolve' | 'wipe';
  /** Frames until it is complete; undefined while no `dissolve-end` has completed it. */
  frames: number | undefined;
  readonly wipe: number | undefined;
  /** True when a `dissolve-end` row has completed it. */
  ended: boolean;
}

/** A change of what is on program: at log frame `at`, to `source`. `event` is left out where a take begins on what was on air. */
export interface Switch {
  readonly at: number;
  readonly source: string;
  event: LogEvent | undefined;
  readonly mix: Mix | undefined;
}

/** A change of where sound comes from; a marker: both at a log frame. */
export interface SoundChange {
  readonly at: number;
  readonly from: string;
  readonly event: LogEvent;
}

/** What happens in one take. The first switch lies on its first frame. */
export interface TakeContent {
  readonly switches: Switch[];
  readonly sound: SoundChange[];
  readonly markers: LogEvent[];
  /** What was on air before the take; undefined when nothing is known of it. */
  readonly before: string | undefined;
  /** Where nothing was known at first: black was put there, until the second switch or the end. */
  readonly unknownAtFirst: boolean;
}

/** Whether no row of several names a source, which is said once: then the log has them where nobody looked. */
export function namesNone(events: readonly LogEvent[], file: string, report: Report): boolean {
  if (events.some(({ action, source }) => source !== undefined && action !== 'audio')) return false;
  const [first, ...others] = events.filter(isSwitch);
  if (first === undefined || others.length === 0) return false;
  const what = `none of the ${String(others.length + 1)} rows that switch names a source, and none is cued; "fields": {"source": …} in a mapping file says where the log has it`;
  report(problem('missing-source', what, { file, line: first.line, column: first.column }));
  return true;
}

/** Follows program through a log, take by take. */
export class Switcher {
  /** The source on program, the one that comes on during a transition; undefined while nothing is known. */
  #onAir: string | undefined;
  #cued: string | undefined;
  /** A transition that did not count (re-tap, outside takes) may still have its `dissolve-end` row. */
  #droppedMix = false;
  /** A transition with a length of its own, completed by an end row that may be that of the one that interrupts it. */
  #borrowed: { readonly mix: Mix; readonly stated: number; readonly current: Switch } | undefined;

  constructor(
    readonly sources: ReadonlyMap<string, Source>,
    readonly file: string,
    readonly report: Report,
  ) {}

  /** Rows outside takes: switches and cues set what is on air next, sound changes what is heard next; markers are dropped. */
  outside({ events, first, last }: LogStretch, sound: (change: SoundChange) => void): void {
    for (let index = first; index < last; index += 1) {
      const event = events[index] as LogEvent;
      if (isSwitch(event)) this.#outsideSwitch(event, 'this switch lies outside every take; it only sets what is on air when the next take starts');
      else if (event.action === 'marker') this.#say('outside-take', 'this marker lies outside every take; it is dropped', event);
      else if (event.action === 'cue') this.#cued = event.source;
      else if (event.action === 'audio') sound(soundChange(event));
      else if (event.action === 'dissolve-end') this.#dissolveEnd(event, []);
    }
  }

  /** The rows of a take that ends on log frame `to` (exclusive; Infinity when not known). Of `quiet` rows from `to` on, nothing is said. */
  take({ events, first, last }: LogStretch, { from }: LogTake, to: number, quiet: boolean): TakeContent {
    const lead: Switch = { at: from, source: this.#onAir ?? BLACK, event: undefined, mix: undefined };
    const content = { switches: [lead], sound: [] as SoundChange[], markers: [] as LogEvent[], before: this.#onAir, unknownAtFirst: this.#onAir === undefined };
    for (let index = first; index < last; index += 1) {
      const event = events[index] as LogEvent;
      if (quiet && event.at >= to && (event.at > to || (event.action !== 'marker' && event.action !== 'dissolve-end'))) continue;
      if (isSwitch(event)) {
        if (event.at >= to) this.#outsideSwitch(event, 'this switch lies where the take ends; it only sets what is on air when the next take starts');
        else this.#switch(event, content);
      } else if (event.action === 'marker') content.markers.push(event);
      else if (event.action === 'cue') this.#cued = event.source;
      else if (event.action === 'audio') content.sound.push(soundChange(event));
      else if (event.action === 'dissolve-end') this.#dissolveEnd(event, content.switches);
    }
    this.#settle();
    // Nothing is left of what was on air before, where the first switch lies on the first frame.
    if (content.switches[1]?.at === from) content.switches.shift();
    return content;
  }

  #outsideSwitch(event: LogEvent, message: string): void {
    const source = this.#target(event);
    if (source === undefined) return;
    this.#onAir = source;
    this.#droppedMix = event.action !== 'cut';
    this.#say('outside-take', message, event);
  }

  #switch(event: LogEvent, content: { switches: Switch[]; unknownAtFirst: boolean }): void {
    const source = this.#target(event);
    if (source === undefined) return;
    const { switches } = content;
    const current = switches.at(-1) as Switch;
    const isLead = switches.length === 1;
    if (source === current.source) {
      // On a take's first frame the row says what was on air; anywhere else it is a re-tap.
      if (isLead && event.at === current.at && event.action === 'cut') {
        current.event ??= event;
        content.unknownAtFirst = false;
      }
      this.#onAir = source;
      this.#droppedMix = event.action !== 'cut';
      return;
    }
    if (event.at === current.at && !isLead) {
      this.#replace(event, source, content);
      return;
    }
    this.#push(event, source, content);
  }

  #push(event: LogEvent, source: string, content: { switches: Switch[]; unknownAtFirst: boolean }): void {
    this.#settle();
    this.#onAir = source;
    this.#droppedMix = false;
    if (content.switches[0]?.at === event.at) content.unknownAtFirst = content.unknownAtFirst && content.switches.length > 1;
    content.switches.push({ at: event.at, source, event, mix: mixOf(event) });
  }

  /** A switch on the frame of the one before: that one never was on air. */
  #replace(event: LogEvent, source: string, content: { switches: Switch[]; unknownAtFirst: boolean }): void {
    this.#settle();
    const { switches } = content;
    const replaced = switches.pop() as Switch;
    const line = String(replaced.event?.line);
    const before = switches.at(-1);
    if (before?.source === source) {
      this.#say('same-frame', `this switch lies on the frame of the one in line ${line}, and goes back to what was on air; both count for nothing`, event);
      this.#onAir = source;
      this.#droppedMix = event.action !== 'cut';
      return;
    }
    this.#say('same-frame', `this switch lies on the frame of the one in line ${line}; this one counts`, event);
    this.#push(event, source, content);
  }

  /** The source that a switch goes to: its own, else the cued one. Undefined, and reported, where there is none. */
  #target(event: LogEvent): string | undefined {
    const source = event.source ?? this.#cued;
    if (source === undefined) {
      this.#say('missing-source', `this ${event.action} names no source, and none is cued`, event);
      return undefined;
    }
    if (source === this.#cued) this.#cued = undefined;
    if (source !== BLACK && this.sources.get(source)?.picture !== true) {
      const why = this.sources.has(source) ? 'has no picture: it can be heard, never switched to' : 'is not known';
      this.#say('unknown-source', `source '${source}' ${why}`, event);
      return undefined;
    }
    return source;
  }

  #dissolveEnd(event: LogEvent, switches: readonly Switch[]): void {
    const current = switches.at(-1);
    const before = switches.at(-2);
    // Where the next transition begins on the frame on which this one is complete, their rows may stand in either order.
    if (current?.at === event.at && before !== undefined && this.#endBefore(before, current)) return;
    if (current !== undefined && complete(current, event.at)) return;
    if (!this.#droppedMix) this.#say('stray-row', 'no transition is running here; this row changes nothing', event);
    this.#droppedMix = false;
  }

  /**
   * Completes the transition before on the first frame of a switch. Where that one says itself that it ends later, it may have been interrupted there,
   * and the row be that of the new one: so it is, where no other comes for that (`#settle`).
   */
  #endBefore(before: Switch, current: Switch): boolean {
    const { mix, at } = before;
    const stated = mix?.frames;
    if (!complete(before, current.at)) return false;
    if (mix !== undefined && stated !== undefined && at + stated !== current.at && current.mix !== undefined && current.mix.frames === undefined) this.#borrowed = { mix, stated, current };
    return true;
  }

  /** The end of a shot: an end row that another transition took is its own, where it has none. */
  #settle(): void {
    const { mix, stated, current } = this.#borrowed ?? {};
    this.#borrowed = undefined;
    if (mix === undefined || stated === undefined || current?.mix?.ended !== false) return;
    mix.frames = stated;
    mix.ended = false;
    complete(current, current.at);
  }

  #say(code: Code, message: string, { line, column }: LogEvent): void {
    this.report(problem(code, message, { file: this.file, line, column }));
  }
}

const soundChange = (event: LogEvent): SoundChange => ({ at: event.at, from: event.source ?? NONE, event });

/** Completes a transition that is running on frame `at`; false where none is. */
function complete({ at: from, mix }: Switch, at: number): boolean {
  if (mix === undefined || mix.ended || (mix.frames !== undefined && at > from + mix.frames)) return false;
  mix.frames = at - from;
  mix.ended = true;
  return true;
}

function mixOf(event: LogEvent): Mix | undefined {
  if (event.action !== 'dissolve' && event.action !== 'wipe') return undefined;
  const frames = event.duration ?? (event.end === undefined ? undefined : event.end - event.at);
  return { kind: event.action, frames, wipe: event.action === 'wipe' ? event.wipe : undefined, ended: false };
}
