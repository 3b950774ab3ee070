/** `check`: is a file sound? What it is, is found out from its content. */
import type { CutList } from '../cutlist/model.js';
import { shotIndexAt } from '../cutlist/record.js';
import type { EdlDocument, EdlPart } from '../formats/edl/document.js';
import type { PlacedEvent } from '../formats/edl/unwrap.js';
import type { RateSigns } from '../formats/edl/which-rate.js';
import { chapterFormOf } from '../formats/endings.js';
import { known } from '../known.js';
import { decodedText } from '../file-text.js';
import type { LoadOptions } from '../load.js';
import { placedIn, problem, reportFaults, type Place, type Problem, type Report } from '../problems.js';
import type { ShowFile } from '../show/show.js';
import { Findings, type Finding, type Rules } from './finding.js';
import { chapterKind, kindOf, type Kind } from './kind.js';
import type { Accounted } from './against.js';
import type { PlacedList } from './list.js';

/** A file to check. What it is, is found out from its content. */
export interface CheckInput {
  /** As messages name it. */
  readonly name: string;
  readonly bytes: Uint8Array | string;
  /** Title of the list, where neither show file nor log give one (default: the name). */
  readonly title?: string;
  /** The show file that belongs to it. */
  readonly show?: { readonly file: string; readonly show: ShowFile };
  /** For a part of a divided EDL that is read by itself: what all parts say of the rate. */
  readonly signs?: RateSigns;
}

/** How files are checked. */
export interface CheckOptions {
  /** How logs are read, and the rate of lists that do not say it. */
  readonly load?: LoadOptions;
  /** Shots of fewer frames, ≥ 1, are `short-shot`. */
  readonly minShot?: number;
  /** Codes that are left out, or have another severity; not in a file that cannot be read. */
  readonly rules?: Rules;
  /** Says whether a recording is there: then `missing-file` is looked for. */
  readonly isThere?: (path: string, besides: string) => boolean;
  /** The parts behind the first of a divided EDL, for who wants the whole list: by the first one's name. Without them, undefined, there is no list. */
  readonly partsOf?: (name: string) => readonly EdlPart[] | undefined;
  /** A larger file is `too-large` (default 512 MiB). */
  readonly maxBytes?: number;
}

/** What was found out of a file. */
export interface Checked {
  readonly name: string;
  readonly kind: Kind | undefined;
  readonly findings: Findings;
  /** The list in it, for logs, EDLs and OTIOs that could be read; none of a log whose takes are lists of their own. */
  readonly placed?: PlacedList;
  /** The text of chapters, which are held against their list later. */
  readonly chapters?: string;
  /** The events of an EDL. */
  readonly document?: EdlDocument;
  /** For a list that was held against its log (`checkTogether`): how many of the switches that lie in this file it shows. */
  accounted?: Accounted;
}

/** Checks one file by itself. Nothing is thrown for what is in it. */
export async function checkFile(input: CheckInput, options: CheckOptions = {}): Promise<Checked> {
  const { name } = input;
  // Rules are for what is in a file: of one that cannot be read, nothing is sound.
  const unread = new Findings();
  if (reportFaults(unread.add, options.load?.rate, options.load?.logRate)) return { name, kind: undefined, findings: unread };
  const told: Problem[] = [];
  const text = decodedText(input, known({ map: options.load?.map, maxBytes: options.maxBytes }), (found) => { told.push(found); });
  const findings = text === undefined ? unread : new Findings(options.rules);
  told.forEach(findings.add);
  if (text === undefined) return { name, kind: undefined, findings };
  const kind = options.load?.map !== undefined && chapterKind(text, name) === 'text' && chapterFormOf(name) !== 'text' ? 'log' : kindOf(text, name);
  const base = { name, kind, findings };
  switch (kind) {
    case 'edl': return checkList({ ...base, ...await readEdlFile(text, input, options, findings) }, input, options);
    case 'otio': return checkList({ ...base, ...await readOtioFile(text, input, options, findings) }, input, options);
    case 'log': return checkLog(base, text, input, options);
    case 'chapters': return { ...base, chapters: text };
    default: return checkDescription(base, kind, text, input, options);
  }
}

type Base = Pick<Checked, 'name' | 'kind' | 'findings' | 'placed' | 'document'>;

async function rateOf({ show }: CheckInput, { load }: CheckOptions): Promise<Pick<LoadOptions, 'rate'>> {
  const { showRate } = await import('../show/sources.js');
  const rate = load?.rate ?? showRate(show?.show);
  return rate === undefined ? {} : { rate };
}

async function readEdlFile(text: string, input: CheckInput, options: CheckOptions, findings: Findings): Promise<Pick<Checked, 'placed' | 'document'>> {
  const [{ parseEdl }, { rateSigns }, { assembleEdl }, { checkEdlFormat }, { edlFrames, eventPlace, soundEvents, beginOfHole }] = await Promise.all([import('../formats/edl/parse.js'), import('../formats/edl/which-rate.js'), import('../formats/edl/assemble.js'), import('./edl-format.js'), import('./where.js')]);
  const file = input.name;
  // A hole is black to a reader, and a fault to whoever meant to export everything.
  const report: Report = (found) => { findings.add(found.code === 'hole' ? { ...found, severity: 'error' } : found); };
  const rate = await rateOf(input, options);
  const parts = options.partsOf === undefined ? [] : options.partsOf(file);
  if (parts === undefined) return {};
  const signs = parts.length === 0 ? input.signs : rateSigns([{ file, text }, ...parts]);
  const parsed = (part: EdlPart): EdlDocument | undefined => {
    const document = parseEdl(part.text, { file: part.file, ...rate, ...known({ signs }) }, report);
    if (document !== undefined) checkEdlFormat(part.text, document, findings.add);
    return document;
  };
  const document = parsed({ file, text });
  if (document === undefined) return {};
  const others = parts.map(parsed);
  // What is missing from a part would look like a hole, or like the end of the list.
  const whole = others.filter((other) => other !== undefined);
  if (whole.length < others.length) return {};
  const documents = [document, ...whole] as const;
  const assembled = assembleEdl(documents, report);
  const { list, begun } = assembled;
  for (const [part, frameOf] of edlFrames(assembled)) {
    findings.locate(part.file, (line, code) => {
      const frame = frameOf(line);
      return frame !== undefined && code === 'hole' ? beginOfHole(frame, list) : frame;
    });
  }
  const sounds = soundEvents(assembled);
  const placeOf = (event: PlacedEvent | undefined): Place | undefined => (event === undefined ? undefined : eventPlace(event));
  return { document, placed: { list, placeOf: (shot) => placeOf(begun[shot]) ?? { file }, soundAt: (frame) => placeOf(sounds.get(frame)) } };
}

async function readOtioFile(text: string, input: CheckInput, options: CheckOptions, findings: Findings): Promise<Pick<Checked, 'placed'>> {
  const { readOtio } = await import('../formats/otio/read.js');
  const list = readOtio(text, { file: input.name, ...await rateOf(input, options) }, findings.add);
  return list === undefined ? {} : { placed: { list, placeOf: () => ({ file: input.name }) } };
}

/** What can be wrong with any list, and with its recordings. */
async function checkList(base: Base, input: CheckInput, options: CheckOptions): Promise<Checked> {
  const { placed, findings } = base;
  if (placed === undefined) return base;
  const [{ checkReels, checkShortShots }, { checkRecordings, knowsRecordings, withShow }] = await Promise.all([import('./list.js'), import('./recordings.js')]);
  checkReels(placed, findings.add);
  if (options.minShot !== undefined) checkShortShots(placed, options.minShot, findings.add);
  const shown = input.show === undefined ? placed.list : withShow(placed, input.show.show, input.show.file, findings.add, base.kind === 'edl' ? 'labels' : 'times');
  if (knowsRecordings(shown)) checkRecordings(shown, placing(placed, findings));
  lookForFiles(shown, input.show?.file ?? input.name, options, findings);
  return base;
}

/** What is said of a record frame gets the place of the shot that begins there; where none does, of the sound. */
function placing({ list: { shots }, placeOf, soundAt }: PlacedList, findings: Findings): Report {
  return (found) => {
    const index = found.at === undefined ? -1 : shotIndexAt(shots, found.at);
    const begins = shots[index]?.in === found.at;
    const sound = begins || found.at === undefined ? undefined : soundAt?.(found.at);
    findings.add({ ...found, place: { ...(sound ?? placeOf(begins ? index : -1)), ...found.place } });
  };
}

function lookForFiles({ sources }: CutList, besides: string, { isThere }: CheckOptions, findings: Findings): void {
  if (isThere === undefined) return;
  for (const { name, files, recorded } of sources) {
    for (const { path } of recorded ? files : []) {
      if (!isThere(path, besides)) findings.add(problem('missing-file', `${path}, a recording of ${name}, is not there`, { file: besides }));
    }
  }
}

async function checkLog(base: Base, text: string, input: CheckInput, options: CheckOptions): Promise<Checked> {
  const [{ loadLists }, { logFrames }, { asFinding }] = await Promise.all([import('../load.js'), import('./where.js'), import('./recordings.js')]);
  const { name, show } = input;
  const report = placedIn(name, (found) => { base.findings.add(asFinding(found)); });
  const loaded = await loadLists({ name, bytes: text, title: input.title ?? name, ...(show === undefined ? {} : { show }) }, options.load ?? {}, report);
  const lists = loaded?.lists ?? [];
  const [list] = lists;
  if (list === undefined) return base;
  const placeOf = (): Place => ({ file: name });
  const { findings } = base;
  for (const [index, one] of lists.entries()) {
    findings.locate(name, logFrames(loaded?.reading?.events ?? [], one));
    if (options.minShot === undefined) continue;
    const { checkShortShots } = await import('./list.js');
    // Each take's list has labels of its own.
    const take = lists.length > 1 ? `take ${String(index + 1)}: ` : '';
    checkShortShots({ list: one, placeOf }, options.minShot, (found) => { findings.add({ ...found, message: take + found.message }); });
  }
  // All takes have the same sources.
  lookForFiles(list, show?.file ?? name, options, findings);
  return lists.length > 1 ? base : { ...base, placed: { list, placeOf } };
}

/** Show files, mapping files, corrections: what their readers say. */
async function checkDescription(base: Base, kind: Kind, text: string, input: CheckInput, options: CheckOptions): Promise<Checked> {
  const { name, findings } = base;
  if (kind === 'mapping file') (await import('../log/mapping-file.js')).readMapping(text, name, findings.add);
  else if (kind === 'corrections') (await import('../corrections/read.js')).readCorrections(text, name, findings.add);
  else await checkShow(text, input, options, findings);
  return base;
}

async function checkShow(text: string, input: CheckInput, options: CheckOptions, findings: Findings): Promise<void> {
  const { name } = input;
  const { readShowFile } = await import('../show/read.js');
  const show = readShowFile(text, name, findings.add);
  if (show === undefined) return;
  const [{ showSources, showRate }, { countOf }] = await Promise.all([import('../show/sources.js'), import('../timecode/timecode.js')]);
  const spec = options.load?.rate ?? showRate(show);
  // Labels mean nothing without a rate; the log may bring it.
  if (spec === undefined) return;
  const count = countOf(spec.rate, spec.dropFrame ?? true);
  const sources = showSources(show, count, name, findings.add, options.load?.logRate);
  const empty: CutList = { title: '', count, recordStart: 0, frames: 0, sources, takes: [], shots: [], audio: [], markers: [] };
  lookForFiles(empty, name, options, findings);
}

/** True when a file has an error or a warning. */
export const isUnsound = (findings: readonly Finding[]): boolean => findings.some(({ severity }) => severity !== 'note');
