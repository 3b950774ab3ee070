/** The cutlog XML writer: a log, put right, in linecut's own vocabulary. Reading it back gives the same events. */
import { createCB } from 'xmlbuilder2';
import type { LogEvent } from '../../cutlist/event.js';
import { oneLine } from '../../cutlist/line.js';
import { PROGRAM } from '../../cutlist/model.js';
import { problem, type Report } from '../../problems.js';
import { countName, hasDropFrame, type Count } from '../../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../timecode/timecode.js';
import type { Output } from '../output.js';

/** What a cutlog holds. */
export interface Cutlog {
  /** For messages. */
  readonly file: string;
  readonly title?: string;
  readonly count: Count;
  /** What the events' frames count from: labels are written for 'timecode', frames for 'recording'. */
  readonly origin: 'timecode' | 'recording';
  /** Whether a `start` lower than the row before is a counter that began again (`LogReading.restarts`). */
  readonly restarts: boolean;
  readonly sources: readonly { readonly id: string; readonly name: string }[];
  readonly events: readonly LogEvent[];
}

/** Characters that are handed on at once. */
const CHUNK = 65_536;

/**
 * Writes the log as XML, piece by piece. Frames of a recording are written from its first frame; where rows lie before it,
 * from the earliest row, which moves no shot. Clock times that became frames are written in order of time, since a counter that
 * goes back would be a new take. Undefined, and reported as `bad-time`, when neighbouring rows of a log of labels
 * lie twelve hours or more apart: no label says on which day it is.
 */
export function writeCutlog(log: Cutlog, report: Report): Output | undefined {
  if (log.origin === 'timecode' && !labelsSuffice(log, report)) return undefined;
  return { format: 'cutlog', suffix: '.cutlog.xml', chunks: chunksOf(log) };
}

function labelsSuffice({ events, count, file }: Cutlog, report: Report): boolean {
  const half = framesPerDay(count) / 2;
  const index = events.findIndex(({ at }, row) => row > 0 && Math.abs(at - (events[row - 1]?.at ?? at)) >= half);
  const event = events[index];
  if (event === undefined) return true;
  report(problem('bad-time', 'this row lies twelve hours or more from the one before, which labels cannot tell; the cutlog is not written', { file, line: event.line, column: event.column }));
  return false;
}

function* chunksOf({ title, count, origin, restarts, sources, events: given }: Cutlog): Generator<string> {
  const events = origin === 'recording' && !restarts ? [...given].sort((a, b) => a.at - b.at) : given;
  let pending = '';
  const xml = createCB({ prettyPrint: true, wellFormed: true, data: (text: string) => { pending += text; } });
  const timeOf = origin === 'timecode' ? (at: number) => formatTimecode(at, count) : framesFrom(events);
  xml.dec({ encoding: 'UTF-8' }).ele('cutlog', {
    version: '1',
    rate: rateText(count),
    timeAs: origin === 'timecode' ? 'timecode' : 'frames',
    ...(title === undefined ? {} : { title: oneLine(title) }),
  });
  for (const { id, name } of sources) if (id !== PROGRAM) xml.ele('source', { id: oneLine(id), name: oneLine(name) }).up();
  for (const event of events) {
    xml.ele('event', attributesOf(event, timeOf)).up();
    if (pending.length >= CHUNK) {
      yield pending;
      pending = '';
    }
  }
  xml.up().end();
  yield `${pending}\n`;
}

function attributesOf({ action, at, source, duration, end, wipe, note }: LogEvent, timeOf: (at: number) => string): Record<string, string> {
  const fields: Record<string, string> = { time: timeOf(at), action };
  if (source !== undefined) fields['source'] = oneLine(source);
  if (duration !== undefined) fields['duration'] = String(duration);
  if (end !== undefined) fields['end'] = timeOf(end);
  if (wipe !== undefined) fields['wipe'] = String(wipe);
  if (note !== undefined) fields['note'] = oneLine(note);
  return fields;
}

function framesFrom(events: readonly LogEvent[]): (at: number) => string {
  const zero = events.reduce((least, { at }) => Math.min(least, at), 0);
  return (at) => String(at - zero);
}

/** `29.97ndf` where a bare rate would leave it to the labels. */
const rateText = (count: Count): string => (hasDropFrame(count.rate) && !count.dropFrame ? `${countName(count)}ndf` : countName(count));
