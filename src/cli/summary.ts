/** What people read on standard error after a conversion. */
import { problemLine, problemLineWith, type Problem } from '../problems.js';
import { elapsedText } from '../timecode/elapsed.js';
import { visible } from '../visible.js';
import type { ListFacts, OneList } from './facts.js';
import type { Io } from './io.js';

/** True when text on standard error may have colours: a terminal, and nobody said NO_COLOR (no-color.org). */
export const mayColor = ({ env, err }: Io): boolean => (env['NO_COLOR'] ?? '') === '' && env['TERM'] !== 'dumb' && err.isTTY;

const COLORS: Readonly<Record<Problem['severity'], string>> = { error: '\u001b[31m', warning: '\u001b[33m', note: '\u001b[2m' };

/** A problem's line; its severity coloured, whatever other words of the line look like one. */
export const coloredLine = (found: Problem, color: boolean): string =>
  color ? problemLineWith(`${COLORS[found.severity]}${found.severity}\u001b[0m`, found) : problemLine(found);

/** `0:48:12.345`, real time. */
export const clockOf = (seconds: number): string => elapsedText(Math.round(seconds * 1000), 1000);

/** The summary of one log: length of its list, or of each of them, screen time of each source, files. */
export function summary(log: string, facts: ListFacts, paths: readonly string[]): string {
  const [only, ...more] = facts.lists;
  const lengths = only !== undefined && more.length === 0
    ? [`${visible(log)}: ${visible(only.title)}`, `  ${lengthOf(only, facts.count)}`]
    : [`${visible(log)}: ${counted(facts.lists.length, 'list')}`, ...facts.lists.map((one) => `  ${visible(one.title)}: ${lengthOf(one, facts.count)}`)];
  const lines = [...lengths, ...screenTime(facts), ...paths.map((path) => `  ${visible(path)}`)];
  return `${lines.join('\n')}\n`;
}

const lengthOf = ({ shots, seconds, frames, from, to, markers }: OneList, count: string): string =>
  `${counted(shots, 'shot')} in ${clockOf(seconds)} (${counted(frames, 'frame')} at ${count}), ${from} to ${to}${markers > 0 ? `, ${counted(markers, 'marker')}` : ''}`;

function screenTime({ sources, frames, seconds }: ListFacts): string[] {
  const rows = sources.map((source) => ({
    name: visible(source.name === source.id ? source.id : `${source.name} (${source.id})`),
    shots: String(source.shots),
    time: clockOf(frames === 0 ? 0 : (source.frames / frames) * seconds),
    share: `${(frames === 0 ? 0 : (100 * source.frames) / frames).toFixed(1)} %`,
  }));
  const all = [{ name: 'source', shots: 'shots', time: 'on program', share: 'share' }, ...rows];
  const width = (key: keyof (typeof all)[0]): number => Math.max(...all.map((row) => row[key].length));
  const [name, shots, time, share] = [width('name'), width('shots'), width('time'), width('share')];
  return all.map((row) => `    ${row.name.padEnd(name)}  ${row.shots.padStart(shots)}  ${row.time.padStart(time)}  ${row.share.padStart(share)}`);
}

/** `1,950 logs`; `ending` is what more than one takes. */
export const counted = (number: number, what: string, ending = 's'): string => `${String(number).replaceAll(/\B(?=(\d{3})+$)/g, ',')} ${what}${number === 1 ? '' : ending}`;
