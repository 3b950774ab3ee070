/** What a speed line says of an event, held against its columns. */
import { RATES, type Rate } from '../../timecode/rate.js';
import { formatTimecode } from '../../timecode/timecode.js';
import type { EdlDocument, EdlEvent } from './document.js';
import type { SayAt } from './lanes.js';

/** A speed line has one digit behind the point: by so many source frames a second it may be beside what is meant. A known rate is cut off, too (29.9). */
const ROUNDED = 0.0501;
const CUT_OFF = 0.1001;

/** The rates that a speed line may mean. */
export const knownRates = (speed: number): Rate[] => RATES.filter(({ num, den }) => Math.abs(num / den - speed) < 0.1);

const wantedFrames = ({ recordIn, recordOut }: EdlEvent, speed: number, { count: { rate } }: EdlDocument): number => (speed * (recordOut - recordIn) * rate.den) / rate.num;

/** Whether an event at `speed` plays `frames` source frames: to `by` frames, and to what its speed line may be beside. */
export function explains(event: EdlEvent, speed: number, document: EdlDocument, frames: number, by: number): boolean {
  const beside = knownRates(speed).length === 0 ? ROUNDED : CUT_OFF;
  return Math.abs(frames - wantedFrames(event, speed, document)) <= by + wantedFrames(event, beside, document);
}

/**
 * The source out-point of an event with a speed line of `speed` source frames a second (not below zero). It is that of the columns
 * where the speed explains them. Columns that repeat the record length beside another speed leave the speed to say how much is
 * played; other contradictions are left as the columns have them. Both are reported (`length-differs`, a warning). Source frames from label zero.
 */
export function playedOut(event: EdlEvent, speed: number, document: EdlDocument, say: SayAt): number {
  const { number, sourceCount, sourceIn, sourceOut, recordIn, recordOut } = event;
  const [used, record] = [sourceOut - sourceIn, recordOut - recordIn];
  const repeated = used === record && sourceCount.rate.nominal === document.count.rate.nominal;
  if (explains(event, speed, document, used, repeated ? 0.5 : 1)) return sourceOut;
  const wanted = Math.round(wantedFrames(event, speed, document));
  const what = `event ${String(number)}: ${String(speed)} source frames a second make ${String(wanted)} frames, and the source side has ${String(used)}`;
  if (repeated) {
    const out = sourceIn + wanted;
    const read = speed === 0 ? `read as the frame ${formatTimecode(sourceIn, sourceCount)}, held` : `read at that speed, up to ${formatTimecode(out, sourceCount)}`;
    say('length-differs', 'source-in', `${what}, as the record side; ${read}`, 'warning');
    return out;
  }
  say('length-differs', 'source-in', `${what}; the source side counts, and the record side has ${String(record)}`, 'warning');
  return sourceOut;
}
