/** Events → cut lists (contract §5, rules 1 to 10): order, takes, switches, transitions, sound. */
import { problem, type Place, type Report } from '../problems.js';
import { formatTimecode } from '../timecode/timecode.js';
import type { Count } from '../timecode/rate.js';
import { anglesOf } from './angles.js';
import { earliestEnd } from './end.js';
import { isSwitch, type LogEvent } from './event.js';
import { ListMaker, type MakerOptions } from './maker.js';
import { BLACK, FOLLOW, NONE, PROGRAM, type CutList, type Source } from './model.js';
import { inOrder } from './order.js';
import { startsByFiles, startsByTakes } from './starts.js';
import { reportStarts } from './starts-differ.js';
import { namesNone, Switcher, type SoundChange, type TakeContent } from './switches.js';
import { stretchesOf, type LogTake, type LogStretch, type TakesAs } from './takes.js';
import type { DissolveAt } from './transitions.js';

/** What makes a list of events. */
export interface BuildOptions {
  readonly title: string;
  readonly count: Count;
  /** Frames of labels before record frame 0. */
  readonly recordStart: number;
  /** What the events' frames count from. */
  readonly origin: 'timecode' | 'recording';
  /**
   * Whether a `start` lower than the row before opens a new take (rule 8). By default in every log that is counted from the
   * recording; false for clock times, which do not start again.
   */
  readonly restarts?: boolean;
  /**
   * Where sound comes from: a source's id, PROGRAM, `follow` or `none`; which of its channels feed A1, A2, … (default 1 and 2); and where
   * `from` was said, for problems (default: the option `--audio`).
   */
  readonly audio?: { readonly from: string; readonly channels?: readonly number[]; readonly place?: Place };
  /** Where the boundary lies in a mix: `start` by default. */
  readonly dissolveAt?: DissolveAt;
  /** Several takes in one list without a hole (`joined`, default), at their distance (`gaps`), or a list each (`separate`). */
  readonly takes?: TakesAs;
  /** Log frame (exclusive) on which the list ends, if no `stop` is earlier; on the last counter, where counters start again. */
  readonly endAt?: number;
  /** Fill in `angles`. */
  readonly angles?: boolean;
  /** Name of the log, for the places of problems. */
  readonly file: string;
}

/**
 * Makes the cut list of a log; with `takes: 'separate'` one a take. `sources` are those of the show, the program recording (id
 * PROGRAM) last. `events` are in the log's order. Nothing is taken from the recordings but where they start, and, without a
 * `stop` and `endAt`, where they end: `placeOnRecordings` does the rest.
 *
 * Reports `out-of-order`, `same-frame`, `missing-source`, `unknown-source`, `outside-take`, `missing-start`, `missing-stop`, `stray-row`,
 * `black-until-first-switch`, `transition-cut-short`, `empty-transition`, `missing-field`, `no-events`, `no-end`, `no-audio`,
 * `bad-option`, `bad-show-file`, `starts-differ`, `found`, each with the place of its row. An empty list comes back when one of them is an error.
 * Takes time and memory in proportion to the number of events.
 */
export function buildCutLists(events: readonly LogEvent[], sources: readonly Source[], options: BuildOptions, report: Report): CutList[] {
  let failed = false;
  const say: Report = (given) => {
    failed ||= given.severity === 'error';
    report(given);
  };
  if (!events.some(isSwitch)) {
    say(problem('no-events', 'no row puts a picture on air: there is no cut, dissolve or wipe', { file: options.file }));
    return [];
  }
  if (namesNone(events, options.file, say)) return [];
  const counters = inOrder(events, { restarts: options.restarts ?? options.origin === 'recording', file: options.file }, say);
  const stretches = stretchesOf(counters, options.file, say);
  const takes = stretches.filter(({ take }) => take !== undefined).length;
  const perTake = counters.length > 1 && takes === counters.length;
  const known = options.origin === 'timecode' ? startsByTakes(sources, takes, say) : perTake ? startsByFiles(sources, takes, say) : sources;
  const builder = new Builder(known, counters.length, takes, events, options, say);
  const lists = builder.lists(stretches);
  if (options.origin === 'recording') reportStarts(lists, known, options.restarts === false, say);
  return failed ? [] : lists;
}

class Builder {
  readonly #known: ReadonlyMap<string, Source>;
  readonly #switcher: Switcher;
  readonly #options: BuildOptions;
  readonly #maker: MakerOptions;
  readonly #report: Report;
  readonly #counters: number;
  readonly #takes: number;
  /** Where sound comes from at this point of the log. */
  #sound: string;
  #makers: ListMaker[] = [];
  /** How many switches and markers lie behind the end that was asked for, and the first of them. */
  #behind: { readonly first: LogEvent; readonly rows: number } | undefined;

  constructor(sources: readonly Source[], counters: number, takes: number, events: readonly LogEvent[], options: BuildOptions, report: Report) {
    this.#known = new Map(sources.map((source) => [source.id, source]));
    this.#switcher = new Switcher(this.#known, options.file, report);
    this.#options = options;
    this.#report = report;
    this.#counters = counters;
    this.#takes = takes;
    const hasSoundRow = events.some(({ action }) => action === 'audio');
    if (options.audio === undefined && !hasSoundRow) report(problem('no-audio', 'the list has no sound; --audio gives it some'));
    this.#sound = options.audio?.from ?? NONE;
    if (!this.#canHear(this.#sound)) report(problem('unknown-source', this.#noSound(this.#sound), options.audio?.place ?? { option: '--audio' }));
    const given = options.audio?.channels?.length === 0 ? [1, 2] : (options.audio?.channels ?? [1, 2]);
    const plain = given.map((_, index) => index + 1);
    this.#maker = {
      count: options.count,
      recordStart: options.recordStart,
      origin: options.origin,
      sources,
      known: this.#known,
      // The channels were chosen for the source that was asked for; what a row brings on has its first ones.
      channelsOf: (from) => (from === options.audio?.from ? given : plain),
      mix: {
        dissolveAt: options.dissolveAt ?? 'start',
        hasEnds: events.some(({ action }) => action === 'dissolve-end'),
        file: options.file,
      },
    };
  }

  lists(stretches: readonly LogStretch[]): CutList[] {
    const options = this.#options;
    const last = stretches.findLast(({ take }) => take !== undefined)?.take;
    for (const stretch of stretches) {
      if (stretch.take === undefined) this.#outside(stretch);
      else this.#take(stretch, stretch.take, stretch.take === last);
    }
    if (last === undefined) this.#report(problem('no-events', 'no take has any frames', { file: options.file }));
    else if (this.#makers.length === 0) this.#endsTooEarly();
    else this.#reportBehind();
    const several = this.#makers.length > 1 || (options.takes === 'separate' && this.#takes > 1);
    return this.#makers.map((maker) => {
      const list = maker.list(several ? `${options.title}, take ${String(maker.firstTake)}` : options.title);
      return options.angles === true ? { ...list, angles: anglesOf(list) } : list;
    });
  }

  /** Rows between takes; behind the end that was asked for nothing matters any more, which is said once. */
  #outside(stretch: LogStretch): void {
    const end = this.#options.endAt;
    const first = stretch.events[stretch.first];
    if (end !== undefined && first !== undefined && first.at >= end && stretch.counter === this.#counters - 1) {
      this.#leaveOut(stretch, end);
      return;
    }
    this.#switcher.outside(stretch, (change) => {
      this.#changeSound(change);
    });
  }

  #take(stretch: LogStretch, take: LogTake, isLast: boolean): void {
    const { endAt } = this.#options;
    const cut = endAt !== undefined && stretch.counter === this.#counters - 1 && endAt < (take.to ?? Infinity) ? endAt : undefined;
    if (cut !== undefined) this.#leaveOut(stretch, cut);
    if (cut !== undefined && cut <= take.from) return;
    const known = cut ?? take.to;
    const content = this.#switcher.take(stretch, take, known ?? Infinity, cut !== undefined);
    const startsWith = this.#sound;
    for (const change of content.sound) this.#changeSound(change);
    const to = known ?? this.#recordingsEnd(content, take, startsWith, isLast);
    if (to === undefined) return;
    this.#makerFor().add(take, stretch.counter, { ...content, from: startsWith }, to, this.#report);
  }

  #makerFor(): ListMaker {
    const current = this.#makers.at(-1);
    if (current !== undefined && this.#options.takes !== 'separate') return current;
    const maker = new ListMaker(this.#maker, this.#options.takes === 'gaps');
    this.#makers.push(maker);
    return maker;
  }

  #changeSound({ from, event }: SoundChange): void {
    if (this.#canHear(from)) this.#sound = from;
    else this.#report(problem('unknown-source', this.#noSound(from), { file: this.#options.file, line: event.line, column: event.column }));
  }

  #canHear(from: string): boolean {
    return from === NONE || from === FOLLOW || from === BLACK || this.#known.has(from);
  }

  #noSound(from: string): string {
    if (from === PROGRAM) return 'sound is to come from the program, and there is no program recording; describe it in the show file';
    return `sound is to come from '${from}', which is not known; expected a source, ${this.#known.has(PROGRAM) ? 'program, ' : ''}follow or none`;
  }

  /** Rule 7 for a take without a `stop`. What lies behind the end is taken out, and reported. */
  #recordingsEnd(content: TakeContent, take: LogTake, startsWith: string, isLast: boolean): number | undefined {
    const { count, origin, file } = this.#options;
    const heard = [{ at: take.from, from: startsWith }, ...content.sound];
    const uses = [...content.switches, ...heard.filter(({ at }, index) => at !== heard[index + 1]?.at).map(({ at, from }) => ({ at, source: from }))];
    const length = (content.switches.at(-1)?.at ?? take.from) - take.from + 1;
    const numbered = { in: 0, out: length, logIn: take.from, origin, number: take.number, recordingIn: take.recordingIn, counterIn: take.counterIn };
    const end = earliestEnd(uses.sort((a, b) => a.at - b.at), this.#known, numbered, count, isLast, (at) => {
      const sound = heard.findLast((change) => change.at < at);
      const begun = sound === undefined || sound.from === NONE || sound.from === FOLLOW ? [] : [sound.at];
      return [content.switches.findLast((one) => one.at < at)?.at ?? take.from, ...begun];
    });
    if (end === undefined) {
      const help = isLast ? 'give --end, a stop row, or the lengths of the recordings' : 'give it a stop row';
      this.#report(problem('no-end', `nothing says where the take ends that begins here; ${help}`, { file, line: take.opened.line, column: take.opened.column }));
      return undefined;
    }
    this.#report(problem('found', `the take ends on ${this.#logText(end.at)}, where the recording of '${end.source.id}' ends; --end gives another end`));
    const late = (event: LogEvent | undefined): void => {
      if (event === undefined) return;
      const message = `this row lies behind the end of the take, ${this.#logText(end.at)}, where the recording of '${end.source.id}' ends`;
      this.#report(problem('outside-take', message, { file, line: event.line, column: event.column }));
    };
    while ((content.switches.at(-1)?.at ?? -Infinity) >= end.at) late(content.switches.pop()?.event);
    while ((content.markers.at(-1)?.at ?? -Infinity) > end.at) late(content.markers.pop());
    return end.at;
  }

  #logText(frame: number): string {
    return this.#options.origin === 'timecode' ? formatTimecode(frame, this.#options.count) : `frame ${String(frame)}`;
  }

  /** Counts what would have changed the list from log frame `end` on. Stretches come in order, and so do their rows. */
  #leaveOut({ events, first, last }: LogStretch, end: number): void {
    let from = last;
    while (from > first && (events[from - 1] as LogEvent).at >= end) from -= 1;
    for (let index = from; index < last; index += 1) {
      const event = events[index] as LogEvent;
      if (!isSwitch(event) && (event.action !== 'marker' || event.at === end)) continue;
      this.#behind = { first: this.#behind?.first ?? event, rows: (this.#behind?.rows ?? 0) + 1 };
    }
  }

  #reportBehind(): void {
    const { endAt, file } = this.#options;
    if (this.#behind === undefined || endAt === undefined) return;
    const { first, rows } = this.#behind;
    const what = rows === 1 ? 'this row lies' : `this row and ${String(rows - 1)} more (switches, markers) lie`;
    const message = `${what} behind the end that was asked for, ${this.#logText(endAt)}, and ${rows === 1 ? 'is' : 'are'} left out`;
    this.#report(problem('outside-take', message, { file, line: first.line, column: first.column }, 'note'));
  }

  #endsTooEarly(): void {
    const { endAt } = this.#options;
    if (endAt !== undefined) this.#report(problem('bad-option', `the list would end on ${this.#logText(endAt)}, before it begins`, { option: '--end' }));
  }
}
