/** `linecut compare`: what changed between two lists. */
import { carriedBy } from '../compare/carried.js';
import { compareLists } from '../compare/compare.js';
import { differenceLine } from '../compare/difference.js';
import { problem, ProblemList } from '../problems.js';
import type { Call, Command } from './command.js';
import { flag, path, whole } from './option.js';
import { ListFiles, READING, standardTwice } from './list-file.js';
import { QUIET, STRICT } from './options.js';
import { complain, printable } from './report.js';

const COMPARE = 'What counts, and what comes out';

const WITHIN = whole('within', 'N', 0, { group: COMPARE, help: 'distances of up to N frames are no difference (default: 0)' });
const WRITE_CORRECTIONS = path('write-corrections', 'FILE', { group: COMPARE, help: 'write what makes A into B as a corrections file: JSON when FILE ends in .json, else CSV; --within does not count for it' });
const FORCE = flag('force', { group: COMPARE, help: 'replace FILE when it is there already' });
const JSON_OBJECT = flag('json', { group: COMPARE, help: 'print one JSON object on standard output instead of lines' });

export const compare: Command = {
  name: 'compare',
  summary: 'what changed between two lists',
  description: [
    'Compares two lists: logs, EDLs and OTIOs in any combination. A line a difference, in record order.',
    'Sources are matched by reel, else clip name, else file; source points modulo 24 h; where in a mix the cut point lies is no difference.',
    'Exit status: 0 the same, 1 different, 2 trouble.',
  ].join('\n'),
  args: [{ name: 'A', help: 'a list' }, { name: 'B', help: 'the list to compare it with' }],
  options: [WITHIN, WRITE_CORRECTIONS, FORCE, JSON_OBJECT, ...READING, STRICT, QUIET],
  examples: [
    { command: 'linecut compare first.edl second.edl', says: 'what changed' },
    { command: 'linecut compare show.csv lists/show.otio --within 1', says: 'a log with the list made of it; a frame more or less is fine' },
    { command: 'linecut compare a.otio b.edl --write-corrections fix.csv', says: 'and what has to be said to get B from A' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const [nameA = '', nameB = ''] = args;
  const twice = standardTwice(args);
  if (twice !== undefined) {
    await complain([twice], io);
    return 2;
  }
  const found = new ProblemList({ strict: values.has(STRICT) });
  const files = new ListFiles(values, io, found.add);
  const loading = await files.loading();
  const a = loading === undefined ? undefined : await files.list(nameA, loading);
  const b = loading === undefined ? undefined : await files.list(nameB, loading);
  const carried = a === undefined || b === undefined ? undefined : carriedBy(a.form, b.form, a.list, b.list);
  // How each was read is of no interest here, as long as it could be.
  const said = found.problems.filter(({ code, severity }) => severity === 'error' || (code !== 'found' && !values.has(QUIET)));
  const marked = [a, b].some((one) => (one?.list.markers.length ?? 0) > 0);
  if (carried?.markers === false && marked && !values.has(QUIET)) said.push(problem('found', 'one of the two is an EDL without markers; markers are not compared'));
  await complain(said, io);
  if (a === undefined || b === undefined || carried === undefined || found.hasErrors) return 2;
  const differences = compareLists(a.list, b.list, { within: values.get(WITHIN) ?? 0, carried });
  const target = values.get(WRITE_CORRECTIONS);
  if (target !== undefined) {
    const { correctionsFor } = await import('../compare/corrections.js');
    const { writeCorrections } = await import('../cutlist/corrections-write.js');
    const corrections = correctionsFor(a.list, b.list, carried);
    const trouble = await files.save(target, writeCorrections(corrections, /\.json$/i.test(target) ? 'json' : 'csv'), values.has(FORCE));
    if (trouble !== undefined) {
      await complain([trouble], io);
      return 2;
    }
    if (!values.has(QUIET)) await io.err.write(printable(`${String(corrections.length)} ${corrections.length === 1 ? 'correction' : 'corrections'}: ${target}\n`));
  }
  if (values.has(JSON_OBJECT)) await io.out.write(`${JSON.stringify({ a: nameA, b: nameB, same: differences.length === 0, differences }, null, 2)}\n`);
  else for (const difference of differences) await io.out.write(printable(`${differenceLine(difference).replaceAll('\n', ' ')}\n`));
  return differences.length === 0 ? 0 : 1;
}
