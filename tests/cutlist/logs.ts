/** Random logs for property tests, and what they say frame by frame, worked out the slow and obvious way. */
import fc from 'fast-check';
import type { Action, LogEvent } from '../../src/cutlist/event.js';
import { BLACK, type Source } from '../../src/cutlist/model.js';
import type { Count } from '../../src/timecode/rate.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryCount, COUNTS } from '../support/lists.js';
import { source } from './rows.js';

export interface RandomLog {
  readonly events: LogEvent[];
  readonly sources: Source[];
  readonly count: Count;
  readonly origin: 'timecode' | 'recording';
  readonly endAt: number | undefined;
}

export interface LogShape {
  /** Rows that name no source and take the cued one. */
  readonly cues?: boolean;
  /** Transitions completed by a row of their own. */
  readonly ends?: boolean;
  readonly markers?: boolean;
  /** Rows that say where sound comes from. */
  readonly sound?: boolean;
  /** Sources at other rates than the list. */
  readonly otherRates?: boolean;
  readonly maxTakes?: number;
  /** Which origins (default both). */
  readonly origins?: readonly ('timecode' | 'recording')[];
}

const IDS = ['1', '2', '3', BLACK];

const row = fc.record({
  after: fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 40 })),
  kind: fc.constantFrom('cut', 'cut', 'cut', 'dissolve', 'wipe', 'hand', 'ended', 'cue', 'taken', 'marker', 'audio'),
  source: fc.constantFrom(...IDS),
  frames: fc.integer({ min: 0, max: 30 }),
  wipe: fc.integer({ min: 0, max: 999 }),
});

type Row = typeof row extends fc.Arbitrary<infer T> ? T : never;

/** Logs of one counter: takes with rows in them and between them, in order, or one take without a `start`; a `stop` at the end or `endAt`. */
export function arbitraryLog(shape: LogShape = {}): fc.Arbitrary<RandomLog> {
  const stretch = fc.array(row, { maxLength: 12 });
  return fc
    .record({
      count: arbitraryCount,
      origin: fc.constantFrom(...(shape.origins ?? (['timecode', 'recording'] as const))),
      base: fc.oneof(fc.nat({ max: 500 }), fc.integer({ min: -120, max: 20 }), fc.nat()),
      takes: fc.array(fc.record({ before: stretch, rows: stretch, rest: fc.nat({ max: 20 }) }), { minLength: 1, maxLength: shape.maxTakes ?? 3 }),
      hasStart: fc.boolean(),
      hasStop: fc.boolean(),
      end: fc.integer({ min: 1, max: 200 }),
      offsets: fc.array(fc.integer({ min: -3, max: 40 }), { minLength: 3, maxLength: 3 }),
      starts: fc.array(fc.nat({ max: 100_000 }), { minLength: 3, maxLength: 3 }),
      rates: fc.array(fc.constantFrom(...COUNTS), { minLength: 3, maxLength: 3 }),
    })
    .map((given) => {
      const { count, origin } = given;
      const day = framesPerDay(count);
      // Timecode logs may begin anywhere in the day, also shortly before midnight.
      const base = origin === 'recording' ? Math.abs(given.base) % 500 : (given.base + day) % day;
      const writer = new Writer(base, shape);
      const takes = given.hasStart ? given.takes : given.takes.slice(0, 1);
      const openEnd = !given.hasStop;
      let first = base;
      takes.forEach((take, index) => {
        if (given.hasStart) {
          writer.rows(take.before);
          writer.bound('start');
        }
        if (index === 0) first = writer.at;
        writer.rows(take.rows);
        writer.at += take.rest;
        if (given.hasStart && (index < takes.length - 1 || !openEnd)) writer.bound('stop');
        if (!given.hasStart && !openEnd) writer.bound('stop');
      });
      const sources = ['1', '2', '3'].map((id, index) => source(id, {
        count: shape.otherRates === true ? (given.rates[index] as Count) : count,
        offset: given.offsets[index] as number,
        starts: origin === 'recording' ? [given.starts[index] as number] : [],
      }));
      return { events: writer.events, sources, count, origin, endAt: openEnd ? Math.max(first, writer.lastSwitch) + given.end : undefined };
    });
}

class Writer {
  readonly events: LogEvent[] = [];
  #cued = false;
  lastSwitch = 0;

  constructor(
    public at: number,
    readonly shape: LogShape,
  ) {}

  rows(rows: readonly Row[]): void {
    for (const given of rows) this.#row(given);
  }

  bound(action: 'start' | 'stop'): void {
    this.#push(action);
    // A take has at least one frame, and so has what lies between two.
    this.at += 1;
  }

  #row({ after, kind, source: id, frames, wipe }: Row): void {
    this.at += after;
    switch (kind) {
      case 'dissolve': return this.#switch('dissolve', { source: id, duration: frames });
      case 'wipe': return this.#switch('wipe', { source: id, duration: frames, wipe });
      case 'hand': return this.#switch('dissolve', { source: id, end: this.at + frames });
      case 'ended':
        if (this.shape.ends !== true || frames === 0) return this.#switch('dissolve', { source: id, duration: frames });
        this.#switch('dissolve', { source: id });
        this.at += frames;
        return this.#push('dissolve-end');
      case 'cue':
        if (this.shape.cues !== true) return undefined;
        this.#cued = true;
        return this.#push('cue', { source: id });
      case 'taken':
        if (!this.#cued || this.shape.cues !== true) return this.#switch('cut', { source: id });
        this.#cued = false;
        return this.#switch('cut', {});
      case 'audio': return this.shape.sound === true ? this.#push('audio', { source: id === BLACK ? 'none' : id === '3' ? 'follow' : id }) : undefined;
      case 'marker': return this.shape.markers === true ? this.#push('marker', { note: `m${String(this.events.length)}` }) : undefined;
      default: return this.#switch('cut', { source: id });
    }
  }

  #switch(action: Action, more: Partial<LogEvent>): void {
    // A cue that is switched to by name is taken; then nothing may be cued.
    if (more.source !== undefined) this.#cued = false;
    this.lastSwitch = this.at;
    this.#push(action, more);
  }

  #push(action: Action, more: Partial<LogEvent> = {}): void {
    this.events.push({ number: this.events.length + 1, action, at: this.at, line: this.events.length + 2, column: 1, ...more });
  }
}

/** What is on program on one frame of the record side. */
export interface OnAir {
  readonly source: string;
  /** The frame is one of a mix that brings the source on. */
  readonly mixes: boolean;
  /** Frame of the log. */
  readonly at: number;
  /** What the last `audio` row said. */
  readonly sound: string;
  /** Number of the take, from 1. */
  readonly take: number;
}

/**
 * Goes through a log of one counter frame by frame and writes down what is on air on each frame of its takes: rules 1, 2, 3, 4, 6, 10 of
 * the contract, told once more without any of the shortcuts that `src` takes.
 */
export function frameByFrame({ events, endAt }: RandomLog): OnAir[] {
  const out: OnAir[] = [];
  const hasStart = events.some(({ action }) => action === 'start');
  const isSwitch = (event: LogEvent): boolean => ['cut', 'dissolve', 'wipe'].includes(event.action);
  const last = Math.max(endAt ?? 0, ...events.map(({ at }) => at));
  const byFrame = new Map<number, LogEvent[]>();
  for (const event of events) byFrame.set(event.at, [...(byFrame.get(event.at) ?? []), event]);
  let recording = false;
  let take = 0;
  let onAir: string | undefined;
  let cued: string | undefined;
  let sound = 'none';
  let mix: { from: number; to: number | undefined } | undefined;
  for (let at = Math.min(...events.map((event) => event.at)); at < last; at += 1) {
    if (endAt !== undefined && at >= endAt) break;
    const rows = byFrame.get(at) ?? [];
    const begins = !recording && (rows.some(({ action }) => action === 'start') || (!hasStart && take === 0 && rows.some(isSwitch)));
    if (begins) {
      recording = true;
      take += 1;
      mix = undefined;
    }
    const before = { onAir, mix };
    for (const event of rows) {
      if (event.action === 'cue') cued = event.source;
      if (event.action === 'audio') sound = event.source ?? 'none';
      if (event.action === 'dissolve-end' && mix !== undefined && (mix.to === undefined || mix.to >= at)) {
        mix = { from: mix.from, to: at };
        before.mix = mix;
      }
      if (!isSwitch(event)) continue;
      const target = event.source ?? cued;
      if (target === cued) cued = undefined;
      // Where nothing is known of program, it shows black.
      const isSame = target === (onAir ?? BLACK);
      onAir = target;
      if (isSame) continue;
      const to = event.duration === undefined ? event.end : at + event.duration;
      mix = event.action === 'cut' || !recording ? undefined : { from: at, to };
    }
    // There and back on one frame: nothing happened.
    if ((onAir ?? BLACK) === (before.onAir ?? BLACK)) ({ mix } = before);
    const blackBefore = (before.onAir ?? BLACK) === BLACK && (out.at(-1)?.source ?? BLACK) === BLACK;
    if (begins && !blackBefore) mix = undefined;
    if (rows.some(({ action }) => action === 'stop')) recording = false;
    if (recording) out.push({ source: onAir ?? BLACK, mixes: mix !== undefined && at < (mix.to ?? Infinity), at, sound, take });
  }
  return out;
}
