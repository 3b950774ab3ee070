/** Which logs a call means: files named one by one, folders, globs, and lists of names. */
import { readdirSync } from 'node:fs';
import { isAbsolute, join, resolve } from 'node:path';
import { formatOf } from '../formats/endings.js';
import { isFolder, pathKind } from '../path-kind.js';
import { problem, type Problem } from '../problems.js';
import { STANDARD } from './names.js';

/** One log of a call. */
export interface LogInput {
  /** As messages name it: as it was given, or the folder or glob's own way of naming it. */
  readonly path: string;
  /** Folder below the output folder that its lists go to: its place below the folder or glob that found it, else ''. */
  readonly folder: string;
  /** True where a folder or glob found it: nobody said that it is a log. */
  readonly found?: true;
}

/** Chapters and cutlogs were made of a log. (An EDL or an OTIO may come from anybody.) */
const isOwnName = (name: string): boolean => ['chapters', 'cutlog'].includes(formatOf(name) ?? '');

/** What counts as a log in a folder: what linecut itself wrote (`.cutlog.xml`, `.chapters.xml`) is not taken for one. */
export const isLogName = (name: string): boolean => /\.(?:csv|tsv|xml)$/i.test(name) && !isOwnName(name);

const MAGIC = /[*?{}[\]]/;

const isGlob = (text: string): boolean => MAGIC.test(text);

/**
 * Turns arguments into logs, each once, those of a folder or glob in order of name. An argument that is a file is that
 * file, whatever its name, and so is one that nobody can look at: reading it says why. A folder stands for the CSV, TSV and XML files in it; a
 * glob is matched (`**` for any folders). Problems: `unreadable` for what is not there or matches nothing.
 */
export async function expandLogs(args: readonly string[], cwd: string): Promise<{ readonly logs: LogInput[]; readonly problems: Problem[] }> {
  const logs = new Map<string, LogInput>();
  const problems: Problem[] = [];
  const add = (input: LogInput): void => {
    const key = input.path === STANDARD ? STANDARD : resolve(cwd, input.path);
    if (!logs.has(key)) logs.set(key, input);
  };
  /** Adds the logs of an argument: what `pattern` finds below `base` and `isLog` takes. */
  const search = async (arg: string, base: string, pattern: string, isLog: (name: string) => boolean, nothing: string): Promise<void> => {
    const { names, closed } = await (await import('./search.js')).search([pattern], resolve(cwd, base));
    const found = names.filter(isLog);
    problems.push(...closed.map((one) => ({ ...one, place: { file: join(base, one.place.file) } })));
    if (found.length === 0 && closed.length === 0) problems.push(problem('unreadable', nothing, { file: arg }));
    for (const name of found) add({ path: join(base, name), folder: folderOf(name), found: true });
  };
  for (const arg of args) {
    const kind = arg === STANDARD ? 'file' : pathKind(resolve(cwd, arg));
    if (kind === 'file' || (kind === 'closed' && !isGlob(arg))) add({ path: arg, folder: '' });
    else if (kind === 'folder') await search(arg, arg, '**/*', isLogName, 'the folder holds no .csv, .tsv or .xml file');
    else if (isGlob(arg)) {
      const base = globBase(arg);
      // A glob that asks for linecut's own files gets them; any other is not to convert a list again.
      const isLog = (name: string): boolean => isOwnName(arg) || !isOwnName(name);
      await search(arg, base, arg.slice(base.length).replace(/^\//, ''), isLog, 'no file matches');
    } else problems.push(problem('unreadable', 'there is no such file or folder', { file: arg }));
  }
  return { logs: [...logs.values()], problems };
}

/**
 * About how many logs a call means, before they are looked for: what is named, and what lies at the top of the folders that are. Zero or one
 * when it names a single file.
 */
export function expectedLogs(args: readonly string[], cwd: string): number {
  return args.length + args.map((arg) => logsIn(resolve(cwd, isGlob(arg) ? globBase(arg) : arg))).reduce((sum, count) => sum + count, 0);
}

function logsIn(path: string): number {
  try {
    return isFolder(path) ? readdirSync(path).filter(isLogName).length : 0;
  } catch {
    return 0;
  }
}

/** The folders of a glob before its first wildcard, without a slash at the end. */
function globBase(glob: string): string {
  const parts = glob.split('/');
  const wild = parts.findIndex(isGlob);
  const fixed = parts.slice(0, wild === -1 ? parts.length - 1 : Math.min(wild, parts.length - 1)).join('/');
  return fixed === '' && isAbsolute(glob) ? '/' : fixed;
}

const folderOf = (name: string): string => name.split(/[\\/]/).slice(0, -1).join('/');
