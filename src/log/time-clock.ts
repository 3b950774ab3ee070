/** Clock times of a log as places on its line of time. */
import { fault, isFault, type Fault } from '../problems.js';
import { readIsoClock, type ClockReader } from '../timecode/clock.js';
import { ClockLine, type Pass, type Zone } from '../timecode/zone.js';
import { otherKind } from './kinds.js';
import type { TimeReader } from './time.js';

/** Clock times. Places are nanoseconds since the first row's midnight (UTC). */
export class ClockTimeReader implements TimeReader {
  readonly kind = 'clock';
  readonly line: ClockLine;
  readonly #read: ClockReader;
  readonly #isSaid: boolean;
  /** Lines of the first rows that were read as the first and as the second pass of an hour that comes twice. */
  readonly passLines: { first?: number; second?: number } = {};

  constructor(read: ClockReader | undefined, zone: Zone | undefined, isSaid: boolean) {
    this.#isSaid = isSaid;
    this.#read = read ?? readIsoClock;
    this.line = new ClockLine(zone);
  }

  next(text: string, line: number): number | Fault {
    const clock = this.#text(text);
    const at = isFault(clock) ? clock : withText(text, this.line.next(clock));
    const { first, second } = this.line.passes;
    if (first > 0) this.passLines.first ??= line;
    if (second > 0) this.passLines.second ??= line;
    return at;
  }

  passOver(text: string): void {
    const clock = this.#read(text);
    if (!isFault(clock)) this.line.passOver(clock);
  }

  /** `pass` says which pass is meant of an hour that comes twice; without it, the first that does not lie before `beside`. */
  near(text: string, beside: number, _line: number, pass?: Pass): number | Fault {
    const clock = this.#text(text);
    return isFault(clock) ? clock : withText(text, this.line.near(clock, beside, pass));
  }

  #text(text: string): ReturnType<ClockReader> {
    const clock = this.#read(text);
    return isFault(clock) ? otherKind(text, this.kind, clock, this.#isSaid) : clock;
  }
}

/** A fault of the line of time does not know the text. */
const withText = (text: string, at: number | Fault): number | Fault => (isFault(at) ? fault(at.fault, `${text.slice(0, 40)}: ${at.message}`) : at);
