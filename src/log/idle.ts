/** What cuts carry that a cut does not need, a duration or an end: an oversight, or a log with a row a shot. */
import { problem, type Report } from '../problems.js';

/** One cut, as its row has it. */
export interface CutRow {
  readonly line: number;
  /** Its place; frames unless the log has clock times. */
  readonly at: number;
  /** A word said that it is a cut; a row without one is taken for a cut. */
  readonly isNamed: boolean;
}

export class IdleFields {
  #durations = 0;
  #durationLine = 0;
  /** Cuts with a duration whose action is blank. */
  #unnamed = 0;
  /** Where the last cut with a duration would end, and how many end just where the next switch comes. */
  #reach = NaN;
  #met = 0;
  #ends = 0;
  #endLine = 0;
  #cuts = 0;
  #transitions = 0;

  /** Takes every switch of the log. */
  switchAt(at: number, isCut: boolean): void {
    if (isCut) this.#cuts += 1;
    else this.#transitions += 1;
    if (at === this.#reach) this.#met += 1;
  }

  /** A cut with a duration, in frames; undefined where it is none, or where places are no frames. */
  duration({ line, at, isNamed }: CutRow, frames: number | undefined): void {
    if (this.#durations === 0) this.#durationLine = line;
    this.#durations += 1;
    if (!isNamed) this.#unnamed += 1;
    this.#reach = at + (frames ?? NaN);
  }

  /** A cut with an end. One on the cut's own time says nothing: it counts beside others, and is not the first. */
  end({ line }: CutRow, isLater: boolean): void {
    this.#ends += 1;
    if (isLater && this.#endLine === 0) this.#endLine = line;
  }

  /** After the last row. `isClock`: the log has clock times, in which a shot needs an end. */
  tell(file: string, isClock: boolean, report: Report): void {
    if (this.#durations > 0) this.#tellDurations({ file, line: this.#durationLine }, isClock, report);
    if (this.#endLine > 0) {
      const what = `${cuts(this.#ends)} an end, which a cut does not need: not used; where a row is a shot, say "rowsAre": "shots" in a mapping`;
      report(problem('found', what, { file, line: this.#endLine }, 'warning'));
    }
  }

  #tellDurations(place: { readonly file: string; readonly line: number }, isClock: boolean, report: Report): void {
    const what = `${cuts(this.#durations)} a duration, which a cut does not need: not used`;
    const mix = 'map the action where it is a dissolve';
    if (!this.#areShots()) report(problem('found', `${what}; ${mix}`, place));
    else report(problem('found', `${what}; where a row is a shot, ${isClock ? 'give it its end and ' : ''}say "rowsAre": "shots" in a mapping; ${mix}`, place, 'warning'));
  }

  /** Most cuts have a duration and none has a word for it, in a log without transitions; or durations reach to the next switch. */
  #areShots(): boolean {
    const areBlank = this.#transitions === 0 && this.#unnamed * 2 >= this.#cuts;
    return areBlank || (this.#durations > 1 && this.#met * 2 >= this.#durations - 1);
  }
}

const cuts = (count: number): string => (count === 1 ? '1 cut has' : `${String(count)} cuts have`);
