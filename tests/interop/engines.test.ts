/** The README's ways to run across machines, as it shows them: GNU make (4.x, Debian), and the shell command of a container's job. */
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { workFolder } from './support.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const README = readFileSync(join(ROOT, 'README.md'), 'utf8');

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const BROKEN = 'time,action,source\n00:00:00:00,leap,1\n';

/** A folder with files; a `linecut` on the path that says where its list runs at 25. */
function stage(files: Record<string, string>): { readonly folder: string; readonly env: NodeJS.ProcessEnv } {
  const folder = workFolder('engines');
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  mkdirSync(join(folder, 'bin'));
  writeFileSync(join(folder, 'bin/linecut'), `#!/bin/sh\nexec "${process.execPath}" "${join(ROOT, 'bin/linecut.js')}" "$@" --rate 25\n`);
  chmodSync(join(folder, 'bin/linecut'), 0o755);
  return { folder, env: { ...process.env, PATH: `${join(folder, 'bin')}${delimiter}${process.env['PATH'] ?? ''}` } };
}

describe('GNU make', () => {
  const block = /```make\n([\s\S]*?)```/.exec(README)?.[1] ?? '';

  const command = /^# (make .*)$/m.exec(block)?.[1]?.split(' ') ?? [];
  const staged = (files: Record<string, string>): { folder: string; make: () => { status: number | null; out: string } } => {
    const { folder, env } = stage({ Makefile: block, ...files });
    const make = (): { status: number | null; out: string } => {
      const { status, stdout, stderr } = spawnSync(command[0] ?? '', command.slice(1), { cwd: folder, env, encoding: 'utf8' });
      return { status, out: stdout + stderr };
    };
    return { folder, make };
  };

  it('says of a log that gave some of its lists alone that it failed, each time until it is mended', () => {
    // A mix of a minute is too long for an EDL; the OTIO is written.
    const long = (frames: number): string => `time,action,source,duration\n00:00:00:00,start,,\n00:00:00:00,cut,1,\n00:00:01:00,dissolve,2,${String(frames)}\n00:02:00:00,stop,,\n`;
    const { folder, make } = staged({ 'shows/long.csv': long(1500) });
    for (let time = 0; time < 2; time += 1) {
      const { status, out } = make();
      expect([status, out]).toEqual([2, expect.stringContaining('[long-transition]')]);
    }
    writeFileSync(join(folder, 'shows/long.csv'), long(15));
    expect(make().status).toBe(0);
    expect(readdirSync(join(folder, 'lists')).sort()).toEqual(['long.chapters.txt', 'long.edl', 'long.otio']);
    expect(make()).toEqual({ status: 0, out: expect.stringContaining('Nothing to be done') as string });
  });

  it('converts what changed and no more, and a broken log stops no other', () => {
    const { folder, make } = staged({ 'shows/a.csv': LOG, 'shows/b.csv': BROKEN, 'shows/c.csv': LOG, 'shows/c.show.json': '{"title":"One"}' });
    const lists = (): string[] => readdirSync(join(folder, 'lists')).filter((name) => name.endsWith('.edl')).sort();
    const first = make();
    expect([first.status, lists()]).toEqual([2, ['a.edl', 'c.edl']]);
    expect(first.out).toContain("shows/b.csv:2:13: error: unknown action 'leap'");
    writeFileSync(join(folder, 'shows/b.csv'), LOG);
    expect([make().status, lists()]).toEqual([0, ['a.edl', 'b.edl', 'c.edl']]);
    const before = statSync(join(folder, 'lists/a.edl')).mtimeMs;
    writeFileSync(join(folder, 'shows/c.show.json'), '{"title":"Two"}');
    const later = new Date(Date.now() + 5000);
    utimesSync(join(folder, 'shows/c.show.json'), later, later);
    expect(make().status).toBe(0);
    expect(readFileSync(join(folder, 'lists/c.edl'), 'latin1')).toContain('TITLE: Two\r\n');
    expect(statSync(join(folder, 'lists/a.edl')).mtimeMs).toBe(before);
  });
});

describe('a job of containers', () => {
  const command = /command: \[sh, -c, "(.*)"\]/.exec(README)?.[1] ?? '';
  const share = (folder: string, env: NodeJS.ProcessEnv, index: number): { status: number | null; out: string; err: string } => {
    const { status, stdout, stderr } = spawnSync('sh', ['-c', command.replace('/lists', join(folder, 'lists'))], { cwd: join(folder, 'shows'), env: { ...env, JOB_COMPLETION_INDEX: String(index) }, encoding: 'utf8' });
    return { status, out: stdout, err: stderr };
  };
  const names = Array.from({ length: 20 }, (_, index) => `s${String(index)}.csv`);

  it('converts each log once in its eight shares; a broken log is not tried again', () => {
    const { folder, env } = stage({ ...Object.fromEntries(names.map((name) => [`shows/${name}`, name === 's7.csv' ? BROKEN : LOG])), 'shows/names.txt': `${names.join('\n')}\n` });
    const shares = Array.from({ length: 8 }, (_, index) => share(folder, env, index));
    expect(shares.map(({ status }) => status)).toEqual(Array.from({ length: 8 }, () => 0));
    const said = shares.flatMap(({ out }) => out.trim().split('\n')).map((line) => (JSON.parse(line) as { log: string }).log);
    expect([...said].sort()).toEqual([...names].sort());
    expect(readdirSync(join(folder, 'lists')).filter((name) => name.endsWith('.edl'))).toHaveLength(19);
    // Begun once more, it finds its lists current.
    expect(share(folder, env, 1).err).toContain('current');
  });

  it('does not take one log for another of that name', () => {
    const { folder, env } = stage({ 'shows/names.txt': `${Array.from({ length: 8 }, (_, index) => (index === 3 ? 'mon/s.csv' : index === 4 ? 's.csv' : `s${String(index)}.csv`)).join('\n')}\n`, 'shows/mon/s.csv': LOG, 'shows/s.csv': LOG.replace('10:00', '12:00') });
    expect(share(folder, env, 4).status).toBe(0);
    const first = readFileSync(join(folder, 'lists/s.edl'));
    const second = share(folder, env, 5);
    expect([second.status, second.err]).toEqual([1, expect.stringContaining('would be written over those of mon/s.csv')]);
    expect(readFileSync(join(folder, 'lists/s.edl'))).toEqual(first);
    expect(existsSync(join(folder, 'lists/.linecut/s.json'))).toBe(true);
  });
});
