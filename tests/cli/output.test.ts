import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, statSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exists, FileSet, prepareFolder, removeParts } from '../../src/cli/output.js';
import { partPath } from '../../src/cli/part-file.js';
import { fileTrouble } from '../../src/trouble.js';
import { filesIn, folderWith } from '../support/cli.js';

function* broken(): Generator<string> {
  yield 'a'.repeat(500_000);
  throw new Error('the writer failed');
}

describe('a set of files', () => {
  it('appears at once, whole', async () => {
    const folder = folderWith();
    const set = new FileSet();
    await set.write(join(folder, 'a.edl'), ['one\n', 'two\n', Buffer.from([255, 10]), 'é']);
    await set.write(join(folder, 'b.otio'), Array.from({ length: 3000 }, () => 'x'.repeat(999)));
    expect(filesIn(folder).every((name) => name.endsWith('.linecut-part'))).toBe(true);
    expect(set.commit()).toEqual([join(folder, 'a.edl'), join(folder, 'b.otio')]);
    expect(filesIn(folder)).toEqual(['a.edl', 'b.otio']);
    expect(readFileSync(join(folder, 'a.edl'))).toEqual(Buffer.from([...Buffer.from('one\ntwo\n'), 255, 10, 0xc3, 0xa9]));
    expect(readFileSync(join(folder, 'b.otio'), 'utf8')).toBe('x'.repeat(999 * 3000));
  });

  it('holds what was given, however it was cut up, also while others are written', async () => {
    const folder = folderWith();
    // Characters of one to four bytes; pieces from nothing to beyond what is gathered, and bytes between them.
    const text = fc.tuple(fc.string({ unit: 'grapheme', maxLength: 9 }), fc.constantFrom(0, 1, 40, 3000, 60_000)).map(([piece, times]) => piece.repeat(times));
    const chunk = fc.oneof({ weight: 6, arbitrary: text }, { weight: 1, arbitrary: fc.uint8Array({ maxLength: 50 }) });
    let number = 0;
    await fc.assert(fc.asyncProperty(fc.array(fc.array(chunk, { maxLength: 30 }), { minLength: 1, maxLength: 3 }), async (files) => {
      const set = new FileSet();
      const paths = files.map(() => join(folder, `${String((number += 1))}.edl`));
      await Promise.all(paths.map((path, index) => set.write(path, files[index] ?? [])));
      set.commit();
      for (const [index, path] of paths.entries()) expect(readFileSync(path).equals(Buffer.concat((files[index] ?? []).map((one) => Buffer.from(one as Uint8Array))))).toBe(true);
    }), { numRuns: 60 });
    // Long enough that each waits for the other; behind openings of several lengths, so that it waits at any point of filling the room.
    const long = (character: string, opening: number): (string | Uint8Array)[] => [Buffer.alloc(opening, '-'), ...Array.from({ length: 3000 }, () => character.repeat(2000))];
    for (const opening of [0, 60_000, 120_000, 180_000, 240_000, 300_000, 360_000]) {
      const set = new FileSet();
      const pair = ['ж', 'é'].map((character) => ({ chunks: long(character, opening), path: join(folder, `${character}-${String(opening)}.edl`) }));
      await Promise.all(pair.map(({ chunks, path }) => set.write(path, chunks)));
      set.commit();
      for (const { chunks, path } of pair) expect(readFileSync(path).equals(Buffer.concat(chunks.map((one) => Buffer.from(one as Uint8Array))))).toBe(true);
    }
  });

  it.each([['one long file', 1, 3_000_000], ['many short ones, the parts of an EDL', 200, 15_000]])('lets a signal be heard while it is written: %s', async (_, files, length) => {
    const [folder, set] = [folderWith(), new FileSet()];
    let turns = 0;
    const other = setInterval(() => { turns += 1; }, 0);
    for (let index = 0; index < files; index += 1) await set.write(join(folder, `${String(index)}.edl`), Array.from({ length: length / 1000 }, () => 'x'.repeat(1000)));
    clearInterval(other);
    set.discard();
    expect(turns).toBeGreaterThan(0);
  });

  it('finds itself another temporary name where one is taken', async () => {
    const folder = folderWith();
    const name = 'harbour-kitchen-of-the-summer-season-episode-1.edl';
    const [first, second] = [new FileSet(), new FileSet()];
    await first.write(join(folder, name), ['one']);
    const [part = ''] = filesIn(folder);
    const serial = Number(/-(\d+)\.linecut-part$/.exec(part)?.[1]);
    // What another thread writes, which counts by itself: the names of logs may begin alike.
    const taken = [1, 2, 3].map((more) => part.replace(/-\d+\.linecut-part$/, `-${String(serial + more)}.linecut-part`));
    for (const one of taken) writeFileSync(join(folder, one), 'theirs');
    await second.write(join(folder, name.replace('1.edl', '2.edl')), ['two']);
    expect([...first.commit(), ...second.commit()].map((path) => readFileSync(path, 'utf8'))).toEqual(['one', 'two']);
    expect(taken.map((one) => readFileSync(join(folder, one), 'utf8'))).toEqual(['theirs', 'theirs', 'theirs']);
  });

  it('leaves nothing when a writer fails', async () => {
    const folder = folderWith();
    const set = new FileSet();
    await set.write(join(folder, 'a.edl'), ['one']);
    await expect(set.write(join(folder, 'b.otio'), broken())).rejects.toThrow('the writer failed');
    set.discard();
    expect(filesIn(folder)).toEqual([]);
  });

  it('leaves the file that is there until it is whole', async () => {
    const folder = folderWith({ 'a.edl': 'old' });
    const set = new FileSet();
    await expect(set.write(join(folder, 'a.edl'), broken())).rejects.toThrow();
    expect(filesIn(folder)).toEqual(['a.edl']);
    await set.write(join(folder, 'a.edl'), ['new']);
    expect(readFileSync(join(folder, 'a.edl'), 'utf8')).toBe('old');
    set.commit();
    expect(readFileSync(join(folder, 'a.edl'), 'utf8')).toBe('new');
  });

  it('takes no name that somebody took meanwhile, nor any other then, where only new ones are asked for', async () => {
    const folder = folderWith();
    const [first, second] = [new FileSet(), new FileSet()];
    for (const name of ['b.otio', 'a.edl']) await first.write(join(folder, name), [`first ${name}`]);
    for (const name of ['c.txt', 'a.edl']) await second.write(join(folder, name), [`second ${name}`]);
    expect(first.commit({ onlyNew: true })).toEqual([join(folder, 'b.otio'), join(folder, 'a.edl')]);
    expect(() => second.commit({ onlyNew: true })).toThrow(expect.objectContaining({ code: 'EEXIST', dest: join(folder, 'a.edl') }) as Error);
    second.discard();
    expect(filesIn(folder)).toEqual(['a.edl', 'b.otio']);
    expect(['a.edl', 'b.otio'].map((name) => readFileSync(join(folder, name), 'utf8'))).toEqual(['first a.edl', 'first b.otio']);
    expect(statSync(join(folder, 'a.edl')).nlink).toBe(1);
  });

  it('takes names as long as the file system does', async () => {
    const folder = folderWith();
    const name = `${'n'.repeat(240)}.edl`;
    const set = new FileSet();
    await set.write(join(folder, name), ['x']);
    set.commit();
    expect(filesIn(folder)).toEqual([name]);
  });

  it('is cleared away when the process is interrupted', async () => {
    const folder = folderWith();
    await new FileSet().write(join(folder, 'a.edl'), ['one']);
    removeParts();
    expect(filesIn(folder)).toEqual([]);
  });
});

describe('a folder made ready', () => {
  it('is made when missing', () => {
    const folder = folderWith();
    prepareFolder(join(folder, 'x/y/z'));
    expect(exists(join(folder, 'x/y/z'))).toBe(true);
  });

  it('loses what a killed run left half-written, and nothing else', () => {
    const dead = spawnSync(process.execPath, ['-e', '0']).pid;
    const own = partPath('x/show.edl', 9).slice(2);
    const [, host = '', space = ''] = /^\.show\.edl\.(\w+)-(\d+)-\d+-9\.linecut-part$/.exec(own) ?? [];
    const named = (machine: string, spaceOf: string, pid: number, serial: number): string => `.show.edl.${machine}-${spaceOf}-${String(pid)}-${String(serial)}.linecut-part`;
    const gone = {
      [named(host, space, dead, 1)]: 'half',
      [named(host, space, process.pid, 7)]: 'of a process that had our number, before we began',
      [named(host, `${space}1`, 1, 1)]: 'of a container, long ago',
    };
    const kept = {
      [own]: 'of this run',
      [named(host, space, process.ppid, 1)]: 'of another run',
      [named(host, `${space}1`, dead, 2)]: 'of a container, a moment ago',
      [named('elsewhere', space, dead, 1)]: 'of another machine',
      'show.linecut-part': 'of somebody',
      'show.edl': 'whole',
    };
    const folder = folderWith({ ...gone, ...kept });
    for (const name of [...Object.keys(gone).slice(1), named(host, space, process.ppid, 1), named('elsewhere', space, dead, 1)]) utimesSync(join(folder, name), 0, 0);
    prepareFolder(folder);
    expect(filesIn(folder)).toEqual(Object.keys(kept).sort());
  });

  it('is followed through a link', () => {
    const folder = folderWith();
    mkdirSync(join(folder, 'real'));
    symlinkSync('real', join(folder, 'link'));
    prepareFolder(join(folder, 'link/x'));
    expect(exists(join(folder, 'real/x'))).toBe(true);
  });

  it('that is a file, lies below one, or is a link to nowhere is an error', () => {
    const folder = folderWith({ out: 'x' });
    symlinkSync('gone', join(folder, 'link'));
    const trouble = (path: string): string => {
      try {
        prepareFolder(join(folder, path));
        return '';
      } catch (cause) {
        return fileTrouble(cause);
      }
    };
    expect(trouble('out')).toBe('something else has that name');
    expect(trouble('out/x')).toBe('a part of the path is not a folder');
    expect(trouble('out/x/y')).toBe('a part of the path is not a folder');
    expect(trouble('link')).toBe('something else has that name');
    expect(trouble('link/x')).toBe('there is no such file or folder');
  });

  it('where none can be made is an error too, at once', () => {
    // Linux answers "no such file" to a folder in /proc, again and again; elsewhere /proc cannot be made.
    expect(() => { prepareFolder('/proc/linecut/x'); }).toThrow();
  });
});

it('a link to nowhere is something that is there', () => {
  const folder = folderWith();
  symlinkSync(join(folder, 'gone'), join(folder, 'a.edl'));
  expect(exists(join(folder, 'a.edl'))).toBe(true);
  expect(exists(join(folder, 'b.edl'))).toBe(false);
});
