/** `linecut check`: are these files sound? */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { checkFile, isUnsound, type Checked, type CheckOptions } from '../check/check.js';
import { Findings } from '../check/finding.js';
import { divisionsOf, ofOneTitle, type Division } from '../check/parts.js';
import { checkTogether } from '../check/together.js';
import type { CutList } from '../cutlist/model.js';
import type { EdlPart } from '../formats/edl/document.js';
import type { RateSigns } from '../formats/edl/which-rate.js';
import { pathOfUrl } from '../file-url.js';
import { formOf } from '../formats/form.js';
import { known } from '../known.js';
import { decodedText } from '../file-text.js';
import type { LoadOptions } from '../load.js';
import { ProblemList, type Problem } from '../problems.js';
import { Adjusting } from './adjusting.js';
import type { Call, Command, Values } from './command.js';
import { homeOf } from './home.js';
import type { Io } from './io.js';
import { ListFiles, standardTwice } from './list-file.js';
import { READING } from './loading.js';
import { spokenName } from './names.js';
import { choice, flag, path, whole } from './option.js';
import { MAX_BYTES as MAX_BYTES_OPTION } from './options.js';
import { complain, printable } from './report.js';
import { statusOf } from './status.js';

const CHECK = 'What is checked';
const OUTPUT = 'What comes out';

const MIN_SHOT = whole('min-shot', 'N', 1, { group: CHECK, help: 'report shots of fewer than N frames' });
const AGAINST = path('against', 'LOG', { stream: true, group: CHECK, help: 'hold lists against this log, frame by frame: every switch accounted for, sound, markers' });
const FILES = flag('files', { group: CHECK, help: 'look whether the recordings are where the show file or the list says' });
/** As in `convert`, but for --min-shot, which finds short shots here. */
const ADJUSTING = new Adjusting('How the log of --against was adjusted', { minShot: 'log-min-shot' });
const RULES = path('rules', 'FILE', { group: CHECK, help: 'rules file: {"short-shot": "off", "event-number": "error"}' });
const REPORT = choice('report', 'FORM', ['text', 'json', 'junit'], { group: OUTPUT, help: 'how findings are told: text, json, junit (default: text)' });

export const check: Command = {
  name: 'check',
  summary: 'are these logs, lists, chapters and show files sound?',
  description: [
    'Checks files by what is in them: logs, EDLs, OTIOs, chapters, show and mapping files, corrections.',
    'Every finding has a code, a severity, a place and advice.',
    'Files of one name are held against one another: an EDL against its OTIO, chapters against the end of their list, the parts of a divided EDL.',
    'Lists that were adjusted when they were made are held against a log that is adjusted alike: give --against the same options.',
    'A show file (--show, or NAME.show.json beside NAME) brings in the recordings.',
    'Exit status: 0 sound (notes do not count), 1 an error or a warning, 2 trouble.',
  ].join('\n'),
  args: [{ name: 'FILE', help: 'files to check; - is standard input', many: true }],
  options: [MIN_SHOT, AGAINST, FILES, RULES, REPORT, ...ADJUSTING.options, ...READING],
  examples: [
    { command: 'linecut check lists/*', says: 'everything that a run wrote, each by itself and together' },
    { command: 'linecut check show.edl --rate 25 --min-shot 8', says: 'a list from elsewhere, which does not say its rate' },
    { command: 'linecut check show.otio --against show.csv', says: 'does the list show what was on air?' },
    { command: 'linecut check show.otio --against show.csv --lead 6 --corrections fix.csv', says: 'the same for a list that was made with these' },
    { command: 'linecut check lists/* --report junit > report.xml', says: 'for a build server' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const names = new Set(args);
  const wrong = usageFaults([...names], values);
  if (wrong.length > 0) {
    await complain(wrong, io);
    return 2;
  }
  const trouble = new ProblemList();
  const files = new ListFiles(values, io, trouble.add);
  const options = await optionsOf(files, values, io);
  const logged = options === undefined ? undefined : await files.adjusted(options.load ?? {}, ADJUSTING);
  if (options === undefined || logged === undefined || trouble.hasErrors) {
    await complain(trouble.problems, io);
    return 2;
  }
  const checked: Checked[] = [];
  const log = values.get(AGAINST);
  const against = log === undefined ? undefined : await loggedBy(log, values, io, logged);
  const broken = against?.broken;
  const isAmong = names.has(log ?? '');
  if (broken !== undefined && !isAmong) checked.push(broken);
  const signsOf = partSigns([...names], values, io, options);
  for (const name of names) checked.push(await checkOne(name, values, io, options, await signsOf(name)));
  if (broken !== undefined && isAmong) tellAmong(checked, broken);
  checkTogether(checked, against?.lists, { hasSound: against?.hasSound ?? false });
  await tell(checked, values.get(REPORT) ?? 'text', io);
  if (checked.some(isTrouble) || statusOf(broken?.findings.sorted ?? []) === 2) return 2;
  return broken !== undefined || checked.some(({ findings }) => isUnsound(findings.sorted)) ? 1 : 0;
}

/** What the table of options cannot refuse by itself. */
function usageFaults(names: readonly string[], values: Values): Problem[] {
  const twice = standardTwice([...names, values.get(AGAINST)]);
  const alone = values.has(AGAINST) ? [] : ADJUSTING.meaningless(values, 'it says how the log of --against was adjusted; give that too');
  return [...(twice === undefined ? [] : [twice]), ...alone, ...ADJUSTING.faults(values, 1)];
}

/** Trouble with the file itself or with its show file, not with what is in it. */
const isTrouble = ({ kind, findings }: Checked): boolean =>
  findings.sorted.some(({ code, severity }) => severity === 'error' && (code === 'unreadable' || (code === 'too-large' && kind === undefined)));

/** What lists are held against. */
interface Logged {
  /** The list that the log gives, or one for each of its takes. */
  readonly lists: readonly CutList[];
  /** Whether anything says what the log sounds like. */
  readonly hasSound: boolean;
  /** The log, where there is no list for its errors. */
  readonly broken?: Checked;
}

async function loggedBy(log: string, values: Values, io: Io, load: LoadOptions): Promise<Logged> {
  // Rules are for what is checked: an error by which there is no list is one.
  const findings = new Findings();
  const { form, lists } = await new ListFiles(values, io, findings.add).lists(log, load);
  const alien = form === undefined || form === 'log' ? [] : ADJUSTING.meaningless(values, `${spokenName(log)} is a list, and only a log is adjusted here`);
  alien.forEach(findings.add);
  const hasSound = findings.sorted.every(({ code }) => code !== 'no-audio');
  return lists.length > 0 && alien.length === 0 ? { lists, hasSound } : { lists: [], hasSound, broken: { name: spokenName(log), kind: form, findings } };
}

/**
 * A log that is among the files as well is told of there, with every error by which there is no list: also with those that its own check lacks,
 * because a rule leaves them out, or because it is sound as what it is (chapters, one part of a divided EDL).
 */
function tellAmong(checked: readonly Checked[], broken: Checked): void {
  const own = checked.find(({ name }) => name === broken.name);
  for (const found of broken.findings.sorted) if (found.severity === 'error') own?.findings.insist(found);
}

/** What holds for all files; undefined when one of the files that say it has errors. */
async function optionsOf(files: ListFiles, values: Values, io: Io): Promise<CheckOptions | undefined> {
  const loading = await files.loading();
  const rules = await files.byHand(values.get(RULES), async () => (await import('../check/rules.js')).readRules);
  if (loading === undefined || rules === 'wrong') return undefined;
  return known({
    load: loading, rules, minShot: values.get(MIN_SHOT), maxBytes: values.get(MAX_BYTES_OPTION),
    isThere: values.has(FILES) ? (file: string, besides: string) => isThere(file, besides, io) : undefined,
  });
}

/** For the name of a part of a divided EDL, what all its parts say of their rate; each part is then checked by itself. */
function partSigns(names: readonly string[], values: Values, io: Io, options: CheckOptions): (name: string) => Promise<RateSigns | undefined> {
  const divisions = divisionsOf(names);
  const found = new Map<Division, ReadonlyMap<string, RateSigns>>();
  return async (name) => {
    const division = divisions.get(name);
    if (division === undefined || options.load?.rate !== undefined) return undefined;
    const signs = found.get(division) ?? await signsIn(division, await textsOf(division, values, io, options));
    found.set(division, signs);
    return signs.get(name);
  };
}

/** What the parts of one title say together, for each of them. */
async function signsIn(division: Division, texts: readonly EdlPart[]): Promise<ReadonlyMap<string, RateSigns>> {
  const [{ rateSigns }, { titleIn }] = await Promise.all([import('../formats/edl/which-rate.js'), import('../formats/edl/record-side.js')]);
  const titles = new Map(texts.map(({ file, text }) => [file, titleIn(text)]));
  const own = new Set(ofOneTitle(division, (name) => titles.get(name)));
  const signs = rateSigns(texts.filter(({ file }) => own.has(file)));
  return new Map([...own].map((name) => [name, signs]));
}

/** The parts that can be read; what is wrong with the others is said where they are checked. */
async function textsOf({ names }: Division, values: Values, io: Io, { load }: CheckOptions): Promise<EdlPart[]> {
  const nobody = (): void => undefined;
  const files = new ListFiles(values, io, nobody);
  const parts: EdlPart[] = [];
  for (const file of names) {
    const bytes = await files.bytes(file);
    const text = bytes === undefined ? undefined : decodedText({ name: file, bytes }, load ?? {}, nobody);
    if (text !== undefined && formOf(text) === 'edl') parts.push({ file, text });
  }
  return parts;
}

async function checkOne(file: string, values: Values, io: Io, options: CheckOptions, signs: RateSigns | undefined): Promise<Checked> {
  const problems: Problem[] = [];
  const files = new ListFiles(values, io, (found) => { problems.push(found); });
  const bytes = await files.bytes(file);
  const show = bytes === undefined || /\.show\.json$/i.test(file) ? undefined : await files.show(file);
  const name = spokenName(file);
  // Rules are for what is in a file: one that cannot be read is never sound, nor one whose show file cannot be used.
  const checked = bytes === undefined
    ? { name, kind: undefined, findings: new Findings() }
    : await checkFile({ name, bytes, ...known({ signs }), ...(show === undefined || show === 'wrong' ? {} : { show }) }, options);
  for (const found of problems) {
    if (found.severity === 'error') checked.findings.insist(found);
    else checked.findings.add(found);
  }
  return checked;
}

function isThere(file: string, besides: string, io: Io): boolean {
  const plain = /^[a-z][a-z0-9+.-]+:\/\//i.test(file) || file.startsWith('file:') ? pathOfUrl(file) : file;
  return existsSync(resolve(homeOf(besides, io.cwd).folder, plain));
}

async function tell(checked: readonly Checked[], form: 'text' | 'json' | 'junit', io: Io): Promise<void> {
  if (form === 'junit') {
    // The XML builder is only loaded for a report that needs it.
    const { junitReport } = await import('../check/junit.js');
    await io.out.write(junitReport(checked));
    return;
  }
  const { jsonReport, textReport } = await import('../check/report.js');
  if (form === 'json') await io.out.write(jsonReport(checked));
  else for (const text of textReport(checked)) await io.out.write(printable(text));
}
