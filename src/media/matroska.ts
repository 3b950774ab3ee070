/**
 * How many frames a Matroska recording holds, by the timestamps of its first and last frame (RFC 8794, RFC 9559).
 * The library takes them from a duration that a recorder may have left out, or that is the sound's; here a few
 * reads at both ends of the file tell, also when the recorder lost power. Pictures that are missing between them are not noticed: to count
 * the blocks, the header of each must be read, all over a file of a hundred gigabytes.
 */
import { buffered, type ByteSource } from './bytes.js';

const SEGMENT = 0x18538067;
const INFO = 0x1549a966;
const TIMESTAMP_SCALE = 0x2ad7b1;
const TRACKS = 0x1654ae6b;
const TRACK_ENTRY = 0xae;
const TRACK_NUMBER = 0xd7;
const TRACK_TYPE = 0x83;
const CLUSTER = 0x1f43b675;
const TIMESTAMP = 0xe7;
const SIMPLE_BLOCK = 0xa3;
const BLOCK_GROUP = 0xa0;
const BLOCK = 0xa1;
const VIDEO = 1;

/** Elements that can follow a cluster whose size is not known, and so end it. */
const AFTER_CLUSTER = new Set([CLUSTER, 0x1c53bb6b, 0x1254c367, 0x114d9b74, 0x1941a469, 0x1043a770, INFO, TRACKS]);

/** How far back from the end a last frame is looked for. */
const SEARCH_LIMIT = 512 * 1024 * 1024;

/** The presentation times of the first and the last frame of the first video track, in nanoseconds. */
export interface FrameSpan {
  readonly first: number;
  readonly last: number;
  /** True when the file ends in the middle of an element. */
  readonly cutOff: boolean;
}

interface Element {
  readonly id: number;
  /** Offset of the payload. */
  readonly start: number;
  /** Offset after the payload; undefined when its size is not known. */
  readonly end: number | undefined;
}

interface Head {
  readonly video: number;
  readonly scale: number;
  readonly firstCluster: number;
  readonly cutOff: boolean;
}

/** The span of a Matroska file's picture; undefined when it has none, or when its structure cannot be followed. */
export function frameSpan(given: ByteSource): FrameSpan | undefined {
  const file = buffered(given);
  const head = readHead(file);
  if (head === undefined) return undefined;
  const first = clusterTimes(file, head.firstCluster, head);
  if (first === undefined) return undefined;
  const last = lastTime(given, file, head);
  if (last === undefined) return undefined;
  return { first: first.min * head.scale, last: Math.max(last.max, first.max) * head.scale, cutOff: head.cutOff || last.cutOff };
}

/** Walks from the top to the first cluster, and keeps what is needed to read clusters. */
function readHead(file: ByteSource): Head | undefined {
  let video: number | undefined;
  let scale = 1_000_000;
  let cutOff = false;
  let offset = 0;
  while (offset < file.size) {
    const element = elementAt(file, offset);
    if (element === undefined) return undefined;
    const { id, start, end } = element;
    if (id === SEGMENT) {
      cutOff = end !== undefined && end > file.size;
      offset = start;
      continue;
    }
    if (id === CLUSTER) return video === undefined ? undefined : { video, scale, firstCluster: offset, cutOff };
    if (end === undefined || end > file.size) return undefined;
    if (id === INFO) scale = child(file, element, TIMESTAMP_SCALE) ?? scale;
    if (id === TRACKS) video ??= videoTrack(file, element);
    offset = end;
  }
  return undefined;
}

function videoTrack(file: ByteSource, tracks: Element): number | undefined {
  for (const entry of children(file, tracks)) {
    if (entry.id === TRACK_ENTRY && child(file, entry, TRACK_TYPE) === VIDEO) return child(file, entry, TRACK_NUMBER);
  }
  return undefined;
}

/**
 * The highest timestamp near the end: clusters are sought backwards by their id until one holds picture, and one more
 * before it, because frames that were encoded out of order may lie on both sides of a cluster's start.
 */
function lastTime(given: ByteSource, file: ByteSource, head: Head): { max: number; cutOff: boolean } | undefined {
  const step = 1024 * 1024;
  let max: number | undefined;
  let cutOff = false;
  let seen = false;
  let withPicture = 0;
  for (let end = given.size; end > head.firstCluster && given.size - end < SEARCH_LIMIT; end -= step) {
    const start = Math.max(head.firstCluster, end - step);
    // Eleven bytes more than the step, for an id that lies across two of them.
    const bytes = given.read(start, end - start + 11);
    for (let at = Math.min(bytes.length - 4, end - start - 1); at >= 0; at -= 1) {
      if (bytes[at] !== 0x1f || bytes[at + 1] !== 0x43 || bytes[at + 2] !== 0xb6 || bytes[at + 3] !== 0x75) continue;
      const times = clusterTimes(file, start + at, head);
      if (times === undefined) continue;
      if (!seen) cutOff = times.cutOff;
      seen = true;
      if (times.max === -Infinity) continue;
      max = Math.max(max ?? -Infinity, times.max);
      withPicture += 1;
      if (withPicture === 2) return { max, cutOff };
    }
  }
  return max === undefined ? undefined : { max, cutOff };
}

/** The timestamps of the pictures of one cluster, in ticks; undefined when there is no cluster at `offset`. */
function clusterTimes(file: ByteSource, offset: number, head: Head): { min: number; max: number; cutOff: boolean } | undefined {
  const cluster = elementAt(file, offset);
  if (cluster?.id !== CLUSTER) return undefined;
  const end = Math.min(cluster.end ?? file.size, file.size);
  let base: number | undefined;
  let min = Infinity;
  let max = -Infinity;
  let cutOff = cluster.end !== undefined && cluster.end > file.size;
  let at = cluster.start;
  while (at < end) {
    const element = elementAt(file, at);
    if (element === undefined || (cluster.end === undefined && AFTER_CLUSTER.has(element.id))) break;
    if (element.end === undefined) return base === undefined ? undefined : { min, max, cutOff: true };
    if (element.id === BLOCK_GROUP) {
      // Step inside: its first child of interest is the block, and the others are passed over as they come.
      at = element.start;
      continue;
    }
    if (element.end > file.size) {
      cutOff = true;
      break;
    }
    if (element.id === TIMESTAMP) base = unsigned(file, element);
    else if (element.id === SIMPLE_BLOCK || element.id === BLOCK) {
      if (base === undefined) return undefined;
      const time = blockTime(file, element, head.video);
      if (time !== undefined) {
        min = Math.min(min, base + time);
        max = Math.max(max, base + time);
      }
    }
    at = element.end;
  }
  return base === undefined ? undefined : { min, max, cutOff };
}

/** A block's time relative to its cluster, where it belongs to `track`: track number as a vint, then a signed 16-bit time. */
function blockTime(file: ByteSource, block: Element, track: number): number | undefined {
  const number = vint(file, block.start, true);
  if (number?.value !== track) return undefined;
  const bytes = file.read(block.start + number.length, 2);
  if (bytes.length < 2) return undefined;
  return new DataView(bytes.buffer, bytes.byteOffset, 2).getInt16(0);
}

function* children(file: ByteSource, parent: Element): Generator<Element> {
  let at = parent.start;
  while (at < (parent.end ?? 0)) {
    const element = elementAt(file, at);
    if (element?.end === undefined) return;
    yield element;
    at = element.end;
  }
}

function child(file: ByteSource, parent: Element, id: number): number | undefined {
  for (const element of children(file, parent)) if (element.id === id) return unsigned(file, element);
  return undefined;
}

function unsigned(file: ByteSource, { start, end = start }: Element): number {
  let value = 0;
  for (const byte of file.read(start, Math.min(end - start, 8))) value = value * 256 + byte;
  return value;
}

function elementAt(file: ByteSource, offset: number): Element | undefined {
  const id = vint(file, offset, false);
  if (id === undefined || id.length > 4) return undefined;
  const size = vint(file, offset + id.length, true);
  if (size === undefined) return undefined;
  const start = offset + id.length + size.length;
  return { id: id.value, start, end: size.unknown ? undefined : start + size.value };
}

/** A variable-size integer (RFC 8794 section 4); with `strip`, its length marker is taken out, and all ones mean unknown. */
function vint(file: ByteSource, offset: number, strip: boolean): { value: number; length: number; unknown: boolean } | undefined {
  const bytes = file.read(offset, 8);
  const first = bytes[0] ?? 0;
  const length = Math.clz32(first) - 23;
  if (length > 8 || bytes.length < length) return undefined;
  let value = strip ? first & (0xff >> length) : first;
  let unknown = strip && value === 0xff >> length;
  for (const byte of bytes.subarray(1, length)) {
    value = value * 256 + byte;
    unknown &&= byte === 0xff;
  }
  return { value, length, unknown };
}
