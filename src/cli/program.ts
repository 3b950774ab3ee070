/** The command line as a whole: finds the command, hands it what was given, turns wrong usage into words. */
import { didYouMean, nearest } from '../nearest.js';
import { problem, problemLine, type Problem } from '../problems.js';
import { VERSION } from '../version.js';
import { visible } from '../visible.js';
import type { Command } from './command.js';
import type { ProgramSpec } from './completion-scripts.js';
import { EdgeError, type Io } from './io.js';
import { parseCall } from './parse.js';

interface Entry {
  readonly name: string;
  readonly summary: string;
  /** Loads the command, and with it only what it needs: starting up must stay cheap. */
  readonly load: () => Promise<Command>;
}

/** Every command: one line each, in the order of the help. */
export const COMMANDS: readonly Entry[] = [
  { name: 'convert', summary: 'a log, EDL or OTIO in; EDL, OTIO and chapters out', load: async () => (await import('./convert.js')).convert },
  { name: 'check', summary: 'are these logs, lists, chapters and show files sound?', load: async () => (await import('./check.js')).check },
  { name: 'compare', summary: 'what changed between two lists', load: async () => (await import('./compare.js')).compare },
  { name: 'media', summary: 'read recorded files, write the sources of a show file', load: async () => (await import('./media.js')).media },
  { name: 'picture', summary: 'draw a list, or two with their changes', load: async () => (await import('./picture.js')).picture },
  { name: 'completions', summary: 'print completions for bash, zsh or fish', load: async () => (await import('./completions.js')).completions },
  { name: 'manual', summary: 'print the man page', load: async () => (await import('./manual.js')).manual },
];

/** The whole command line as data: every command is loaded for it. */
export async function programSpec(): Promise<ProgramSpec> {
  return { name: 'linecut', summary: 'from the switching log of a live show to a frame-exact cut list', commands: await Promise.all(COMMANDS.map(({ load }) => load())) };
}

/** Width of the help where there is no terminal. */
const HELP_COLUMNS = 100;

/** Exit status of wrong usage. */
const USAGE = 2;

/** Runs a command line and gives its exit status. Nothing is thrown for bad input; a fault of ours is said as such. */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  try {
    return await dispatch(argv, io);
  } catch (cause) {
    // Where standard error is what cannot be written, the status is all that is left to say.
    if (cause instanceof EdgeError) return complain(io, problem('unreadable', cause.message)).catch(() => USAGE);
    const { message, stack } = cause as Error;
    const more = io.env['LINECUT_DEBUG'] === undefined ? 'Set LINECUT_DEBUG=1 to see where.' : String(stack).split('\n').map(visible).join('\n');
    return say(io.err, `linecut ${visible(argv[0] ?? '')}: this is a fault of linecut, not of your files: ${visible(message)}\n${more}\n`, USAGE);
  }
}

async function dispatch(argv: readonly string[], io: Io): Promise<number> {
  const [first, ...rest] = argv;
  if (first === undefined) return say(io.err, overview(), USAGE);
  if (first === '--help' || first === '-h') return say(io.out, overview(), 0);
  if (first === '--version' || first === '-V') return say(io.out, `linecut ${VERSION}\n`, 0);
  if (first === 'help') {
    const [name] = rest;
    return name === undefined ? say(io.out, overview(), 0) : dispatch([name, '--help'], io);
  }
  const entry = COMMANDS.find(({ name }) => name === first);
  if (entry === undefined) return complain(io, unknownCommand(first));
  const command = await entry.load();
  const call = parseCall(command, rest, io);
  if (call.kind === 'help') return say(io.out, (await import('./help.js')).helpOf(command, io.out.columns ?? HELP_COLUMNS), 0);
  if (call.kind === 'wrong') {
    for (const one of call.problems) await io.err.write(`${problemLine(one)}\n`);
    return USAGE;
  }
  return command.run(call.call);
}

async function say(to: Io['out'], text: string, status: number): Promise<number> {
  await to.write(text);
  return status;
}

const complain = (io: Io, found: Problem): Promise<number> => say(io.err, `${problemLine(found)}\n`, USAGE);

function unknownCommand(given: string): Problem {
  const names = COMMANDS.map(({ name }) => name);
  if (given.startsWith('-')) return problem('bad-option', `'${given}' stands before the command; write linecut COMMAND ${given}`);
  if (nearest(given, names) === undefined && /[./\\]/.test(given)) {
    return problem('bad-option', `'${given}' is not a command; to convert a file write linecut convert ${given}`);
  }
  return problem('bad-option', `unknown command '${given}'${didYouMean(given, names) || `; expected ${names.join(', ')}`}`);
}

function overview(): string {
  const width = Math.max(...COMMANDS.map(({ name }) => name.length));
  return [
    'linecut: from the switching log of a live show to a frame-exact cut list',
    '',
    'Usage: linecut COMMAND [options] …',
    '',
    'Commands:',
    ...COMMANDS.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`),
    `  ${'help'.padEnd(width)}  linecut help COMMAND: all options of a command, with examples`,
    '',
    'Examples:',
    '  linecut convert show.csv                  EDL, OTIO and chapters beside one another, here',
    '  linecut convert show.csv --rate 29.97df --audio 1 -o lists',
    '',
    'linecut --version says which one this is.',
    '',
  ].join('\n');
}
