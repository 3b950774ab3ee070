// Many small logs: what calls.bench.mjs and cores.bench.mjs measure.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { interleaved, median, PLAIN } from './measure.mjs';
import { writeLongLog } from './longlog.mjs';

const BIN = join(fileURLToPath(new URL('../..', import.meta.url)), 'bin/linecut.js');
const LOGS = 1000;
/** Rows of one log: a show of an hour and a half. */
const ROWS = 300;
const ONCE = 40;
const ROUNDS = 7;

/** Files in memory, where the system has a folder for that: how long a disk takes to make three thousand files depends on what was removed before. */
const MEMORY = '/dev/shm';

/** Logs in `in`, and half of them each in `half-0` and `half-1`. */
function folderOfLogs() {
  const folder = mkdtempSync(join(existsSync(MEMORY) ? MEMORY : tmpdir(), 'linecut-bench-'));
  for (const name of ['in', 'half-0', 'half-1']) mkdirSync(join(folder, name));
  for (let index = 0; index < LOGS; index += 1) {
    for (const name of ['in', `half-${index % 2}`]) writeLongLog(join(folder, name, `show-${index}.csv`), ROWS + (index % 7));
  }
  return folder;
}

/** Every run writes into a new folder: replacing files is another measurement. */
let outs = 0;
const convert = (what) => [BIN, 'convert', what, '-o', `out-${(outs += 1)}`, '--rate', '30', '-q'];

export function calls() {
  const folder = folderOfLogs();
  try {
    const [together] = interleaved([() => convert('in')], 3, { cwd: folder });
    const start = performance.now();
    for (let index = 0; index < ONCE; index += 1) interleaved([() => convert(`in/show-${index}.csv`)], 0, { cwd: folder });
    const single = ((performance.now() - start) / ONCE) * LOGS;
    return { ratio: single / median(together), detail: `${(single / 1000).toFixed(1)} s for 1,000 calls (from ${ONCE}), ${(median(together) / 1000).toFixed(2)} s for one call, median of 3` };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The first two cores that this process may run on, by number; undefined where the system does not say. */
function twoCores() {
  if (!existsSync('/proc/self/status')) return undefined;
  const list = /^Cpus_allowed_list:\s*(\S+)$/m.exec(readFileSync('/proc/self/status', 'utf8'))?.[1] ?? '';
  const cores = list.split(',').flatMap((part) => {
    const [from, to = from] = part.split('-').map(Number);
    return Array.from({ length: to - from + 1 }, (_, index) => from + index);
  });
  return cores.length < 2 ? undefined : cores.slice(0, 2);
}

/** Runs processes at the same time, each on the cores given to it (util-linux' taskset); seconds until the last has ended. */
async function seconds(folder, processes) {
  const start = performance.now();
  await Promise.all(processes.map(({ args, cores }) => new Promise((resolve, reject) => {
    const child = spawn('taskset', ['-c', cores.join(','), process.execPath, ...args], { cwd: folder, env: PLAIN, stdio: ['ignore', 'ignore', 'inherit'] });
    child.on('error', reject);
    child.on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`linecut ended with ${code}`))));
  })));
  return (performance.now() - start) / 1000;
}

/** One call on one core and on two; and, for what the machine itself gives, two calls of half the logs at the same time on a core each. */
export async function cores() {
  const two = twoCores();
  if (two === undefined) throw new Error('this benchmark binds processes to cores, which it can on Linux with two cores or more');
  const folder = folderOfLogs();
  try {
    const ways = [
      () => [{ args: convert('in'), cores: two.slice(0, 1) }],
      () => [{ args: convert('in'), cores: two }],
      () => two.map((core, half) => ({ args: convert(`half-${half}`), cores: [core] })),
    ];
    const times = ways.map(() => []);
    for (let round = -1; round < ROUNDS; round += 1) {
      for (const [index, way] of ways.entries()) {
        const took = await seconds(folder, way());
        if (round >= 0) times[index].push(took);
      }
    }
    const [one, both, apart] = times.map((list) => median(list.sort((a, b) => a - b)));
    return {
      ratio: one / both,
      detail: `medians of ${ROUNDS}: ${one.toFixed(2)} s on one core, ${both.toFixed(2)} s on two; two calls of 500 logs at the same time, a core each: ${apart.toFixed(2)} s, ${(one / apart).toFixed(2)}`,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
