/**
 * Finds recordings that were moved: by name, and by size and timecode where they are known. Pure: what is on the disk comes in
 * as a listing.
 */
import type { MediaFile, Source } from '../cutlist/model.js';
import type { PATH_FORMS } from '../file-url.js';
import { problem, type Report } from '../problems.js';
import { framesPerDay } from '../timecode/timecode.js';
import { byName } from './order.js';
import { baseName, inFolder, isFixed, pathTo, sameTail } from './paths.js';

/** A file below the media root. */
export interface FoundMedia {
  /** Absolute. */
  readonly path: string;
  readonly bytes: number;
  /** What it holds, where that was measured: frames since label zero, as a source counts. */
  readonly extentOf?: (source: Source) => { readonly start?: number; readonly frames?: number } | undefined;
}

/** Where recordings are sought, and how their paths come back. */
export interface FindOptions {
  /** Absolute: where recordings are sought. */
  readonly root: string;
  /** As messages name it. */
  readonly rootName: string;
  /** Absolute folder that relative paths are below. */
  readonly base: string;
  /** How paths come back; where it is not said, each as it was given. */
  readonly paths?: (typeof PATH_FORMS)[number];
  /** Whether a file is there, for those outside the root. Absolute path. */
  readonly isThere: (path: string) => boolean;
}

/**
 * The sources with every recording's path where it is now. Reported, once a file: `outside-root` (not below the root, but still where it
 * was), `missing-file` (in neither place; a file of that name that does not match is named with what differs), `two-candidates` (the
 * one whose folders are most like the old ones is taken, both are named). Those paths that found nothing stay.
 */
export function relocateSources(sources: readonly Source[], listing: readonly FoundMedia[], options: FindOptions, report: Report): Source[] {
  const byFile = new Map<string, FoundMedia[]>();
  for (const found of listing) {
    const key = keyOf(found.path);
    const same = byFile.get(key);
    if (same === undefined) byFile.set(key, [found]);
    else same.push(found);
  }
  return sources.map((source) => ({ ...source, files: source.files.map((file) => relocate(file, source, byFile, options, report)) }));
}

/** The names that a listing must be measured for: those of the recordings. In the form that `keyOf` gives. */
export const wantedNames = (sources: readonly Source[]): Set<string> => new Set(sources.flatMap(({ files }) => files.map(({ path }) => keyOf(path))));

/** A file's name for comparing: case and composition of letters change when files move between systems (Unicode Standard Annex 15). */
export const keyOf = (path: string): string => baseName(path).normalize('NFC').toLowerCase();

function relocate(file: MediaFile, source: Source, byFile: ReadonlyMap<string, readonly FoundMedia[]>, options: FindOptions, report: Report): MediaFile {
  const old = pathTo(file.path, options.base);
  const written = (path: string): MediaFile => ({ ...file, path: inFolder(path, options.base, options.paths ?? styleOf(file.path)) });
  const named = byFile.get(keyOf(file.path)) ?? [];
  const rated = named.map((found) => ({ found, differs: differences(file, source, found) }));
  const fitting = rated.filter(({ differs }) => differs === '').map(({ found }) => found);
  const inPlace = fitting.find(({ path }) => path === old);
  if (inPlace !== undefined) return written(inPlace.path);
  const [best, second] = [...fitting].sort((a, b) => sameTail(b.path, old) - sameTail(a.path, old) || byName(a.path, b.path));
  const place = { file: file.path };
  if (best !== undefined) {
    if (second !== undefined) {
      const all = fitting.map(({ path }) => path).sort(byName).join(', ');
      report(problem('two-candidates', `it is ${String(fitting.length)} times below ${options.rootName}: ${all}; ${best.path} was taken`, place));
    }
    return written(best.path);
  }
  const wrong = rated.map(({ found, differs }) => `${found.path} has its name, but ${differs}`).sort(byName).join('; ');
  const hint = wrong === '' ? '' : ` (${wrong})`;
  if (options.isThere(old)) report(problem('outside-root', `it is still at ${old}, outside ${options.rootName}${hint}`, place));
  else report(problem('missing-file', `it is neither there nor below ${options.rootName}${hint}`, place));
  return options.paths === undefined ? file : written(old);
}

const styleOf = (path: string): 'relative' | 'absolute' => (isFixed(path) ? 'absolute' : 'relative');

/** In which known facts a candidate differs from what the show file says; empty when in none. */
function differences(file: MediaFile, source: Source, found: FoundMedia): string {
  const parts: string[] = [];
  if (file.size !== undefined && file.size !== found.bytes) parts.push(`${String(found.bytes)} bytes instead of ${String(file.size)}`);
  const extent = found.extentOf?.(source);
  const day = framesPerDay(source.count);
  if (file.start !== undefined && extent?.start !== undefined && (file.start - extent.start) % day !== 0) parts.push('another start timecode');
  if (file.frames !== undefined && extent?.frames !== undefined && file.frames !== extent.frames) parts.push(`${String(extent.frames)} frames instead of ${String(file.frames)}`);
  return parts.join(', ');
}
