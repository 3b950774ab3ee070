/** The four labels of an event as frames. */
import { sourceLength } from '../../cutlist/sync.js';
import { isFault, type Code, type Fault, type Place, type Severity } from '../../problems.js';
import type { Count, Rate } from '../../timecode/rate.js';
import { countOf, framesPerDay, hasDropMark, parseCount, parseTimecode } from '../../timecode/timecode.js';
import { isBlackReel } from './columns.js';
import type { EdlDocument } from './document.js';
import { fieldColumn, type EventFields, type FieldName } from './tokens.js';

export interface Points {
  readonly sourceCount: Count;
  readonly sourceIn: number;
  readonly sourceOut: number;
  readonly recordIn: number;
  readonly recordOut: number;
  /** Where the source side runs backwards: its out-point as written, for the speed line that may follow, and what to say where none does. */
  readonly backwards?: { readonly sourceOut: number; readonly complain: () => void };
}

/**
 * A label as a frame in [0, 24 h), and how it was read: its own mark decides, without one `plainDrops` does. A `.` says
 * nothing, like `:`. Faults: `bad-time`, `dropped-label`.
 */
export function readLabel(label: string, rate: Rate, plainDrops: boolean): { readonly frame: number; readonly dropFrame: boolean } | Fault {
  const text = label.includes('.') ? label.replace(/\./g, ':') : label;
  const dropFrame = plainDrops || hasDropMark(text);
  const frame = parseTimecode(text, { rate, dropFrame });
  return isFault(frame) ? frame : { frame, dropFrame };
}

const FIELDS: readonly FieldName[] = ['source-in', 'source-out', 'record-in', 'record-out'];

/**
 * The event's points, or undefined when one cannot be read. A label that drop-frame skips is reported and read as the next
 * one there is; an out-point before its in-point is past midnight, or, where the other side tells otherwise, taken from that side: reported, or of the source side
 * left to `backwards` to report.
 */
export function readPoints(
  document: EdlDocument,
  fields: EventFields,
  fcm: boolean | undefined,
  text: string,
  line: number,
  say: (code: Code, message: string, place: Place, severity?: Severity) => void,
): Points | undefined {
  const source = sourceCountOf(document, fields.reel, fields.labels[0] ?? '', fcm);
  const frames: number[] = [];
  FIELDS.forEach((field, index) => {
    const label = fields.labels[index] ?? '';
    const { rate, dropFrame } = index < 2 ? source : { rate: document.count.rate, dropFrame: document.plainDrops };
    let read = readLabel(label, rate, dropFrame);
    if (isFault(read)) {
      say(read.fault, read.message, { line, column: fieldColumn(text, field) });
      if (read.fault !== 'dropped-label') return;
      read = readLabel(`${label.slice(0, -2)}${String(rate.dropped).padStart(2, '0')}`, rate, dropFrame);
      if (isFault(read)) return;
    }
    frames.push(read.frame);
  });
  const [sourceIn, sourceOut, recordIn, recordOut] = frames;
  if (sourceIn === undefined || sourceOut === undefined || recordIn === undefined || recordOut === undefined) return undefined;
  return straighten({ sourceCount: source, sourceIn, sourceOut, recordIn, recordOut }, document.labels, (side, other) => {
    const message = `the ${side} out-point lies before the in-point; the length was taken from the ${other} side`;
    say('bad-event', message, { line, column: fieldColumn(text, `${side}-out`) });
  });
}

function sourceCountOf(document: EdlDocument, reel: string, label: string, fcm: boolean | undefined): Count {
  const key = reel.toUpperCase();
  const list = document.count;
  if (isBlackReel(key)) return list;
  const said = parseCount(document.reels.get(key)?.rate ?? '');
  const drops = isFault(said) ? (fcm ?? document.plainDrops) : said.dropFrame;
  return countOf((isFault(said) ? list : said).rate, hasDropMark(label) || drops);
}

/** Moves out-points past midnight where they belong. */
function straighten(points: Points, list: Count, complain: (side: 'source' | 'record', other: string) => void): Points {
  const { sourceCount, sourceIn, recordIn } = points;
  let { sourceOut, recordOut } = points;
  const [sourceDay, recordDay] = [framesPerDay(sourceCount), framesPerDay(list)];
  const sourceBack = sourceOut < sourceIn;
  const recordBack = recordOut < recordIn;
  if (sourceBack) sourceOut += sourceDay;
  if (recordBack) recordOut += recordDay;
  const asSource = sourceLength(sourceOut - sourceIn, sourceCount, list);
  if (asSource === recordOut - recordIn) return { ...points, sourceOut, recordOut };
  // More than half a day on one side only is a slip of the pen, not a night.
  if (recordBack && recordOut - recordIn > recordDay / 2 && asSource <= recordDay / 2) {
    complain('record', 'source');
    recordOut = recordIn + asSource;
  } else if (sourceBack && sourceOut - sourceIn > sourceDay / 2 && recordOut - recordIn <= recordDay / 2) {
    const backwards = { sourceOut: points.sourceOut, complain: (): void => { complain('source', 'record'); } };
    sourceOut = sourceIn + sourceLength(recordOut - recordIn, list, sourceCount);
    return { ...points, sourceOut, recordOut, backwards };
  }
  return { ...points, sourceOut, recordOut };
}
