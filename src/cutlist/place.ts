/** The recordings behind a list (contract §4 end, §5 rules 11 and 12): files, holes, bounds, handles, rates. */
import { problem, type Code, type Place, type Report } from '../problems.js';
import { anglesOf } from './angles.js';
import { PROGRAM, type AudioPiece, type CutList, type EventRef, type Shot, type Source } from './model.js';
import { sourceText } from './naming.js';
import type { Missing } from './cover.js';
import { finderAfter } from './known-files.js';
import { PartFinder } from './parts.js';
import { pathOf } from './recording.js';
import { reportRecordings } from './place-notes.js';
import { placeShots, type ShortOf } from './place-shots.js';
import { placeSound } from './place-sound.js';
import { withoutSeams } from './seams.js';
import { labelHint } from './rates.js';
import { recordLabel } from './record.js';
import { framesText } from '../frames-text.js';

/**
 * Puts a list on its recordings. Shots and sound get the file that they play from, and are divided where a file ends. What was not
 * recorded (`not-recorded`), lies before or behind a recording (`beyond-recording`) or in a hole between two files
 * (`recording-hole`) comes from the program recording, in sync, else it is black, and sound is silent. A transition that touches a
 * shot from the program comes from the program as a whole (`transition-replaced`); one that a recording cannot feed to its
 * end is shortened (`short-handle`). Files that overlap (`recording-overlap`), files nobody can place (`unplaced-file`), channels that
 * are not there (`missing-channel`), other rates (`rate-differs`) and unused recordings (`unused-recording`) are reported.
 *
 * A source whose files have no known start counts as having everything; in a log that is counted from the recording, from its first
 * frame on. Placing a placed list again changes nothing.
 * `placeOf` says where the row of a shot stands in its log.
 */
export function placeOnRecordings(list: CutList, report: Report, placeOf?: (event: EventRef) => Place | undefined): CutList {
  const finder = new PartFinder(list);
  if (nothingToPlace(list)) {
    reportRecordings(list, list, finder.recordings, new Set(), report);
    return list.angles === undefined ? list : { ...list, angles: anglesOf(list) };
  }
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const news = new News(list, finder.hasProgram, report, placeOf);
  const placed = placeShots(list.shots, finder, news.ofShots);
  const audio = placeSound(list, placed, sources, finder, news.ofSound);
  const onFiles: CutList = { ...list, shots: placed.shots, audio };
  // Only of a list that is placed once more: what a log says goes on in nothing.
  const ready = list.shots.some(goesOn) || list.audio.some(goesOn) ? withoutSeams(onFiles) : onFiles;
  reportRecordings(list, ready, finder.recordings, news.holes, report);
  return list.angles === undefined ? ready : { ...ready, angles: anglesOf(ready) };
}

/**
 * The same for a list that was read and then changed: `before` is what was read. A list says itself what it plays from, and what it plays
 * stays, wherever it lies now; what a change uncovers is held against what the list knows of its files (`beyond-recording`,
 * `recording-hole`, `short-handle`, …).
 */
export function placeChanged(list: CutList, before: CutList, report: Report): CutList {
  const isUnknown = list.sources.every(({ files, starts }) => starts.length === 0 && files.every(({ start }) => start === undefined));
  if (list === before || (isUnknown && before.shots.every(({ instead }) => instead === undefined))) return list;
  // A source that a correction counts anew has other frames than it was read with.
  const recounted = new Set(list.sources.filter((source) => before.sources.find(({ id }) => id === source.id)?.count !== source.count).map(({ id }) => id));
  const finder = finderAfter(list, before, recounted);
  const news = new News(list, finder.hasProgram, report, undefined);
  const kept = new Set<Shot | AudioPiece>([...before.shots, ...before.audio]);
  const isKept = (piece: Shot | AudioPiece): boolean => kept.has(piece) || recounted.has(piece.source);
  const placed = placeShots(list.shots, finder, news.ofShots, isKept);
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  return withoutSeams({ ...list, shots: placed.shots, audio: placeSound(list, placed, sources, finder, news.ofSound, isKept) }, before);
}

/** Of no source is anything known, nor is one asked for what lies before its first frame: each counts as having everything, without an end, so that every shot stays as it is. */
const nothingToPlace = ({ sources, takes, shots, audio }: CutList): boolean => {
  const isLate = sources.every(({ offset }) => offset >= 0);
  return sources.every(({ recorded, files, starts }) => recorded && files.length === 0 && starts.length === 0)
    && takes.every(({ origin, logIn, counterIn = 0 }) => origin !== 'recording' || (isLate && logIn >= counterIn)) && shots.every(isPlain) && audio.every(isPlain);
};

const goesOn = ({ continues }: Pick<Shot, 'continues'>): boolean => continues === true;

/** Without a file, and with a mix that is no longer than it. */
const isPlain = ({ in: into, out, file, transition }: Pick<Shot, 'in' | 'out' | 'file' | 'transition'>): boolean =>
  file === undefined && (transition === undefined || (transition.frames <= out - into && transition.inOffset < out - into));

/** A shot or a piece of sound that something is said of. */
type Told = Pick<Shot, 'in' | 'event'>;

/** Says what was found, with record timecodes and frames. */
class News {
  /** Ids of the sources of which a hole was reported already. */
  readonly holes = new Set<string>();
  /** Ids of the sources of which it was said what their labels are beside the list's. */
  readonly #hinted = new Set<string>();

  constructor(
    readonly list: CutList,
    readonly hasProgram: boolean,
    readonly report: Report,
    readonly placeOf: ((event: EventRef) => Place | undefined) | undefined,
  ) {}

  readonly ofShots = {
    missing: (shot: Shot, missing: Missing, black: number): void => {
      const what = `the shot on ${this.#name(missing.source)} at ${this.#label(shot.in)}`;
      this.#missing(what, shot, missing, this.#becameOf(missing, black, 'black'));
    },
    short: (shot: Shot, frames: number, why: ShortOf): void => {
      const wanted = shot.transition?.frames ?? 0;
      const what = frames === 0 ? 'it became a cut' : `it is shortened to ${String(frames)}`;
      const lack = 'late' in why
        ? `the recording of ${sourceText(this.list.sources, shot.source)} begins ${framesText(why.late)} into it`
        : why.lacks === 'picture'
          ? 'there is black on both sides of it'
          : `the file of ${sourceText(this.list.sources, why.source)} ends ${framesText(wanted - frames)} before the mix does`;
      this.#say('short-handle', `${this.#mix(shot)} has ${framesText(wanted)}, and ${lack}; ${what}`, shot);
    },
    replaced: (shot: Shot, black: number): void => {
      const frames = shot.transition?.frames ?? 0;
      const lack = black > 0 ? `, ${framesText(black)} of it black, which the program lacks` : '';
      this.#say('transition-replaced', `${this.#mix(shot)} touches frames from the program recording: its ${framesText(frames)} come from there${lack}`, shot);
    },
  };

  readonly ofSound = {
    missing: (piece: AudioPiece, missing: Missing, silent: number): void => {
      this.#missing(`the sound from ${this.#name(missing.source)} at ${this.#label(piece.in)}`, piece, missing, this.#becameOf(missing, silent, 'silent'));
    },
    channels: (source: string, has: number, missing: readonly number[]): void => {
      const count = has === 0 ? 'no sound' : has === 1 ? '1 channel' : `${String(has)} channels`;
      const silent = missing.length === 1 ? 'that track is silent' : 'these tracks are silent';
      this.#say('missing-channel', `the recording of ${sourceText(this.list.sources, source)} has ${count}, and ${channelsText(missing)} asked for; ${silent}`);
    },
  };

  #missing(what: string, range: Told & { readonly out: number }, missing: Missing, became: string): void {
    const frames = missing.out - missing.in;
    const count = frames === range.out - range.in ? `all ${framesText(frames)}` : framesText(frames);
    const from = missing.in === range.in ? '' : `, from ${this.#label(missing.in)} on,`;
    if (missing.why === 'unrecorded') this.#say('not-recorded', `${what} was not recorded: ${count} ${became}`, range);
    else if (missing.why === 'hole') {
      this.holes.add(missing.source.id);
      this.#say('recording-hole', `${what}: ${count}${from} ${isAre(frames)} missing ${holeText(missing)}; ${became}`, range);
    } else {
      const end = missing.why === 'before' ? 'before its recording starts' : 'behind the end of its recording';
      this.#say('beyond-recording', `${what}: ${count}${from} ${frames === 1 ? 'lies' : 'lie'} ${end}; ${became}${this.#hint(missing.source)}`, range);
    }
  }

  /** Once for each source that labels lead to. */
  #hint({ id, count, sync }: Source): string {
    if (this.#hinted.has(id) || sync !== undefined || this.list.takes[0]?.origin !== 'timecode') return '';
    this.#hinted.add(id);
    return labelHint(count, this.list.count);
  }

  #becameOf(missing: Missing, lost: number, how: 'black' | 'silent'): string {
    const frames = missing.out - missing.in;
    if (lost === 0) return 'taken from the program recording';
    const why = this.hasProgram && missing.source.id !== PROGRAM ? ', which the program recording lacks too' : '';
    return lost === frames ? `${how}${why}` : `taken from the program recording, but for ${String(lost)} ${how}${why}`;
  }

  #mix({ transition, source, in: into }: Shot): string {
    return `the ${transition?.kind ?? 'dissolve'} to ${sourceText(this.list.sources, source)} at ${this.#label(into)}`;
  }

  #name(source: Source): string {
    return sourceText(this.list.sources, source.id);
  }

  #label(frame: number): string {
    return recordLabel(this.list, frame);
  }

  #say(code: Code, message: string, told?: Told): void {
    const found = problem(code, message, told?.event === undefined ? undefined : this.placeOf?.(told.event));
    this.report(told === undefined ? found : { ...found, at: told.in });
  }
}

/** `channel 2 is`, `channels 2, 3 and 4 are`: each once, though it may feed several tracks. */
function channelsText(channels: readonly number[]): string {
  const each = [...new Set(channels)].sort((a, b) => a - b).map(String);
  const last = each.pop() ?? '';
  return each.length === 0 ? `channel ${last} is` : `channels ${each.join(', ')} and ${last} are`;
}

const isAre = (frames: number): string => (frames === 1 ? 'is' : 'are');

function holeText({ source, hole }: Missing): string {
  if (hole === undefined) return 'between two files';
  const [before, after] = hole;
  return `between ${pathOf(source, before)} and ${pathOf(source, after)}, a hole of ${framesText(after.start - before.end)}`;
}
