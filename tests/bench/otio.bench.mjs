// An EDL from an OTIO of 10,000 events, against the reference library with its EDL adapter, both as whole processes. The Python
// libraries are those of the interop suite: `npm run test:interop` makes them ready.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { interleaved, median } from './measure.mjs';
import { writeLongLog } from './longlog.mjs';

export const name = 'EDL from an OTIO of 10,000 events: opentimelineio with otio-cmx3600-adapter against linecut';
export const bound = '≥ 100';

const root = fileURLToPath(new URL('../..', import.meta.url));
const PYTHON = join(root, 'tests/interop/.venv/bin/python');
// One flat track of cuts: all that the adapter writes.
const SCRIPT = `
import sys, opentimelineio as otio
timeline = otio.adapters.read_from_file(sys.argv[1])
text = otio.adapters.write_to_string(timeline, 'cmx_3600', rate=30)
open(sys.argv[2], 'w').write(text)
`;

export function run() {
  if (!existsSync(PYTHON)) throw new Error('the reference library is not there; run npm run test:interop first');
  const folder = mkdtempSync(join(tmpdir(), 'linecut-bench-'));
  try {
    const bin = join(root, 'bin/linecut.js');
    writeLongLog(join(folder, 'long.csv'), 10_400);
    interleaved([[bin, 'convert', 'long.csv', '--rate', '30', '--cuts-only', '--to', 'otio', '-o', '.', '--force', '-q']], 1, { cwd: folder });
    const [ours] = interleaved([[bin, 'convert', 'long.otio', '--to', 'edl', '-o', 'out', '--force', '-q']], 5, { cwd: folder });
    const start = performance.now();
    const done = spawnSync(PYTHON, ['-W', 'ignore', '-c', SCRIPT, 'long.otio', 'theirs.edl'], { cwd: folder, encoding: 'utf8' });
    const theirs = performance.now() - start;
    if (done.status !== 0) throw new Error(done.stderr.trim().split('\n').at(-1));
    return { ratio: theirs / median(ours), detail: `${(theirs / 1000).toFixed(1)} s against ${(median(ours) / 1000).toFixed(2)} s (median of 5)` };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
