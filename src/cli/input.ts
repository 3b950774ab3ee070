/** Reading files whole, within a limit. */
import { closeSync, openSync, readFileSync, readSync, fstatSync } from 'node:fs';
import { resolve } from 'node:path';
import { problem, type Report } from '../problems.js';
import { fileTrouble } from '../trouble.js';
import { spokenName, STANDARD } from './names.js';

/** Reports standard input that passed its limit; nothing of it is kept. */
export function tooMuchInput(maxBytes: number, report: Report): undefined {
  report(problem('too-large', `standard input passes the limit of ${String(maxBytes)} bytes; --max-bytes raises it`, { file: spokenName(STANDARD) }));
}

/**
 * A file's bytes; undefined when it cannot be read (`unreadable`) or has more than `maxBytes` (`too-large`), which was reported, with
 * what to do about it: `remedy`.
 */
export function bytesOf(file: string, cwd: string, maxBytes: number, report: Report, remedy = '--max-bytes raises it'): Uint8Array | undefined {
  let handle: number | undefined;
  try {
    handle = openSync(resolve(cwd, file), 'r');
    const stat = fstatSync(handle);
    const bytes = stat.isFile() && stat.size <= maxBytes ? readFileSync(handle) : stat.isFile() ? undefined : readPipe(handle, maxBytes);
    if (bytes !== undefined) return bytes;
    const size = stat.isFile() ? `${String(stat.size)} bytes` : 'more bytes than that';
    report(problem('too-large', `the file has ${size}; the limit is ${String(maxBytes)}, and ${remedy}`, { file }));
  } catch (cause) {
    report(problem('unreadable', `cannot be read: ${fileTrouble(cause)}`, { file }));
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
  return undefined;
}

/** Pipes and devices say nothing of their size: they are read until they end, or pass the limit. */
function readPipe(handle: number, maxBytes: number): Uint8Array | undefined {
  const parts: Buffer[] = [];
  for (let size = 0; size <= maxBytes;) {
    const part = Buffer.alloc(65_536);
    const length = readSync(handle, part);
    if (length === 0) return Buffer.concat(parts);
    parts.push(part.subarray(0, length));
    size += length;
  }
  return undefined;
}
