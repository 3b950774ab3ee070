/** The sources of an EDL: one a reel, with the names and files that comments give. */
import { BLACK, type MediaFile, type Source } from '../../cutlist/model.js';
import { freeId } from '../../cutlist/naming.js';
import { programLast } from '../../cutlist/program-last.js';
import { isFault } from '../../problems.js';
import type { Count } from '../../timecode/rate.js';
import { parseCount } from '../../timecode/timecode.js';
import { AUXILIARY_REEL, BLACK_REEL } from './columns.js';
import type { ReelFacts } from './comments.js';
import type { EdlEvent } from './document.js';

interface Gathered {
  readonly id: string;
  name: string;
  /** The name is only the reel's, until a comment gives one. */
  named: boolean;
  readonly reel?: string;
  readonly count: Count;
  readonly picture: boolean;
  readonly files: MediaFile[];
  readonly fileIndex: Map<string, number>;
}

/** What an event plays. */
export interface EventSource {
  readonly source: string;
  readonly file: number | undefined;
  /** The event's clip name, where it is not the source's name. */
  readonly clipName: string | undefined;
}

/**
 * Collects sources as events are read. The table of reels comes first, in its order; then sources in order of appearance.
 * Clips on AX, which is nobody's reel, are told apart by their names.
 */
export class SourceBook {
  readonly #sources = new Map<string, Gathered>();
  /** In lower case: ids match in any case. */
  readonly #ids = new Set<string>();

  constructor(reels: ReadonlyMap<string, ReelFacts>, list: Count) {
    for (const [reel, facts] of reels) {
      const said = parseCount(facts.rate ?? '');
      const count = isFault(said) ? list : said;
      this.#add(reel === AUXILIARY_REEL ? keyOf(reel, facts.name) : reel, { id: facts.id ?? reel, name: facts.name, named: true, reel, count, picture: facts.picture });
    }
  }

  /** The source of an event, made when it is new. */
  play(event: EdlEvent): EventSource {
    if (event.reel === BLACK_REEL) return { source: BLACK, file: undefined, clipName: undefined };
    const name = clipNameOf(event);
    const key = keyOf(event.reel, name);
    const source =
      this.#sources.get(key) ??
      this.#add(key, { id: key === event.reel ? event.reel : (name ?? AUXILIARY_REEL), name: name ?? event.reel, named: name !== undefined, reel: event.reel, count: event.sourceCount, picture: true });
    if (!source.named && name !== undefined) {
      source.name = name;
      source.named = true;
    }
    const path = fileNameOf(event);
    return { source: source.id, file: path === undefined ? undefined : fileOf(source, path), clipName: name === source.name ? undefined : name };
  }

  /** The id of the source that an event's first line names; undefined for AX, which may be anybody. */
  idOfReel(reel: string): string | undefined {
    if (reel === BLACK_REEL) return BLACK;
    return reel === AUXILIARY_REEL ? undefined : (this.#sources.get(reel)?.id ?? reel);
  }

  /** All sources, the program recording last. */
  sources(): Source[] {
    const all = [...this.#sources.values()].map(({ id, name, reel, count, picture, files }): Source => ({
      id,
      name,
      ...(reel === undefined ? {} : { reel }),
      aliases: [],
      picture,
      recorded: true,
      count,
      starts: [],
      offset: 0,
      files,
    }));
    return programLast(all);
  }

  #add(key: string, { id, reel, ...facts }: Omit<Gathered, 'files' | 'fileIndex'>): Gathered {
    const free = freeId(id, this.#ids);
    this.#ids.add(free.toLowerCase());
    const source: Gathered = { id: free, ...facts, ...(reel === undefined || reel === AUXILIARY_REEL ? {} : { reel }), files: [], fileIndex: new Map() };
    this.#sources.set(key, source);
    return source;
  }
}

const keyOf = (reel: string, name: string | undefined): string => (reel === AUXILIARY_REEL ? `${AUXILIARY_REEL} ${name ?? ''}` : reel);

/** The name of the clip that an event brings on: of a mix the one it goes to, else the only one there is. */
function clipNameOf({ kind, from, fromName, toName }: EdlEvent): string | undefined {
  const name = from === undefined && kind === 'cut' ? (fromName ?? toName) : (toName ?? (from === undefined ? fromName : undefined));
  return name === '' ? undefined : name;
}

/** The file of the clip that an event brings on, chosen as its name is. */
export const fileNameOf = ({ kind, from, toName, fromFile, toFile }: EdlEvent): string | undefined =>
  toFile ?? (from === undefined && (kind === 'cut' || toName === undefined) ? fromFile : undefined);

function fileOf(source: Gathered, path: string): number {
  const known = source.fileIndex.get(path);
  if (known !== undefined) return known;
  source.files.push({ path });
  source.fileIndex.set(path, source.files.length - 1);
  return source.files.length - 1;
}
