/**
 * The functions of the library that take options, for scripts in plain JavaScript as well: an option that cannot be is reported (`bad-option`, a rate
 * `bad-rate`) with its key as the place, and then nothing is done. The command line has looked at its own options, and takes the functions behind these.
 */
import * as checking from './check/check.js';
import { Findings } from './check/finding.js';
import * as rules from './check/rules.js';
import * as converting from './convert.js';
import * as correcting from './corrections/apply.js';
import * as corrections from './corrections/read.js';
import * as adjusting from './cutlist/adjust.js';
import * as building from './cutlist/build.js';
import type { CutList } from './cutlist/model.js';
import * as chaptersOfList from './formats/chapters/chapters.js';
import * as chapterFiles from './formats/chapters/write.js';
import * as edl from './formats/edl/read.js';
import * as edlFiles from './formats/edl/write.js';
import * as otio from './formats/otio/read.js';
import * as otioFiles from './formats/otio/write.js';
import type { Output } from './formats/output.js';
import * as kinds from './library-options.js';
import * as loading from './load.js';
import * as maps from './log/mapping-file.js';
import * as logs from './log/read.js';
import * as finding from './media/find.js';
import * as recordings from './media/read.js';
import * as below from './media/root.js';
import { isOfKind, shown, text, type Kind } from './option-kinds.js';
import { fault, type Code, type Fault, type Report } from './problems.js';
import * as shows from './show/read.js';
import * as durations from './timecode/duration.js';
import * as rates from './timecode/rate.js';
import * as timecodes from './timecode/timecode.js';

const fits = (kind: Kind, options: unknown, report: Report): boolean => isOfKind(kind, options, '', report);

/** Both are looked at: all that is wrong is said at once. */
function fitBoth(key: string, inputKind: Kind, input: unknown, kind: Kind, options: unknown, report: Report): boolean {
  const isInput = isOfKind(inputKind, input, key, report);
  return fits(kind, options, report) && isInput;
}

const isText = (given: unknown, report: Report): boolean => isOfKind(text, given, 'text', report);

/** The text of a file, and how it is read. */
const fitText = (given: unknown, kind: Kind, options: unknown, report: Report): boolean => fitBoth('text', text, given, kind, options, report);

/** What a small reader says of what is no text. */
const notText = (given: unknown, code: Code): Fault | undefined => (typeof given === 'string' ? undefined : fault(code, `${shown(given)} is not a text`));

/**
 * Reads a rate: a name (`29.97`), a short spelling (`23.98`), an exact fraction (`30000/1001`), each with `df` or `ndf` behind it where wanted.
 * Faults: `bad-rate`.
 */
export const parseRate: typeof rates.parseRate = (given) => notText(given, 'bad-rate') ?? rates.parseRate(given);

/**
 * Reads a label as frames since label zero, 0 ≤ frame < 24 h. Its own mark decides how it is read: `;` or `,` before the frames is drop-frame, `:` takes
 * `count.dropFrame`. Faults: `bad-time`, `dropped-label`.
 */
export const parseTimecode: typeof timecodes.parseTimecode = (label, count) => notText(label, 'bad-time') ?? timecodes.parseTimecode(label, count);

/** Frames of a duration: `30`, `30f`, `1s`, `500ms` or a timecode. Faults: `bad-duration`, `dropped-label`. */
export const parseDuration: typeof durations.parseDuration = (given, count, rounding) => notText(given, 'bad-duration') ?? durations.parseDuration(given, count, rounding);

/**
 * Reads a log: rows → events on frames. Undefined when it has errors, unless `partial` asks for what could be read. Before a log whose mapping has
 * `clockFormat` or `zone`, `await loadClock(map)`.
 */
export const readLog: typeof logs.readLog = (log, options, report) => (fitText(log, kinds.LOG, options, report) ? logs.readLog(log, options, report) : undefined);

/** Reads a mapping file. Undefined when it has errors; all of them are reported as `bad-map` with line and column. */
export const readMapping: typeof maps.readMapping = (map, file, report) => (isText(map, report) ? maps.readMapping(map, file, report) : undefined);

/** Reads a show file. Undefined when it has errors; all of them are reported with line and column. Labels are not looked at here: they need the list's rate (`showSources`). */
export const readShowFile: typeof shows.readShowFile = (show, file, report) => (isText(show, report) ? shows.readShowFile(show, file, report) : undefined);

/** Reads a corrections file. Undefined when anything in it is wrong. Whether the corrections fit a list is found out by `applyCorrections`. */
export const readCorrections: typeof corrections.readCorrections = (given, file, report) => (isText(given, report) ? corrections.readCorrections(given, file, report) : undefined);

/** Reads a rules file: codes of the catalogue with `off` or a severity. Undefined, and reported (`bad-rules`), when anything in it is wrong. */
export const readRules: typeof rules.readRules = (given, file, report) => (isText(given, report) ? rules.readRules(given, file, report) : undefined);

/**
 * Makes the cut list of a log's events; with `takes: 'separate'` one a take. `sources` are those of the show, the program recording (id PROGRAM) last.
 * Empty when there are errors. Recordings come in with `placeOnRecordings`.
 */
export const buildCutLists: typeof building.buildCutLists = (events, sources, options, report) => (fits(kinds.BUILD, options, report) ? building.buildCutLists(events, sources, options, report) : []);

/**
 * Applies the rules for all shots in their fixed order: lead, lag, min-shot, then dissolve-all or cuts-only. What each did is reported (note
 * `adjusted`); a source that is not known is an error (`unknown-source`), and leaves the list as it was.
 */
export const adjustList: typeof adjusting.adjustList = (list, options, report, uncover) => (fits(kinds.ADJUST, options, report) ? adjusting.adjustList(list, options, report, uncover) : list);

/** Applies all corrections at once, or none: undefined when one of them is an error. All name the list as it was. */
export const applyCorrections: typeof correcting.applyCorrections = (list, given, report, options = {}) => {
  const isSound = fitBoth('corrections', kinds.CORRECTIONS, given, kinds.APPLY, options, report);
  return isSound ? correcting.applyCorrections(list, given, report, options) : undefined;
};

/** Checks one file by itself. Nothing is thrown for what is in it; options that cannot be are findings. */
export const checkFile: typeof checking.checkFile = async (input, options = {}) => {
  const findings = new Findings();
  if (fitBoth('input', kinds.CHECK_INPUT, input, kinds.CHECK, options, findings.add)) return checking.checkFile(input, options);
  return { name: nameOf(input), kind: undefined, findings };
};

const nameOf = (input: Partial<checking.CheckInput> | null | undefined): string => (typeof input?.name === 'string' ? input.name : '');

/** The cut list of an EDL; undefined when errors were reported. */
export const readEdl: typeof edl.readEdl = (list, options, report) => (fitText(list, kinds.READ_EDL, options, report) ? edl.readEdl(list, options, report) : undefined);

/** The parts of a divided EDL, given in order, as the one list that they were; undefined when errors were reported. */
export const readEdlParts: typeof edl.readEdlParts = (parts, options, report) => (fits(kinds.READ_EDL_PARTS, options, report) ? edl.readEdlParts(parts, options, report) : undefined);

/**
 * The list as one EDL (`.edl`), or in parts (`-1.edl`, `-2.edl`, …; record labels run on) above 999 events. Reports `reel-taken`, `long-transition`,
 * `left-out`, `part-in-mix`; empty when the list cannot be an EDL.
 */
export const writeEdl: typeof edlFiles.writeEdl = (list, options, report) => (fits(kinds.EDL, options, report) ? edlFiles.writeEdl(list, options, report) : []);

/** The cut list of an OpenTimelineIO document, in schema versions up to Clip.2 and Marker.2; undefined when errors were reported. */
export const readOtio: typeof otio.readOtio = (list, options, report) => (fitText(list, kinds.READ_OTIO, options, report) ? otio.readOtio(list, options, report) : undefined);

/** The list as one OpenTimelineIO document. The same list gives the same bytes. Undefined where the options cannot be. */
export const writeOtio = (list: CutList, options: otioFiles.OtioOptions, report: Report): Output | undefined => (fits(kinds.OTIO, options, report) ? otioFiles.writeOtio(list, options) : undefined);

/** The chapters of a list, in order, each to the next one or the end. Undefined where the list lacks the source that they come from. */
export const chaptersOf: typeof chaptersOfList.chaptersOf = (list, wanted, report) => (fits(kinds.CHAPTERS, wanted, report) ? chaptersOfList.chaptersOf(list, wanted, report) : undefined);

/** The chapters of a list as a file; undefined where there can be none. Times are real elapsed time from the start of the list, never labels. */
export const writeChapters: typeof chapterFiles.writeChapters = async (list, options, report) => (fits(kinds.CHAPTERS, options, report) ? chapterFiles.writeChapters(list, options, report) : undefined);

/** All recordings below the folders (files may be named too), each once, in the order found. What cannot be read is reported, and the rest comes back. */
export const readRecordings: typeof recordings.readRecordings = async (folders, options, report) => (fits(kinds.READ_RECORDINGS, options, report) ? recordings.readRecordings(folders, options, report) : []);

/**
 * The sources with every recording's path where it is now, going by a listing of files. Reported, once a file: `outside-root`, `missing-file`,
 * `two-candidates`. Those paths that found nothing stay.
 */
export const relocateSources: typeof finding.relocateSources = (sources, listing, options, report) => (fits(kinds.FIND, options, report) ? finding.relocateSources(sources, listing, options, report) : [...sources]);

/**
 * Finds the recordings of `sources` below a folder and gives the sources with their paths put right (`relocateSources`). As `relocate` of `LoadOptions`
 * it is what `--media-root` does: `root` may be relative to `cwd`. What cannot be read is reported (`unreadable`), below it as a warning.
 */
export const findBelow: typeof below.findBelow = async (root, sources, options, report) =>
  (fitBoth('root', text, root, kinds.FIND_BELOW, options, report) ? below.findBelow(root, sources, options, report) : [...sources]);

/**
 * Reads a log, an EDL or an OTIO as cut lists: decode → read → sources → build → adjust → recordings → corrections. Undefined when there are errors;
 * all that could be found were reported.
 */
export const loadLists: typeof loading.loadLists = async (input, options, report) => (fitBoth('input', kinds.LOAD_INPUT, input, kinds.LOAD, options, report) ? loading.loadLists(input, options, report) : undefined);

/** The list of `loadLists`, for who wants one: `takes: 'separate'`, which may be several, is an error (`bad-option`). */
export const loadList: typeof loading.loadList = async (input, options, report) => (fitBoth('input', kinds.LOAD_INPUT, input, kinds.LOAD, options, report) ? loading.loadList(input, options, report) : undefined);

/**
 * Converts a log, an EDL or an OTIO. Empty when there are errors in what goes in, or an option names a source that it does not have; the same input and
 * options always give the same text. Outputs hold their text as chunks that are made while they are read.
 */
export const convertLog: typeof converting.convertLog = async (input, options, report) => (fitBoth('input', kinds.LOAD_INPUT, input, kinds.CONVERT, options, report) ? converting.convertLog(input, options, report) : []);
