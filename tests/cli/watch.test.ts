/** The watched folder, in this process: what the interop suite does with 500 logs, here for single cases. */
import { spawnSync } from 'node:child_process';
import { appendFileSync, chmodSync, mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { EdgeError, NOWHERE, type Io } from '../../src/cli/io.js';
import type { Job } from '../../src/cli/job.js';
import { exists } from '../../src/cli/output.js';
import { watchFolders } from '../../src/cli/watch.js';
import { parseRate } from '../../src/timecode/rate.js';
import { isFault } from '../../src/problems.js';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';
import { asNobody } from '../support/nobody.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const XML = '<cutlog version="1"><event time="00:00:00:00" action="cut" source="2"/><event time="00:00:05:00" action="stop"/></cutlog>';
const rate = parseRate('25');

interface Watched {
  readonly cwd?: string;
  readonly folders?: readonly string[];
  /** Takes what is said on standard output; throws where that cannot be written. */
  readonly write?: (text: string) => Promise<void>;
  /** Told of every log that a look comes to. */
  readonly look?: (log: string) => void;
}

/** What a watched folder says, one object a log, while `use` brings and takes files; `until` waits for so many objects. */
async function watched(use: (folder: string, until: (logs: number) => Promise<void>) => Promise<void>, options: Watched = {}): Promise<{ said: string[]; told: string; files: string[] }> {
  if (isFault(rate)) throw new Error(rate.message);
  const cwd = options.cwd ?? folderWith({ 'in/readme.txt': 'no log' });
  const said: string[] = [];
  let told = '';
  const err = { ...NOWHERE, write: (text: string) => {
    told += text;
    return Promise.resolve();
  } };
  const out = { ...NOWHERE, write: options.write ?? ((text: string) => {
    const { log, problems } = JSON.parse(text) as { log: string; problems: { code: string; severity: string }[] };
    said.push([log, ...problems.filter(({ severity }) => severity === 'error').map(({ code }) => code)].join(' '));
    return Promise.resolve();
  }) };
  const io: Io = { cwd, env: {}, out, err, readStdin: () => Promise.resolve(undefined) };
  const stop = new AbortController();
  const jobOf = ({ path, folder }: { path: string; folder: string }): Job => {
    options.look?.(path);
    return { log: path, cwd, folder: join('out', folder), force: false, strict: false, resume: true, reads: [], options: { to: ['edl'], maxBytes: 1e6, otio: {}, rate } };
  };
  let running: Promise<number> = Promise.resolve(0);
  await new Promise<void>((begun) => {
    running = watchFolders(options.folders ?? ['in'], { settle: 100, talk: { quiet: true, json: true }, jobOf, signal: stop.signal, ready: begun }, io);
    // How it ended is asked at the end.
    running.catch(() => undefined);
  });
  const until = async (logs: number): Promise<void> => {
    // A busy machine may take its time; the runner's own limit ends what never comes.
    while (said.length < logs) await sleep(25);
  };
  await use(join(cwd, 'in'), until);
  await sleep(300);
  stop.abort();
  expect(await running).toBe(0);
  return { said, told, files: (exists(join(cwd, 'out')) ? filesIn(join(cwd, 'out')) : []).filter((name) => name.endsWith('.edl')) };
}

describe('a watched folder', () => {
  it('loses no log, however soon it comes after its sub-folder', async () => {
    const { said } = await watched(async (folder, until) => {
      for (let index = 0; index < 60; index += 1) {
        mkdirSync(join(folder, `day ${String(index)}/x`), { recursive: true });
        await sleep(index % 4);
        writeFileSync(join(folder, `day ${String(index)}/x/a.csv`), LOG);
      }
      await until(60);
    });
    expect([...said].sort()).toEqual(Array.from({ length: 60 }, (_, index) => `in/day ${String(index)}/x/a.csv`).sort());
  });

  it('waits for a log that was still being written when the watch began', async () => {
    const cwd = folderWith({ 'in/a.csv': LOG.slice(0, 40) });
    let size = 40;
    const writing = setInterval(() => {
      if (size < LOG.length) appendFileSync(join(cwd, 'in/a.csv'), LOG.slice(size, (size += 1)));
    }, 40);
    const { said } = await watched(async (_, until) => { await until(1); }, { cwd });
    clearInterval(writing);
    expect([said, size]).toEqual([['in/a.csv'], LOG.length]);
  });

  it('waits for it also when the first look takes longer than a log has to be at rest', async () => {
    const cwd = folderWith({ 'in/a.csv': LOG.slice(0, 40), 'in/b.csv': LOG });
    let looks = 0;
    const { said } = await watched(async (folder, until) => {
      await sleep(60);
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(2);
    }, { cwd, look: (log) => {
      if (log !== 'in/b.csv' || (looks += 1) > 1) return;
      const share = new Int32Array(new SharedArrayBuffer(4));
      Atomics.wait(share, 0, 0, 250);
    } });
    expect([...said].sort()).toEqual(['in/a.csv', 'in/b.csv']);
  });

  it('may go away and come back, or be replaced by another', async () => {
    const { said, told } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(1);
      renameSync(folder, `${folder} gone`);
      await sleep(1500);
      renameSync(`${folder} gone`, folder);
      writeFileSync(join(folder, 'b.csv'), LOG);
      await until(2);
      renameSync(folder, `${folder} old`);
      mkdirSync(folder);
      writeFileSync(join(folder, 'c.csv'), LOG);
      await until(3);
    });
    expect([said, told]).toEqual([['in/a.csv', 'in/b.csv', 'in/c.csv'], 'in: error: the watched folder is gone; it is watched again when it is back [unreadable]\n']);
  });

  it('keeps the owner of a name over restarts', async () => {
    const cwd = folderWith({ 'in/a.xml': XML });
    const first = await watched(async (folder, until) => {
      await until(1);
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(2);
    }, { cwd });
    expect(first.said).toEqual(['in/a.xml', 'in/a.csv same-output']);
    const edl = textOf(cwd, 'out/a.edl');
    const second = await watched(async (folder, until) => {
      await until(1);
      expect(textOf(cwd, 'out/a.edl')).toBe(edl);
      rmSync(join(folder, 'a.xml'));
      await until(2);
    }, { cwd });
    expect(second.said).toEqual(['in/a.csv same-output', 'in/a.csv']);
    expect(textOf(cwd, 'out/a.edl')).not.toBe(edl);
  });

  it('tries again what could not be read or written, and says it once', async () => {
    const cwd = folderWith({ 'in/readme.txt': '', out: 'in the way' });
    const { said, files } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      symlinkSync('../later.csv', join(folder, 'link.csv'));
      await until(1);
      await sleep(1500);
      rmSync(join(cwd, 'out'));
      await until(2);
      writeFileSync(join(cwd, 'later.csv'), LOG);
      await until(3);
    }, { cwd });
    expect([said, files]).toEqual([['in/a.csv unreadable', 'in/a.csv', 'in/link.csv'], ['a.edl', 'link.edl']]);
  });

  it('takes a log anew when its show file comes, changes or goes', async () => {
    const show = (title: string): string => JSON.stringify({ title, sources: [{ id: '1', name: 'Stage wide' }] });
    const { said, files } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(1);
      writeFileSync(join(folder, 'a.show.json'), show('One'));
      await until(2);
      writeFileSync(join(folder, 'a.show.json'), show('Two'));
      await until(3);
      rmSync(join(folder, 'a.show.json'));
      await until(4);
    });
    expect([said, files]).toEqual([['in/a.csv', 'in/a.csv', 'in/a.csv', 'in/a.csv'], ['a.edl']]);
  });

  it('converts a log once that two folders hold or links lead back to, and takes neither pipes nor hidden files for logs', async () => {
    const cwd = folderWith({ 'in/sub/a.csv': LOG, 'in/._a.csv': LOG, 'in/.git/b.csv': LOG });
    symlinkSync('.', join(cwd, 'in/loop'));
    symlinkSync('..', join(cwd, 'in/sub/up'));
    spawnSync('mkfifo', [join(cwd, 'in/p.csv')]);
    const { said, told, files } = await watched(async (_, until) => {
      await until(1);
      await sleep(1200);
    }, { cwd, folders: ['in', 'in/sub'] });
    expect([said, told, files]).toEqual([['in/sub/a.csv'], '', ['sub/a.edl']]);
  });

  it('ends with a word where what it says cannot be written', async () => {
    const cwd = folderWith({ 'in/a.csv': LOG });
    const ended = watched(() => Promise.resolve(), { cwd, write: () => Promise.reject(new EdgeError('standard output cannot be written: the disk is full')) });
    await expect(ended).rejects.toThrow('standard output cannot be written');
  });

  it('gives a name free when its log is gone', async () => {
    const { said } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(1);
      writeFileSync(join(folder, 'a.xml'), XML);
      await until(2);
      rmSync(join(folder, 'a.xml'));
      rmSync(join(folder, 'a.csv'));
      await sleep(400);
      writeFileSync(join(folder, 'a.xml'), XML);
      await until(3);
    });
    expect(said).toEqual(['in/a.csv', 'in/a.xml same-output', 'in/a.xml']);
  });

  it('takes a log that was renamed, and one that was replaced', async () => {
    const { said, files } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      await until(1);
      renameSync(join(folder, 'a.csv'), join(folder, 'b.csv'));
      await until(2);
      writeFileSync(join(folder, '.new'), LOG.replace('10:00', '12:00'));
      renameSync(join(folder, '.new'), join(folder, 'b.csv'));
      await until(3);
    });
    expect([said, files]).toEqual([['in/a.csv', 'in/b.csv', 'in/b.csv'], ['a.edl', 'b.edl']]);
  });

  it('never passes over a file in silence because of its permissions', async () => {
    const arrives = (mode: number) => async (folder: string, until: (logs: number) => Promise<void>): Promise<void> => {
      writeFileSync(join(folder, 'a.csv'), LOG);
      chmodSync(join(folder, 'a.csv'), mode);
      await until(1);
    };
    // Also so that all code is loaded before somebody else needs it.
    expect((await watched(arrives(0o644))).said).toEqual(['in/a.csv']);
    const cwd = folderWith({ 'in/readme.txt': 'no log' });
    for (const folder of [cwd, join(cwd, 'in')]) chmodSync(folder, 0o777);
    const { said, files } = await asNobody(() => watched(arrives(0), { cwd }));
    expect([said, files]).toEqual([['in/a.csv unreadable'], []]);
  });

  it.each([['--explain'], ['--write-map', 'x.map.json'], ['--corrections', 'fix.csv']])('refuses %s', async (...option) => {
    const { status, err } = await cli(['convert', '--watch', 'in', ...option], { cwd: folderWith({ 'in/a.csv': LOG, 'fix.csv': 'do,at\n' }) });
    expect([status, err]).toEqual([2, expect.stringMatching(new RegExp(`^${option[0] ?? ''}: error: .*watched folder.*\\[bad-option\\]\\n$`))]);
  });
});
