/**
 * Problems: everything linecut has to say about its input, with a code, a severity and a place.
 * The catalogue below is the one list of codes; README's table is generated from it.
 */
import { visible } from './visible.js';

/** How bad a problem is: what has an error is not made, a warning is to be looked at, a note says what was chosen. */
export type Severity = 'error' | 'warning' | 'note';

/** What a code stands for: its usual severity, one line on what it means, one line on what to do. */
export interface CatalogueEntry {
  readonly severity: Severity;
  readonly meaning: string;
  readonly advice: string;
}

const entry = (severity: Severity, meaning: string, advice: string): CatalogueEntry => ({ severity, meaning, advice });

/** Every problem code, in alphabetical order. A new code gets one line here and nowhere else. */
export const CATALOGUE = {
  'adjusted': entry('note', 'what a rule such as --lead or --min-shot changed', 'give another value to the option that the message names'),
  'bad-corrections': entry('error', 'the corrections file cannot be used as it is', 'mend the row that the message names'),
  'bad-duration': entry('error', 'a duration cannot be read', 'write frames (30), 30f, 1s, 500ms or a timecode'),
  'bad-encoding': entry('error', 'a file is not text, or not in the encoding that was expected', 'save the file as UTF-8, or say the encoding of a log in a mapping file; or check that this is the right file'),
  'bad-event': entry('error', 'a list has an event that cannot be read or contradicts itself', 'export the list again, or mend the event by hand'),
  'bad-map': entry('error', 'the mapping file cannot be used as it is', 'mend the key that the message names'),
  'bad-option': entry('error', 'an option has a value it cannot take', 'see linecut help for the values'),
  'bad-otio': entry('error', 'an OpenTimelineIO file breaks its schema', 'write the file again with a tool that follows the schema'),
  'bad-rate': entry('error', 'a rate is missing, unknown or cannot be drop-frame', 'give one of the rates that the message lists'),
  'bad-rules': entry('error', 'the rules file for check cannot be used as it is', 'mend the key that the message names'),
  'bad-show-file': entry('error', 'the show file cannot be used as it is', 'mend the key that the message names'),
  'bad-time': entry('error', 'a time cannot be read', 'write it in the form that the message names'),
  'bad-wipe': entry('error', 'a wipe code cannot be read', 'write a SMPTE wipe code from 0 to 999'),
  'beyond-recording': entry('warning', 'a shot needs frames that its recording does not have', 'check start and frames of the file, or the sync of the source'),
  'black-until-first-switch': entry('warning', 'nothing is known of what was on air before the first switch', 'add a cut at the start of the take'),
  'broken-recording': entry('error', 'a recorded file is broken, or cannot be read to its end', 'copy it again, or repair it'),
  'chapter-order': entry('error', 'chapters are out of order, or lie beyond the end', 'sort the chapters and check their times'),
  'correction-mismatch': entry('error', 'a correction does not find the shot it expects', 'write the corrections against the list that this call gives without them'),
  'dropped-label': entry('error', 'a label does not exist in drop-frame', 'use one of the two labels beside it'),
  'duplicate-source': entry('error', 'two sources share an id or alias', 'give each source its own'),
  'empty-transition': entry('warning', 'a transition has no frames', 'none needed: it became a cut'),
  'entity-refused': entry('error', 'an XML file declares entities or a document type', 'remove the DOCTYPE'),
  'event-number': entry('warning', 'event numbers are missing, repeated or out of order', 'number the events again'),
  'file-exists': entry('error', 'an output file is already there', 'choose another folder, or replace it with --force'),
  'found': entry('note', 'what linecut found out by itself', 'give the option or key that the message names to say otherwise'),
  'hole': entry('error', 'the record side has a hole between two events', 'lengthen the shot before, or write black'),
  'left-out': entry('warning', 'the list holds something that a format cannot say', 'use another format for it'),
  'length-differs': entry('error', 'source and record side of an event have different lengths that no speed line explains', 'mend the points or the speed line, or add one'),
  'lists-differ': entry('error', 'two lists of one name do not say the same', 'write both again in one run; linecut compare shows every difference'),
  'long-transition': entry('warning', 'a transition is longer than the field of an EDL allows', 'shorten the transition, or use the OTIO'),
  'malformed-csv': entry('error', 'a CSV file breaks RFC 4180', 'mend the quotes on the line that the message names'),
  'malformed-xml': entry('error', 'an XML file is not well-formed', 'mend the element that the message names'),
  'markers-not-as-logged': entry('warning', 'a list has other markers than its log', 'convert the log again, or find out who changed the list'),
  'missing-channel': entry('warning', 'a recording lacks a sound channel that the list asks for', 'choose other channels in audio.channels'),
  'missing-column': entry('error', 'a column that is needed is not there', 'name the column in a mapping file'),
  'missing-field': entry('error', 'a row lacks a field that its action needs', 'fill in the field'),
  'missing-file': entry('warning', 'a recording is not where the show file says', 'copy it there, or search with --media-root'),
  'missing-source': entry('error', 'a switch names no source and none was cued', 'name the source'),
  'missing-start': entry('warning', 'a take stops without having started', 'add a start row'),
  'missing-stop': entry('warning', 'a take starts before the one before it stopped', 'add a stop row'),
  'mixed-times': entry('error', 'a log mixes kinds of time', 'give one kind with --time-as'),
  'no-audio': entry('note', 'the list has no sound', 'choose with --audio'),
  'no-end': entry('error', 'nothing says where the last shot ends', 'give --end, a stop row, or the lengths of the recordings'),
  'no-events': entry('error', 'a log has no row that puts a picture on air', 'check that this is the right file'),
  'not-as-logged': entry('error', 'a list does not show what its log says', 'give check the options that the list was made with (--corrections, --lead, --anchor, …; --log-min-shot for --min-shot); else convert the log again, or find out who changed the list'),
  'not-compared': entry('warning', 'a list could not be held against its log, or another format: a part of it cannot be read, or it is not known of which take it is', 'do what the message says, and check again'),
  'not-recorded': entry('warning', 'a source that was on air was not recorded', 'use the program recording, or accept the replacement'),
  'out-of-order': entry('warning', 'rows are not in order of time', 'none needed: they were sorted'),
  'outside-format': entry('warning', 'a list is written in a way that its format does not know', 'export the list again; strict systems refuse it'),
  'outside-group': entry('warning', 'a recording matches no --group', 'widen the pattern, or leave the file out of the folder'),
  'outside-root': entry('warning', 'a recording lies outside the media root', 'copy it to the edit storage'),
  'outside-take': entry('warning', 'a row lies outside every take', 'check start and stop'),
  'overlap': entry('error', 'two events overlap on the record side', 'shorten one of them'),
  'part-in-mix': entry('warning', 'a part of a divided EDL begins with a mix', 'none needed, unless a system refuses the part'),
  'past-midnight': entry('warning', 'labels pass 24 h and begin again at zero', 'none needed'),
  'picture-differs': entry('warning', 'a recording has another picture size or scan than the others', 'see that the edit takes it as it is'),
  'rate-differs': entry('warning', 'a source runs at another rate than the list', 'check the drift that the message names'),
  'recording-hole': entry('warning', 'frames are missing between two files of a recording', 'look for the missing file'),
  'recording-overlap': entry('warning', 'two files of a recording hold the same frames', 'check start and frames of the files'),
  'reel-taken': entry('error', 'two sources have one reel', 'give each source a reel of its own'),
  'removed': entry('note', 'a file that was left from an older list of a log went with --force or --resume', 'none needed'),
  'same-frame': entry('warning', 'two switches lie on one frame', 'none needed: the later row counts'),
  'same-output': entry('error', 'two logs of one call would be written under one name', 'convert them in two calls, into different folders'),
  'short-handle': entry('warning', 'a recording does not reach to the end of a transition', 'none needed: the transition was shortened'),
  'short-shot': entry('warning', 'a shot is shorter than --min-shot', 'see whether it was a double tap'),
  'sound-not-as-logged': entry('error', 'a list does not sound as its log says', 'give check the options that the list was made with (--audio, --corrections, …); else convert the log again, or find out who changed the list'),
  'starts-differ': entry('warning', 'recordings begin on different labels, and the log counts from their first frames', 'where they share timecode, tie the log to it with --anchor, or give sources sync'),
  'stray-element': entry('warning', 'an element of an XML log looks like a row, and stands where none are read', 'rename or move it, or name its path as rows in a mapping file'),
  'stray-row': entry('warning', 'a row changes nothing', 'none needed'),
  'timecode-jump': entry('warning', 'timecode jumps inside a recording', 'split the recording where it jumps, or give it a new timecode'),
  'too-large': entry('error', 'the input passes a limit', 'raise the limit with the option that the message names'),
  'transition-cut-short': entry('warning', 'a transition was interrupted', 'none needed: it was cut short to what was on air'),
  'transition-replaced': entry('note', 'a transition comes from the program recording', 'none needed: the program holds the mix'),
  'two-candidates': entry('warning', 'a recording that was moved is there more than once', 'remove or rename the copies that are not meant'),
  'two-values': entry('warning', 'an XML log gives one field different values, by an attribute and an element or by two elements', 'keep the one that is right'),
  'unknown-action': entry('error', 'an action is not known', 'map it to one of the known actions in a mapping file'),
  'unknown-source': entry('error', 'a source is not known', 'add it to the show file, or map it'),
  'unplaced-file': entry('warning', 'nothing says which frames a file of a recording holds', 'give start and frames of each file, or let linecut media write them'),
  'unreadable': entry('error', 'a file cannot be read or written', 'check the path and its permissions'),
  'unused-recording': entry('note', 'a recording is neither seen nor heard', 'none needed'),
  'variable-rate': entry('warning', 'the frames of a recording are not evenly spaced in time', 'make a copy with a constant rate'),
} as const satisfies Record<string, CatalogueEntry>;

/** The name of a kind of problem, for scripts: it stays when the words change. */
export type Code = keyof typeof CATALOGUE;

/** Where a problem lies. Lines and columns count from 1. `option` names an option instead of a file: of the command line (`--lead`), or by its key where a script gave it (`adjust.lead.all`). */
export interface Place {
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly option?: string;
}

/** Something that was found in an input, and where. */
export interface Problem {
  readonly code: Code;
  readonly severity: Severity;
  readonly message: string;
  readonly place?: Place;
  /** Record frame that it is about, from the start of the list that it was said of, where it is about one. */
  readonly at?: number;
}

/** Takes problems as they are found. Functions in the middle report; only the edge decides what to do. */
export type Report = (problem: Problem) => void;

/** What has no place of its own concerns the file as a whole: of several files, it then says which. */
export const placedIn = (file: string, report: Report): Report =>
  (found) => { report(found.place === undefined ? { ...found, place: { file } } : found); };

/** Counts the errors that pass: a stage with errors is the last one. */
export class Counting {
  errors = 0;
  constructor(readonly report: Report) {}

  readonly add: Report = (found) => {
    if (found.severity === 'error') this.errors += 1;
    this.report(found);
  };
}

/**
 * A value that could not be made, and why: what small readers (timecode, rate, duration) return instead of
 * throwing. The caller knows the place and turns it into a Problem with `problemOf`.
 */
export interface Fault {
  readonly fault: Code;
  readonly message: string;
}

/** What a small reader returns for a value that it cannot make. */
export const fault = (code: Code, message: string): Fault => ({ fault: code, message });

/** Whether a reader (`parseRate`, `parseTimecode`, …) returned a fault in place of its value. */
export const isFault = (value: unknown): value is Fault => typeof value === 'object' && value !== null && 'fault' in value;

/** Reports the faults among values that were handed on without being looked at, as a script in plain JavaScript may; true when there was one. */
export function reportFaults(report: Report, ...values: readonly unknown[]): boolean {
  const faults = values.filter(isFault);
  for (const one of faults) report(problemOf(one));
  return faults.length > 0;
}

/** Makes a problem with the code's usual severity, or the one given. */
export function problem(code: Code, message: string, place?: Place, severity: Severity = CATALOGUE[code].severity): Problem {
  return place === undefined ? { code, severity, message } : { code, severity, message, place };
}

/** A fault with a place is a problem. */
export const problemOf = (value: Fault, place?: Place): Problem => problem(value.fault, value.message, place);

/**
 * One line as the command line prints it: `show.csv:17:1: error: … [dropped-label]`. One line whatever names and message hold, and
 * without control characters.
 */
export const problemLine = (found: Problem): string => problemLineWith(found.severity, found);

/** As `problemLine`, with the severity's word written as given: coloured, say. */
export function problemLineWith(severity: string, { code, message, place }: Problem): string {
  let where = '';
  if (place?.option !== undefined) where = `${place.option}: `;
  else if (place?.file !== undefined) {
    where = place.file;
    if (place.line !== undefined) where += `:${String(place.line)}`;
    if (place.line !== undefined && place.column !== undefined) where += `:${String(place.column)}`;
    where += ': ';
  }
  return `${visible(where)}${severity}: ${visible(message)} [${code}]`;
}

/**
 * Collects problems. Of each code and severity only the first `keep` are held, so that a log of a million
 * rows with a warning each stays small; `dropped` counts the rest.
 */
export class ProblemList {
  readonly problems: Problem[] = [];
  readonly #counts = new Map<string, number>();
  readonly #strict: boolean;
  readonly #keep: number;
  #errors = 0;

  /** With `strict`, warnings become errors. */
  constructor(options: { strict?: boolean; keep?: number } = {}) {
    this.#strict = options.strict ?? false;
    this.#keep = options.keep ?? 100;
  }

  /** A `Report`: may be handed on as a function. */
  readonly add = (given: Problem): void => {
    const found: Problem = this.#strict && given.severity === 'warning' ? { ...given, severity: 'error' } : given;
    if (found.severity === 'error') this.#errors += 1;
    const key = `${found.severity} ${found.code}`;
    const count = (this.#counts.get(key) ?? 0) + 1;
    this.#counts.set(key, count);
    if (count <= this.#keep) this.problems.push(found);
  };

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  /** How many of each code and severity came in beyond those held. */
  get dropped(): { code: Code; severity: Severity; count: number }[] {
    const out: { code: Code; severity: Severity; count: number }[] = [];
    for (const [key, count] of this.#counts) {
      if (count <= this.#keep) continue;
      const [severity, code] = key.split(' ') as [Severity, Code];
      out.push({ code, severity, count: count - this.#keep });
    }
    return out;
  }
}
