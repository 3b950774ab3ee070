// A log of a million events to all three outputs, against the least that such a program could do: csv-parse reading that file,
// JSON.stringify of an object as large as the OTIO, and writing as many bytes as the outputs have.
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { measured } from './measure.mjs';
import { writeLongLog } from './longlog.mjs';

export const name = '1,000,000 events to EDL, OTIO and chapters, against csv-parse + JSON.stringify + writing';
export const bound = '≤ 2.5';

const root = fileURLToPath(new URL('../..', import.meta.url));

export function run() {
  const folder = mkdtempSync(join(tmpdir(), 'linecut-bench-'));
  try {
    const convert = (log, out) => measured([join(root, 'bin/linecut.js'), 'convert', log, '--rate', '30', '--audio', '1', '--force', '-q', '-o', out], { cwd: folder });
    const least = (log, out, to) => measured([join(root, 'tests/bench/least.mjs'), log, out, to], { cwd: folder });
    writeLongLog(join(folder, 'm.csv'), 1_000_000);
    writeLongLog(join(folder, 'h.csv'), 100_000);
    convert('h.csv', 'warm');
    const ratios = [];
    let [long, short, base] = [undefined, undefined, undefined];
    for (let round = 0; round < 3; round += 1) {
      long = convert('m.csv', 'out');
      base = least('m.csv', 'out', 'copy');
      short = convert('h.csv', 'short');
      ratios.push({ ratio: long.seconds / base.seconds, tenfold: long.seconds / short.seconds, long, base });
    }
    ratios.sort((a, b) => a.ratio - b.ratio);
    const tenfold = ratios.map((one) => one.tenfold).sort((a, b) => a - b)[1];
    const middle = ratios[1];
    const bytes = readdirSync(join(folder, 'out')).reduce((sum, file) => sum + statSync(join(folder, 'out', file)).size, 0);
    return {
      ratio: middle.ratio,
      detail: `${middle.long.seconds.toFixed(1)} s against ${middle.base.seconds.toFixed(1)} s, ${(bytes / 1e6).toFixed(0)} MB written, peak memory ${(middle.long.peak / 1e9).toFixed(2)} GB (bound 1.2), `
        + `ten times the rows cost ${tenfold.toFixed(1)} times the time (bound 11); medians of 3`,
      more: [
        { name: 'peak memory in GB', ratio: middle.long.peak / 1e9, bound: '≤ 1.2' },
        { name: 'ten times the rows, times the time', ratio: tenfold, bound: '≤ 11' },
      ],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
