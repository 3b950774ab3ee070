// What benchmarks share: whole processes timed in turn, so that a machine that gets busier hits all of them alike.
import { spawnSync } from 'node:child_process';
import { performance } from 'node:perf_hooks';

/**
 * What the processes that are timed get of this one's environment: all but what makes every start of Node longer. With
 * NODE_EXTRA_CA_CERTS it reads certificates, which can take longer than all else it does, and would hide what is measured.
 */
export const PLAIN = Object.fromEntries(Object.entries(process.env).filter(([name]) => name !== 'NODE_EXTRA_CA_CERTS' && name !== 'NODE_OPTIONS'));

/** Times `commands` (arguments of node, or a function that gives them for a round) in turn, `rounds` times each after one to warm up; milliseconds of each, sorted. */
export function interleaved(commands, rounds, options = {}) {
  const times = commands.map(() => []);
  for (let round = -1; round < rounds; round += 1) {
    commands.forEach((command, index) => {
      const args = typeof command === 'function' ? command(round + 1) : command;
      const start = performance.now();
      const done = spawnSync(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'], env: PLAIN, ...options });
      const took = performance.now() - start;
      if (done.status !== 0) throw new Error(`node ${args.join(' ')} ended with ${done.status}: ${done.stderr}`);
      if (round >= 0) times[index].push(took);
    });
  }
  return times.map((list) => list.sort((a, b) => a - b));
}

export const median = (sorted) => sorted[Math.floor(sorted.length / 2)];

/** One whole process: seconds and peak memory in bytes, as the system accounts for them. */
export function measured(args, options = {}) {
  // The peak is read by the process itself at its very end: the same figure as the system's, without a tool for it.
  const start = performance.now();
  const done = spawnSync(process.execPath, ['--import', PEAK, ...args], { stdio: ['ignore', 'ignore', 'pipe'], encoding: 'utf8', env: PLAIN, ...options });
  const seconds = (performance.now() - start) / 1000;
  if (done.status !== 0) throw new Error(`node ${args.join(' ')} ended with ${done.status}: ${done.stderr}`);
  return { seconds, peak: Number(/peak (\d+)\s*$/.exec(done.stderr)?.[1]) * 1024 };
}

const PEAK = `data:text/javascript,${encodeURIComponent("process.on('exit', () => process.stderr.write(`peak ${process.resourceUsage().maxRSS}\\n`))")}`;
