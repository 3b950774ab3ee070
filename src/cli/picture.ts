/** `linecut picture`: one list, or two, as a drawing. */
import { extname, resolve } from 'node:path';
import { compareLists } from '../compare/compare.js';
import type { CutList } from '../cutlist/model.js';
import { loadList } from '../load.js';
import { known } from '../known.js';
import { MAX_BYTES } from '../log/limits.js';
import { drawPicture } from '../picture/picture.js';
import type { PictureInput, PictureNote } from '../picture/scene.js';
import { problem, ProblemList, type Report } from '../problems.js';
import type { Call, Command, Values } from './command.js';
import type { Io } from './io.js';
import { readInput, statusOf, type Job } from './job.js';
import { STANDARD } from './names.js';
import { choice, path } from './option.js';
import * as option from './options.js';
import { exists, FileSet, fileTrouble } from './output.js';
import { tellProblems } from './report.js';

const FORMS = ['svg', 'html'] as const;

type PictureForm = (typeof FORMS)[number];

const PICTURE = 'The picture';
const OUT = path('out', 'FILE', { short: 'o', group: PICTURE, help: 'F.svg or F.html (default: the name of the file with .html); - for standard output' });
const AS = choice('as', 'FORM', FORMS, { group: PICTURE, help: 'svg or html, where the name does not say (default: html)' });
const FORCE: typeof option.FORCE = { ...option.FORCE, group: PICTURE, help: 'replace a file that is there already' };

export const picture: Command = {
  name: 'picture',
  summary: 'draw a list, or two with their changes',
  description: [
    'Draws a log, EDL or OTIO as one self-contained file: a lane a source over time, screen time, lengths of shots, and every shot in a table.',
    'With two files both are drawn, and what changed from the first to the second.',
  ].join('\n'),
  args: [{ name: 'FILE', help: 'a log, EDL or OTIO, or two of them', many: true }],
  options: [
    OUT, AS, FORCE,
    option.SHOW, option.MAP, option.RATE, option.TIME_AS, option.LOG_RATE, option.ROUNDING, option.ANCHOR, option.END,
    option.MAX_ROWS, option.MAX_BYTES, option.STRICT, option.QUIET,
  ],
  examples: [
    { says: 'a page to open in any browser', command: 'linecut picture harbour-kitchen-14.csv -o show.html' },
    { says: 'a drawing for a report', command: 'linecut picture harbour-kitchen-14.edl --rate 29.97df -o show.svg' },
    { says: 'what changed between two versions', command: 'linecut picture first.otio second.otio -o changes.html' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const found = new ProblemList({ strict: values.has(option.STRICT) });
  const status = await draw(args, values, io, found);
  await tellProblems({ log: args.join(', '), outputs: [], problems: found.problems, dropped: found.dropped, status }, { quiet: values.has(option.QUIET), json: false }, io);
  return Math.max(status, statusOf(found.problems));
}

async function draw(args: readonly string[], values: Values, io: Io, found: ProblemList): Promise<number> {
  const [first = '', second, ...more] = args;
  if (more.length > 0) {
    found.add(problem('bad-option', `a picture is of one file or two, and there are ${String(args.length)}`));
    return 2;
  }
  const target = values.get(OUT) ?? `${first.slice(0, first.length - extname(first).length)}.html`;
  const form = formOf(target, values, found.add);
  if (form === undefined) return 2;
  const lists: CutList[] = [];
  for (const file of second === undefined ? [first] : [first, second]) {
    const list = await listOf(file, values, io, found.add);
    if (list !== undefined) lists.push(list);
  }
  if (lists.length < args.length || found.hasErrors) return 1;
  const text = drawPicture(inputsOf(lists), form, found.add);
  if (text === undefined) return 1;
  if (target === STANDARD) {
    await io.out.write(text);
    return 0;
  }
  return write(target, text, args, values, io, found.add);
}

/** `--as`, else the ending of the name. */
function formOf(target: string, values: Values, report: Report): PictureForm | undefined {
  const ending = extname(target).slice(1).toLowerCase();
  const form = values.get(AS) ?? (target === STANDARD ? 'html' : FORMS.find((one) => one === ending || (one === 'html' && ending === 'htm')));
  if (form === undefined) report(problem('bad-option', `'${target}' ends neither in .svg nor in .html; say --as`, { option: '--out' }));
  return form;
}

async function listOf(file: string, values: Values, io: Io, report: Report): Promise<CutList | undefined> {
  const maxBytes = values.get(option.MAX_BYTES) ?? MAX_BYTES;
  const how = known({
    rate: values.get(option.RATE), timeAs: values.get(option.TIME_AS), logRate: values.get(option.LOG_RATE), rounding: values.get(option.ROUNDING),
    anchor: values.get(option.ANCHOR), end: values.get(option.END), maxRows: values.get(option.MAX_ROWS),
  });
  const job: Job = {
    log: file, cwd: io.cwd, folder: undefined, force: false, strict: values.has(option.STRICT), reads: [],
    ...known({ show: values.get(option.SHOW), map: values.get(option.MAP) }),
    options: { to: [], maxBytes, otio: {}, ...how },
  };
  const bytes = file === STANDARD ? await io.readStdin(maxBytes) : undefined;
  const read = await readInput(bytes === undefined ? job : { ...job, bytes }, report);
  return read === undefined ? undefined : loadList(read.input, { ...job.options, ...known({ map: read.map }) }, report);
}

/** Changes stand under the second list, each at its place there; what only the first list has stands under the first. */
function inputsOf(lists: readonly CutList[]): PictureInput[] {
  const [a, b] = lists;
  if (a === undefined || b === undefined) return lists.map((list) => ({ list, notes: [] }));
  const notes: Record<'a' | 'b', PictureNote[]> = { a: [], b: [] };
  for (const { kind, a: inA, b: inB, text } of compareLists(a, b)) {
    const side = inB === undefined && inA !== undefined ? 'a' : 'b';
    notes[side].push({ at: (inB ?? inA)?.frame ?? 0, code: kind, text, severity: 'change' });
  }
  return [{ list: a, notes: notes.a }, { list: b, notes: notes.b }];
}

async function write(target: string, text: string, reads: readonly string[], values: Values, io: Io, report: Report): Promise<number> {
  const path = resolve(io.cwd, target);
  if (reads.some((file) => resolve(io.cwd, file) === path) || (exists(path) && !values.has(FORCE))) {
    report(problem('file-exists', 'is there already; --force replaces it', { file: target }));
    return 2;
  }
  const files = new FileSet();
  try {
    await files.write(path, [text]);
    files.commit();
  } catch (cause) {
    files.discard();
    report(problem('unreadable', `cannot be written: ${fileTrouble(cause)}`, { file: target }));
    return 2;
  }
  if (!values.has(option.QUIET)) await io.err.write(`${target}\n`);
  return 0;
}
