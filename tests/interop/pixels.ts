/**
 * Frame numbers in pixels: written into test recordings, read back from a program that was cut of them. Each source has a band of eight
 * lines; a number is 24 bits, a bit two blocks of four pixels, one lit and one dark. In a mix each band is dimmed
 * by its weight, so that both numbers and the weights can be read.
 */
import { spawnSync } from 'node:child_process';

export const BANDS = 6;
const BLOCK = 4;
const BITS = 24;
const LINES = 8;
export const WIDTH = 2 * BITS * BLOCK;
export const HEIGHT = BANDS * LINES;
const FRAME = WIDTH * HEIGHT;

/** One grey picture with `number` in `band`; the other bands are black. */
function picture(band: number, number: number): Buffer {
  const frame = Buffer.alloc(FRAME);
  const line = Buffer.alloc(WIDTH);
  for (let bit = 0; bit < BITS; bit += 1) {
    const lit = ((number >> (BITS - 1 - bit)) & 1) === 1 ? 2 * bit : 2 * bit + 1;
    line.fill(255, lit * BLOCK, (lit + 1) * BLOCK);
  }
  for (let y = 0; y < LINES; y += 1) line.copy(frame, (band * LINES + y) * WIDTH);
  return frame;
}

export interface Seen {
  readonly band: number;
  readonly number: number;
  /** How bright, 0 to 1. */
  readonly weight: number;
}

/** What one picture shows: a number for each band that is not black. Throws where a band holds anything else. */
function read(frame: Buffer, index: number): Seen[] {
  const seen: Seen[] = [];
  for (let band = 0; band < BANDS; band += 1) {
    const top = band * LINES * WIDTH;
    const bright = Math.max(...frame.subarray(top, top + WIDTH));
    if (bright < 3) continue;
    let number = 0;
    for (let bit = 0; bit < BITS; bit += 1) {
      const [one, zero] = [frame[top + 2 * bit * BLOCK + 1] ?? 0, frame[top + (2 * bit + 1) * BLOCK + 1] ?? 0];
      if (Math.max(one, zero) !== bright || Math.min(one, zero) !== 0) throw new Error(`frame ${String(index)}: band ${String(band)} holds no number`);
      number = number * 2 + (one > zero ? 1 : 0);
    }
    seen.push({ band, number, weight: bright / 255 });
  }
  return seen;
}

const RAW = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${String(WIDTH)}x${String(HEIGHT)}`];

/** Makes a recording without loss: `frames` pictures of `band` whose numbers count from `first`. */
export function record(path: string, options: { band: number; first: number; frames: number; rate: string; timecode: string }): void {
  const { band, first, frames, rate, timecode } = options;
  const input = Buffer.concat(Array.from({ length: frames }, (_, index) => picture(band, first + index)));
  const run = spawnSync('ffmpeg', ['-hide_banner', '-loglevel', 'error', '-y', ...RAW, '-r', rate, '-i', '-', '-c:v', 'png', '-timecode', timecode, path], { input, maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr.toString());
}

/** Runs ffmpeg with these arguments, which must make one stream of grey pictures called [program], and reads its numbers. */
export function play(args: readonly string[]): Seen[][] {
  const run = spawnSync('ffmpeg', ['-hide_banner', '-loglevel', 'error', ...args, '-map', '[program]', '-fps_mode', 'passthrough', '-f', 'rawvideo', '-pix_fmt', 'gray', '-'], { maxBuffer: 1 << 30 });
  if (run.status !== 0) throw new Error(run.stderr.toString());
  const out: Seen[][] = [];
  for (let at = 0; at + FRAME <= run.stdout.length; at += FRAME) out.push(read(run.stdout.subarray(at, at + FRAME), at / FRAME));
  return out;
}
