/** Temporary names of files that are being written, and whose such a file is. */
import { readFileSync, readlinkSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

const ENDING = '.linecut-part';
const NAME = /^\..+\.([A-Za-z0-9]+)-(\d+)-(\d+)-\d+\.linecut-part$/;

/** A part this old is of nobody, where its process cannot be asked for: no list takes so long to write. In milliseconds. */
const LONGEST = 3_600_000;

/** This machine, on a shared folder, and the space of process numbers on it: containers of one machine count for themselves. */
let here: string | undefined;
const place = (): string => (here ??= `${hostName().replaceAll(/[^A-Za-z0-9]/g, '').slice(0, 32) || 'host'}-${processSpace()}`);

/** From where Linux says it: Node's module for it takes a millisecond to load, and is asked where there is no such file. */
const hostName = (): string => ofLinux(() => readFileSync('/proc/sys/kernel/hostname', 'utf8')) ?? process.getBuiltinModule('node:os').hostname();

const processSpace = (): string => ofLinux(() => readlinkSync('/proc/self/ns/pid').replaceAll(/\D/g, '')) || '0';

function ofLinux(read: () => string): string | undefined {
  try {
    return process.platform === 'linux' ? read() : undefined;
  } catch {
    return undefined;
  }
}

/** A temporary path beside `target`; `serial` tells those of one process apart. */
export const partPath = (target: string, serial: number): string =>
  join(dirname(target), `.${basename(target).slice(0, 40)}.${place()}-${String(process.pid)}-${String(serial)}${ENDING}`);

/** Whose a file of a folder is: a part of this process, of one that is no more, of another; undefined where it is none of ours, or of another machine. */
export function ownerOf(folder: string, name: string): 'me' | 'nobody' | 'another' | undefined {
  const parts = name.endsWith(ENDING) ? NAME.exec(name) : null;
  if (parts === null) return undefined;
  const [, machine = '', space = '', number] = parts;
  const pid = Number(number);
  if (!place().startsWith(`${machine}-`)) return undefined;
  const near = place() === `${machine}-${space}`;
  if (near && pid !== process.pid) return isAlive(pid) ? 'another' : 'nobody';
  // A container that is started again gives its process the number that it had before.
  if (isOld(join(folder, name))) return 'nobody';
  return near ? 'me' : 'another';
}

function isOld(path: string): boolean {
  try {
    return statSync(path).mtimeMs < Date.now() - LONGEST;
  } catch {
    return false;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (cause) {
    return (cause as NodeJS.ErrnoException).code === 'EPERM';
  }
}
