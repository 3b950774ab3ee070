/** What lies beside a log, and is named after it. */
import { extname, resolve } from 'node:path';
import { STANDARD } from './names.js';
import { exists } from './output.js';

/** A file's path without its ending: what the files that belong to it are named after. */
export const besides = (path: string): string => path.slice(0, path.length - extname(path).length);

/** The show file beside a log or a list, `NAME.show.json`, where there is one. Nothing lies beside standard input. */
export function showBeside(path: string, cwd: string): string | undefined {
  if (path === STANDARD) return undefined;
  const show = `${besides(path)}.show.json`;
  return exists(resolve(cwd, show)) ? show : undefined;
}
