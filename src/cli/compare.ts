/** `linecut compare`: what changed between two lists. */
import { carriedBy, notCompared, type Carried } from '../compare/carried.js';
import { compareLists } from '../compare/compare.js';
import { differenceLine } from '../compare/difference.js';
import type { CutList } from '../cutlist/model.js';
import { problem, ProblemList } from '../problems.js';
import { Adjusting } from './adjusting.js';
import type { Call, Command } from './command.js';
import { flag, path, whole } from './option.js';
import { ListFiles, standardTwice } from './list-file.js';
import { READING_ONE } from './loading.js';
import { QUIET, STRICT } from './options.js';
import { complain, printable, problemObject } from './report.js';

const COMPARE = 'What counts, and what comes out';

const WITHIN = whole('within', 'N', 0, { group: COMPARE, help: 'distances of up to N frames are no difference (default: 0)' });
const WRITE_CORRECTIONS = path('write-corrections', 'FILE', { group: COMPARE, help: 'write what makes A into B as a corrections file: JSON when FILE ends in .json, else CSV; --within does not count for it' });
const FORCE = flag('force', { group: COMPARE, help: 'replace FILE when it is there already' });
const JSON_OBJECT = flag('json', { group: COMPARE, help: 'print one JSON object on standard output instead of lines' });

const ADJUSTING = new Adjusting('How the log of the two is adjusted, as convert does');

export const compare: Command = {
  name: 'compare',
  summary: 'what changed between two lists',
  description: [
    'Compares two lists: logs, EDLs and OTIOs in any combination. A line a difference, in record order.',
    'Sources are matched by reel, else clip name, else file; source points modulo 24 h; where in a mix the cut point lies is no difference.',
    'A log is compared as it is adjusted; a list as it is.',
    'Exit status: 0 the same, 1 different, 2 trouble.',
  ].join('\n'),
  args: [{ name: 'A', help: 'a list' }, { name: 'B', help: 'the list to compare it with' }],
  options: [WITHIN, WRITE_CORRECTIONS, FORCE, JSON_OBJECT, ...ADJUSTING.options, ...READING_ONE, STRICT, QUIET],
  examples: [
    { command: 'linecut compare first.edl second.edl', says: 'what changed' },
    { command: 'linecut compare show.csv lists/show.otio --within 1', says: 'a log with the list made of it; a frame more or less is fine' },
    { command: 'linecut compare show.csv lists/show.otio --lead 6', says: 'the same for a list that was made with --lead 6' },
    { command: 'linecut compare a.otio b.edl --write-corrections fix.csv', says: 'and what has to be said to get B from A' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const [nameA = '', nameB = ''] = args;
  const found = new ProblemList({ strict: values.has(STRICT) });
  const files = new ListFiles(values, io, found.add);
  const twice = standardTwice(args);
  const again = values.has(ADJUSTING.corrections) && values.has(WRITE_CORRECTIONS)
    ? [problem('bad-option', 'corrections are written against a list without any; give --corrections or --write-corrections', { option: `--${WRITE_CORRECTIONS.name}` })] : [];
  for (const wrong of [...(twice === undefined ? [] : [twice]), ...again, ...ADJUSTING.faults(values, 1)]) found.add(wrong);
  const both = !found.hasErrors ? await readBoth(nameA, nameB, files) : undefined;
  // How each was read is of no interest here, as long as it could be.
  const said = found.problems.filter(({ code, severity }) => severity === 'error' || (code !== 'found' && !values.has(QUIET)));
  const lacking = both === undefined ? [] : notCompared(both.carried, both.a, both.b);
  lacking.forEach(found.add);
  if (!values.has(QUIET)) said.push(...lacking);
  await complain(said, io);
  const differences = both === undefined || found.hasErrors ? undefined : compareLists(both.a, both.b, { within: values.get(WITHIN) ?? 0, carried: both.carried });
  if (both !== undefined && differences !== undefined) await saveCorrections(both, files);
  if (values.has(JSON_OBJECT)) {
    const same = differences === undefined ? null : differences.length === 0;
    await io.out.write(`${JSON.stringify({ a: nameA, b: nameB, same, differences: differences ?? [], problems: found.problems.map(problemObject) }, null, 2)}\n`);
  } else for (const difference of differences ?? []) await io.out.write(printable(`${differenceLine(difference).replaceAll('\n', ' ')}\n`));
  if (differences === undefined || found.hasErrors) return 2;
  return differences.length === 0 ? 0 : 1;
}

interface Both {
  readonly a: CutList;
  readonly b: CutList;
  readonly carried: Carried;
  /** Whether A was a log. */
  readonly ofLog: boolean;
}

/** Both lists; undefined when one could not be read, which was reported. */
async function readBoth(nameA: string, nameB: string, files: ListFiles): Promise<Both | undefined> {
  const loading = await files.loading();
  const adjusted = loading === undefined ? undefined : await files.adjusted(loading, ADJUSTING);
  if (adjusted === undefined) return undefined;
  const [a, b] = [await files.list(nameA, adjusted), await files.list(nameB, adjusted)];
  if (a === undefined || b === undefined) return undefined;
  const logs = [a, b].filter(({ form }) => form === 'log').length;
  const wrong = logs === 0 ? ADJUSTING.meaningless(files.values, 'neither of the two is a log, and only a log is adjusted here') : ADJUSTING.faults(files.values, logs);
  wrong.forEach(files.report);
  if (wrong.length > 0) return undefined;
  return { a: a.list, b: b.list, carried: carriedBy(a.form, b.form, a.list, b.list), ofLog: a.form === 'log' };
}

/** What --write-corrections asks for; trouble with the file is reported and told. */
async function saveCorrections({ a, b, carried, ofLog }: Both, files: ListFiles): Promise<void> {
  const { values, io } = files;
  const target = values.get(WRITE_CORRECTIONS);
  if (target === undefined) return;
  const { correctionsFor } = await import('../compare/corrections.js');
  const { writeCorrections } = await import('../corrections/write.js');
  const corrections = correctionsFor(a, b, carried);
  const lacking = new ProblemList({ strict: values.has(STRICT) });
  (await import('../compare/uncovered.js')).reportUncovered(a, corrections, ofLog, lacking.add);
  lacking.problems.forEach(files.report);
  if (!values.has(QUIET)) await complain(lacking.problems, io);
  const trouble = await files.save(target, writeCorrections(corrections, /\.json$/i.test(target) ? 'json' : 'csv'), values.has(FORCE));
  if (trouble !== undefined) {
    files.report(trouble);
    await complain([trouble], io);
  } else if (!values.has(QUIET)) await io.err.write(printable(`${String(corrections.length)} ${corrections.length === 1 ? 'correction' : 'corrections'}: ${target}\n`));
}
