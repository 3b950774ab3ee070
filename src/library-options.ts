/** What the options of the library's functions can be, key by key. The command line has options of its own, and loads nothing of this. */
import type { CheckInput, CheckOptions } from './check/check.js';
import type { ConvertOptions } from './convert.js';
import { KEYS } from './corrections/read.js';
import { OPERATIONS, type OperationEntry } from './corrections/model.js';
import { ABSORB } from './cutlist/absorb.js';
import type { AdjustOptions, SourceFrames } from './cutlist/adjust.js';
import type { BuildOptions } from './cutlist/build.js';
import { TAKES_AS } from './cutlist/takes.js';
import { DISSOLVE_AT } from './cutlist/transitions.js';
import { PATH_FORMS } from './file-url.js';
import type { ChaptersFrom } from './formats/chapters/chapters.js';
import { CHAPTER_FORMS } from './formats/chapters/forms.js';
import type { ChapterOptions } from './formats/chapters/write.js';
import { EVENT_ORDERS, NEWLINES, REEL_LENGTHS } from './formats/edl/columns.js';
import type { EdlPart } from './formats/edl/document.js';
import type { ParseOptions } from './formats/edl/parse.js';
import type { EdlOptions } from './formats/edl/write.js';
import type { ReadOtioOptions } from './formats/otio/read.js';
import type { OtioOptions } from './formats/otio/write.js';
import { FORMATS } from './formats/output.js';
import type { LoadInput, LoadOptions } from './load.js';
import { readMapping } from './log/mapping-file.js';
import { TIME_KINDS } from './log/mapping.js';
import type { LogOptions } from './log/reading.js';
import type { KnownSource } from './log/sources.js';
import type { FindOptions } from './media/find.js';
import type { ReadOptions } from './media/read.js';
import { all, callable, flag, listOf, object, oneOf, recordOf, shape, shown, text, that, whole, type Kind } from './option-kinds.js';
import { isFault, type Report } from './problems.js';
import { readShowFile } from './show/read.js';
import { ROUNDINGS } from './timecode/exact.js';
import { hasDropFrame, RATES, type Count, type Rate, type RateSpec } from './timecode/rate.js';

/** More frames than any show has, and few enough that sums of them are exact. */
const MOST_FRAMES = 999_999_999;

const frames = (least: number): Kind => whole(least, MOST_FRAMES);

const isRate = (value: unknown): value is Rate => {
  const given = value as Partial<Rate> | null | undefined;
  return RATES.some(({ name, num, den, nominal, dropped }) =>
    given?.name === name && given.num === num && given.den === den && given.nominal === nominal && given.dropped === dropped);
};

/** What `parseRate` gives back. A fault in its place says itself what is wrong, to the function that takes the rate. */
const rate: Kind = (value, key, bad) => {
  const given = value as Partial<RateSpec> | null;
  const isSound = isRate(given?.rate) && (given.dropFrame === undefined || given.dropFrame === false || (given.dropFrame === true && hasDropFrame(given.rate)));
  if (!isFault(value) && !isSound) bad(key, `${shown(value)} is no rate; give what parseRate makes of one`, 'bad-rate');
};

const count: Kind = shape<Count>({ rate: that('one of RATES', isRate), dropFrame: flag }, ['rate', 'dropFrame']);

/** What a reader of files gives back, or what it would: read once more, as JSON. */
const asRead = (read: (text: string, file: string, report: Report) => unknown): Kind => all(object, (value, key, bad) => {
  read(JSON.stringify(value), key, ({ severity, code, message }) => {
    if (severity === 'error') bad(key, message, code);
  });
});

const seconds = that('a number of seconds from 0 to 999999999', (value) => typeof value === 'number' && value >= 0 && value <= MOST_FRAMES);

const WAYS = ['markers', 'takes', 'source', 'every'] as const satisfies readonly ChaptersFrom['by'][];

const chaptersFrom: Kind = all(shape<Pick<ChaptersFrom, 'by'>>({ by: oneOf(WAYS) }, ['by']), (value, key, bad) => {
  const given = value as ChaptersFrom;
  if (given.by === 'source') text(given.source, `${key}.source`, bad);
  // A frame is longer than this at every rate, and chapters cannot be more than frames.
  if (given.by === 'every') all(seconds, that('at least 0.001 seconds', (one) => Number(one) >= 0.001))(given.seconds, `${key}.seconds`, bad);
});

const channels = all(listOf(whole(1, 64)), that('a list of channels', (value) => (value as readonly number[]).length > 0));

const correction: Kind = all(object, (value, key, bad) => {
  const given = value as Readonly<Record<string, unknown>>;
  oneOf(Object.keys(OPERATIONS))(given.do, `${key}.do`, bad);
  const entry = (OPERATIONS as Readonly<Record<string, OperationEntry>>)[String(given.do)];
  for (const [name, kind] of Object.entries(KEYS)) {
    const isNeeded = (entry?.needs as readonly string[] | undefined)?.includes(name) === true;
    if (name === 'do' || (given[name] === undefined && !isNeeded)) continue;
    const fits = kind === 'text' ? text : kind === 'list' ? channels : whole(...kind);
    fits(given[name], `${key}.${name}`, bad);
  }
  if (given.place !== undefined) object(given.place, `${key}.place`, bad);
});

export const CORRECTIONS = listOf(correction);

const sourceFrames = shape<SourceFrames>({ all: frames(0), of: recordOf(frames(0)) });

export const ADJUST = shape<AdjustOptions>({
  lead: sourceFrames, lag: sourceFrames, minShot: frames(1), absorb: oneOf(ABSORB), dissolveAll: frames(1), dissolveAt: oneOf(DISSOLVE_AT), cutsOnly: flag,
});

export const APPLY = shape<{ readonly dissolveAt?: unknown }>({ dissolveAt: oneOf(DISSOLVE_AT) });

/** How much there may be; Infinity for any. */
const most: Kind = (value, key, bad) => {
  if (value !== Infinity) whole(1)(value, key, bad);
};

/** What `LogOptions` and `LoadOptions` share. */
const READING = {
  map: asRead(readMapping), rate, timeAs: oneOf(TIME_KINDS), logRate: rate, rounding: oneOf(ROUNDINGS),
  anchor: shape<NonNullable<LogOptions['anchor']>>({ clock: text, timecode: text }, ['clock', 'timecode']), maxRows: most, maxBytes: most, end: text,
};

const source = shape<KnownSource>({ id: text, name: text, aliases: listOf(text), picture: flag }, ['id', 'name', 'aliases', 'picture']);

export const LOG = shape<LogOptions>({ ...READING, file: text, sources: listOf(source), partial: flag }, ['file']);

const LOADING = {
  ...READING, title: text, start: text, audio: text, dissolveAt: oneOf(DISSOLVE_AT), takes: oneOf(TAKES_AS), angles: flag, alternatives: flag, adjust: ADJUST, corrections: CORRECTIONS, relocate: callable,
};

export const LOAD = shape<LoadOptions>(LOADING);

export const EDL = shape<EdlOptions>({ reelLength: oneOf(REEL_LENGTHS), newline: oneOf(NEWLINES), order: oneOf(EVENT_ORDERS), maxEvents: whole(1) });

export const OTIO = shape<OtioOptions>({ paths: oneOf(PATH_FORMS), base: text, folder: text, pretty: flag, reelLength: oneOf(REEL_LENGTHS), angles: flag }, ['base']);

export const CHAPTERS = shape<ChapterOptions>({ from: chaptersFrom, least: seconds, as: oneOf(CHAPTER_FORMS) });

const to = listOf(oneOf(FORMATS));

/** What is said of the OTIO is needed where there is to be one. */
export const CONVERT: Kind = all(
  shape<Omit<ConvertOptions, 'otio'>>({ ...LOADING, to, edl: EDL, chapters: CHAPTERS }, ['to']),
  (value, key, bad) => {
    const given = value as ConvertOptions;
    if (given.to.includes('otio')) OTIO(given.otio, key === '' ? 'otio' : `${key}.otio`, bad);
  },
);

export const BUILD = shape<BuildOptions>({
  title: text, count, recordStart: frames(0), origin: oneOf(['timecode', 'recording']), restarts: flag, dissolveAt: oneOf(DISSOLVE_AT), takes: oneOf(TAKES_AS), endAt: whole(-MOST_FRAMES, MOST_FRAMES), angles: flag, file: text,
  audio: shape<NonNullable<BuildOptions['audio']>>({ from: text, channels, place: object }, ['from']),
}, ['title', 'count', 'recordStart', 'origin', 'file']);

export const READ_EDL = shape<ParseOptions>({ file: text, rate, signs: object }, ['file']);

export const READ_EDL_PARTS = shape<Pick<ParseOptions, 'rate'>>({ rate });

export const READ_OTIO = shape<ReadOtioOptions>({ file: text, rate }, ['file']);

export const READ_RECORDINGS = shape<ReadOptions>({ cwd: text, rate, threads: whole(1), worker: that('a URL', (value) => value instanceof URL), progress: callable }, ['cwd']);

const FINDING = { base: text, paths: oneOf(PATH_FORMS) };

export const FIND = shape<FindOptions>({ ...FINDING, root: text, rootName: text, isThere: callable }, ['base', 'root', 'rootName', 'isThere']);

export const FIND_BELOW = shape<Omit<FindOptions, 'root' | 'rootName' | 'isThere'> & { readonly cwd: string }>({ ...FINDING, cwd: text }, ['base', 'cwd']);

/** Those of another realm (a test runner's, a vm's) are no instances of this one's class. */
const isBytes = (value: unknown): boolean => ArrayBuffer.isView(value) && /^Uint8(?:Clamped)?Array$/.test(Object.prototype.toString.call(value).slice(8, -1));

const bytes = that('a Uint8Array or a text', (value) => typeof value === 'string' || isBytes(value));
const show = shape<NonNullable<LoadInput['show']>>({ file: text, show: asRead(readShowFile) }, ['file', 'show']);

const part = shape<EdlPart>({ file: text, text }, ['file', 'text']);

export const LOAD_INPUT = shape<LoadInput>({ name: text, bytes, title: text, show, parts: listOf(part) }, ['name', 'bytes', 'title']);

export const CHECK_INPUT = shape<CheckInput>({ name: text, bytes, title: text, show, signs: object }, ['name', 'bytes']);

export const CHECK = shape<CheckOptions>({
  load: LOAD, minShot: frames(1), rules: that('what readRules gives back', (value) => value instanceof Map), isThere: callable, partsOf: callable, maxBytes: most,
});
