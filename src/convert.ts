/** The whole conversion as a function: the bytes of a log in, lists and their files out. Reads and writes nothing. */
import type { CutList } from './cutlist/model.js';
import type { ChapterOptions } from './formats/chapters/write.js';
import { takeEnding } from './formats/endings.js';
import type { EdlOptions } from './formats/edl/write.js';
import type { OtioOptions } from './formats/otio/write.js';
import type { Format, Output } from './formats/output.js';
import { known } from './known.js';
import { loadLists, type Loaded, type LoadInput, type LoadOptions } from './load.js';
import { ofTake } from './per-take.js';
import { problem, type Report } from './problems.js';

/** How a log is read, what becomes of its list, and how that is written. */
export interface ConvertOptions extends LoadOptions {
  /** In this order. */
  readonly to: readonly Format[];
  readonly edl?: EdlOptions;
  readonly otio: Omit<OtioOptions, 'angles'>;
  readonly chapters?: ChapterOptions;
}

/** One list and its files. */
export interface Converted {
  /** What follows the log's name: nothing, or `.take1`. */
  readonly name: string;
  readonly list: CutList;
  /** Formats that cannot hold this list are missing; the reason was reported. */
  readonly outputs: readonly Output[];
}

/**
 * Converts a log, an EDL or an OTIO. Empty when there are errors in what goes in, or an option names a source that it does not have; the same input and options always give the
 * same text. Outputs hold their text as chunks that are made while they are read.
 */
export async function convertLog(input: LoadInput, options: ConvertOptions, report: Report): Promise<Converted[]> {
  const loaded = await loadLists(input, { ...options, alternatives: options.to.includes('otio') }, report);
  if (loaded === undefined || !await fits(loaded, options, report)) return [];
  const converted: Converted[] = [];
  for (const [index, list] of loaded.lists.entries()) {
    const outputs: Output[] = [];
    const ofList = ofTake(list, loaded.lists, report);
    // A cutlog is of the log, not of a take.
    for (const format of options.to) outputs.push(...await written(format, list, loaded, input, options, format === 'cutlog' ? report : ofList));
    converted.push({ name: loaded.lists.length > 1 ? takeEnding(index + 1) : '', list, outputs });
  }
  return converted;
}

/** What does not fit a log stops it before any of its files is made. The sources of its takes are the same. */
async function fits({ lists: [list] }: Loaded, { to, chapters }: ConvertOptions, report: Report): Promise<boolean> {
  if (list === undefined || chapters === undefined || !to.includes('chapters')) return true;
  return (await import('./formats/chapters/write.js')).canHaveChapters(list, chapters, report);
}

/** A list that was read with angles under its cut keeps them. */
const anglesAsked = ({ form }: Loaded, { angles }: ConvertOptions): boolean | undefined => (form === 'log' ? angles : true);

async function written(format: Format, list: CutList, loaded: Loaded, input: LoadInput, options: ConvertOptions, report: Report): Promise<Output[]> {
  switch (format) {
    case 'edl': return (await import('./formats/edl/write.js')).writeEdl(list, options.edl ?? {}, report);
    case 'otio': return [(await import('./formats/otio/write.js')).writeOtio(list, { ...options.otio, ...known({ angles: anglesAsked(loaded, options), reelLength: options.edl?.reelLength }) })];
    case 'chapters': return made(await (await import('./formats/chapters/write.js')).writeChapters(list, options.chapters ?? {}, report));
    case 'cutlog': return cutlog(list, loaded, input, options, report);
  }
}

/** A file, where it could be made. */
const made = (output: Output | undefined): Output[] => (output === undefined ? [] : [output]);

async function cutlog(list: CutList, { form, reading, lists }: Loaded, { name, show, title }: LoadInput, options: ConvertOptions, report: Report): Promise<Output[]> {
  if (reading === undefined) {
    report(problem('bad-option', `${name} is ${form === 'edl' ? 'an EDL' : 'an OTIO'}; a cutlog can only be written of a log`, { option: '--to' }));
    return [];
  }
  // The log is one, however many lists its takes became.
  if (list !== lists[0]) return [];
  const { writeCutlog } = await import('./formats/cutlog/write.js');
  const { events, count, origin, restarts, endAt } = reading;
  return made(writeCutlog({ file: name, title: options.title ?? show?.show.title ?? reading.title ?? title, count, origin, restarts, sources: list.sources, events, ...known({ endAt }) }, report));
}
