// Reading and writing labels: ours and smpte-timecode's in turn, in one process.
import { performance } from 'node:perf_hooks';
import { createRequire } from 'node:module';
import { formatTimecode, parseRate, parseTimecode } from '../../dist/index.js';

const Timecode = createRequire(import.meta.url)('smpte-timecode');
const { rate } = parseRate('29.97df');
const count = { rate, dropFrame: true };
const FRAMES = 20_000;
const labels = Array.from({ length: FRAMES }, (_, index) => formatTimecode(index * 129, count));

const ROUNDS = 15;

/** Millions a second of each of two functions, the best of many rounds taken in turn. */
function fastest(functions) {
  const best = functions.map(() => Infinity);
  for (let round = 0; round < ROUNDS; round += 1) {
    functions.forEach(({ run, times }, index) => {
      const start = performance.now();
      for (let time = 0; time < times; time += 1) run();
      best[index] = Math.min(best[index], (performance.now() - start) / times);
    });
  }
  return best.map((milliseconds) => FRAMES / milliseconds / 1000);
}

function compare(ours, theirs) {
  const [mine, other] = fastest([{ run: ours, times: 50 }, { run: theirs, times: 4 }]);
  return { ratio: mine / other, detail: `${mine.toFixed(1)} million a second against ${other.toFixed(1)}, best of ${ROUNDS} rounds in turn` };
}

/** Something of every result is kept, so that nothing can be left out. */
export const parsing = () =>
  compare(
    () => { let sum = 0; for (const label of labels) sum += parseTimecode(label, count); return sum; },
    () => { let sum = 0; for (const label of labels) sum += new Timecode(label, 29.97, true).frameCount; return sum; },
  );

export const formatting = () =>
  compare(
    () => { let sum = 0; for (let index = 0; index < FRAMES; index += 1) sum += formatTimecode(index * 129, count).charCodeAt(10); return sum; },
    () => { let sum = 0; for (let index = 0; index < FRAMES; index += 1) sum += new Timecode(index * 129, 29.97, true).toString().charCodeAt(10); return sum; },
  );
