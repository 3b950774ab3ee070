/**
 * From the bytes of a log, an EDL or an OTIO to cut lists: the way every command takes. Nothing is read or written here; what a
 * run does not need is not loaded.
 */
import { withoutMark } from './byte-order-mark.js';
import type { AdjustOptions } from './cutlist/adjust.js';
import type { Correction } from './corrections/model.js';
import { correctionsAsLog, isCorrectionsTable } from './corrections/kind.js';
import { FOLLOW, NONE, type CutList, type EventRef, type Source } from './cutlist/model.js';
import type { TakesAs } from './cutlist/takes.js';
import type { DissolveAt } from './cutlist/transitions.js';
import { decodedText, mappingOf, type Undecoded } from './file-text.js';
import type { EdlPart } from './formats/edl/document.js';
import { formOf, type Form } from './formats/form.js';
import type { LogOptions, LogReading } from './log/reading.js';
import type { Mapping } from './log/mapping.js';
import { known } from './known.js';
import { didYouMean } from './nearest.js';
import { ofTake } from './per-take.js';
import { Counting, isFault, problem, problemOf, type Place, type Report } from './problems.js';
import { showPlace } from './show/places.js';
import { audioSource } from './show/rules.js';
import { parseTimecode } from './timecode/timecode.js';
import type { Count } from './timecode/rate.js';

/** What goes in. */
export interface LoadInput extends Undecoded {
  /** Title where neither options, show nor log give one. */
  readonly title: string;
  /** Of an EDL that was divided, the other parts in order: the list is read of all of them. */
  readonly parts?: readonly EdlPart[];
}

/** How it is read, and what is done with the list. Every key wins over the show file, which wins over the log. */
export interface LoadOptions extends Omit<LogOptions, 'file' | 'sources' | 'partial'> {
  readonly title?: string;
  /** Timecode of the list's first frame. */
  readonly start?: string;
  /** A source's id, alias or name, `program`, `follow` or `none`. */
  readonly audio?: string;
  readonly dissolveAt?: DissolveAt;
  readonly takes?: TakesAs;
  /** Fills `angles` of the lists. */
  readonly angles?: boolean;
  /** Fills `angles` where there are recordings to name: an OTIO tells beside each clip what else shows its moment. */
  readonly alternatives?: boolean;
  /** Rules for all shots; `cutsOnly` is one of them. */
  readonly adjust?: AdjustOptions;
  readonly corrections?: readonly Correction[];
  /** Puts the paths of the recordings right: how `--media-root` finds what was moved. Reports what it does not find. */
  readonly relocate?: (sources: readonly Source[], report: Report) => Promise<Source[]>;
}

/** What came out of a file. */
export interface Loaded {
  readonly form: Form;
  /** One; several only for a log with `takes: 'separate'`; never empty. */
  readonly lists: readonly CutList[];
  /** What the log said, for a log. */
  readonly reading?: LogReading;
}

/**
 * Reads a log, an EDL or an OTIO as cut lists: decode → read → sources → build → adjust → recordings → corrections.
 * Undefined when there are errors; all that could be found were reported.
 */
export async function loadLists(input: LoadInput, options: LoadOptions, report: Report): Promise<Loaded | undefined> {
  const counting = new Counting(report);
  const map = mappingOf(input, options);
  const text = decodedText(input, options, counting.add);
  if (text === undefined) return undefined;
  const form = formOf(text);
  const loaded = form === 'log' ? await fromLog(text, input, options, map, counting) : await fromList(text, form, input, options, counting);
  if (loaded === undefined || counting.errors > 0) return undefined;
  const lists: CutList[] = [];
  for (const list of loaded.lists) {
    const ready = await finished(list, form, options, counting, ofTake(list, loaded.lists, counting.add), placesIn(input.name, loaded.reading));
    if (ready !== undefined) lists.push(ready);
  }
  return counting.errors > 0 ? undefined : { ...loaded, lists };
}

/** The list of `loadLists`, for who wants one: `takes: 'separate'`, which may be several, is an error (`bad-option`). */
export async function loadList(input: LoadInput, options: LoadOptions, report: Report): Promise<CutList | undefined> {
  if (options.takes === 'separate') {
    report(problem('bad-option', 'one list is wanted, and separate takes are several; joined or gaps makes one of them', { option: '--takes' }));
    return undefined;
  }
  return (await loadLists(input, options, report))?.lists[0];
}

/** A log as it is read, before a list is built: undefined when it has errors, unless `partial` asks for what could be read. */
export async function readLogOf(input: LoadInput, options: LoadOptions & { readonly partial?: boolean }, report: Report): Promise<LogReading | undefined> {
  const map = mappingOf(input, options);
  const text = decodedText(input, options, report);
  if (text === undefined) return undefined;
  const form = formOf(text);
  if (form === 'log') return reading(text, input, options, map, report);
  report(problem('bad-option', `${input.name} is an ${form.toUpperCase()}; only a log can be explained`, { option: '--explain' }));
  return undefined;
}

async function reading(text: string, { name, show: given }: LoadInput, options: LoadOptions & { readonly partial?: boolean }, map: Mapping | undefined, report: Report): Promise<LogReading | undefined> {
  if (isCorrectionsTable(withoutMark(text))) return correctionsAsLog(name, report);
  const [{ readLog }, { knownSources, showRate }, { loadClock }] = await Promise.all([import('./log/read.js'), import('./show/sources.js'), import('./timecode/luxon.js')]);
  await loadClock(map);
  if (options.map === undefined && given?.show.log !== undefined && map !== given.show.log) {
    const used = map === undefined ? 'is not used for it' : 'is used for it only as to its rate';
    report(problem('found', `a cutlog says itself how it is read; log in ${given.file} ${used}; say --map otherwise`, { file: name }));
  }
  const { timeAs, logRate, rounding, anchor, maxRows, maxBytes, end, partial } = options;
  const named = given === undefined ? [] : knownSources(given.show);
  return readLog(text, {
    file: name,
    ...known({ map, rate: options.rate ?? showRate(given?.show), timeAs, logRate, rounding, anchor, maxRows, maxBytes, end, partial }),
    ...(named.length === 0 ? {} : { sources: named }),
  }, report);
}

async function fromLog(text: string, input: LoadInput, options: LoadOptions, map: Mapping | undefined, counting: Counting): Promise<Loaded | undefined> {
  const report = counting.add;
  const log = await reading(text, input, options, map, report);
  if (log === undefined) return undefined;
  const [{ buildCutLists }, { listSources, rateSaid }] = await Promise.all([import('./cutlist/build.js'), import('./show/sources.js')]);
  const { count, origin, restarts, endAt } = log;
  // A cutlog has the list's own labels; those in the show file are still the ones of the log that it was made of.
  const theirs = options.map === undefined && map !== input.show?.show.log ? input.show?.show.log?.rate : log.map.rate;
  const labels = options.logRate ?? rateSaid(theirs) ?? { rate: count.rate, dropFrame: undefined };
  const named = listSources(input.show, log.sources, count, report, labels);
  const sources = counting.errors > 0 ? named : await relocated(named, options, report);
  const recordStart = recordStartOf(input, options, count, report);
  const sound = soundOf(input, options, sources, report);
  if (recordStart === undefined || counting.errors > 0) return undefined;
  const angles = options.angles === true || (options.alternatives === true && sources.some(({ files }) => files.length > 0));
  const show = input.show?.show;
  // What is wrong with a source is wrong in the show file.
  const ofBuilding: Report = (found) => { report(found.code === 'bad-show-file' && input.show !== undefined ? { place: { file: input.show.file }, ...found } : found); };
  const lists = buildCutLists(log.events, sources, {
    // An empty one (of a variable that is not set, of a spreadsheet) says nothing.
    title: [options.title, show?.title, log.title].find((title) => title !== undefined && title.trim() !== '') ?? input.title,
    count,
    recordStart,
    origin,
    restarts,
    file: input.name,
    ...(sound === undefined ? {} : { audio: { ...sound, ...known({ channels: show?.audio?.channels }) } }),
    ...known({ endAt, dissolveAt: options.dissolveAt, takes: options.takes, angles }),
  }, ofBuilding);
  return lists.length === 0 ? undefined : { form: 'log', lists, reading: log };
}

async function fromList(text: string, form: 'edl' | 'otio', input: LoadInput, options: LoadOptions, counting: Counting): Promise<Loaded | undefined> {
  const report = counting.add;
  for (const key of LOG_ONLY) {
    if (options[key] !== undefined && !(key === 'map' && isEncodingOnly(options.map))) report(problem('bad-option', `${input.name} is a list, not a log; this option has no meaning for it`, { option: optionOf(key) }));
  }
  if (counting.errors > 0) return undefined;
  const { showRate } = await import('./show/sources.js');
  const rate = known({ rate: options.rate ?? showRate(input.show?.show) });
  const list = form === 'edl' ? await fromEdl(text, input, rate, report) : (await import('./formats/otio/read.js')).readOtio(text, { file: input.name, ...rate }, report);
  if (list === undefined) return undefined;
  const recordStart = options.start === undefined ? list.recordStart : recordStartOf(input, options, list.count, report);
  if (recordStart === undefined) return undefined;
  return { form, lists: [{ ...list, title: options.title?.trim() ? options.title : list.title, recordStart, sources: await relocated(list.sources, options, report) }] };
}

async function fromEdl(text: string, { name, parts = [] }: LoadInput, rate: Pick<LoadOptions, 'rate'>, report: Report): Promise<CutList | undefined> {
  const { readEdl, readEdlParts } = await import('./formats/edl/read.js');
  return parts.length === 0 ? readEdl(text, { file: name, ...rate }, report) : readEdlParts([{ file: name, text }, ...parts], rate, report);
}

const relocated = async (sources: readonly Source[], { relocate }: LoadOptions, report: Report): Promise<readonly Source[]> =>
  relocate === undefined ? sources : relocate(sources, report);

/** Options that say how a log is read, or what is made of it beyond its shots. */
const LOG_ONLY = ['map', 'timeAs', 'logRate', 'rounding', 'anchor', 'end', 'audio', 'takes', 'angles'] as const satisfies readonly (keyof LoadOptions)[];

/** A mapping that says how the bytes of a file are read, and nothing of rows: a list may need that as well. */
const isEncodingOnly = (map: Mapping | undefined): boolean => map !== undefined && Object.keys(map).every((key) => key === 'encoding');

/** The option that fills a key, which is called like it: `timeAs` is `--time-as`. */
const optionOf = (key: string): string => `--${key.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/** The stages after building, the same for every input: rules, recordings, corrections. A list that was read says itself what it plays from: there, only what changed is placed. */
async function finished(list: CutList, form: Form, options: LoadOptions, counting: Counting, report: Report, placeOf: (event: EventRef) => Place | undefined): Promise<CutList | undefined> {
  const { adjust, corrections, dissolveAt } = options;
  const adjusted = adjust === undefined ? list : (await import('./cutlist/adjust.js')).adjustList(list, adjust, report, { uncover: true });
  if (form === 'edl' && adjusted !== list) report(problem('found', 'an EDL says nothing of takes: the rules saw one, and treat the first shot of a later take as any other; adjust the log, or an OTIO of it, where that matters'));
  if (form !== 'log' && adjusted === list && corrections === undefined) return list;
  const { placeOnRecordings, placeChanged } = await import('./cutlist/place.js');
  const said = new Set<string>();
  const once: Report = (found) => {
    if (!said.has(found.message)) report(found);
    said.add(found.message);
  };
  const placed = (changed: CutList, before: CutList): CutList => (form === 'log' ? placeOnRecordings(changed, once, placeOf) : placeChanged(changed, before, once));
  const ready = placed(adjusted, list);
  if (corrections === undefined || counting.errors > 0) return ready;
  const { applyCorrections } = await import('./corrections/apply.js');
  const corrected = applyCorrections(ready, corrections, report, known({ dissolveAt }));
  return corrected === undefined ? corrected : placed(corrected, ready);
}

/** Where the rows of a log's events stand. */
function placesIn(file: string, log: LogReading | undefined): (event: EventRef) => Place | undefined {
  let rows: Map<number, LogReading['events'][number]> | undefined;
  return ({ number }) => {
    rows ??= new Map((log?.events ?? []).map((event) => [event.number, event]));
    const row = rows.get(number);
    return row === undefined ? undefined : { file, line: row.line, column: row.column };
  };
}

function recordStartOf({ show }: LoadInput, { start }: LoadOptions, count: Count, report: Report): number | undefined {
  const label = start ?? show?.show.recordStart ?? '01:00:00:00';
  const frame = parseTimecode(label.trim(), count);
  if (!isFault(frame)) return frame;
  report(problemOf(frame, start !== undefined || show === undefined ? { option: '--start' } : showPlace(show.show, ['recordStart'], show.file)));
  return undefined;
}

/** Where sound comes from, and where that was said. */
function soundOf({ show }: LoadInput, { audio }: LoadOptions, sources: readonly Source[], report: Report): { readonly from: string; readonly place: Place } | undefined {
  const word = audio ?? show?.show.audio?.from;
  if (word === undefined) return undefined;
  const place = audio !== undefined || show === undefined ? { option: '--audio' } : showPlace(show.show, ['audio', 'from'], show.file);
  const from = audioSource(sources, word);
  if (from !== undefined) return { from, place };
  const words = [...sources.map(({ id }) => id), FOLLOW, NONE];
  report(problem('unknown-source', `there is no source '${word}'${didYouMean(word, words) || `; expected one of ${words.join(', ')}`}`, place));
  return undefined;
}
