// Converting the log of a show as a whole process, against starting Node and doing nothing.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { interleaved, median } from './measure.mjs';

export const name = 'a 300-event log to EDL, OTIO and chapters, whole process, against node -e 0';
export const bound = '≤ 1.3';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** A log of 300 rows: the demo show's, and its beginning once more, two hours later. */
function log300() {
  const [header, ...rows] = readFileSync(join(root, 'fixtures/demo/harbour-kitchen-14.csv'), 'utf8').trim().split('\n');
  const later = (row) => row.replaceAll(/(^|,)10:(?=\d\d:)/g, '$112:');
  const stop = rows.pop();
  const again = rows.filter((row) => !row.includes(',start,')).slice(0, 299 - rows.length).map(later);
  return [header, ...rows, ...again, later(stop), ''].join('\n');
}

export function run() {
  const folder = mkdtempSync(join(tmpdir(), 'linecut-bench-'));
  try {
    writeFileSync(join(folder, 'show.csv'), log300());
    const bin = join(root, 'bin/linecut.js');
    const measure = (out, options) => interleaved(
      [
        ['-e', '0'], (round) => [bin, 'convert', 'show.csv', '--rate', '29.97df', '--audio', '1', '-o', `${out}-${round}`], [bin, '--version'],
        (round) => [join(root, 'tests/bench/bare.cjs'), 'show.csv', `bare-${out}-${round}`],
      ], 21, { cwd: folder, ...options },
    );
    const text = (sorted) => `${median(sorted).toFixed(1)} ms (best ${sorted[0].toFixed(1)})`;
    const [nothing, convert, version, bare] = measure('plain');
    // As this machine is set up, where that makes a difference.
    const given = process.env.NODE_EXTRA_CA_CERTS === undefined ? undefined : measure('given', { env: process.env });
    return {
      ratio: median(convert) / median(nothing),
      more: given === undefined ? [] : [{ name: 'the same with NODE_EXTRA_CA_CERTS, as it is set here: Node reads certificates at every start', bound, ratio: median(given[1]) / median(given[0]) }],
      detail: `medians of 21: convert ${text(convert)}, node -e 0 ${text(nothing)}, linecut --version ${text(version)}, a script of 50 lines that checks nothing ${text(bare)}, ${(median(bare) / median(nothing)).toFixed(2)}`
        + (given === undefined ? '' : `; with NODE_EXTRA_CA_CERTS: convert ${text(given[1])}, node -e 0 ${text(given[0])}`),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
