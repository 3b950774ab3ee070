/** Puts the takes of a log on the record side of one cut list, one after the other. */
import { problem, type Report } from '../problems.js';
import type { Count } from '../timecode/rate.js';
import { followsOf, soundPieces, type ChannelsOf, type SoundFrom } from './audio.js';
import type { LogEvent } from './event.js';
import { BLACK, FOLLOW, NONE, type CutList, type EventRef, type Marker, type Shot, type Source, type Take, type Transition } from './model.js';
import { lacksStart } from './starts.js';
import type { Switch, TakeContent } from './switches.js';
import { sourceFrame, sourceLength, type NumberedTake } from './sync.js';
import type { LogTake } from './takes.js';
import { framesText } from '../frames-text.js';
import { transitionOf, type MixOptions } from './transitions.js';

export interface MakerOptions {
  readonly count: Count;
  readonly recordStart: number;
  readonly origin: 'timecode' | 'recording';
  readonly sources: readonly Source[];
  readonly known: ReadonlyMap<string, Source>;
  readonly channelsOf: ChannelsOf;
  readonly mix: MixOptions;
}

interface Opening {
  readonly from: string;
  readonly shown: string;
}

export class ListMaker {
  readonly #options: MakerOptions;
  readonly #gaps: boolean;
  readonly #takes: Take[] = [];
  readonly #shots: Shot[] = [];
  readonly #sound: SoundFrom[] = [];
  readonly #markers: Marker[] = [];
  #frames = 0;
  /** The take before: its counter, and the log frame on which it ended. */
  #before: { readonly counter: number; readonly to: number } | undefined;
  readonly #unstarted = new Set<string>();
  /** Number in the log of the first take. */
  firstTake = 0;

  /** `gaps`: takes keep their distance. */
  constructor(options: MakerOptions, gaps: boolean) {
    this.#options = options;
    this.#gaps = gaps;
  }

  /** Adds a take that ends on log frame `to`. `content.from` is where sound comes from when it begins. */
  add(take: LogTake, counter: number, content: TakeContent & { readonly from: string }, to: number, report: Report): void {
    this.#gapBefore(take, counter, report);
    const { origin } = this.#options;
    const start = this.#frames;
    if (this.#takes.length === 0) this.firstTake = take.number;
    const index = this.#takes.length;
    const placed: NumberedTake = {
      in: start,
      out: start + to - take.from,
      logIn: take.from,
      origin,
      number: take.number,
      ...(origin === 'recording' ? { recordingIn: take.recordingIn, counterIn: take.counterIn } : {}),
    };
    this.#takes.push(placed);
    const { switches } = content;
    if (content.unknownAtFirst) this.#warnUnknown(take, (switches[1]?.at ?? to) - take.from, report);
    // What a mix on the take's first frame comes from, and what the list shows before it.
    const from = content.before ?? BLACK;
    const shown = this.#shots.at(-1)?.source ?? BLACK;
    for (let nr = 0; nr < switches.length; nr += 1) {
      const given = switches[nr] as Switch;
      const length = (switches[nr + 1]?.at ?? to) - given.at;
      const transition = this.#transition(given, length, nr > 0 ? undefined : { from, shown }, report);
      this.#shots.push(this.#shot(given, length, transition, placed, index, report));
    }
    const offset = start - take.from;
    this.#sound.push({ at: start, from: content.from });
    for (const { at, from } of content.sound) this.#sound.push({ at: at + offset, from });
    for (const { at, note } of content.markers) this.#markers.push({ at: at + offset, note: note ?? '' });
    this.#frames = placed.out;
    this.#before = { counter, to };
  }

  /** The list. Sound is made here, when all shots are known. */
  list(title: string): CutList {
    const { count, recordStart, sources, known, channelsOf } = this.#options;
    const parts = { count, frames: this.#frames, takes: this.#takes, shots: this.#shots };
    const audio = soundPieces({ ...parts, sources: known }, this.#sound, channelsOf);
    const follows = followsOf(this.#sound, this.#frames, channelsOf);
    return { title, ...parts, recordStart, sources, audio, follows, markers: this.#markers };
  }

  #gapBefore(take: LogTake, counter: number, report: Report): void {
    if (!this.#gaps || this.#before === undefined) return;
    if (counter !== this.#before.counter) {
      const { line, column } = take.opened;
      report(problem('found', 'the count starts again here, so the distance to the take before is not known; there is no black between them', {
        file: this.#options.mix.file,
        line,
        column,
      }));
      return;
    }
    const frames = take.from - this.#before.to;
    if (frames === 0) return;
    this.#shots.push({ source: BLACK, in: this.#frames, out: this.#frames + frames, sourceIn: 0, sourceOut: frames, take: this.#takes.length - 1 });
    if (this.#sound.at(-1)?.from !== FOLLOW) this.#sound.push({ at: this.#frames, from: NONE });
    this.#frames += frames;
  }

  #warnUnknown({ opened }: LogTake, frames: number, report: Report): void {
    const place = { file: this.#options.mix.file, line: opened.line, column: opened.column };
    report(problem('black-until-first-switch', `nothing says what was on air before the first switch: ${framesText(frames)} of black`, place));
  }

  /** `opening`, on a take's first frame: the source that the mix comes from, and the one that the list shows before it. */
  #transition({ mix, event }: Switch, length: number, opening: Opening | undefined, report: Report): Transition | undefined {
    if (mix === undefined || event === undefined) return undefined;
    // Black needs no recording, but the list has to show it; of a source nothing is known before the take.
    if (opening !== undefined && (opening.from !== BLACK || opening.shown !== BLACK)) {
      const place = { file: this.#options.mix.file, line: event.line, column: event.column };
      const why = opening.from === BLACK
        ? 'it comes from black, and in this list the take before it ends on a picture'
        : 'nothing says that what it comes from was recorded before';
      report(problem('transition-cut-short', `this ${mix.kind} begins on the first frame of its take: ${why}; it became a cut`, place));
      return undefined;
    }
    return transitionOf(mix, length, event, this.#options.mix, report);
  }

  #shot({ at, source, event }: Switch, length: number, transition: Transition | undefined, take: NumberedTake, index: number, report: Report): Shot {
    const into = take.in + at - take.logIn;
    const given = this.#options.known.get(source);
    let sourceIn = 0;
    let sourceOut = length;
    if (given !== undefined) {
      const { count } = this.#options;
      if (take.origin === 'recording' && lacksStart(given, take.number)) this.#reportUnstarted(given, take.number, report);
      sourceIn = sourceFrame(given, take, at, count);
      sourceOut = sourceIn + sourceLength(length, count, given.count);
    }
    const shot: { -readonly [Key in keyof Shot]: Shot[Key] } = { source, in: into, out: into + length, sourceIn, sourceOut, take: index };
    if (transition !== undefined) shot.transition = transition;
    if (event !== undefined) shot.event = refOf(event);
    return shot;
  }

  #reportUnstarted({ id, starts }: Source, number: number, report: Report): void {
    const key = `${id} ${String(number)}`;
    if (this.#unstarted.has(key)) return;
    this.#unstarted.add(key);
    report(problem('bad-show-file', `source '${id}' has ${String(starts.length)} starts, and it is on air in take ${String(number)}; give a start for each take`));
  }
}

const refOf = ({ number, action, note }: LogEvent): EventRef => (note === undefined ? { number, action } : { number, action, note });
