/** Reads one recorded file: what the library says of it, and what had to be counted beside it. The only place that opens recordings. */
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { createRequire } from 'node:module';
import type * as Library from 'mediainfo.js';
import { fileTrouble } from '../trouble.js';
import { surveyBoxes } from './boxes.js';
import type { ByteSource } from './bytes.js';
import { frameSpan, type FrameSpan } from './matroska.js';

/** A track as MediaInfoLib describes it; the names are its own. Values are text or numbers. */
export type Track = Readonly<Record<string, unknown>>;

/** What was read from one file: plain data, so that a worker can send it. */
export interface Probe {
  readonly path: string;
  readonly bytes: number;
  readonly tracks: readonly Track[];
  /** Matroska: the times of its first and last frame. */
  readonly span?: FrameSpan;
  /** MOV, MP4: its frames lie in fragments. */
  readonly fragmented: boolean;
  /** Bytes at the end that belong to nothing whole: the recording was cut off. */
  readonly cutOff: number;
}

/** A file that could not be read, and why, in words. */
export interface Unread {
  readonly path: string;
  readonly reason: string;
}

export const isUnread = (value: Probe | Unread): value is Unread => 'reason' in value;

/** How many bytes the library is given at a time: headers are small, and what lies between them is passed over. */
const CHUNK = 64 * 1024;

let library: Promise<Library.MediaInfo> | undefined;

/**
 * Loads the library once a thread; it is 2.5 MB of WebAssembly, so nothing but `media` and `--media-root` pays for it. By `require`,
 * which works the same in a module, a bundle and a thread.
 */
function loaded(): Promise<Library.MediaInfo> {
  library ??= (createRequire(import.meta.url)('mediainfo.js') as typeof Library).mediaInfoFactory({ format: 'object', full: true, chunkSize: CHUNK });
  return library;
}

/** Reads one file. Never throws: a file that cannot be opened or understood comes back with its reason. */
export async function probe(path: string): Promise<Probe | Unread> {
  let handle: number;
  try {
    handle = openSync(path, 'r');
  } catch (cause) {
    return { path, reason: fileTrouble(cause) };
  }
  try {
    const stat = fstatSync(handle);
    if (!stat.isFile()) return { path, reason: 'it is not a file' };
    if (stat.size === 0) return { path, reason: 'it is empty' };
    return await probeBytes(path, fileBytes(handle, stat.size));
  } catch (cause) {
    // An aborted WebAssembly instance stays broken; the next file gets a fresh one.
    library = undefined;
    return { path, reason: fileTrouble(cause) };
  } finally {
    closeSync(handle);
  }
}

/** Reads a recording from its bytes. `path` is only a name. */
export async function probeBytes(path: string, file: ByteSource): Promise<Probe | Unread> {
  const info = await loaded();
  const head = file.read(0, 12);
  const isBoxes = ['ftyp', 'moov', 'mdat', 'wide', 'free', 'skip', 'pnot'].includes(String.fromCharCode(...head.subarray(4, 8)));
  const survey = isBoxes ? surveyBoxes(file) : { fragmented: false, wholeEnd: file.size };
  const size = survey.fragmented ? survey.wholeEnd : file.size;
  const result = await info.analyzeData(size, (length, offset) => file.read(offset, Math.min(length, size - offset)));
  const tracks = (result.media?.track ?? []) as unknown as readonly Track[];
  const isMatroska = head[0] === 0x1a && head[1] === 0x45 && head[2] === 0xdf && head[3] === 0xa3;
  const span = isMatroska ? frameSpan(file) : undefined;
  return { path, bytes: file.size, tracks, fragmented: survey.fragmented, cutOff: file.size - survey.wholeEnd, ...(span === undefined ? {} : { span }) };
}

function fileBytes(handle: number, size: number): ByteSource {
  return {
    size,
    read: (offset, length) => {
      const bytes = new Uint8Array(Math.max(0, Math.min(length, size - offset)));
      let filled = 0;
      while (filled < bytes.length) {
        const count = readSync(handle, bytes, filled, bytes.length - filled, offset + filled);
        if (count === 0) break;
        filled += count;
      }
      return bytes.subarray(0, filled);
    },
  };
}
