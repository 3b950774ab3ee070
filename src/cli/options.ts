/** The options of `convert`, and those of them that other commands share, in the order of the help. */
import { fault, type Fault } from '../problems.js';
import { TAKES_AS } from '../cutlist/takes.js';
import { DISSOLVE_AT as DISSOLVE_AT_WORDS } from '../cutlist/transitions.js';
import { PATH_FORMS } from '../file-url.js';
import type { ChaptersFrom } from '../formats/chapters/chapters.js';
import { CHAPTER_FORMS } from '../formats/chapters/forms.js';
import { EVENT_ORDERS, NEWLINES, REEL_LENGTHS } from '../formats/edl/columns.js';
import { FORMATS } from '../formats/output.js';
import { TIME_KINDS } from '../log/mapping.js';
import { ROUNDINGS } from '../timecode/exact.js';
import { parseRate } from '../timecode/rate.js';
import type { OptionSpec } from './command.js';
import { bytes, choice, choiceList, flag, path, text, whole } from './option.js';

const INPUT = 'What goes in';
const TIME = 'What the times of the log are';
const LIST = 'The list';
const OUTPUT = 'What comes out';
const CHAPTERS = 'Chapters';
const MANY = 'Many logs';
const TALK = 'What is said';

export const SHOW = path('show', 'FILE', { group: INPUT, help: 'show file: sources, recordings, rate, sound (default: NAME.show.json beside NAME.csv)' });
export const MAP = path('map', 'FILE', { group: INPUT, help: 'mapping file, for a log in its own columns or elements' });
export const MAX_ROWS = whole('max-rows', 'N', 1, { group: INPUT, help: 'refuse a log with more rows (default: 2000000)' });
export const MAX_BYTES = bytes('max-bytes', 'SIZE', { group: INPUT, help: 'refuse a larger file: 500k, 64M (default: 512M)' });
export const EXPLAIN = flag('explain', { group: INPUT, help: 'print how the log is read (columns, kind of time, rate, first rows) and write nothing' });
export const WRITE_MAP = path('write-map', 'FILE', { group: INPUT, help: 'save what was found about the log as a mapping file' });

export const LOGS_FROM = path('logs-from', 'FILE', { stream: true, group: INPUT, help: 'more logs, named in a file, one a line; - for standard input' });

export const RATE: OptionSpec<Exclude<ReturnType<typeof parseRate>, Fault>> = {
  name: 'rate', value: 'RATE', group: TIME, help: "the list's rate: 25, 29.97df, 59.94ndf, 30000/1001, …", parse: parseRate,
};
export const TIME_AS = choice('time-as', 'KIND', TIME_KINDS, { group: TIME, help: `kind of time in the log: ${TIME_KINDS.join(', ')} (default: found by itself)` });
export const LOG_RATE: typeof RATE = {
  name: 'log-rate', value: 'RATE', group: TIME, help: "rate that the log's labels count at, where it is half the list's", parse: parseRate,
};
export const ROUNDING = choice('rounding', 'HOW', ROUNDINGS, { group: TIME, help: 'times between two frames go to: nearest (halves up), floor, ceil' });
export const ANCHOR: OptionSpec<{ readonly clock: string; readonly timecode: string }> = {
  name: 'anchor', value: 'CLOCK=TIMECODE', group: TIME, help: 'ties clock times to timecode: 2024-05-04T18:00:00Z=10:00:00:00',
  parse: (given) => {
    const at = given.lastIndexOf('=');
    const [clock, timecode] = [given.slice(0, at).trim(), given.slice(at + 1).trim()];
    return at < 1 || clock === '' || timecode === '' ? fault('bad-option', `'${given}' is not CLOCK=TIMECODE`) : { clock, timecode };
  },
};

export const TITLE = text('title', 'TEXT', { group: LIST, help: "the list's title" });
export const START = text('start', 'TIMECODE', { group: LIST, help: "timecode of the list's first frame (default: 01:00:00:00)" });
export const END = text('end', 'TIME', { group: LIST, help: "where the list ends, in the log's kind of time, when no stop row says so" });
export const AUDIO = text('audio', 'FROM', { group: LIST, help: "program sound: a source's id, program, follow or none" });
export const DISSOLVE_AT = choice('dissolve-at', 'WHERE', DISSOLVE_AT_WORDS, { group: LIST, help: 'where in a mix the cut point lies: start, center, end (default: start)' });
export const CUTS_ONLY = flag('cuts-only', { group: LIST, help: 'every transition becomes a cut where its mix begins' });
export const TAKES = choice('takes', 'HOW', TAKES_AS, { group: LIST, help: 'several takes: joined, gaps (black between), separate (a list each) (default: joined)' });
const JOINED = choice('takes', 'HOW', ['joined', 'gaps'], { group: LIST, help: 'several takes: joined, gaps (black between) (default: joined)' });

/** The same for a command that takes one list: it says what to do instead. */
export const TAKES_IN_ONE: typeof JOINED = {
  ...JOINED,
  parse: (given) => (TAKES.parse(given) === 'separate'
    ? fault('bad-option', 'separate takes are several lists, and one is wanted; joined or gaps has all of them in one, or give the list of one take (NAME.take1.edl)')
    : JOINED.parse(given)),
};

export const OUT = path('out', 'DIR', { short: 'o', stream: true, kind: 'folder', group: OUTPUT, help: 'folder for the lists, made when missing (default: this folder); - for standard output' });
export const TO = choiceList('to', 'FORMATS', FORMATS, { group: OUTPUT, help: `some of ${FORMATS.join(',')} (default: edl,otio,chapters)` });
export const FORCE = flag('force', { group: OUTPUT, help: 'replace files that are there already' });
export const NEWLINE = choice('newline', 'HOW', NEWLINES, { group: OUTPUT, help: 'line ends of the EDL: crlf, lf (default: crlf)' });
export const REEL_LENGTH: OptionSpec<(typeof REEL_LENGTHS)[number]> = {
  name: 'reel-length', value: 'N', choices: REEL_LENGTHS.map(String), group: OUTPUT, help: 'longest reel in the EDL: 8, 32 (default: 8)',
  parse: (given) => REEL_LENGTHS.find((one) => String(one) === given) ?? fault('bad-option', `'${given}' is not one of ${REEL_LENGTHS.join(', ')}`),
};
export const EDL_ORDER = choice('edl-order', 'HOW', EVENT_ORDERS, { group: OUTPUT, help: 'events of the EDL in order of: record, source (default: record)' });
export const MEDIA_ROOT = path('media-root', 'DIR', { kind: 'folder', group: INPUT, help: 'find recordings again that were moved below this folder: by name, size and timecode' });
export const PATHS = choice('paths', 'HOW', PATH_FORMS, { group: OUTPUT, help: 'media paths in the OTIO: absolute, relative (default: absolute); with --media-root in the EDL too' });
export const PRETTY = flag('pretty', { group: OUTPUT, help: 'OTIO: indented, for people (default: compact)' });
export const ANGLES = flag('angles', { group: OUTPUT, help: 'OTIO: add every recording, in sync, as disabled tracks under the cut' });

export const CHAPTERS_FROM: OptionSpec<ChaptersFrom> = {
  name: 'chapters-from', value: 'WHAT', choices: ['markers', 'takes', 'source:', 'every:'], group: CHAPTERS,
  help: 'markers, takes, source:ID (each time it comes on), every:10m (default: markers)',
  parse: chaptersFrom,
};
export const CHAPTERS_MIN: OptionSpec<number> = {
  name: 'chapters-min', value: 'TIME', group: CHAPTERS, help: 'least time between two chapters: 10s, 2m (default: none)', parse: secondsOf,
};
export const CHAPTERS_AS = choice('chapters-as', 'FORM', CHAPTER_FORMS, { group: CHAPTERS, help: `${CHAPTER_FORMS.join(', ')} (default: text)` });

export const JOBS = whole('jobs', 'N', 1, { group: MANY, help: 'how many logs are converted at a time (default: one a core)' });
export const RESUME = flag('resume', { group: MANY, help: 'pass over logs whose lists are current, replace lists of an earlier run; a small record a log is kept in the folder .linecut beside the lists' });
export const WATCH = flag('watch', { group: MANY, help: 'LOG is a folder: convert each log that arrives in it, once, until Ctrl-C' });
export const SETTLE = whole('settle', 'MS', 50, { group: MANY, help: 'with --watch: a log has arrived when it has not grown for this many milliseconds (default: 2000)' });

export const STRICT = flag('strict', { group: TALK, help: 'warnings are errors' });
export const QUIET = flag('quiet', { short: 'q', group: TALK, help: 'say nothing but errors' });
export const JSON_LINES = flag('json', { group: TALK, help: 'print one JSON object a log on standard output' });

function chaptersFrom(given: string): ChaptersFrom | Fault {
  const [word = '', ...rest] = given.split(':');
  const value = rest.join(':').trim();
  const by = word.trim().toLowerCase();
  if ((by === 'markers' || by === 'takes') && rest.length === 0) return { by };
  if (by === 'source' && value !== '') return { by, source: value };
  if (by === 'every' && value !== '') {
    const seconds = secondsOf(value);
    return typeof seconds !== 'number' ? seconds : seconds > 0 ? { by, seconds } : fault('bad-option', 'every:0 would be a chapter without end; write every:10m');
  }
  return fault('bad-option', `'${given}' is not one of markers, takes, source:ID, every:10m`);
}

const UNITS: Readonly<Record<string, number>> = { '': 1, s: 1, m: 60, min: 60, h: 3600 };

/** `90`, `90s`, `1.5m`, `1h` as seconds. */
function secondsOf(given: string): number | Fault {
  const parts = /^(\d{1,9}(?:\.\d{1,9})?)\s*(s|m|min|h)?$/i.exec(given.trim());
  const seconds = Number(parts?.[1]) * (UNITS[(parts?.[2] ?? '').toLowerCase()] ?? Number.NaN);
  return Number.isFinite(seconds) ? seconds : fault('bad-option', `'${given}' is not a time; write 90s, 10m or 1h`);
}
