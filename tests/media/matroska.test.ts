/** Counting frames by the timestamps of a Matroska file (element ids and layouts: RFC 8794, RFC 9559). */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bytesOf } from '../../src/media/bytes.js';
import { frameSpan } from '../../src/media/matroska.js';
import { scale } from '../../src/timecode/exact.js';
import { RATES } from '../../src/timecode/rate.js';

/** An element: id and size as RFC 8794 writes them; `unknown` leaves the size open. */
function element(id: number, payload: Buffer, unknown = false): Buffer {
  const name = Buffer.from(id.toString(16).padStart(id > 0xffffff ? 8 : id > 0xffff ? 6 : id > 0xff ? 4 : 2, '0'), 'hex');
  const size = Buffer.alloc(8);
  size.writeBigUInt64BE(unknown ? 0x01ff_ffff_ffff_ffffn : 0x0100_0000_0000_0000n + BigInt(payload.length));
  return Buffer.concat([name, size, payload]);
}

const number = (id: number, value: number): Buffer => {
  const bytes = Buffer.alloc(8);
  bytes.writeBigUInt64BE(BigInt(value));
  return element(id, bytes);
};

function block(track: number, time: number, group: boolean, bytes = 20): Buffer {
  const head = Buffer.alloc(4 + bytes, 0x55);
  head.writeUInt8(0x80 + track, 0);
  head.writeInt16BE(time, 1);
  return group ? element(0xa0, Buffer.concat([element(0xa1, head), number(0x9b, 33)])) : element(0xa3, head);
}

interface Shape {
  /** Presentation times of the pictures, in ticks, in the order in which they are written. */
  readonly times: readonly number[];
  readonly perCluster: number;
  readonly tick: number;
  readonly open: boolean;
  readonly groups: boolean;
  /** Sound that goes on after the picture, in clusters of its own. */
  readonly soundAfter: number;
  readonly head?: Buffer;
  readonly frameBytes?: number;
}

function file({ times, perCluster, tick, open, groups, soundAfter, head = Buffer.alloc(0), frameBytes }: Shape): Buffer {
  const clusters: Buffer[] = [];
  for (let at = 0; at < times.length; at += perCluster) {
    const some = times.slice(at, at + perCluster);
    const base = Math.min(...some);
    const blocks = some.flatMap((time) => [block(2, time - base, groups, frameBytes), block(1, 0, false)]);
    clusters.push(element(0x1f43b675, Buffer.concat([number(0xe7, base), ...blocks]), open));
  }
  const end = Math.max(0, ...times);
  for (let index = 1; index <= soundAfter; index += 1) clusters.push(element(0x1f43b675, Buffer.concat([number(0xe7, end + index * 100), block(1, 0, false)]), open));
  const track = (id: number, kind: number): Buffer => element(0xae, Buffer.concat([number(0xd7, id), number(0x83, kind)]));
  const segment = Buffer.concat([
    element(0x114d9b74, Buffer.alloc(30)),
    element(0x1549a966, number(0x2ad7b1, tick)),
    element(0x1654ae6b, Buffer.concat([track(1, 2), track(2, 1)])),
    head,
    ...clusters,
    element(0x1c53bb6b, Buffer.alloc(12)),
  ]);
  return Buffer.concat([element(0x1a45dfa3, Buffer.alloc(5)), element(0x18538067, segment, open)]);
}

/** Frames by the span, as facts.ts counts them. */
function framesIn(bytes: Buffer, { num, den }: { num: number; den: number }): number | undefined {
  const span = frameSpan(bytesOf(bytes));
  return span === undefined ? undefined : scale(span.last - span.first, num, den * 1e9) + 1;
}

describe('frames of a Matroska file', () => {
  test('any number of frames at any rate, in milliseconds, written out of order, in open or closed clusters', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...RATES), fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 50 }), fc.boolean(), fc.boolean(),
        fc.integer({ min: 0, max: 8 }), fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 5000 }),
        (rate, frames, perCluster, open, groups, soundAfter, reorder, first) => {
          const times = Array.from({ length: frames }, (_, index) => first + Math.round((index * rate.den * 1000) / rate.num));
          // As encoders do: the frame that others lean on is written before them.
          const written = times.flatMap((_, index) => (index % (reorder + 1) === 0 ? [...times.slice(index, index + reorder + 1)].reverse() : []));
          expect(written.length).toBe(frames);
          expect(framesIn(file({ times: written, perCluster: Math.max(perCluster, reorder + 1), tick: 1_000_000, open, groups, soundAfter }), rate)).toBe(frames);
        },
      ),
      { numRuns: 200 },
    );
  });

  test('a finer tick', () => {
    const times = Array.from({ length: 90 }, (_, index) => Math.round((index * 1001 * 10_000) / 30_000));
    expect(framesIn(file({ times, perCluster: 7, tick: 100_000, open: false, groups: true, soundAfter: 0 }), { num: 30_000, den: 1001 })).toBe(90);
  });

  test('the id of a cluster inside a picture is not taken for one', () => {
    const times = Array.from({ length: 40 }, (_, index) => index * 40);
    const bytes = file({ times, perCluster: 10, tick: 1_000_000, open: true, groups: false, soundAfter: 0, frameBytes: 64 });
    for (let at = bytes.length - 60; at > bytes.length / 2; at -= 1) {
      if (bytes.subarray(at, at + 16).every((byte) => byte === 0x55)) bytes.writeUInt32BE(0x1f43b675, at + 4);
    }
    expect(framesIn(bytes, { num: 25, den: 1 })).toBe(40);
  });

  test('sound for longer than one search step after the last picture', () => {
    const times = Array.from({ length: 25 }, (_, index) => index * 40);
    const bytes = file({ times, perCluster: 10, tick: 1_000_000, open: false, groups: false, soundAfter: 40_000 });
    expect(bytes.length).toBeGreaterThan(2 * 1024 * 1024);
    expect(framesIn(bytes, { num: 25, den: 1 })).toBe(25);
  });

  test('something large before the first cluster is passed over, not read', () => {
    const times = Array.from({ length: 25 }, (_, index) => index * 40);
    const bytes = file({ times, perCluster: 10, tick: 1_000_000, open: false, groups: false, soundAfter: 0, head: element(0x1941a469, Buffer.alloc(8_000_000)) });
    let read = 0;
    const span = frameSpan({ size: bytes.length, read: (offset, length) => {
      read += Math.min(length, bytes.length - offset);
      return bytes.subarray(offset, offset + length);
    } });
    expect(span).toEqual({ first: 0, last: 960_000_000, cutOff: false });
    expect(read).toBeLessThan(2_000_000);
  });

  test('cut off anywhere, the pictures before the cut count', () => {
    const times = Array.from({ length: 60 }, (_, index) => index * 40);
    const bytes = file({ times, perCluster: 10, tick: 1_000_000, open: false, groups: false, soundAfter: 0 });
    const ends: number[] = [];
    for (let at = 0; at < bytes.length - 13; at += 1) {
      // A picture is a simple block of track 2.
      if (bytes[at] === 0xa3 && bytes[at + 1] === 1 && bytes[at + 9] === 0x82) ends.push(at + 9 + 24);
    }
    expect(ends.length).toBe(60);
    for (let cut = (ends[0] as number); cut < bytes.length - 21; cut += 5) {
      const expected = ends.filter((end) => end <= cut).length;
      const span = frameSpan(bytesOf(bytes.subarray(0, cut)));
      expect(span?.cutOff, `cut at ${String(cut)}`).toBe(true);
      expect((span?.last ?? 0) / 40e6 + 1, `cut at ${String(cut)}`).toBe(expected);
    }
  });

  test('what is no Matroska file, and one without a picture', () => {
    for (const bytes of [Buffer.alloc(0), Buffer.alloc(1000), Buffer.alloc(1000, 0xff), Buffer.from('RIFF....WAVE')]) expect(frameSpan(bytesOf(bytes))).toBeUndefined();
    expect(frameSpan(bytesOf(file({ times: [], perCluster: 1, tick: 1_000_000, open: false, groups: false, soundAfter: 5 })))).toBeUndefined();
  });

  test('noise never hangs and never throws', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), (noise) => {
      const bytes = file({ times: [0, 40, 80], perCluster: 2, tick: 1_000_000, open: false, groups: true, soundAfter: 1 });
      const at = noise.length % bytes.length;
      frameSpan(bytesOf(Buffer.concat([bytes.subarray(0, at), noise, bytes.subarray(at)])));
    }), { numRuns: 300 });
  });
});
