/** Takes a log's rows as they come, finds out what kind of time they have, and has events made of them. */
import { isFault, problem, problemOf, type Fault, type Report } from '../problems.js';
import { clockInFormat, type ClockReader } from '../timecode/clock.js';
import { zoneOf, type Zone } from '../timecode/zone.js';
import { ActionBook } from './actions.js';
import { EventReader } from './events.js';
import { findKind, KIND_NAMES, shapeOf, unitOf } from './kinds.js';
import { TIME_KINDS, type Mapping, type TimeKind } from './mapping.js';
import type { DecimalSign } from './numbers.js';
import { labelRates, resolveRates, type LogRates, type SaidRates } from './rates.js';
import type { LogOptions } from './reading.js';
import type { LogHead, LogRow, RowSink } from './rows.js';
import { SourceBook } from './sources.js';
import { ClockTimeReader } from './time-clock.js';
import { Moved, NumberReader, TimecodeReader, type TimeReader } from './time.js';

/** How many rows of numbers are looked at before they are taken for frames or seconds. */
const SAMPLE = 1000;

/** What the rows of a log became, before its places are frames. */
export interface ReadRows {
  readonly head: LogHead;
  readonly rates: LogRates;
  readonly times: TimeReader;
  /** The kind of time was said, or a row shows it. */
  readonly isKindKnown: boolean;
  readonly moved: Moved;
  readonly reader: EventReader;
  readonly sources: SourceBook;
  readonly actions: ActionBook;
  /** What was given of the mapping, and the decimal sign that was found. */
  readonly map: Mapping;
  readonly sign: DecimalSign | undefined;
}

interface Told {
  readonly kind: TimeKind;
  /** Why, where nobody said it: for the note. */
  readonly why?: string;
  /** linecut's own form says it, in which no number has groups. */
  readonly isOwn?: true;
}

export class LogSink implements RowSink {
  readonly #options: LogOptions;
  readonly #map: Mapping;
  readonly #report: Report;
  readonly #actions: ActionBook;
  readonly #moved: Moved;
  #head: LogHead | undefined;
  #rates: SaidRates | undefined;
  #sources: SourceBook | undefined;
  #told: Told | undefined;
  #isKindKnown = true;
  /** Rows that wait until the kind of time is known. */
  #waiting: LogRow[] = [];
  #started: { readonly rates: LogRates; readonly times: TimeReader; readonly reader: EventReader; readonly sign: DecimalSign | undefined } | undefined;

  constructor(options: LogOptions, report: Report) {
    this.#options = options;
    this.#map = options.map ?? {};
    this.#report = report;
    this.#actions = new ActionBook(this.#map.actions);
    this.#moved = new Moved(options.rounding ?? 'nearest');
  }

  head(head: LogHead): void {
    const { file, rate, logRate, sources } = this.#options;
    this.#head = head;
    const known = sources === undefined || sources.length === 0 ? undefined : sources;
    this.#sources = new SourceBook(known, head.sources, this.#map.sources);
    this.#rates = resolveRates({
      file,
      ...(rate === undefined ? {} : { rate }),
      ...(logRate === undefined ? {} : { logRate }),
      ...(head.rate === undefined ? {} : { own: head.rate }),
      ...(this.#map.rate === undefined ? {} : { mapRate: this.#map.rate }),
    }, this.#report);
    this.#told = this.#toldKind(head);
    const kind = this.#told?.kind;
    if (this.#told?.why !== undefined) this.#note(`times are ${this.#told.kind}, ${this.#told.why}; say --time-as otherwise`);
    if (kind === 'timecode' || kind === 'clock' || (kind !== undefined && this.#map.decimal !== undefined)) this.#start(kind, this.#map.decimal);
  }

  row(row: LogRow): void {
    if (this.#started !== undefined) {
      this.#started.reader.row(row);
      return;
    }
    if (this.#rates === undefined) return;
    this.#waiting.push(row);
    const [time, action] = row.values;
    if (time === undefined) return;
    const shape = shapeOf(time);
    const decides = this.#told === undefined && (shape === 'timecode' || shape === 'clock') && this.#actions.find(action) !== 'ignore';
    if (decides || this.#waiting.length >= SAMPLE) this.#decide();
  }

  /** After the last row. Undefined when nothing could be read at all; the reason was reported. */
  finish(): ReadRows | undefined {
    if (this.#started === undefined && this.#rates !== undefined) this.#decide();
    if (this.#head === undefined || this.#sources === undefined || this.#started === undefined) return undefined;
    const { rates, times, reader, sign } = this.#started;
    reader.finish();
    return { head: this.#head, rates, times, isKindKnown: this.#isKindKnown, moved: this.#moved, reader, sources: this.#sources, actions: this.#actions, map: this.#map, sign };
  }

  /** What the options, the mapping, the log itself, or the unit in the column's name say. */
  #toldKind(head: LogHead): Told | undefined {
    const said = this.#options.timeAs ?? this.#map.timeAs;
    if (said !== undefined) return { kind: said };
    if (head.timeAs !== undefined) {
      const own = TIME_KINDS.find((kind) => kind === head.timeAs);
      if (own !== undefined) return { kind: own, isOwn: true };
      this.#report(problem('bad-time', `timeAs '${head.timeAs}' is no kind of time; expected ${TIME_KINDS.join(', ')}`, { file: this.#options.file }));
    }
    if (this.#map.clockFormat !== undefined) return { kind: 'clock' };
    const column = head.found.time;
    const unit = column === undefined ? undefined : unitOf(column);
    return unit === undefined ? undefined : { kind: unit, why: `as the name '${String(column)}' says` };
  }

  /** Somebody said what kind of time it is: options, mapping, or the log. */
  get #isSaid(): boolean {
    return this.#told !== undefined && this.#told.why === undefined;
  }

  #decide(): void {
    const rows = this.#waiting.filter(({ values }) => this.#actions.find(values[1]) !== 'ignore');
    const times = rows.map(({ values }) => values[0]).filter((time) => time !== undefined);
    const told = this.#told;
    const found = findKind(times, this.#map.decimal, told?.isOwn === true ? undefined : told?.kind);
    if (told === undefined && found !== undefined) {
      this.#note(`times are ${KIND_NAMES[found.kind]}, by the look of '${found.because}'; say --time-as otherwise`);
    }
    if (found?.sign === ',' && this.#map.decimal === undefined) this.#note(`',' is the decimal sign; say "decimal" in a mapping otherwise`);
    this.#isKindKnown = told !== undefined || found !== undefined;
    this.#start(told?.kind ?? found?.kind ?? 'timecode', found === undefined ? this.#map.decimal : found.sign, told === undefined);
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const row of waiting) this.#started?.reader.row(row);
  }

  #start(kind: TimeKind, sign: DecimalSign | undefined, byLook = false): void {
    const { file, rounding, anchor } = this.#options;
    if (this.#rates === undefined || this.#sources === undefined) return;
    const rates = labelRates(this.#rates, kind, anchor !== undefined, file, this.#report);
    const times = rates === undefined ? undefined : this.#timeReader(kind, rates, sign, byLook);
    if (rates === undefined || times === undefined) {
      // What is wrong was said once; the rows would only repeat it.
      this.#rates = undefined;
      return;
    }
    const { list, label, perLabel } = rates;
    const reader = new EventReader({
      file,
      actions: this.#actions,
      sources: this.#sources,
      times,
      count: { rate: list.rate, dropFrame: list.dropFrame ?? false },
      label,
      perLabel,
      dotted: kind === 'timecode' && this.#isSaid,
      rounding: rounding ?? 'nearest',
      sign: this.#map.decimal ?? (sign === ',' ? sign : undefined),
      shots: this.#map.rowsAre === 'shots',
    }, this.#report);
    this.#started = { rates, times, reader, sign };
  }

  #timeReader(kind: TimeKind, { list, label, perLabel }: LogRates, sign: DecimalSign | undefined, byLook: boolean): TimeReader | undefined {
    if (kind === 'timecode') return new TimecodeReader(label, perLabel, this.#isSaid);
    // A cutlog of frames counts from the first take (contract §3), and rows may lie before it.
    if (kind !== 'clock') return new NumberReader(kind, list.rate, this.#moved, sign, byLook && kind === 'frames', kind === 'frames' && this.#head?.timeAs === kind, this.#isSaid);
    const { clockFormat, zone } = this.#map;
    const read: ClockReader | Fault | undefined = clockFormat === undefined ? undefined : clockInFormat(clockFormat);
    const where: Zone | Fault | undefined = zone === undefined ? undefined : zoneOf(zone);
    for (const part of [read, where]) if (isFault(part)) this.#report(problemOf(part, { file: this.#options.file }));
    return isFault(read) || isFault(where) ? undefined : new ClockTimeReader(read, where, this.#isSaid);
  }

  #note(message: string): void {
    this.#report(problem('found', message, { file: this.#options.file }));
  }
}
