/** The cutlog XML writer: a log, put right, in linecut's own vocabulary. Reading it back gives the same events. */
import { createCB } from 'xmlbuilder2';
import { withAmpersands } from '../../ampersand.js';
import type { LogEvent } from '../../cutlist/event.js';
import { oneLine } from '../../cutlist/line.js';
import { PROGRAM } from '../../cutlist/model.js';
import { problem, type Report } from '../../problems.js';
import { rateText, type Count } from '../../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../timecode/timecode.js';
import { ENDINGS } from '../endings.js';
import { CHUNK, type Output } from '../output.js';

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
  /** Frame on which the list ends, where that was asked for. */
  readonly endAt?: number;
}

/**
 * Writes the log as XML, piece by piece. Frames of a recording are written from its first frame, and are negative where rows
 * lie before it. Clock times that became frames are written in order of time, since a counter that
 * goes back would be a new take. Undefined, and reported as `bad-time`, when neighbouring rows of a log of labels, a transition's two
 * ends, or the end of the list and the last row, lie twelve hours or more apart: no label says on which day it is.
 */
export function writeCutlog(log: Cutlog, report: Report): Output | undefined {
  if (log.origin === 'timecode' && !labelsSuffice(log, report)) return undefined;
  return { format: 'cutlog', suffix: ENDINGS.cutlog, chunks: chunksOf(log) };
}

function labelsSuffice({ events, count, file, endAt }: Cutlog, report: Report): boolean {
  const half = framesPerDay(count) / 2;
  const far = events.findIndex(({ at }, row) => row > 0 && Math.abs(at - (events[row - 1]?.at ?? at)) >= half);
  const long = events.findIndex(({ at, end }) => end !== undefined && end - at >= half);
  const last = events.reduce((most, { at }) => Math.max(most, at), -Infinity);
  const refuse = (what: string, event: LogEvent | undefined): false => {
    const message = `${what}, which labels cannot tell; the cutlog is not written`;
    report(problem('bad-time', message, event === undefined ? { option: '--end' } : { file, line: event.line, column: event.column }));
    return false;
  };
  if (far !== -1) return refuse('this row lies twelve hours or more from the one before', events[far]);
  if (long !== -1) return refuse('this transition takes twelve hours or more', events[long]);
  return endAt === undefined || Math.abs(endAt - last) < half || refuse('the end lies twelve hours or more from the last row', undefined);
}

function* chunksOf({ title, count, origin, restarts, sources, events: given, endAt }: Cutlog): Generator<string> {
  const events = origin === 'recording' && !restarts ? [...given].sort((a, b) => a.at - b.at) : given;
  let pending = '';
  const xml = createCB({ prettyPrint: true, wellFormed: true, data: (text: string) => { pending += text; } });
  const timeOf = origin === 'timecode' ? (at: number) => formatTimecode(at, count) : String;
  xml.dec({ encoding: 'UTF-8' }).ele('cutlog', {
    version: '1',
    rate: rateText(count),
    timeAs: origin === 'timecode' ? 'timecode' : 'frames',
    ...(title === undefined ? {} : { title: plain(title) }),
    ...(endAt === undefined ? {} : { end: timeOf(endAt) }),
  });
  for (const { id, name } of sources) if (id !== PROGRAM) xml.ele('source', { id: plain(id), name: plain(name) }).up();
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
  if (source !== undefined) fields['source'] = plain(source);
  if (duration !== undefined) fields['duration'] = String(duration);
  if (end !== undefined) fields['end'] = timeOf(end);
  if (wipe !== undefined) fields['wipe'] = String(wipe);
  if (note !== undefined) fields['note'] = plain(note);
  return fields;
}

const plain = (text: string): string => withAmpersands(oneLine(text));
