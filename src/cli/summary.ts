/** What people read on standard error after a conversion. */
import { problemLine, problemLineWith, type Problem } from '../problems.js';
import { elapsedText } from '../timecode/elapsed.js';
import { visible } from '../visible.js';
import type { ListFacts } from './facts.js';
import type { Io } from './io.js';

/** True when text on standard error may have colours: a terminal, and nobody said NO_COLOR (no-color.org). */
export const mayColor = ({ env, err }: Io): boolean => (env['NO_COLOR'] ?? '') === '' && env['TERM'] !== 'dumb' && err.isTTY;

const COLORS: Readonly<Record<Problem['severity'], string>> = { error: '\u001b[31m', warning: '\u001b[33m', note: '\u001b[2m' };

/** A problem's line; its severity coloured, whatever other words of the line look like one. */
export const coloredLine = (found: Problem, color: boolean): string =>
  color ? problemLineWith(`${COLORS[found.severity]}${found.severity}\u001b[0m`, found) : problemLine(found);

/** `0:48:12.345`, real time. */
export const clockOf = (seconds: number): string => elapsedText(Math.round(seconds * 1000), 1000);

/** The summary of one log: length, screen time of each source, files. */
export function summary(log: string, facts: ListFacts, paths: readonly string[]): string {
  const lines = [
    `${visible(log)}: ${visible(facts.title)}`,
    `  ${counted(facts.shots, 'shot')} in ${clockOf(facts.seconds)} (${counted(facts.frames, 'frame')} at ${facts.count}), ${facts.from} to ${facts.to}${facts.markers > 0 ? `, ${counted(facts.markers, 'marker')}` : ''}`,
    ...screenTime(facts),
    ...paths.map((path) => `  ${visible(path)}`),
  ];
  return `${lines.join('\n')}\n`;
}

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
