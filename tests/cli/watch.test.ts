/** The watched folder, in this process: what the interop suite does with 500 logs, here for single cases. */
import { chmodSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { NOWHERE, type Io } from '../../src/cli/io.js';
import type { Job } from '../../src/cli/job.js';
import { watchFolders } from '../../src/cli/watch.js';
import { parseRate } from '../../src/timecode/rate.js';
import { isFault } from '../../src/problems.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const XML = '<cutlog version="1"><event time="00:00:00:00" action="cut" source="2"/><event time="00:00:05:00" action="stop"/></cutlog>';
const rate = parseRate('25');

/** What a watched folder says, one object a log, while `use` brings and takes files; `until` waits for so many objects. */
async function watched(use: (folder: string, until: (logs: number) => Promise<void>) => Promise<void>): Promise<{ said: string[]; files: string[] }> {
  if (isFault(rate)) throw new Error(rate.message);
  const cwd = folderWith({ 'in/readme.txt': 'no log' });
  const said: string[] = [];
  const out = { ...NOWHERE, write: (text: string) => {
    const { log, problems } = JSON.parse(text) as { log: string; problems: { code: string; severity: string }[] };
    said.push([log, ...problems.filter(({ severity }) => severity === 'error').map(({ code }) => code)].join(' '));
    return Promise.resolve();
  } };
  const io: Io = { cwd, env: {}, out, err: NOWHERE, readStdin: () => Promise.resolve(undefined) };
  const stop = new AbortController();
  const jobOf = ({ path, folder }: { path: string; folder: string }): Job =>
    ({ log: path, cwd, folder: join('out', folder), force: false, strict: false, resume: true, reads: [], options: { to: ['edl'], maxBytes: 1e6, otio: {}, rate } });
  await new Promise<void>((begun, failed) => {
    const running = watchFolders(['in'], { settle: 100, talk: { quiet: true, json: true }, jobOf, signal: stop.signal, ready: begun }, io);
    running.catch(failed);
  });
  const until = async (logs: number): Promise<void> => {
    for (let wait = 0; wait < 200 && said.length < logs; wait += 1) await sleep(25);
  };
  await use(join(cwd, 'in'), until);
  await sleep(300);
  stop.abort();
  return { said, files: filesIn(join(cwd, 'out')).filter((name) => name.endsWith('.edl')) };
}

describe('a watched folder', () => {
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
    const { said } = await watched(async (folder, until) => {
      writeFileSync(join(folder, 'closed.csv'), LOG);
      chmodSync(join(folder, 'closed.csv'), 0);
      await until(1);
    });
    // Who may read everything all the same gets the lists.
    expect(said).toEqual([process.geteuid?.() === 0 ? 'in/closed.csv' : 'in/closed.csv unreadable']);
  });

  it.each([['--explain'], ['--write-map', 'x.map.json'], ['--corrections', 'fix.csv']])('refuses %s', async (...option) => {
    const { status, err } = await cli(['convert', '--watch', 'in', ...option], { cwd: folderWith({ 'in/a.csv': LOG, 'fix.csv': 'do,at\n' }) });
    expect([status, err]).toEqual([2, expect.stringMatching(new RegExp(`^${option[0] ?? ''}: error: .*watched folder.*\\[bad-option\\]\\n$`))]);
  });
});
