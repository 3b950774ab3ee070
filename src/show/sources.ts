/** The sources of a cut list, from a show file or from the names that a log uses. */
import { PROGRAM, type MediaFile, type Source } from '../cutlist/model.js';
import type { JsonPath } from '../json.js';
import { isFault, problemOf, type Report } from '../problems.js';
import { framesPerLabel, parseRate, type Count, type RateSpec } from '../timecode/rate.js';
import { countOf, framesPerDay, hasDropMark, parseTimecode } from '../timecode/timecode.js';
import { showPlace } from './places.js';
import type { ShowFile, ShowMedia, ShowSource } from './show.js';

/**
 * The sources of a show, in its order, the program recording (id PROGRAM) last. `count` is the list's: it serves every
 * source whose files name no rate. A source's labels are read at its own count: a bare rate counts drop-frame when one
 * of its labels does. Files are in order of `start`; paths stay as they were given. Every label that cannot be read is reported
 * with its place in the show file (`bad-time`, `dropped-label`), and left out. `logRate` is what the labels of the log, and so `sync.is`, count at, where that was said
 * otherwise than in the show file: half the list's rate where they count frame pairs.
 */
export function showSources(show: ShowFile, count: Count, file: string, report: Report, logRate: RateSpec | undefined = rateSaid(show.log?.rate)): Source[] {
  const reader = new LabelReader(show, count, logLabels(logRate, count), file, report);
  const sources = (show.sources ?? []).map((source, index) => reader.source(source, ['sources', index]));
  if (show.program !== undefined) sources.push(reader.source({ ...show.program, id: PROGRAM, name: show.program.name ?? 'Program' }, ['program']));
  return sources;
}

/** Sources without a show file: those that the log names, id = name where it gives none. */
export const plainSources = (named: readonly { readonly id: string; readonly name: string }[], count: Count): Source[] =>
  named.map(({ id, name }) => ({ id, name: name === '' ? id : name, aliases: [], picture: true, recorded: true, count, starts: [], offset: 0, files: [] }));

/** What a log needs to know of a show's sources; empty when the show lists none, and the log's own names count. */
export const knownSources = ({ sources = [], program }: ShowFile): Pick<Source, 'id' | 'name' | 'aliases' | 'picture'>[] => {
  const known = sources.map(({ id, name = id, aliases = [], picture = true }) => ({ id, name, aliases, picture }));
  if (known.length > 0 && program !== undefined) known.push({ id: PROGRAM, name: program.name ?? 'Program', aliases: program.aliases ?? [], picture: true });
  return known;
};

/**
 * The sources of a list: the show's, or where it lists none those that the log names, and the program recording. `logRate` as for
 * `showSources`.
 */
export function listSources(
  given: { readonly file: string; readonly show: ShowFile } | undefined,
  named: readonly { readonly id: string; readonly name: string }[],
  count: Count,
  report: Report,
  logRate?: RateSpec,
): Source[] {
  const shown = given === undefined ? [] : showSources(given.show, count, given.file, report, logRate);
  return shown.some(({ id }) => id !== PROGRAM) ? shown : [...plainSources(named, count), ...shown];
}

/** A show's rate. It was checked when the show file was read; one made by hand that is wrong counts as not given. */
export const showRate = (show: ShowFile | undefined): RateSpec | undefined => rateSaid(show?.rate);

/** The same for a rate that is written anywhere. */
export function rateSaid(text: string | undefined): RateSpec | undefined {
  const spec = text === undefined ? undefined : parseRate(text);
  return isFault(spec) ? undefined : spec;
}

/** How the labels of the log count, and how many frames of the list each is. */
interface LogLabels {
  readonly count: Count;
  readonly frames: 1 | 2;
}

/** A rate that is neither the list's nor half of it says nothing of labels in this list; the log's own reader complains of it. */
function logLabels(said: RateSpec | undefined, list: Count): LogLabels {
  if (said === undefined) return { count: list, frames: 1 };
  const frames = framesPerLabel(said.rate, list.rate);
  return frames === undefined ? { count: list, frames: 1 } : { count: countOf(said.rate, said.dropFrame ?? list.dropFrame), frames };
}

class LabelReader {
  constructor(
    readonly show: ShowFile,
    readonly list: Count,
    readonly log: LogLabels,
    readonly file: string,
    readonly report: Report,
  ) {}

  source(given: ShowSource, path: JsonPath): Source {
    const count = sourceCount(given, this.list);
    const labels = given.start === undefined ? [] : typeof given.start === 'string' ? [given.start] : given.start;
    const starts: number[] = [];
    labels.forEach((label, index) => {
      const frame = this.label(label, count, typeof given.start === 'string' ? [...path, 'start'] : [...path, 'start', index]);
      if (frame !== undefined) starts.push(onward(frame, starts.at(-1), count));
    });
    const files = this.files(given.files ?? [], starts, count, [...path, 'files']);
    const first = files[0]?.start;
    const sync = given.sync === undefined ? undefined : {
      this: this.label(given.sync.this, count, [...path, 'sync', 'this']) ?? 0,
      // A label of the log, not of the recording: it counts as the log's labels do.
      is: (this.label(given.sync.is, this.log.count, [...path, 'sync', 'is']) ?? 0) * this.log.frames,
    };
    return {
      id: given.id,
      name: given.name ?? given.id,
      aliases: given.aliases ?? [],
      picture: given.picture ?? true,
      recorded: given.recorded ?? true,
      count,
      // The recording begins where its first file begins.
      starts: starts.length === 0 && first !== undefined ? [first] : starts,
      offset: given.offset ?? 0,
      files,
      ...(given.reel === undefined ? {} : { reel: given.reel }),
      ...(sync === undefined ? {} : { sync }),
    };
  }

  files(given: readonly ShowMedia[], starts: readonly number[], count: Count, path: JsonPath): MediaFile[] {
    const files: MediaFile[] = [];
    given.forEach((one, index) => {
      const label = one.start === undefined ? undefined : this.label(one.start, count, [...path, index, 'start']);
      const start = label === undefined ? placedBy(given, index, files.at(-1), starts) : onward(label, files.at(-1)?.start ?? starts[0], count);
      files.push({
        path: one.path,
        ...(start === undefined ? {} : { start }),
        ...(one.frames === undefined ? {} : { frames: one.frames }),
        ...(one.rate === undefined ? {} : { count }),
        ...(one.channels === undefined ? {} : { channels: one.channels }),
        ...(one.size === undefined ? {} : { size: one.size }),
      });
    });
    return files.every(({ start }) => start !== undefined) ? files.sort((a, b) => (a.start ?? 0) - (b.start ?? 0)) : files;
  }

  label(text: string, count: Count, path: JsonPath): number | undefined {
    const frame = parseTimecode(text.trim(), count);
    if (!isFault(frame)) return frame;
    this.report(problemOf(frame, showPlace(this.show, path, this.file)));
    return undefined;
  }
}

/** How a source's labels count: its files' rate, else the list's; drop-frame as the rate says, else as its labels are marked. */
function sourceCount(source: ShowSource, list: Count): Count {
  const labels = [source.start ?? [], source.sync?.this ?? [], ...(source.files ?? []).map(({ start }) => start ?? [])].flat();
  const marked = labels.some((label) => hasDropMark(label.trim()));
  const spec = source.files?.map(({ rate }) => (rate === undefined ? undefined : parseRate(rate))).find((one) => one !== undefined);
  if (spec === undefined || isFault(spec)) return countOf(list.rate, marked || list.dropFrame);
  if (spec.dropFrame !== undefined) return countOf(spec.rate, spec.dropFrame);
  return countOf(spec.rate, labels.length === 0 ? list.dropFrame : marked);
}

/** A label after `before` in the order given, on the next day where it lies more than half a day back: midnight passed. */
function onward(frame: number, before: number | undefined, count: Count): number {
  if (before === undefined) return frame;
  const day = framesPerDay(count);
  let at = frame;
  while (at + day / 2 < before) at += day;
  return at;
}

/** Where a file without a `start` begins: at the source's start, behind the file before, or, with one start a file, at its own. */
function placedBy(all: readonly ShowMedia[], index: number, before: MediaFile | undefined, starts: readonly number[]): number | undefined {
  if (starts.length === all.length && starts.length > 1) return starts[index];
  if (index === 0) return starts[0];
  if (starts.length > 1 || before?.start === undefined || before.frames === undefined) return undefined;
  return before.start + before.frames;
}
