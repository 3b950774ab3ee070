// Runs the benchmarks: every file *.bench.mjs beside this one, or those named. Each measures a ratio of two things in one
// run on one machine, so that the figure means the same everywhere. `npm run bench`, `npm run bench -- startup`;
// with --check the exit status is 1 when a ratio misses its bound.
//
// A benchmark exports `name` (what is compared), `bound` (what the ratio should be, e.g. '≤ 1.3') and `run()`, which gives
// { ratio, detail } and may give `more` ratios with bounds of their own. See startup.bench.mjs.
import { readdirSync } from 'node:fs';
import { cpus } from 'node:os';

const wanted = process.argv.slice(2).filter((word) => !word.startsWith('-'));
const files = readdirSync(new URL('.', import.meta.url)).filter((file) => file.endsWith('.bench.mjs')).sort();
const chosen = files.filter((file) => wanted.length === 0 || wanted.some((word) => file.startsWith(word)));
if (chosen.length === 0) {
  console.error(`no benchmark of that name; there are ${files.map((file) => file.replace('.bench.mjs', '')).join(', ')}`);
  process.exit(2);
}

const kept = (ratio, bound) => {
  const [sign, limit] = bound.split(' ');
  return sign === '≤' ? ratio <= Number(limit) : ratio >= Number(limit);
};

console.log(`Node ${process.version}, ${cpus().length} cores (${cpus()[0]?.model.trim()})`);
let missed = 0;
for (const file of chosen) {
  const { name, bound, run } = await import(new URL(file, import.meta.url));
  const { ratio, detail, more = [] } = await run();
  const line = (first, figure, limit, words) => {
    const good = kept(figure, limit);
    if (!good) missed += 1;
    console.log(`${first.padEnd(16)} ${figure.toFixed(2).padStart(8)}  ${limit.padEnd(8)} ${good ? 'kept  ' : 'MISSED'}  ${words}`);
  };
  line(file.replace('.bench.mjs', ''), ratio, bound, name);
  for (const one of more) line('', one.ratio, one.bound, one.name);
  console.log(`${' '.repeat(17)}${detail}`);
}
process.exit(process.argv.includes('--check') && missed > 0 ? 1 : 0);
