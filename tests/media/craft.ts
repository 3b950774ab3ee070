/**
 * Changes made to real files that ffmpeg cannot make: timecode tracks that count frame pairs, that jump, or that go on in a second entry.
 * Box layouts: QuickTime File Format and ISO/IEC 14496-12 (stts, stsz, stsc, stco), from memory.
 */

interface Box {
  readonly type: string;
  readonly start: number;
  readonly size: number;
  /** Boxes around it, outermost first. */
  readonly parents: readonly Box[];
}

const HOLDERS = new Set(['moov', 'trak', 'mdia', 'minf', 'stbl']);

/** All boxes of a file with 32-bit sizes, in order. */
export function boxes(bytes: Buffer, start = 0, end = bytes.length, parents: readonly Box[] = []): Box[] {
  const found: Box[] = [];
  for (let at = start; at + 8 <= end;) {
    const size = bytes.readUInt32BE(at);
    const box: Box = { type: bytes.toString('latin1', at + 4, at + 8), start: at, size, parents };
    found.push(box);
    if (HOLDERS.has(box.type)) found.push(...boxes(bytes, at + 8, at + size, [...parents, box]));
    at += size;
  }
  return found;
}

/** The sample table of the timecode track: ffmpeg writes it last. */
const last = (bytes: Buffer, type: string): Box => {
  const box = boxes(bytes).filter((one) => one.type === type).at(-1);
  if (box === undefined) throw new Error(`there is no ${type}`);
  return box;
};

export interface TrackCount {
  readonly timescale: number;
  readonly frameDuration: number;
  readonly perSecond: number;
  /** The counter of the first frame. */
  readonly frame: number;
}

/** The file with another timecode track: how it counts, and where it begins. */
export function withCount(file: Buffer, { timescale, frameDuration, perSecond, frame }: TrackCount): Buffer {
  const bytes = Buffer.from(file);
  const entry = last(bytes, 'stsd').start + 16;
  if (bytes.toString('latin1', entry + 4, entry + 8) !== 'tmcd') throw new Error('the last track is no timecode track');
  bytes.writeUInt32BE(timescale, entry + 24);
  bytes.writeUInt32BE(frameDuration, entry + 28);
  bytes.writeUInt8(perSecond, entry + 32);
  bytes.writeUInt32BE(frame, bytes.readUInt32BE(last(bytes, 'stco').start + 16));
  return bytes;
}

/** The file with two entries in its timecode track: `frames` frames from the first counter, then on from `second`. `duration` is one frame's. */
export function withSecondRun(file: Buffer, frames: number, second: number, total: number, duration: number): Buffer {
  let bytes = Buffer.from(file);
  const first = bytes.readUInt32BE(bytes.readUInt32BE(last(bytes, 'stco').start + 16));
  const replace = (type: string, words: readonly number[]): void => {
    const box = last(bytes, type);
    const fresh = Buffer.alloc(8 + 4 * words.length);
    fresh.writeUInt32BE(fresh.length, 0);
    fresh.write(type, 4, 'latin1');
    words.forEach((word, index) => fresh.writeUInt32BE(word, 8 + 4 * index));
    const grown = fresh.length - box.size;
    for (const parent of box.parents) bytes.writeUInt32BE(bytes.readUInt32BE(parent.start) + grown, parent.start);
    bytes = Buffer.concat([bytes.subarray(0, box.start), fresh, bytes.subarray(box.start + box.size)]);
  };
  replace('stts', [0, 2, 1, frames * duration, 1, (total - frames) * duration]);
  replace('stsz', [0, 4, 2]);
  replace('stsc', [0, 1, 1, 2, 1]);
  // The two counters lie in a box of their own behind everything.
  replace('stco', [0, 1, bytes.length + 8]);
  const data = Buffer.alloc(16);
  data.writeUInt32BE(16, 0);
  data.write('mdat', 4, 'latin1');
  data.writeUInt32BE(first, 8);
  data.writeUInt32BE(second, 12);
  return Buffer.concat([bytes, data]);
}
