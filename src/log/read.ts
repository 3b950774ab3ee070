/** Reading a log, from bytes to events: decode → rows → what the rows say → frames. */
import { isSwitch } from '../cutlist/event.js';
import { known } from '../known.js';
import { problem, reportFaults, type Report } from '../problems.js';
import { isClockReady } from '../timecode/luxon.js';
import { readCsvRows } from './csv.js';
import { decodeText } from './decode.js';
import { eventsOnFrames } from './frames.js';
import { MAX_BYTES, MAX_ROWS } from './limits.js';
import type { Mapping } from './mapping.js';
import { foundMapping, tellSource } from './found.js';
import type { LogOptions, LogReading } from './reading.js';
import { LogSink } from './sink.js';
import type { Moved } from './time.js';
import { readXmlRows } from './xml.js';

/**
 * Reads a log. Undefined when it has errors (all of them are reported), unless `partial`. Before logs with `clockFormat` or
 * `zone` in their mapping, `await loadClock(map)`; without it, `bad-option`.
 */
export function readLog(input: string | Uint8Array, options: LogOptions, report: Report): LogReading | undefined {
  const { file, map } = options;
  if (reportFaults(report, options.rate, options.logRate)) return undefined;
  if (!isClockReady(map)) {
    report(problem('bad-option', 'its mapping has clockFormat or zone; await loadClock(map) before readLog', { file }));
    return undefined;
  }
  let errors = 0;
  const counting: Report = (found) => {
    if (found.severity === 'error') errors += 1;
    report(found);
  };
  const maxBytes = options.maxBytes ?? MAX_BYTES;
  const decoding = { file, maxBytes, ...(map?.encoding === undefined ? {} : { encoding: map.encoding }) };
  const text = typeof input === 'string' ? withinLimit(input, maxBytes, file, counting) : decodeText(input, decoding, counting);
  if (text === undefined) return undefined;
  if (!/\S/.test(text)) {
    report(problem('no-events', 'the log is empty', { file }));
    return undefined;
  }
  const sink = new LogSink(options, counting);
  const timeAs = options.timeAs ?? map?.timeAs ?? (options.anchor !== undefined || map?.zone !== undefined ? 'clock' : undefined);
  const readRows = isXml(text, map) ? readXmlRows : readCsvRows;
  readRows(text, { file, maxRows: options.maxRows ?? MAX_ROWS, ...known({ map, timeAs }) }, sink, counting);
  const rows = sink.finish();
  if (rows === undefined) return undefined;
  const placed = eventsOnFrames(rows, options, counting);
  if (errors === 0 && !placed.events.some(isSwitch)) {
    counting(problem('no-events', 'nothing in this log puts a picture on air: it has no cut, dissolve or wipe', { file }));
  }
  tellSource(rows, file, counting);
  if (errors > 0 && options.partial !== true) return undefined;
  return {
    ...placed,
    timeAs: rows.times.kind,
    ...(rows.head.title === undefined ? {} : { title: rows.head.title }),
    sources: rows.sources.named,
    head: rows.head,
    ...movedOf(rows.moved),
    ignored: rows.reader.ignored,
    map: foundMapping(rows),
  };
}

const movedOf = ({ largest, line }: Moved): Pick<LogReading, 'moved'> => (largest === 0 ? {} : { moved: { frames: largest, line } });

/** XML begins with '<', and only XML has a path to its rows. */
export const isXml = (text: string, map: Mapping | undefined): boolean => map?.rows !== undefined || /^\uFEFF?\s*</.test(text);

function withinLimit(text: string, maxBytes: number, file: string, report: Report): string | undefined {
  if (text.length <= maxBytes) return text;
  report(problem('too-large', `the log has ${String(text.length)} characters; the limit is ${String(maxBytes)}, and --max-bytes raises it`, { file }));
  return undefined;
}
