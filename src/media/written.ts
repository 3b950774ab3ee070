/** What a show file names, for looking up: by path, by a file's name, by what a source is called. */
import { resolve } from 'node:path';
import { PROGRAM } from '../cutlist/model.js';
import type { ShowFile, ShowMedia, ShowSource } from '../show/show.js';
import { keyOf } from './find.js';
import { isProgram, type Group } from './group.js';
import { into } from './moved.js';
import type { Placed } from './order.js';
import { inFolder, pathTo } from './paths.js';

/** The show file into which recordings are written. */
export interface ShowTarget {
  /** As messages name it. */
  readonly file: string;
  /** Absolute folder that paths in it are relative to. */
  readonly folder: string;
  /** Absolute folder that the recordings' paths are relative to. */
  readonly from: string;
  /** What is in it now; undefined when it is not there yet. */
  readonly text?: string;
  /** Whether a file is there; absolute path. All are where it is not given. */
  readonly isThere?: (path: string) => boolean;
}

/** A source of the show file, or its program recording. */
export interface Owner {
  readonly path: readonly (string | number)[];
  readonly label: string;
  readonly source: Partial<ShowSource>;
  readonly files: ShowMedia[];
  touched: boolean;
}

/** A file that the show names: `owner.files[index]`. */
export interface Known {
  readonly owner: Owner;
  readonly index: number;
}

/** What is written, with what has been put right so far. */
export class Written {
  readonly owners: Owner[];
  /** Every file that the show names, by absolute path. */
  readonly known = new Map<string, Known>();
  /** The same by the file's own name. */
  readonly named = new Map<string, Known[]>();
  /** Owner of every word that a source is called by, in lower case; the first one where several are. */
  readonly called = new Map<string, Owner>();

  constructor(show: ShowFile, readonly target: ShowTarget) {
    const owner = (source: Partial<ShowSource>, path: readonly (string | number)[], label: string): Owner => ({ path, label, source, files: [...(source.files ?? [])], touched: false });
    this.owners = (show.sources ?? []).map((source, index) => owner(source, ['sources', index], source.id));
    if (show.program !== undefined) this.owners.push(owner(show.program, ['program'], PROGRAM));
    for (const one of this.owners) {
      one.files.forEach(({ path }, index) => {
        const found = { owner: one, index };
        this.known.set(this.absolute(path), found);
        into(this.named, keyOf(path), found);
      });
      const { id, name, reel, aliases = [] } = one.source;
      for (const word of [id, name, reel, ...aliases]) {
        const key = word?.trim().toLowerCase();
        if (key !== undefined && !this.called.has(key)) this.called.set(key, one);
      }
    }
  }

  /** The source that a group goes to: the one that names one of its files, else the one that is called like it. */
  ownerOf(group: Group): Owner | undefined {
    for (const file of group.files) {
      const found = this.known.get(this.placeOf(file));
      if (found !== undefined) return found.owner;
    }
    if (isProgram(group)) {
      const program = this.owners.find(({ label, path }) => label === PROGRAM && path.length === 1);
      if (program !== undefined) return program;
    }
    return this.called.get(group.name.toLowerCase());
  }

  isThere({ owner, index }: Known): boolean {
    return this.target.isThere?.(this.absolute(owner.files[index]?.path ?? '')) ?? true;
  }

  /** Where a recording is; absolute. */
  placeOf({ recording }: Placed): string {
    return resolve(this.target.from, recording.path);
  }

  absolute(path: string): string {
    return pathTo(path, this.target.folder);
  }
}

/** A recording's path as the show file keeps it: relative to it, with `/`; absolute where no relative path leads there. */
export const pathFor = ({ recording }: Placed, { folder, from }: ShowTarget): string => inFolder(resolve(from, recording.path), folder, 'relative');
