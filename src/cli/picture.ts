/** `linecut picture`: one list, or two, as a drawing. */
import { extname } from 'node:path';
import { checkFile, type Checked } from '../check/check.js';
import type { Finding } from '../check/finding.js';
import { carriedBy, notCompared } from '../compare/carried.js';
import { compareLists } from '../compare/compare.js';
import { known } from '../known.js';
import type { Form } from '../formats/form.js';
import { drawPicture } from '../picture/picture.js';
import type { PictureInput, PictureNote } from '../picture/scene.js';
import { problem, ProblemList, type Problem, type Report } from '../problems.js';
import type { Call, Command, Values } from './command.js';
import type { Io } from './io.js';
import { ListFiles, listOnly, standardTwice } from './list-file.js';
import { READING_ONE } from './loading.js';
import { listName, spokenName, STANDARD } from './names.js';
import { choice, path, whole } from './option.js';
import * as option from './options.js';
import { printable, tellProblems } from './report.js';
import { besides } from './show-beside.js';
import { statusOf } from './status.js';

const FORMS = ['svg', 'html'] as const;

type PictureForm = (typeof FORMS)[number];

const PICTURE = 'The picture';
const OUT = path('out', 'FILE', { short: 'o', stream: true, group: PICTURE, help: 'F.svg or F.html (default: the name of the file, with .html or as --as says); - for standard output' });
const AS = choice('as', 'FORM', FORMS, { group: PICTURE, help: 'svg or html, where the name does not say (default: html)' });
const MIN_SHOT = whole('min-shot', 'N', 1, { group: PICTURE, help: 'point out shots of fewer than N frames' });
const FORCE: typeof option.FORCE = { ...option.FORCE, group: PICTURE, help: 'replace a file that is there already' };
const STRICT: typeof option.STRICT = { ...option.STRICT, help: 'warnings are errors, also those that are drawn; with an error the exit status is 1, and the picture is drawn all the same' };

export const picture: Command = {
  name: 'picture',
  summary: 'draw a list, or two with their changes',
  description: [
    'Draws a log, EDL or OTIO as one self-contained file: a lane a source over time, screen time, lengths of shots, and every shot in a table.',
    'What check finds stands at its place. With two files both are drawn, and what changed from the first to the second.',
    'Exit status: 0 drawn, whatever was found; 1 nothing to draw, or, with --strict, an error that was found; 2 trouble.',
  ].join('\n'),
  args: [{ name: 'FILE', help: 'a log, EDL or OTIO, or two of them', many: true }],
  options: [OUT, AS, MIN_SHOT, FORCE, ...READING_ONE, STRICT, option.QUIET],
  examples: [
    { says: 'a page to open in any browser', command: 'linecut picture harbour-kitchen-14.csv -o show.html' },
    { says: 'a drawing for a report', command: 'linecut picture harbour-kitchen-14.edl --rate 29.97df -o show.svg' },
    { says: 'what changed between two versions', command: 'linecut picture first.otio second.otio -o changes.html' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const found = new ProblemList({ strict: values.has(STRICT) });
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
  const twice = standardTwice(args);
  if (twice !== undefined) {
    found.add(twice);
    return 2;
  }
  const target = values.get(OUT) ?? `${besides(spokenName(first))}.${values.get(AS) ?? 'html'}`;
  const form = formOf(target, values, found.add);
  if (form === undefined) return 2;
  const files = new ListFiles(values, io, found.add);
  const sides: Side[] = [];
  for (const file of second === undefined ? [first] : [first, second]) {
    const side = await sideOf(file, files, values);
    if (side !== undefined) sides.push(side);
  }
  // A list with faults is drawn with them; one that could not be read is not.
  if (sides.length < Math.min(args.length, 2)) return Math.max(1, statusOf(found.problems));
  const text = drawPicture(withChanges(sides, found.add), form, found.add);
  if (text === undefined) return 1;
  const status = values.has(STRICT) && sides.some(({ notes }) => notes.some(({ severity }) => severity === 'error')) ? 1 : 0;
  if (target === STANDARD) {
    await io.out.write(text);
    return status;
  }
  const trouble = await files.save(target, text, values.has(FORCE));
  if (trouble !== undefined) {
    found.add(trouble);
    return 2;
  }
  if (!values.has(option.QUIET)) await io.err.write(printable(`${target}\n`));
  return status;
}

/** The form that the ending of a name says, else `--as`; both may not say different things. */
function formOf(target: string, values: Values, report: Report): PictureForm | undefined {
  const asked = values.get(AS);
  if (target === STANDARD) return asked ?? 'html';
  const ending = extname(target).slice(1).toLowerCase();
  const named = FORMS.find((one) => one === ending || (one === 'html' && ending === 'htm'));
  if (named !== undefined && asked !== undefined && named !== asked) {
    report(problem('bad-option', `'${target}' is the name of a file of ${named}, and --as says ${asked}`, { option: '--out' }));
    return undefined;
  }
  if (named === undefined && asked === undefined) report(problem('bad-option', `'${target}' ends neither in .svg nor in .html; say --as`, { option: '--out' }));
  return named ?? asked;
}

interface Side extends PictureInput {
  readonly form: Form;
}

/** A list with what check finds in it; undefined when it cannot be read, which was reported. */
async function sideOf(file: string, files: ListFiles, values: Values): Promise<Side | undefined> {
  const [loading, bytes, show] = [await files.loading(), await files.bytes(file), await files.show(file)];
  if (loading === undefined || bytes === undefined || show === 'wrong') return undefined;
  const options = known({ load: loading, minShot: values.get(MIN_SHOT), maxBytes: values.get(option.MAX_BYTES), partsOf: (name: string) => files.parts(name) });
  const input = { name: spokenName(file), bytes, title: listName(file), ...known({ show }) };
  let checked = await checkFile(input, options);
  if (checked.kind !== 'log' && checked.placed === undefined) checked = await checkFile(input, { ...options, load: listOnly(loading) });
  const { kind, placed, findings } = checked;
  if (placed === undefined || !isForm(kind)) {
    for (const one of faultsOf(checked)) files.report(one);
    return undefined;
  }
  const strict = values.has(STRICT);
  const notes = findings.sorted.map((one) => noteOf(strict && one.severity === 'warning' ? { ...one, severity: 'error' } : one, input.name));
  return { form: kind, list: placed.list, notes };
}

const isForm = (kind: Checked['kind']): kind is Form => kind === 'log' || kind === 'edl' || kind === 'otio';

/** Why there is no list. */
function faultsOf({ name, kind, findings }: Checked): readonly Problem[] {
  if (kind !== undefined && !isForm(kind)) return [problem('bad-option', `${name} is no list, by the look of it (${kind}); a picture is of a log, EDL or OTIO`)];
  return findings.sorted;
}

/** `name` is the file that is drawn: lines of others, its parts or its show file, are said with theirs. */
function noteOf({ at, code, severity, message, place: { file, line } = {} }: Finding, name: string): PictureNote {
  const where = line === undefined ? '' : `${file === undefined || file === name ? '' : `${file}, `}line ${String(line)}: `;
  return { ...known({ at }), code, severity, text: where + message };
}

/** Changes, those that `compare` finds, stand under the second list, each at its place there; what only the first list has stands under the first. */
function withChanges(sides: readonly Side[], report: Report): PictureInput[] {
  const [a, b] = sides;
  if (a === undefined || b === undefined) return [...sides];
  const notes = { a: [...a.notes], b: [...b.notes] };
  const carried = carriedBy(a.form, b.form, a.list, b.list);
  notCompared(carried, a.list, b.list).forEach(report);
  for (const { kind, a: inA, b: inB, text } of compareLists(a.list, b.list, { carried })) {
    const side = inB === undefined && inA !== undefined ? 'a' : 'b';
    notes[side].push({ ...known({ at: (inB ?? inA)?.frame }), code: kind, text, severity: 'change' });
  }
  return [{ list: a.list, notes: notes.a }, { list: b.list, notes: notes.b }];
}
