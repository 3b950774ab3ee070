/** Rows → events: every field is checked, and every problem says where it lies. One bad row hides no other. */
import { isSwitch, type LogEvent } from '../cutlist/event.js';
import { oneLine } from '../cutlist/line.js';
import { fault, isFault, problemOf, type Fault, type Report } from '../problems.js';
import type { Rounding } from '../timecode/exact.js';
import { parseDuration } from '../timecode/duration.js';
import type { Count } from '../timecode/rate.js';
import { parseTimecode } from '../timecode/timecode.js';
import type { ActionBook } from './actions.js';
import { IdleFields } from './idle.js';
import { undotted } from './kinds.js';
import type { Field } from './mapping.js';
import { plainNumber, type DecimalSign } from './numbers.js';
import { Repeated } from './repeated.js';
import type { LogRow } from './rows.js';
import type { SourceBook } from './sources.js';
import type { TimeReader } from './time.js';

/** An event that is still being made. */
export type Draft = { -readonly [Key in keyof LogEvent]: LogEvent[Key] };

export interface EventOptions {
  readonly file: string;
  readonly actions: ActionBook;
  readonly sources: SourceBook;
  readonly times: TimeReader;
  /** For durations: the list's count, how labels count, and how many of the list's frames a label is. */
  readonly count: Count;
  readonly label: Count;
  readonly perLabel: 1 | 2;
  /** A '.' before two digits of frames is a mark of labels (`undotted`). */
  readonly dotted: boolean;
  readonly rounding: Rounding;
  readonly sign: DecimalSign | undefined;
  /** One row a shot: `end` is where the shot ends. */
  readonly shots: boolean;
}

/** Of shots: where the shot of the event of the same index ends; undefined for events that are no shot. */
export type ShotEnds = (number | undefined)[];

/**
 * Makes events of rows, in the log's order. Their places (`at`, `end`) are the time reader's until `log/read` turns
 * them into frames.
 */
export class EventReader {
  readonly events: Draft[] = [];
  readonly ends: ShotEnds = [];
  /** Indices of dissolves and wipes with neither duration nor end: a `dissolve-end` row must complete them. */
  readonly open: number[] = [];
  /** Indices of dissolves and wipes with both: the end says whether they agree. */
  readonly doubled: { readonly index: number; readonly end: number }[] = [];
  /** Rows in all, without blank ones and those sent to `ignore`. */
  rows = 0;
  ignored = 0;
  /** What cuts carry that a cut has not. */
  readonly idle = new IdleFields();
  /** The log has a row each for begin and end of its transitions. */
  hasDissolveEnd = false;
  /** Words that are no sources. */
  readonly #sources = new Repeated();
  readonly #options: EventOptions;
  readonly #report: Report;

  constructor(options: EventOptions, report: Report) {
    this.#options = options;
    this.#report = report;
  }

  /** After the last row: reports what was kept to be said once. */
  finish(): void {
    this.#sources.tell(this.#report);
  }

  /** Takes the next row. Reports what is wrong with it, and then makes no event of it. */
  row(row: LogRow): void {
    const { values } = row;
    const time = values[0];
    const word = values[1];
    if (time === undefined && word === undefined && values.every((value) => value === undefined)) return;
    const action = this.#options.actions.find(word);
    if (action === 'ignore') {
      this.ignored += 1;
      if (time !== undefined) this.#options.times.passOver(time);
      return;
    }
    this.rows += 1;
    const at = this.#time(row, time);
    if (isFault(action)) {
      this.#fail(row, 'action', action);
      return;
    }
    if (action === 'dissolve-end') this.hasDissolveEnd = true;
    const column = row.columnOf('time').column;
    const note = values[6] === undefined ? undefined : oneLine(values[6]) || undefined;
    const event: Draft = { number: this.rows, action, at: at ?? 0, line: row.line, column };
    let sound = at !== undefined;
    if (isSwitch(event)) {
      sound = this.#switchRow(row, event, sound);
    } else {
      if (action === 'cue' || action === 'audio') sound = this.#source(row, event, action) && sound;
      if (action === 'marker' && note === undefined) sound = this.#lacks(row, 'note', 'marker', 'a note that names the point');
    }
    if (!sound) return;
    if (note !== undefined) event.note = note;
    this.events.push(event);
  }

  #time(row: LogRow, text: string | undefined): number | undefined {
    if (text === undefined) {
      this.#lacks(row, 'time', 'row', 'a time');
      return undefined;
    }
    const at = this.#options.times.next(text, row.line);
    if (typeof at === 'number') return at;
    this.#fail(row, 'time', at);
    return undefined;
  }

  /** `sound`: whether the row's time was read. Fills in the rest; true when all of it is right. */
  #switchRow(row: LogRow, event: Draft, sound: boolean): boolean {
    const { values } = row;
    let fine = sound;
    if (values[2] !== undefined) fine = this.#source(row, event, event.action) && fine;
    if (event.action === 'wipe') fine = this.#wipe(row, event) && fine;
    if (this.#options.shots) return this.#shot(row, event, fine, sound);
    const isCut = event.action === 'cut';
    this.idle.switchAt(event.at, isCut);
    if (!isCut) return this.#transition(row, event, fine, sound);
    if (values[3] !== undefined || values[4] !== undefined) this.#idle(row, event.at);
    return fine;
  }

  #idle({ line, values: [time, word, , duration, end] }: LogRow, at: number): void {
    const cut = { line, at, isNamed: word !== undefined };
    if (duration !== undefined && /[1-9]/.test(duration)) {
      const frames = this.#options.times.kind === 'clock' ? undefined : durationOf(duration, this.#options);
      this.idle.duration(cut, isFault(frames) ? undefined : frames);
    }
    if (end !== undefined) this.idle.end(cut, end !== time);
  }

  #transition(row: LogRow, event: Draft, fine: boolean, timed: boolean): boolean {
    const duration = row.values[3];
    const end = row.values[4];
    if (duration === undefined && end === undefined) {
      if (fine) this.open.push(this.events.length);
      return fine;
    }
    const frames = duration === undefined ? undefined : this.#duration(row, duration);
    const complete = end === undefined || !timed ? undefined : this.#end(row, end, event.at);
    if (complete !== undefined && complete < event.at) {
      return this.#fail(row, 'end', fault('bad-duration', `the ${event.action} is complete at ${String(end)}, before it begins`));
    }
    if (frames !== undefined) event.duration = frames;
    else if (complete !== undefined) event.end = complete;
    if (frames !== undefined && complete !== undefined && fine) this.doubled.push({ index: this.events.length, end: complete });
    return fine && (duration === undefined || frames !== undefined) && (end === undefined || complete !== undefined);
  }

  /** A row a shot: from its time to its end, or for its duration; a dissolve or wipe has the duration for itself. */
  #shot(row: LogRow, event: Draft, fine: boolean, timed: boolean): boolean {
    const [duration, end] = [row.values[3], row.values[4]];
    const frames = duration === undefined ? undefined : this.#duration(row, duration);
    const isCut = event.action === 'cut';
    if (end === undefined && (!isCut || this.#options.times.kind === 'clock')) return this.#lacks(row, 'end', 'shot', 'an end');
    if (end === undefined && duration === undefined) return this.#lacks(row, 'end', 'shot', 'an end, or a duration');
    if (!isCut && duration === undefined) return this.#lacks(row, 'duration', event.action, 'a duration');
    if (!timed || (duration !== undefined && frames === undefined)) return false;
    const complete = end === undefined ? event.at + (frames ?? 0) : this.#end(row, end, event.at);
    if (complete === undefined) return false;
    if (complete < event.at) return this.#fail(row, 'end', fault('bad-time', `the shot ends at ${String(end)}, before it begins`));
    if (!isCut && frames !== undefined) event.duration = frames;
    if (fine) this.ends[this.events.length] = complete;
    return fine;
  }

  #source(row: LogRow, event: Draft, action: string): boolean {
    const word = row.values[2];
    if (word === undefined) return this.#lacks(row, 'source', action === 'audio' ? 'change of audio' : action, action === 'audio' ? 'a source, program, follow or none' : 'a source');
    const { sources } = this.#options;
    const id = action === 'audio' ? sources.forSound(word) : sources.forPicture(word);
    if (isFault(id)) {
      this.#sources.add(id, () => ({ file: this.#options.file, ...row.columnOf('source') }));
      return false;
    }
    event.source = id;
    return true;
  }

  #wipe(row: LogRow, event: Draft): boolean {
    const text = row.values[5];
    if (text === undefined) return this.#lacks(row, 'wipe', 'wipe', 'a SMPTE wipe code, 0 to 999');
    if (!/^[Ww]?\d{1,3}$/.test(text)) return this.#fail(row, 'wipe', fault('bad-wipe', `'${text.slice(0, 40)}' is not a wipe code; expected a number from 0 to 999`));
    event.wipe = Number(text.replace(/^[Ww]/, ''));
    return true;
  }

  #duration(row: LogRow, text: string): number | undefined {
    const frames = durationOf(text, this.#options);
    if (typeof frames === 'number') return frames;
    this.#fail(row, 'duration', frames);
    return undefined;
  }

  #end(row: LogRow, text: string, at: number): number | undefined {
    const end = this.#options.times.near(text, at, row.line);
    if (typeof end === 'number') return end;
    this.#fail(row, 'end', end);
    return undefined;
  }

  #fail(row: LogRow, field: Field, given: Fault): false {
    const { line, column } = row.columnOf(field);
    this.#report(problemOf(given, { file: this.#options.file, line, column }));
    return false;
  }

  #lacks(row: LogRow, field: Field, what: string, needs: string): false {
    return this.#fail(row, field, fault('missing-field', `a ${what} needs ${needs}`));
  }
}

/** A timecode, whatever its marks: commas in every place are no decimal sign. */
const LABEL = /^\d{1,2}[:;,]\d\d[:;,]\d\d[:;,]\d\d$/;

/** A duration as frames of the list. In a log of frame pairs a timecode counts as its labels do; bare frames are the list's. */
function durationOf(given: string, { dotted, count, label, perLabel, rounding, sign }: EventOptions): number | Fault {
  const text = dotted ? undotted(given) : given;
  const isLabel = text.length > 9 && LABEL.test(text);
  if (isLabel && perLabel === 1) return parseDuration(text, count, rounding);
  if (perLabel === 2 && (isLabel || text.includes(':'))) {
    const pairs = parseTimecode(text, label);
    return isFault(pairs) ? fault('bad-duration', pairs.message) : pairs * 2;
  }
  const number = text.includes(',') || sign === ',' ? /^([+-]?[\d.,]+)\s*(f|ms|s)?$/i.exec(text) : null;
  if (number === null) return parseDuration(text, count, rounding);
  const plain = plainNumber(number[1] ?? '', sign);
  return isFault(plain) ? fault('bad-duration', plain.message) : parseDuration(plain + (number[2] ?? ''), count, rounding);
}
