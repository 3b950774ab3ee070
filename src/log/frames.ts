/** Places → frames: what all times of a log together tell, once its last row is read. */
import { isSwitch, type LogEvent } from '../cutlist/event.js';
import { fault, isFault, problem, problemOf, type Fault, type Place, type Report } from '../problems.js';
import { readIsoClock } from '../timecode/clock.js';
import { framesPerDay, parseTimecode } from '../timecode/timecode.js';
import type { Pass } from '../timecode/zone.js';
import type { Draft } from './events.js';
import { writtenCount, type LogRates } from './rates.js';
import type { LogOptions, LogReading } from './reading.js';
import { shotsToEvents } from './shots.js';
import type { ReadRows } from './sink.js';
import { ClockTimeReader } from './time-clock.js';
import { TimecodeReader, type Marks, type Moved } from './time.js';

type OnFrames = Pick<LogReading, 'events' | 'count' | 'origin' | 'restarts' | 'endAt'>;

/**
 * Puts the events on frames: clock times on the anchor or the first `start`, labels on days from the earliest one's,
 * shots into switches. Reports what is only known of the log as a whole.
 */
export function eventsOnFrames(rows: ReadRows, options: LogOptions, report: Report): OnFrames {
  const { file } = options;
  const { times, reader, rates } = rows;
  const anchor = anchorFrame(options, rates, times.kind, report);
  const marks = times instanceof TimecodeReader ? times.marks : (anchor?.marks ?? { drop: 0, plain: 0 });
  const count = writtenCount(rates, marks, file, report);
  const origin = times.kind === 'timecode' || anchor !== undefined ? 'timecode' : 'recording';
  const endPlace = placeOfEnd(rows, options, report);
  const frameOf = times instanceof ClockTimeReader ? clockFrames(times, rows, anchor, options, report) : undefined;
  if (frameOf !== undefined) settle(reader.events, rows, frameOf);
  noteRows(rows, file, report);
  checkTransitions(rows, file, report);
  const restarts = origin === 'recording' && times.kind !== 'clock';
  let events: readonly LogEvent[] = reader.ends.length > 0 ? shotsToEvents(reader.events, reader.ends, { file, restarts }, report) : reader.events;
  const day = framesPerDay(count);
  const shift = origin === 'timecode' ? -dayOfEarliest(events, day) * day : 0;
  if (shift !== 0) events = events.map((event) => shifted(event, shift));
  notePastMidnight(events, day, origin, file, report);
  const endAt = endPlace === undefined ? undefined : (frameOf?.(endPlace, 0) ?? endPlace) + shift;
  return { events: events as LogEvent[], count, origin, restarts, ...(endAt === undefined ? {} : { endAt }) };
}

interface AnchorFrame {
  readonly clock: string;
  readonly frame: number;
  readonly marks: Marks;
}

function anchorFrame({ anchor }: LogOptions, rates: LogRates, kind: string, report: Report): AnchorFrame | undefined {
  if (anchor === undefined) return undefined;
  const place = { option: '--anchor' };
  if (kind !== 'clock') {
    report(problem('bad-option', `an anchor is for clock times, and this log has ${kind}; it is not used`, place, 'warning'));
    return undefined;
  }
  const label = parseTimecode(anchor.timecode, rates.label);
  if (isFault(label)) {
    report(problemOf(label, place));
    return undefined;
  }
  const drop = /[;,]/.test(anchor.timecode);
  return { clock: anchor.clock, frame: label * rates.perLabel, marks: { drop: drop ? 1 : 0, plain: drop ? 0 : 1 } };
}

type FrameOf = (place: number, line: number) => number;

/** How clock places (nanoseconds) become frames: from the anchor, else from the first `start`, else from the first switch. */
function clockFrames(times: ClockTimeReader, rows: ReadRows, anchor: AnchorFrame | undefined, { file }: LogOptions, report: Report): FrameOf {
  const { events } = rows.reader;
  let zero = 0;
  if (anchor !== undefined) {
    const first = events[0]?.at ?? 0;
    // A recorder is set before the show: of two passes of an hour, the last one before the rows.
    const place = nearClock(times, anchor.clock, first, { upTo: first });
    if (isFault(place)) report(problemOf(place, { option: '--anchor' }));
    else zero = place;
  } else zero = recordingStart(events, file, report);
  if (times.line.dateless && rows.map.zone !== undefined) {
    report(problem('found', 'the times have no dates, so the zone is not used, and a change of the clocks inside the show would not be seen', { file }, 'warning'));
  }
  const { first, second } = times.line.passes;
  const at = (line: number | undefined): Place => (line === undefined ? { file } : { file, line });
  if (second > 0) report(problem('found', `the clock steps back here: ${String(second)} times are read as the second pass of the hour that comes twice that night`, at(times.passLines.second)));
  else if (first > 0) report(problem('found', 'times lie in the hour that comes twice that night, and none steps back: all are read as its first pass; write offsets (+01:00) to say otherwise', at(times.passLines.first), 'warning'));
  const { num, den } = rows.rates.list.rate;
  return (at, line) => (anchor?.frame ?? 0) + clockFrame(at - zero, num, den, rows.moved, line);
}

/** Whole milliseconds keep the product small; finer digits go the exact way all the same. */
const clockFrame = (ns: number, num: number, den: number, moved: Moved, line: number): number =>
  ns % 1_000_000 === 0 ? moved.frame(ns / 1_000_000, num, den * 1000, line) : moved.frame(ns, num, den * 1_000_000_000, line);

/** In the log's own form, else in ISO 8601. */
function nearClock(times: ClockTimeReader, text: string, beside: number, pass: Pass): number | Fault {
  const place = times.near(text, beside, 0, pass);
  if (!isFault(place)) return place;
  const iso = readIsoClock(text);
  return isFault(iso) ? place : times.line.near(iso, beside, pass);
}

function recordingStart(events: readonly Draft[], file: string, report: Report): number {
  let start: Draft | undefined;
  let first: Draft | undefined;
  for (const event of events) {
    if (event.action === 'start' && (start === undefined || event.at < start.at)) start = event;
    if (isSwitch(event) && (first === undefined || event.at < first.at)) first = event;
  }
  if (start !== undefined) return start.at;
  if (first === undefined) return events[0]?.at ?? 0;
  report(problem('found', 'no start row says when the recording began: the first switch is taken as its first frame; say --anchor CLOCK=TIMECODE, or add a start row', { file, line: first.line, column: first.column }, 'warning'));
  return first.at;
}

/** `--end`, else what the log says itself, in the log's kind of time, nearest the last row. Of two passes of an hour, the first one after the first row. */
function placeOfEnd({ head, times, reader }: ReadRows, { file, end: asked }: LogOptions, report: Report): number | undefined {
  const end = asked ?? head.end;
  if (end === undefined) return undefined;
  const first = reader.events[0]?.at ?? 0;
  const last = reader.events.reduce((most, { at }) => Math.max(most, at), first);
  const place = times instanceof ClockTimeReader ? nearClock(times, end, last, { from: first + 1 }) : times.near(end, last, 0);
  if (!isFault(place)) return place;
  report(problemOf(place.fault === 'mixed-times' ? fault('bad-time', place.message) : place, asked === undefined ? { file } : { option: '--end' }));
  return undefined;
}

function settle(events: readonly Draft[], { reader }: ReadRows, frameOf: FrameOf): void {
  events.forEach((event, index) => {
    event.at = frameOf(event.at, event.line);
    if (event.end !== undefined) event.end = frameOf(event.end, event.line);
    const shotEnd = reader.ends[index];
    if (shotEnd !== undefined) reader.ends[index] = frameOf(shotEnd, event.line);
  });
  reader.doubled.forEach((both, index) => {
    reader.doubled[index] = { index: both.index, end: frameOf(both.end, events[both.index]?.line ?? 0) };
  });
}

/** What rows say that only shows when all are read. */
function noteRows({ reader, times, moved, actions }: ReadRows, file: string, report: Report): void {
  if (actions.byItself.size > 0) {
    const words = [...actions.byItself].slice(0, 12).map(([word, action]) => `'${word}' as ${action}`);
    report(problem('found', `actions are read by their words: ${words.join(', ')}; map them otherwise in a mapping file`, { file }));
  }
  reader.idle.tell(file, times.kind === 'clock', report);
  if (times instanceof TimecodeReader && times.marks.mixedLine !== undefined) {
    report(problem('found', "labels are marked with ';' and with ':': each is read by its own mark", { file, line: times.marks.mixedLine }, 'warning'));
  }
  if (times instanceof TimecodeReader && times.dottedLine !== undefined) {
    report(problem('found', "labels have '.' before the frames; it is read as ':' is", { file, ...(times.dottedLine === 0 ? {} : { line: times.dottedLine }) }));
  }
  if (moved.largest > 0) {
    const most = moved.largest < 0.001 ? 'less than 0.001' : `at most ${moved.largest.toFixed(3)}`;
    const where = { file, ...(moved.line === 0 ? {} : { line: moved.line }) };
    report(problem('found', `times were moved to whole frames, by ${most} frames${moved.rounding === 'nearest' ? '' : ` (${moved.rounding})`}`, where));
  }
}

/** Transitions with neither duration nor end need a row that completes them; with both, these must agree. */
function checkTransitions({ reader }: ReadRows, file: string, report: Report): void {
  const { events } = reader;
  for (const index of reader.hasDissolveEnd ? [] : reader.open) {
    const event = events[index];
    if (event === undefined) continue;
    report(problem('missing-field', `a ${event.action} needs a duration or an end`, { file, line: event.line, column: event.column }));
  }
  for (const { index, end } of reader.doubled) {
    const event = events[index];
    // A frame apart is the rounding of one of them.
    if (event === undefined || Math.abs(event.at + (event.duration ?? 0) - end) <= 1) continue;
    const message = `the ${event.action} has a duration of ${String(event.duration)} frames, and its end comes ${String(end - event.at)} frames after its time; give one of them`;
    report(problem('bad-duration', message, { file, line: event.line, column: event.column }));
  }
}

/** On which day from label zero's the earliest event lies: below zero before it, above where an anchor, or a row that is ignored, lies on the day before. */
function dayOfEarliest(events: readonly LogEvent[], day: number): number {
  const least = events.reduce((low, { at }) => Math.min(low, at), Infinity);
  return least === Infinity ? 0 : Math.floor(least / day);
}

const shifted = (event: LogEvent, by: number): LogEvent => ({ ...event, at: event.at + by, ...(event.end === undefined ? {} : { end: event.end + by }) });

function notePastMidnight(events: readonly LogEvent[], day: number, origin: 'timecode' | 'recording', file: string, report: Report): void {
  const first = events.find(({ at }) => at >= day);
  if (first === undefined) return;
  const place = { file, line: first.line, column: first.column };
  if (origin === 'timecode') report(problem('past-midnight', 'the log goes on past midnight from here', place, 'note'));
  else report(problem('past-midnight', 'from here on, times pass 24 hours, and labels begin again at zero', place));
}
