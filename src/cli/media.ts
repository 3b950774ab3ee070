/** `linecut media`: reads recorded files, prints what they are, writes the sources of a show file. */
import { realpathSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { encodedAs } from '../byte-order-mark.js';
import { groupRecordings, type Grouping } from '../media/group.js';
import { between, type Placed } from '../media/order.js';
import { pictureDifferences } from '../media/pictures.js';
import { readRecordings } from '../media/read.js';
import { newShow, showWith } from '../media/showfile.js';
import { recordingData, recordingTable, sizeOf } from '../media/table.js';
import type { ShowTarget } from '../media/written.js';
import { fault, problem, ProblemList, type Fault, type Report } from '../problems.js';
import { readShowFile } from '../show/read.js';
import { showRate } from '../show/sources.js';
import type { RateSpec } from '../timecode/rate.js';
import type { Call, Command, OptionSpec, Values } from './command.js';
import { textOf } from './by-hand.js';
import { homeOf } from './home.js';
import type { Io } from './io.js';
import { flag, path, whole } from './option.js';
import { JSON_LINES, QUIET, RATE, STRICT } from './options.js';
import { exists } from './output.js';
import { progressBar } from './progress.js';
import { problemObject, tellProblems } from './report.js';
import { saveChanged, saveText } from './save.js';
import { statusOf } from './status.js';

const SOURCES = 'Which file belongs to which source';
const SHOW_FILE = 'The show file';
const TALK = 'What is said';

const GROUP: OptionSpec<RegExp> = {
  name: 'group', value: 'REGEX', group: SOURCES,
  help: 'a source is what this finds in a path below DIR: its group named source, else the first, else the whole match (default: the name without a part number)',
  parse: pattern,
};
const SOUND_RATE: typeof RATE = { ...RATE, group: SOURCES, help: 'rate that sound is counted at (default: as the show file says, else as the pictures count)' };
const WRITE_SHOW = path('write-show', 'FILE', { group: SHOW_FILE, help: 'write the sources to a show file, or complete those of one that is there' });
const FORCE = flag('force', { group: SHOW_FILE, help: 'where the show file and a recording disagree, take what the recording says' });
const THREADS = whole('threads', 'N', 1, { group: TALK, help: 'how many files are read at a time (default: one a core)' });
const JSON_OBJECT: typeof JSON_LINES = { ...JSON_LINES, help: 'print one JSON object on standard output instead of the table' };

export const media: Command = {
  name: 'media',
  summary: 'read recorded files, write the sources of a show file',
  description: [
    'Reads recordings (MOV, MP4, MXF, MKV, WAV and BWF) in folders and below: start timecode, exact rate, frames, picture, sound.',
    'Prints a table, one line a file. A broken file is reported and left out.',
    'Exit status: 0 done, 1 a recording or the show file has errors, 2 wrong usage or a file that cannot be read or written.',
  ].join('\n'),
  args: [{ name: 'DIR', help: 'folder of recordings, or a recording', many: true }],
  options: [GROUP, SOUND_RATE, WRITE_SHOW, FORCE, THREADS, STRICT, QUIET, JSON_OBJECT],
  examples: [
    { command: 'linecut media media', says: 'what the recordings are' },
    { command: 'linecut media media --write-show show.show.json', says: 'and put them into a show file' },
    { command: "linecut media card1 card2 --group '^(cam\\d+)/'", says: 'a source is the folder that its files lie in' },
  ],
  run,
};

async function run({ args, values, io }: Call): Promise<number> {
  const found = new ProblemList({ strict: values.has(STRICT) });
  let warned = false;
  const report: Report = (one) => {
    warned ||= one.severity === 'warning';
    found.add(one);
  };
  const showName = values.get(WRITE_SHOW);
  const target = showName === undefined ? undefined : targetOf(showName, io, report);
  const end = async (): Promise<number> => {
    const result = { log: args.join(' '), outputs: [], problems: found.problems, dropped: found.dropped, status: statusOf(found.problems) };
    await tellProblems(result, { quiet: values.has(QUIET), json: values.has(JSON_OBJECT) }, io);
    return result.status;
  };
  if (target === 'wrong') return end();
  const recordings = await read(args, values, rateOf(values, target), io, report);
  if (recordings.length === 0 && found.problems.length === 0) {
    for (const dir of args) report(problem('unreadable', 'there is no recording in it (.mov, .mp4, .m4v, .mxf, .mkv, .wav, .bwf)', { file: dir }));
  }
  const grouping = groupRecordings(recordings, values.get(GROUP));
  sayGrouping(grouping, report);
  if (target !== undefined && recordings.length > 0 && !(warned && values.has(STRICT))) await writeShow(target, grouping, values, report);
  await io.out.write(values.has(JSON_OBJECT) ? asJson(grouping, target, found, io) : asTable(grouping));
  if (!values.has(QUIET) && recordings.length > 0) await io.err.write(`${totals(grouping, recordings)}\n`);
  return end();
}

function pattern(given: string): RegExp | Fault {
  try {
    return new RegExp(given, 'u');
  } catch (cause) {
    return fault('bad-option', `'${given}' is not a regular expression: ${(cause as Error).message.replace(/^Invalid regular expression: /, '')}`);
  }
}

interface Target extends ShowTarget {
  /** What its text was read from. */
  readonly bytes?: Uint8Array;
}

/** The show file as it is now; `wrong` when it is there and cannot be read, or is no show file. */
function targetOf(file: string, { cwd }: Io, report: Report): Target | 'wrong' {
  const at = resolve(cwd, file);
  if (!exists(at)) return { file, folder: dirname(at), from: cwd };
  const read = textOf(file, cwd, report);
  return read === undefined || readShowFile(read.text, file, report) === undefined ? 'wrong' : { file, ...placeOf(file, cwd), ...read, isThere: exists };
}

/** Where a show file lies that is there. Where a link leads elsewhere, the recordings are counted from there by real names as well. */
function placeOf(file: string, cwd: string): Pick<ShowTarget, 'folder' | 'from'> {
  const { folder, elsewhere } = homeOf(file, cwd);
  return { folder, from: elsewhere ? realpathSync(cwd) : cwd };
}

function rateOf(values: Values, target: ShowTarget | undefined): RateSpec | undefined {
  const show = target?.text === undefined ? undefined : readShowFile(target.text, target.file, () => undefined);
  return values.get(SOUND_RATE) ?? showRate(show);
}

async function read(dirs: readonly string[], values: Values, rate: RateSpec | undefined, io: Io, report: Report): Promise<Placed[]> {
  const threads = values.get(THREADS);
  const bar = values.has(QUIET) ? undefined : progressBar(io, 'recordings');
  const recordings = await readRecordings(dirs, {
    cwd: io.cwd,
    ...(rate === undefined ? {} : { rate }),
    ...(threads === undefined ? {} : { threads }),
    ...(bar === undefined ? {} : { progress: bar.show }),
  }, report);
  await bar?.clear();
  return recordings;
}

function sayGrouping({ groups, ungrouped, problems }: Grouping, report: Report): void {
  for (const { recording, name, longName } of ungrouped) {
    const tried = longName === undefined ? `'${name}'` : `'${name}', nor in '${longName}'`;
    report(problem('outside-group', `--group finds no source in its path ${tried}; it belongs to none`, { file: recording.path }));
  }
  for (const one of problems) report(one);
  for (const { files } of groups) for (const one of between(files)) report(one);
  for (const one of pictureDifferences(groups)) report(one);
}

async function writeShow(target: Target, { groups }: Grouping, values: Values, report: Report): Promise<void> {
  const text = showWith(groups, target, { force: values.has(FORCE) }, report);
  if (text === undefined || text === target.text) return;
  const path = resolve(target.from, target.file);
  const trouble = await (target.bytes === undefined ? saveText(path, target.file, text, true) : saveChanged(path, target.file, encodedAs(target.bytes, text)));
  report(trouble ?? problem('found', target.text === undefined ? 'the show file was written' : 'the show file was completed', { file: target.file }));
}

const asTable = ({ groups, ungrouped }: Grouping): string => (groups.length + ungrouped.length === 0 ? '' : recordingTable(groups, ungrouped));

function asJson({ groups, ungrouped }: Grouping, target: ShowTarget | undefined, { problems }: ProblemList, { cwd }: Io): string {
  const recordings = [
    ...groups.flatMap(({ name, files }) => files.map((file) => recordingData(file, name))),
    ...ungrouped.map((file) => recordingData(file, undefined)),
  ];
  const { sources = [], program } = newShow(groups, target ?? { file: '', folder: cwd, from: cwd });
  return `${JSON.stringify({
    recordings,
    sources,
    ...(program === undefined ? {} : { program }),
    problems: problems.map(problemObject),
  })}\n`;
}

function totals({ groups }: Grouping, recordings: readonly Placed[]): string {
  const bytes = recordings.reduce((sum, { recording }) => sum + recording.bytes, 0);
  const counted = (number: number, what: string): string => `${String(number)} ${what}${number === 1 ? '' : 's'}`;
  return `${counted(recordings.length, 'recording')} of ${counted(groups.length, 'source')}, ${sizeOf(bytes)}`;
}
