// Many small logs: what calls.bench.mjs and cores.bench.mjs measure.
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { interleaved, median } from './measure.mjs';
import { writeLongLog } from './longlog.mjs';

const BIN = join(fileURLToPath(new URL('../..', import.meta.url)), 'bin/linecut.js');
const LOGS = 1000;
/** Rows of one log: a show of an hour and a half. */
const ROWS = 300;
const ONCE = 40;

function inFolder(use) {
  const folder = mkdtempSync(join(tmpdir(), 'linecut-bench-'));
  try {
    mkdirSync(join(folder, 'in'));
    for (let index = 0; index < LOGS; index += 1) writeLongLog(join(folder, 'in', `show-${index}.csv`), ROWS + (index % 7));
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const all = (...more) => [BIN, 'convert', 'in', '-o', 'out', '--rate', '30', '--force', '-q', ...more];

export const calls = () =>
  inFolder((folder) => {
    const [together] = interleaved([all()], 3, { cwd: folder });
    const start = performance.now();
    for (let index = 0; index < ONCE; index += 1) interleaved([[BIN, 'convert', `in/show-${index}.csv`, '-o', 'single', '--rate', '30', '--force', '-q']], 0, { cwd: folder });
    const single = ((performance.now() - start) / ONCE) * LOGS;
    return { ratio: single / median(together), detail: `${(single / 1000).toFixed(1)} s for 1,000 calls (from ${ONCE}), ${(median(together) / 1000).toFixed(2)} s for one call, median of 3` };
  });

export const cores = () =>
  inFolder((folder) => {
    const [one, two] = interleaved([all('--jobs', '1'), all('--jobs', '2')], 5, { cwd: folder });
    return { ratio: median(one) / median(two), detail: `${(median(one) / 1000).toFixed(2)} s on one thread, ${(median(two) / 1000).toFixed(2)} s on two, medians of 5` };
  });
