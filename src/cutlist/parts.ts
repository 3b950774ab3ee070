/** What a shot or a piece of sound can really play: its own recording, else the program recording, else black (rule 11). */
import type { Count } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import { cover, type Part } from './cover.js';
import { BLACK, PROGRAM, type CutList, type Source } from './model.js';
import { Recordings, toSource, type SourceRecording } from './recording.js';
import { logFrameOf, numberedTake, Run, sourceFrame, sourceLength, type NumberedTake, type Played } from './sync.js';

/** A stretch as it was asked for: of a shot, or of a piece of sound. */
export interface Asked extends Played {
  readonly source: string;
  readonly take: number;
  readonly file?: number;
}

/** Looks up recordings for the parts of one list. */
export class PartFinder {
  readonly #sources: ReadonlyMap<string, Source>;
  readonly #program: Source | undefined;
  readonly #takes: (NumberedTake | undefined)[];
  readonly #count: Count;
  readonly recordings = new Recordings();

  /**
   * With `namesFiles` the list says itself what each of its pieces plays from. It has the sources of which every piece did, and every file is known, and those
   * without a file that begin somewhere: a new piece is found its file among those; a piece of another source that was recorded stays as it is where it names none.
   */
  constructor(
    list: Pick<CutList, 'sources' | 'takes' | 'count'>,
    readonly namesFiles?: ReadonlySet<string>,
  ) {
    this.#sources = new Map(list.sources.map((source) => [source.id, source]));
    const program = this.#sources.get(PROGRAM);
    this.#program = program?.recorded === true ? program : undefined;
    this.#takes = list.takes.map((_, index) => numberedTake(list.takes, index));
    this.#count = list.count;
  }

  /** The parts that play [from, out) of what was asked for, without hole or overlap. */
  of(asked: Asked, from = asked.in): Part[] {
    const source = this.#sources.get(asked.source);
    const named = this.namesFiles !== undefined && asked.file !== undefined;
    if (source?.recorded === false && !named) return this.#instead(asked, from, asked.out, { why: 'unrecorded', source, in: from, out: asked.out, hole: undefined });
    if (source === undefined || (this.namesFiles && !(asked.file === undefined ? this.namesFiles.has(source.id) : isKnown(source, asked.file)))) return [this.#asIs(asked, from)];
    const parts = cover(asked, source, this.#recordingOf(source, asked), this.#count, from);
    if (parts.every(({ missing }) => missing === undefined)) return parts;
    return parts.flatMap((part) => (part.missing === undefined ? [part] : this.#instead(asked, part.in, part.out, part.missing)));
  }

  /** What was asked for, all of it, from the file that it names, whether that holds it or not. */
  asItIs(asked: Asked): Part {
    const part = this.#asIs(asked, asked.in);
    const source = this.#sources.get(asked.source);
    const span = source === undefined || asked.file === undefined ? undefined : this.#recordingOf(source, asked).byFile.get(asked.file);
    return source === undefined || span === undefined ? part : { ...part, run: new Run(asked, this.#count, source.count), end: span.end - span.days };
  }

  /** The same from the file that is named, and from no other; undefined where none is, or nothing is known of where it begins. */
  inItsFile(asked: Asked): Part[] | undefined {
    const source = this.#sources.get(asked.source);
    if (source === undefined || asked.file === undefined || source.files[asked.file]?.start === undefined) return undefined;
    return cover(asked, source, this.recordings.ofFile(source, asked.file), this.#count);
  }

  /**
   * Where files of a source lie on labels that have little to do with one another (each from zero), or are not known, a piece that names one
   * plays from no other: which of them holds a label cannot be told. A recorder that overlaps its files does so by a small part of them.
   */
  #recordingOf(source: Source, { take, file }: Asked): SourceRecording {
    const whole = this.recordings.of(source, this.#takes[take]);
    if (this.namesFiles === undefined || file === undefined || source.files.length === 1) return whole;
    return source.files.some(({ start }) => start === undefined) || whole.overlaps.some((overlap) => isLarge(overlap, source)) ? this.recordings.ofFile(source, file) : whole;
  }

  /** The mix to `asked` on [from, out), which touches frames of the program, as the program shows it. `before` is what it comes from. */
  mix(asked: Asked, before: Asked | undefined, from: number, out: number): Part[] {
    // Black has no frames that say which moment it is: without a log, it is that of the shot before, going on.
    const timeless = asked.source === BLACK && this.#takes[asked.take]?.origin === undefined;
    return this.#onProgram(timeless ? (before ?? asked) : asked, from, out, { why: 'mix' });
  }

  /** What stands for [from, out) where a recording lacks it: the program, but for itself. */
  #instead(asked: Asked, from: number, out: number, missing: Part['missing']): Part[] {
    return asked.source === PROGRAM ? [black(from, out, missing)] : this.#onProgram(asked, from, out, missing);
  }

  /** The program recording on [from, out), in sync with what was asked for; black where there is none. */
  #onProgram(asked: Asked, from: number, out: number, missing: Part['missing']): Part[] {
    const program = this.#program;
    if (program === undefined) return [black(from, out, missing)];
    const take = this.#takes[asked.take];
    const sourceIn = this.#programFrame(program, asked, take, from);
    const stretch = { in: from, out, sourceIn, sourceOut: sourceIn + sourceLength(out - from, this.#count, program.count) };
    return cover(stretch, program, this.recordings.of(program, take), this.#count)
      .map((part) => (part.missing === undefined ? { ...part, missing } : black(part.in, part.out, missing)));
  }

  /** The last source frame (exclusive) of a placed stretch that ends, earlier or later than it did, on record frame `out` within its file. */
  sourceOutAt(asked: Asked, out: number): number {
    const source = this.#sources.get(asked.source);
    if (source === undefined) return asked.sourceOut + out - asked.out;
    const sourceOut = asked.sourceIn + new Run(asked, this.#count, source.count).lengthOf(asked.in, out);
    return this.of({ ...asked, out, sourceOut })[0]?.sourceOut ?? sourceOut;
  }

  get hasProgram(): boolean {
    return this.#program !== undefined;
  }

  /** The program's frame of the moment that `asked` shows on `at`: by the log where the stretch is where the log has it, on whichever day, else by its source frame. */
  #programFrame(program: Source, asked: Asked, take: NumberedTake | undefined, at: number): number {
    const source = this.#sources.get(asked.source);
    const any: NumberedTake = take ?? { in: 0, out: 1, logIn: 0, number: 1 };
    let moment = any.logIn + asked.in - any.in;
    if (source !== undefined && (asked.sourceIn - sourceFrame(source, any, moment, this.#count)) % framesPerDay(source.count) !== 0) moment = logFrameOf(source, any, asked.sourceIn, this.#count);
    return sourceFrame(program, any, moment + at - asked.in, this.#count);
  }

  #asIs(asked: Asked, from: number): Part {
    const { source, out, sourceIn, sourceOut, file } = asked;
    if (source === BLACK) return { source, in: from, out, sourceIn: 0, sourceOut: out - from, file: undefined, missing: undefined, run: undefined, end: Infinity };
    return { source, in: from, out, sourceIn: sourceIn + from - asked.in, sourceOut, file, missing: undefined, run: undefined, end: Infinity };
  }
}

/** Whether two files share half of the shorter one, or more. */
const isLarge = ({ file, with: other, frames }: SourceRecording['overlaps'][number], source: Source): boolean =>
  [file, other].some((index) => { const one = source.files[index]; return one?.frames !== undefined && 2 * frames >= toSource(one.frames, one, source); });

/** Whether it is known where a file of a source begins: by itself, or as the only one of a source whose start is known. */
const isKnown = ({ files, starts }: Source, file: number | undefined): boolean =>
  file !== undefined && (files[file]?.start !== undefined || (files.length === 1 && starts.length === 1));

const black = (from: number, out: number, missing: Part['missing']): Part =>
  ({ source: BLACK, in: from, out, sourceIn: 0, sourceOut: out - from, file: undefined, missing, run: undefined, end: Infinity });
