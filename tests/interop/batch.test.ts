/**
 * Batches and a watched folder in real processes: 2,000 logs of which 50 are broken, kill -9 at random moments, Ctrl-C, a
 * full disk, a read-only disk, logs that arrive slowly. The judges are the operating system's own signals and file systems.
 */
import { execFileSync, spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { appendFileSync, copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BREAKS, smallLog, writeLogs } from '../support/batch.js';
import { partPath } from '../../src/cli/part-file.js';
import { workFolder } from './support.js';

const BIN = join(import.meta.dirname, '../../bin/linecut.js');
const TOTAL = 2000;
const BROKEN = new Set(Array.from({ length: 50 }, (_, index) => index * 37 + 3));
const RATE = ['--rate', '29.97df'];

let folder: string;
/** What every sound log must become: the lists of an undisturbed run. */
let reference: string;

const linecut = (args: readonly string[], cwd = folder): { status: number | null; out: string; err: string } => {
  const run = spawnSync(process.execPath, [BIN, 'convert', ...args], { cwd, encoding: 'utf8', maxBuffer: 1 << 28 });
  return { status: run.status, out: run.stdout, err: run.stderr };
};

const start = (args: readonly string[], cwd = folder): ChildProcess => spawn(process.execPath, [BIN, 'convert', ...args], { cwd, stdio: 'ignore' });

const ended = (child: ChildProcess): Promise<number | null> => new Promise((done) => { child.once('exit', (status) => { done(status); }); });

/** Lists in a folder; what a killed run left half-written has names that begin with a dot. */
const lists = (path: string): string[] => (existsSync(path) ? readdirSync(path).filter((name) => !name.startsWith('.')).sort() : []);

/** Names of lists that are not byte for byte those of the undisturbed run. */
const spoiled = (path: string): string[] =>
  lists(path).filter((name) => !readFileSync(join(path, name)).equals(readFileSync(join(reference, name))));

beforeAll(() => {
  folder = workFolder('batch');
  writeLogs(join(folder, 'in'), TOTAL, BROKEN);
  reference = join(folder, 'reference');
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('2,000 logs in one call, 50 of them broken', () => {
  it('gives the lists of 1,950, an object each, the 50 at the end with place and code; status 1', () => {
    const { status, out, err } = linecut(['in', '-o', reference, ...RATE, '--json']);
    expect(status).toBe(1);
    expect(lists(reference)).toHaveLength(3 * (TOTAL - BROKEN.size));
    const objects = out.trim().split('\n').map((line) => JSON.parse(line) as { log: string; outputs: unknown[]; problems: { code: string; severity: string }[] });
    expect(objects.map(({ log }) => log)).toEqual(Array.from({ length: TOTAL }, (_, index) => `in/show-${String(index).padStart(4, '0')}.csv`));
    objects.forEach(({ outputs, problems }, index) => {
      const errors = problems.filter(({ severity }) => severity === 'error').map(({ code }) => code);
      expect(outputs).toHaveLength(BROKEN.has(index) ? 0 : 3);
      expect(errors).toEqual(BROKEN.has(index) ? [BREAKS[index % BREAKS.length]?.code] : []);
    });
    const closing = err.slice(err.indexOf('not converted:'));
    for (const index of BROKEN) expect(closing).toContain(`in/show-${String(index).padStart(4, '0')}.csv`);
    expect(err).toContain('2,000 logs: 1,950 converted, 50 failed');
  });

  it('gives the same bytes on one thread, and one at a time', () => {
    const some = [0, 1, 5, 999].map((index) => `in/show-${String(index).padStart(4, '0')}.csv`);
    expect(linecut([...some, '-o', 'single', ...RATE, '--jobs', '1', '-q']).status).toBe(0);
    expect(spoiled(join(folder, 'single'))).toEqual([]);
    expect(lists(join(folder, 'single'))).toHaveLength(12);
  });

  it('takes its names from a list on standard input', () => {
    const run = spawnSync(process.execPath, [BIN, 'convert', '--logs-from', '-', '-o', 'listed', ...RATE], { cwd: folder, encoding: 'utf8', input: 'in/show-0000.csv\nin/show-0001.csv\n' });
    expect([run.status, lists(join(folder, 'listed')).length]).toEqual([0, 6]);
  });
});

describe('an interrupted batch', () => {
  it('leaves only whole lists after kill -9 at 50 random moments, and --resume brings it to its end', async () => {
    // The moments are spread from before the first list to the last, whatever the machine's speed: so many lists, and some milliseconds.
    mkdirSync(join(folder, 'some'));
    for (let index = 0; index < 100; index += 1) {
      const name = `show-${String(index).padStart(4, '0')}.csv`;
      if (!BROKEN.has(index)) copyFileSync(join(folder, 'in', name), join(folder, 'some', name));
    }
    const logs = readdirSync(join(folder, 'some')).length;
    let unfinished = 0;
    for (let round = 0; round < 50; round += 1) {
      const out = join(folder, `killed-${String(round)}`);
      const child = start(['some', '-o', out, ...RATE, '-q', '--resume']);
      const done = ended(child);
      const enough = Math.floor((round / 50) * 3 * logs);
      while (lists(out).length < enough && child.exitCode === null) await sleep(2);
      await sleep((round * 7) % 20);
      child.kill('SIGKILL');
      await done;
      expect(spoiled(out)).toEqual([]);
      if (lists(out).length < 3 * logs) unfinished += 1;
      if (round % 10 === 5) {
        expect(linecut(['some', '-o', out, ...RATE, '-q', '--resume']).status).toBe(0);
        expect([lists(out).length, spoiled(out)]).toEqual([3 * logs, []]);
        expect(readdirSync(out).filter((name) => name.endsWith('-part'))).toEqual([]);
      }
      rmSync(out, { recursive: true, force: true });
    }
    // If every run had ended before it was killed, nothing would have been tested.
    expect(unfinished).toBeGreaterThan(30);
  });

  // By SIGHUP the process ends itself in the end, which shells give as 129.
  it.each([['Ctrl-C', 'SIGINT', 130], ['a hang-up', 'SIGHUP', 'SIGHUP']] as const)('ends at %s with whole lists only, its own status, and nothing half-written', async (_, signal, end) => {
    const out = join(folder, `stopped by ${signal}`);
    const child = start(['in', '-o', out, ...RATE, '-q']);
    const done = ended(child);
    while (lists(out).length < 30) await sleep(20);
    child.kill(signal);
    await done;
    expect(child.signalCode ?? child.exitCode).toBe(end);
    expect(spoiled(out)).toEqual([]);
    expect(lists(out).length).toBeLessThan(3 * (TOTAL - BROKEN.size));
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('ends at once at a second Ctrl-C, with nothing half-written', async () => {
    for (const [index, resume] of [[], ['--resume'], [], ['--resume']].entries()) {
      const out = join(folder, `stopped twice ${String(index)}`);
      const child = start(['in', '-o', out, ...RATE, '-q', ...resume]);
      const done = ended(child);
      while (lists(out).length < 30) await sleep(20);
      child.kill('SIGINT');
      await sleep(index);
      child.kill('SIGINT');
      await done;
      // 130 where it had finished by itself before the second one came.
      expect([130, 'SIGINT']).toContain(child.signalCode ?? child.exitCode);
      expect(spoiled(out)).toEqual([]);
      expect(readdirSync(out, { recursive: true }).filter((name) => String(name).endsWith('-part'))).toEqual([]);
    }
  });

  it('with a large log among small ones hears a signal at once, and a log that memory does not suffice for costs only itself', async () => {
    const logs = join(folder, 'large');
    mkdirSync(logs);
    const rows = (count: number): string => ['time,action,source', '0,start,', ...Array.from({ length: count }, (_, row) => `${String(row * 3)},cut,${String(row % 4)}`), `${String(count * 3)},stop,`, ''].join('\n');
    writeFileSync(join(logs, 'a-large.csv'), rows(400_000));
    for (let index = 0; index < 400; index += 1) writeFileSync(join(logs, `small-${String(index)}.csv`), rows(60));
    const args = (out: string): string[] => ['large', '-o', out, '--rate', '25', '--to', 'otio', '-q', '--jobs', '2'];
    for (const signals of [1, 2]) {
      const out = join(folder, `large stopped ${String(signals)}`);
      const child = start(args(out));
      const done = ended(child);
      while (lists(out).length < 30) await sleep(2);
      child.kill('SIGINT');
      await sleep(50);
      const then = lists(out).length;
      if (signals === 2) child.kill('SIGINT');
      await done;
      // The large log and one small one were in work.
      expect(lists(out).length - then).toBeLessThanOrEqual(2);
      expect(lists(out).includes('a-large.otio')).toBe(signals === 1);
      expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
      expect(child.signalCode ?? child.exitCode).toBe(signals === 1 ? 130 : 'SIGINT');
    }
    const run = spawnSync(process.execPath, [BIN, 'convert', ...args('little memory').filter((arg) => arg !== '-q')], { cwd: folder, encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '--max-old-space-size=60' } });
    expect(run.stderr).toContain('401 logs: 400 converted, 1 failed');
    expect([run.status, lists(join(folder, 'little memory')).length]).toEqual([2, 400]);
  });

  it('ends by the signal where its terminal goes away, with whole lists only', () => {
    const out = join(folder, 'hung up');
    const script = [
      'import os, pty, sys, time',
      'pid, terminal = pty.fork()',
      'if pid == 0: os.execvp(sys.argv[1], sys.argv[1:])',
      'while not os.path.isdir(sys.argv[6]) or len(os.listdir(sys.argv[6])) < 30: os.read(terminal, 65536)',
      'os.close(terminal)',
      'print(os.waitpid(pid, 0)[1])',
    ].join('\n');
    const done = spawnSync('python3', ['-c', script, process.execPath, BIN, 'convert', 'in', '-o', out, ...RATE], { cwd: folder, encoding: 'utf8' });
    // What waitpid gives for a process that SIGHUP (1) ended, without a core.
    expect([done.stdout, done.stderr]).toEqual(['1\n', '']);
    expect(spoiled(out)).toEqual([]);
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('clears away what a killed run left, also where everything is current', () => {
    const log = join(folder, 'in/show-0001.csv');
    const out = join(folder, 'left');
    expect(linecut([log, '-o', out, ...RATE, '--resume', '-q']).status).toBe(0);
    const dead = spawnSync(process.execPath, ['-e', '0']).pid;
    const left = ['show-0001.edl', '.linecut/show-0001.json'].map((name) => partPath(join(out, name), 1).replace(`-${String(process.pid)}-1.`, `-${String(dead)}-1.`));
    for (const path of left) writeFileSync(path, 'half');
    expect(linecut([log, '-o', out, ...RATE, '--resume']).err).toContain('current, nothing to do');
    expect(left.filter((path) => existsSync(path))).toEqual([]);
  });

  it('passes over what is current, converts what changed, and touches no file of others', () => {
    const logs = ['in/show-0000.csv', 'in/show-0001.csv', 'in/show-0002.csv'].map((log) => join(folder, log));
    const out = join(folder, 'again');
    expect(linecut([...logs, '-o', out, ...RATE, '--resume']).status).toBe(0);
    const times = (): number[] => lists(out).map((name) => statSync(join(out, name)).mtimeMs);
    const before = times();
    const second = linecut([...logs, '-o', out, ...RATE, '--resume']);
    expect([second.status, second.err]).toEqual([0, expect.stringContaining('3 logs: 0 converted, 3 current, 0 failed')]);
    expect(times()).toEqual(before);
    const other = linecut([...logs, '-o', out, ...RATE, '--resume', '--cuts-only']);
    expect([other.status, other.err]).toEqual([0, expect.stringContaining('3 converted')]);
    appendFileSync(join(out, 'show-0001.edl'), '* my own remark\r\n');
    const third = linecut([...logs, '-o', out, ...RATE, '--resume']);
    expect(third.status).toBe(2);
    expect(third.err).toContain('show-0001.edl: error: was changed since an earlier run wrote it; --force replaces it [file-exists]');
    expect(readFileSync(join(out, 'show-0001.edl'), 'utf8')).toContain('my own remark');
  });
});

describe('a disk that takes no more', () => {
  const mounted = (options: string, use: (path: string) => void): void => {
    const path = join(folder, 'disk');
    mkdirSync(path, { recursive: true });
    execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', path]);
    try {
      use(path);
    } finally {
      execFileSync('umount', [path]);
    }
  };

  it('full: whole lists only, the rest reported, status 2', () => {
    mounted('size=300k', (path) => {
      const { status, err } = linecut(['in', '-o', join(path, 'out'), ...RATE]);
      expect(status).toBe(2);
      expect(err).toContain('the disk is full [unreadable]');
      expect(err).not.toMatch(/\n\s+at /);
      expect(lists(join(path, 'out')).length).toBeGreaterThan(0);
      expect(spoiled(join(path, 'out'))).toEqual([]);
      expect(readdirSync(join(path, 'out')).filter((name) => name.startsWith('.'))).toEqual([]);
    });
  });

  it('read-only: a clear message, nothing written, status 2', () => {
    mounted('size=1m', (path) => {
      execFileSync('mount', ['-o', 'remount,ro', path]);
      const { status, err } = linecut(['in/show-0000.csv', '-o', path, ...RATE]);
      expect(status).toBe(2);
      expect(err).toContain('the file system is read-only [unreadable]');
      expect(lists(path)).toEqual([]);
    });
  });
});

describe('a watched folder', () => {
  it('converts 500 logs that arrive, 20 of them slowly and some under another name first, each once, also over a restart', async () => {
    const arriving = join(folder, 'arriving');
    const out = join(folder, 'watched');
    mkdirSync(arriving);
    writeLogs(join(folder, 'more'), 500);
    const said: { log: string; outputs: unknown[] }[] = [];
    const open = (): ChildProcess => {
      const child = spawn(process.execPath, [BIN, 'convert', '--watch', arriving, '-o', out, ...RATE, '--json', '-q'], { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
      let rest = '';
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        const lines = (rest + text).split('\n');
        rest = lines.pop() ?? '';
        said.push(...lines.map((line) => JSON.parse(line) as { log: string; outputs: unknown[] }));
      });
      child.stderr.setEncoding('utf8').on('data', (text: string) => { said.push({ log: text, outputs: [] }); });
      return child;
    };
    const arrive = (index: number): void => {
      const name = `show-${String(index).padStart(4, '0')}.csv`;
      const log = smallLog(index);
      if (index % 10 === 7) {
        // As careful copiers do: another name until all is there.
        writeFileSync(join(arriving, `${name}.copying`), log);
        renameSync(join(arriving, `${name}.copying`), join(arriving, name));
      } else writeFileSync(join(arriving, name), log);
    };
    const slowly = async (index: number): Promise<void> => {
      const path = join(arriving, `show-${String(index).padStart(4, '0')}.csv`);
      const log = smallLog(index);
      // Each piece ends inside a row, and the first would be a log by itself.
      for (let at = 0; at < log.length; at += 120) {
        appendFileSync(path, log.slice(at, at + 120));
        await sleep(200);
      }
    };
    const slow = Array.from({ length: 20 }, (_, index) => index * 25);
    let child = open();
    await sleep(1000);
    const copies = slow.filter((index) => index < 250).map(slowly);
    for (let index = 0; index < 250; index += 1) {
      if (!slow.includes(index)) arrive(index);
      if (index % 50 === 0) await sleep(50);
    }
    await Promise.all(copies);
    await sleep(1000);
    let done = ended(child);
    child.kill('SIGINT');
    expect(await done).toBe(0);
    // Some arrive while nobody watches.
    for (let index = 250; index < 300; index += 1) if (!slow.includes(index)) arrive(index);
    child = open();
    const later = slow.filter((index) => index >= 250).map(slowly);
    for (let index = 300; index < 500; index += 1) if (!slow.includes(index)) arrive(index);
    await Promise.all(later);
    for (let wait = 0; wait < 300 && lists(out).length < 1500; wait += 1) await sleep(200);
    done = ended(child);
    child.kill('SIGINT');
    expect(await done).toBe(0);
    expect(lists(out)).toHaveLength(1500);
    expect(said.map(({ log }) => log.replace(/^.*\//, '')).sort()).toEqual(Array.from({ length: 500 }, (_, index) => `show-${String(index).padStart(4, '0')}.csv`));
    // Whole logs were read: the lists are those of a run over the complete folder.
    expect(linecut([join(folder, 'more'), '-o', join(folder, 'whole'), ...RATE, '-q']).status).toBe(0);
    for (const name of lists(out)) expect(readFileSync(join(out, name)).equals(readFileSync(join(folder, 'whole', name))), name).toBe(true);
  });
});
