/** Sources of a timeline: those that linecut noted in the file, and those that its clips name. */
import type { MediaFile, Source } from '../../cutlist/model.js';
import { freeId, NO_SOURCES, RESERVED_IDS } from '../../cutlist/naming.js';
import { programLast } from '../../cutlist/program-last.js';
import { isFault } from '../../problems.js';
import type { Count } from '../../timecode/rate.js';
import { countOf, parseCount } from '../../timecode/timecode.js';
import { pathOfUrl } from '../../file-url.js';
import { isMembers, metadataAt, schemaOf, textAt, type At, type Document, type Members } from './document.js';
import { mediaOf, urlOf } from './media.js';
import { EDL_KEY, OURS } from './schema.js';
import { inFrames, rangeAt, type Time } from './times.js';

/** A source while clips are still read: files are found as they go. */
interface Growing {
  readonly source: Omit<Source, 'files'>;
  readonly files: MediaFile[];
  /** URL → first index in `files`. */
  readonly urls: Map<string, number>;
  /** How many of `files` linecut noted; what clips say of the others is gathered as they go. */
  readonly noted: number;
}

/** Which source, and which of its files, a clip plays. */
export interface ClipSource {
  readonly source: string;
  readonly count: Count;
  readonly file?: number;
  /** The clip's name, where it is not the source's. */
  readonly clipName?: string;
}

/**
 * Finds the source of each clip: the id that linecut noted; else, as an editor would tell them apart, the reel, else the
 * clip's name, else the file. `all` gives them in the noted order, new ones in order of appearance before the program.
 */
export class SourceTable {
  readonly #document: Document;
  readonly #list: Count;
  readonly #byId = new Map<string, Growing>();
  readonly #byKey = new Map<string, Growing>();
  readonly #played = new Map<string, ClipSource>();
  /** Kinds of references that a list cannot hold, of which one was met. */
  readonly #told = new Set<string>();
  /** Every id in lower case: ids match in any case. */
  readonly #ids = new Set<string>(NO_SOURCES);

  constructor(document: Document, timeline: At, list: Count) {
    this.#document = document;
    this.#list = list;
    const noted = metadataAt(timeline, OURS)?.['sources'];
    for (const given of Array.isArray(noted) ? (noted as unknown[]) : []) {
      const made = isMembers(given) ? notedSource(given, list) : undefined;
      if (made !== undefined && !this.#ids.has(made.source.id.toLowerCase())) this.#add(made);
    }
  }

  get all(): Source[] {
    const all = [...this.#byId.values()].map(({ source, files }): Source => ({ ...source, files }));
    return programLast(all);
  }

  has(id: unknown): id is string {
    return typeof id === 'string' && this.#byId.has(id);
  }

  played(clip: At, start: Time | undefined): ClipSource {
    const reference = mediaOf(clip);
    const url = urlOf(reference);
    const name = textAt(clip, 'name');
    const own = metadataAt(clip, OURS)?.['source'];
    const reel = metadataAt(clip, EDL_KEY)?.['reel'];
    const file = reference === undefined ? undefined : metadataAt(reference, OURS)?.['file'];
    // Clips of one recording are alike.
    const key = `${String(own)}\n${String(reel)}\n${name}\n${String(url)}\n${String(file)}\n${rangeText(reference)}\n${reference === undefined ? '' : schemaOf(reference)}`;
    const known = this.#played.get(key);
    if (known !== undefined) return known;
    const played = this.#find(clip, start, reference, url, name, own);
    this.#played.set(key, played);
    return played;
  }

  #find(clip: At, start: Time | undefined, reference: At | undefined, url: string | undefined, name: string, own: unknown): ClipSource {
    const growing = (typeof own === 'string' ? this.#byId.get(own) : undefined) ?? this.#named(clip, name, url, own, reference, start);
    const { source } = growing;
    if (reference !== undefined) this.#sayLost(name, reference);
    const clipName = name === '' || name === source.name ? undefined : name;
    const file = url === undefined ? undefined : fileIndex(growing, url, reference, (at) => this.#mediaFile(at, url, source.count));
    return { source: source.id, count: source.count, ...(file === undefined ? {} : { file }), ...(clipName === undefined ? {} : { clipName }) };
  }

  #sayLost(name: string, reference: At): void {
    const kind = schemaOf(reference);
    const lost = lostOf(reference, kind);
    if (lost === undefined || this.#told.has(kind)) return;
    this.#told.add(kind);
    this.#document.add('found', reference.where, `the media of the clip '${name}', and of others like it, is ${lost}`);
  }

  #named(clip: At, name: string, url: string | undefined, own: unknown, reference: At | undefined, start: Time | undefined): Growing {
    const reel = metadataAt(clip, EDL_KEY)?.['reel'];
    const hasReel = typeof reel === 'string' && reel.trim() !== '';
    const path = url === undefined ? undefined : pathOfUrl(url);
    const plain = path?.split(/[\\/]/).at(-1)?.replace(/\.[^.]+$/, '');
    const wanted = [typeof own === 'string' ? own : '', hasReel ? reel.trim() : '', name, plain ?? ''].find((text) => text !== '') ?? 'unnamed';
    const key = typeof own === 'string' ? `id ${own}` : hasReel ? `reel ${reel.trim()}` : name === '' ? `file ${url ?? ''}` : `name ${name}`;
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    const available = reference === undefined ? undefined : rangeAt(this.#document, reference, 'available_range');
    const rate = available?.start.rate ?? available?.duration.rate ?? start?.rate ?? this.#list.rate;
    const growing: Growing = {
      source: {
        id: freeId(wanted, this.#ids, RESERVED_IDS),
        name: name === '' ? (plain ?? wanted) : name,
        ...(hasReel ? { reel: reel.trim() } : {}),
        aliases: [],
        picture: true,
        recorded: true,
        count: countOf(rate, this.#list.dropFrame),
        starts: [],
        offset: 0,
      },
      files: [],
      urls: new Map(),
      noted: 0,
    };
    this.#byKey.set(key, growing);
    this.#add(growing);
    return growing;
  }

  #mediaFile(reference: At | undefined, url: string, count: Count): MediaFile {
    const range = reference === undefined ? undefined : rangeAt(this.#document, reference, 'available_range');
    if (range === undefined) return { path: pathOfUrl(url) };
    const own = range.duration.rate ?? count.rate;
    const start = inFrames(range.start, own);
    const frames = inFrames(range.duration, own);
    if (!Number.isInteger(start) || !Number.isInteger(frames)) return { path: pathOfUrl(url) };
    return { path: pathOfUrl(url), start, frames, ...(own === count.rate ? {} : { count: countOf(own, count.dropFrame) }) };
  }

  #add(growing: Growing): void {
    this.#byId.set(growing.source.id, growing);
    this.#ids.add(growing.source.id.toLowerCase());
  }
}

/** What the list does not hold of a reference that is no file, in words. */
function lostOf(reference: At, kind: string): string | undefined {
  if (['', 'ExternalReference', 'MissingReference'].includes(kind)) return undefined;
  if (kind === 'ImageSequenceReference') return 'a sequence of images; the list knows the first image alone, and an OTIO made of it refers to that as to a file';
  const generator = textAt(reference, 'generator_kind');
  return `a ${kind}${generator === '' ? '' : ` ('${generator}')`}, which a list cannot hold; an OTIO made of it has a clip without media there`;
}

/** The file of a URL. Clips may each name the part of it that they use, with handles: it holds all of these. */
function fileIndex({ files, urls, noted: known }: Growing, url: string, reference: At | undefined, make: (at: At | undefined) => MediaFile): number {
  const noted = reference === undefined ? undefined : metadataAt(reference, OURS)?.['file'];
  const first = urls.get(url);
  if (first === undefined) {
    urls.set(url, files.length);
    return files.push(make(reference)) - 1;
  }
  if (first >= known) files[first] = spanning(files[first] as MediaFile, make(reference));
  return typeof noted === 'number' && files[noted]?.path === files[first]?.path ? noted : first;
}

/** What two descriptions of one file say it holds, and what lies between. */
function spanning(file: MediaFile, other: MediaFile): MediaFile {
  if (file.start === undefined || file.frames === undefined) return other;
  if (other.start === undefined || other.frames === undefined || file.count?.rate !== other.count?.rate) return file;
  const start = Math.min(file.start, other.start);
  return { ...file, start, frames: Math.max(file.start + file.frames, other.start + other.frames) - start };
}

/** What tells one available_range from another. */
function rangeText(reference: At | undefined): string {
  const range = reference?.members['available_range'];
  if (!isMembers(range)) return '';
  const { start_time: start, duration } = range;
  return `${isMembers(start) ? String(start['value']) : ''} ${isMembers(duration) ? String(duration['value']) : ''}`;
}

/** A source as linecut notes it; undefined when something else was put there. */
function notedSource(given: Members, list: Count): Growing | undefined {
  const { id, name, reel, aliases, picture, recorded, starts, offset, sync, files } = given;
  if (typeof id !== 'string' || typeof name !== 'string' || id === '') return undefined;
  const source: Omit<Source, 'files'> = {
    id,
    name,
    ...(typeof reel === 'string' ? { reel } : {}),
    aliases: Array.isArray(aliases) ? aliases.filter((alias): alias is string => typeof alias === 'string') : [],
    picture: picture !== false,
    recorded: recorded !== false,
    count: countNoted(given['rate']) ?? list,
    starts: Array.isArray(starts) ? starts.filter(isFrame) : [],
    offset: isFrame(offset) ? offset : 0,
    ...(isMembers(sync) && isFrame(sync['this']) && isFrame(sync['is']) ? { sync: { this: sync['this'], is: sync['is'] } } : {}),
  };
  const made: { files: MediaFile[]; urls: Map<string, number> } = { files: [], urls: new Map() };
  for (const file of Array.isArray(files) ? (files as unknown[]) : []) {
    const url = isMembers(file) ? file['url'] : undefined;
    if (!isMembers(file) || typeof url !== 'string') continue;
    const count = countNoted(file['rate']);
    const { start, frames, channels, size } = file;
    if (!made.urls.has(url)) made.urls.set(url, made.files.length);
    made.files.push({
      path: pathOfUrl(url),
      ...(isFrame(start) ? { start } : {}),
      ...(isFrame(frames) && frames >= 0 ? { frames } : {}),
      ...(count === undefined ? {} : { count }),
      ...(isFrame(channels) ? { channels } : {}),
      ...(isFrame(size) ? { size } : {}),
    });
  }
  return { source, ...made, noted: made.files.length };
}

const isFrame = (value: unknown): value is number => Number.isSafeInteger(value);

function countNoted(text: unknown): Count | undefined {
  const count = typeof text === 'string' ? parseCount(text) : undefined;
  return isFault(count) ? undefined : count;
}
