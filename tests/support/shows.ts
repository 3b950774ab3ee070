/** Logs of shows as long as a test wants them, at 25 fps, and the calls that convert them into `out`. */
import { join } from 'node:path';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { cli, filesIn, type CliResult } from './cli.js';
import { P25 } from './small.js';

const label = (frame: number): string => formatTimecode(frame, P25);

/** One take of so many shots of 30 frames, on three sources in turn. An EDL holds 999 of them. */
export const log = (shots: number): string =>
  ['time,action,source', `${label(0)},start,`, ...Array.from({ length: shots }, (_, index) => `${label(index * 30)},cut,${String((index % 3) + 1)}`), `${label(shots * 30)},stop,`, ''].join('\n');

/** So many takes of a minute, each on one source, with a minute between. */
export const takes = (count: number): string =>
  ['time,action,source', ...Array.from({ length: count }, (_, take) => `${label(take * 3000)},start,\n${label(take * 3000)},cut,${String(take + 1)}\n${label(take * 3000 + 1500)},stop,`), ''].join('\n');

/** `linecut convert …` into `out`. */
export const convertInto = (cwd: string, ...args: string[]): Promise<CliResult> => cli(['convert', ...args, '-o', 'out', '--rate', '25'], { cwd });

/** The files in `out`, by name, without the records of `--resume`. */
export const listsIn = (cwd: string): string[] => filesIn(join(cwd, 'out')).filter((name) => !name.startsWith('.linecut'));

export const edlsIn = (cwd: string): string[] => listsIn(cwd).filter((name) => name.endsWith('.edl'));
