/** Small logs as text, and lists as text, so that a test of a rule is readable. */
import { buildCutLists, type BuildOptions } from '../../src/cutlist/build.js';
import type { Action, LogEvent } from '../../src/cutlist/event.js';
import { PROGRAM, type CutList, type Shot, type Source, type Transition } from '../../src/cutlist/model.js';
import type { Problem } from '../../src/problems.js';
import { parseRate, type Count } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';

/** `25`, `29.97df`. */
export function countNamed(name: string): Count {
  const spec = parseRate(name);
  if ('fault' in spec) throw new Error(spec.message);
  return countOf(spec.rate, spec.dropFrame === true);
}

export const C25 = countNamed('25');

export function source(id: string, more: Partial<Source> = {}): Source {
  return { id, name: id, aliases: [], picture: true, recorded: true, count: C25, starts: [], offset: 0, files: [], ...more };
}

export const SOURCES: readonly Source[] = [source('1'), source('2'), source('3'), source('desk', { picture: false })];
export const WITH_PROGRAM: readonly Source[] = [...SOURCES, source(PROGRAM)];

/**
 * One row a line: `FRAME action source …`, then in any order `dN` (duration), `eN` (end), `wN` (wipe), `"note"`. A source of `-` is none.
 * The line in the log is the row's place in the text, from 1; the column is 1. Rows may be split by `|`.
 */
export function rows(text: string): LogEvent[] {
  const events: LogEvent[] = [];
  text.split(/[|\n]/).map((line) => line.trim()).filter((line) => line !== '').forEach((line, index) => {
    const note = /"([^"]*)"/.exec(line)?.[1];
    const [at = '', action = '', ...rest] = line.replace(/"[^"]*"/, '').trim().split(/\s+/);
    const event: { -readonly [Key in keyof LogEvent]: LogEvent[Key] } = { number: index + 1, action: action as Action, at: Number(at), line: index + 1, column: 1 };
    for (const word of rest) {
      if (/^d\d+$/.test(word)) event.duration = Number(word.slice(1));
      else if (/^e\d+$/.test(word)) event.end = Number(word.slice(1));
      else if (/^w\d+$/.test(word)) event.wipe = Number(word.slice(1));
      else if (word !== '-') event.source = word;
    }
    if (note !== undefined) event.note = note;
    events.push(event);
  });
  return events;
}

export interface Built {
  readonly lists: CutList[];
  readonly problems: Problem[];
}

export const OPTIONS: BuildOptions = { title: 'Harbour Kitchen', count: C25, recordStart: 90_000, origin: 'timecode', audio: { from: 'none' }, file: 'show.csv' };

export function build(events: readonly LogEvent[], options: Partial<BuildOptions> = {}, sources: readonly Source[] = SOURCES): Built {
  const problems: Problem[] = [];
  const lists = buildCutLists(events, sources, { ...OPTIONS, ...options }, (found) => problems.push(found));
  return { lists, problems };
}

/** `1 0-100@1000 D30` : source, record range, source in-point where it is not the record in-point plus `shift`, transition. */
export function shown(list: CutList | undefined): string {
  return (list?.shots ?? []).map((shot) => {
    const mix = mixText(shot.transition);
    const more = [mix, shot.file === undefined ? '' : `f${String(shot.file)}`, shot.continues === true ? '+' : '', shot.instead === undefined ? '' : `for ${shot.instead}`];
    return [`${shot.source} ${String(shot.in)}-${String(shot.out)}`, ...more].filter((part) => part !== '').join(' ');
  }).join(', ');
}

export const mixText = (transition: Transition | undefined): string =>
  transition === undefined ? '' : `${transition.kind === 'dissolve' ? 'D' : `W${String(transition.wipe ?? '')}:`}${String(transition.frames)}${transition.inOffset > 0 ? `/${String(transition.inOffset)}` : ''}`;

/** `sourceIn-sourceOut` of each shot. */
export const points = (shots: readonly Pick<Shot, 'sourceIn' | 'sourceOut'>[]): string => shots.map(({ sourceIn, sourceOut }) => `${String(sourceIn)}-${String(sourceOut)}`).join(', ');

export const heard = (list: CutList | undefined): string =>
  (list?.audio ?? []).map((piece) => {
    const text = `${piece.source} ${String(piece.in)}-${String(piece.out)}@${String(piece.sourceIn)}`;
    return [text, piece.withPicture ? 'V' : '', mixText(piece.transition), piece.continues === true ? '+' : '', piece.file === undefined ? '' : `f${String(piece.file)}`].filter((part) => part !== '').join(' ');
  }).join(', ');

/** `code line`, with the option instead of a line where that is the place, or the code alone; notes that say what was found left out. */
export const said = (problems: readonly Problem[], found = false): string[] =>
  problems.filter(({ code }) => found || code !== 'found').map(({ code, place }) => [code, place?.option ?? (place?.line === undefined ? '' : String(place.line))].filter((part) => part !== '').join(' '));
