/** What a speed line says of an event, held against its columns. */
import { relabel } from '../../timecode/label.js';
import { RATES, type Count } from '../../timecode/rate.js';
import { countOf, formatTimecode } from '../../timecode/timecode.js';
import { speedTenths } from './columns.js';
import type { EdlDocument, EdlEvent } from './document.js';
import type { SayAt } from './lanes.js';

/** A speed line has one digit behind the point: by so many source frames a second it may be beside what is meant. A known rate is cut off, too (29.9). */
const ROUNDED = 0.0501;
const CUT_OFF = 0.1001;

/**
 * The source out-point of an event with a speed line of `speed` source frames a second (not below zero). It is that of the columns
 * where the speed explains them: to a frame, and to what a tenth of a frame a second is rounded to. Columns that repeat the
 * record length beside a speed that is no recording's rate leave the speed to say how much is played; other contradictions
 * are left as the columns have them. Both are reported (`length-differs`, a warning). Source frames from label zero. What is said
 * to `sayOfReel` is wanted once a reel.
 */
export function playedOut(event: EdlEvent, speed: number, { count }: EdlDocument, say: SayAt, sayOfReel: (message: string) => void): number {
  const { number, reel, sourceCount, sourceIn, sourceOut, recordIn, recordOut } = event;
  const { rate } = count;
  const record = recordOut - recordIn;
  const seconds = (record * rate.den) / rate.num;
  const [used, wanted] = [sourceOut - sourceIn, speed * seconds];
  const own = RATES.find((known) => Math.abs(known.num / known.den - speed) < 0.1);
  const beside = (own === undefined ? ROUNDED : CUT_OFF) * seconds;
  const explained = (frames: number, by: number): boolean => Math.abs(frames - wanted) <= by + beside;
  const what = `event ${String(number)}: ${String(speed)} source frames a second make ${String(Math.round(wanted))} frames, and the source side has ${String(used)}`;
  if (own === undefined && used === record && sourceCount.rate.nominal === rate.nominal) {
    if (explained(used, 0.5)) return sourceOut;
    const out = sourceIn + Math.round(wanted);
    const read = speed === 0 ? `read as the frame ${formatTimecode(sourceIn, sourceCount)}, held` : `read at that speed, up to ${formatTimecode(out, sourceCount)}`;
    say('length-differs', 'source-in', `${what}, as the record side; ${read}`, 'warning');
    return out;
  }
  // At a recording's own rate it plays on from its in-point; where its file ends within a frame of the list, two are missing at most.
  if (explained(used, own === undefined ? 1 : 2)) return sourceOut;
  // A source that runs at another rate is written in its own labels, and nothing but the speed line may say so.
  const labels = own === undefined ? sourceCount : countOf(own, false);
  if (explained(relabel(sourceOut, sourceCount, labels) - relabel(sourceIn, sourceCount, labels), 1)) {
    sayOfReel(`the speed lines of ${reel} are read as the rate of its recording, ${labels.rate.name}, played at real speed: its labels fit that; the rate is not kept`);
    return sourceOut;
  }
  say('length-differs', 'source-in', `${what}; the source side counts, and the record side has ${String(record)}`, 'warning');
  return sourceOut;
}

/** The speed that an event's speed line says, times real speed, where the `played` source frames tell another one; undefined where they tell it, or there is none. */
export function speedOf({ speed, recordIn, recordOut, sourceCount: { rate } }: EdlEvent, played: number, list: Count): number | undefined {
  const said = speed === undefined ? undefined : Math.round(Math.abs(speed) * 10);
  if (said === undefined || said === speedTenths(played, recordOut - recordIn, list.rate)) return undefined;
  return (said * rate.den) / (10 * rate.num);
}
