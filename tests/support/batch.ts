/** Folders of many small logs of the Harbour Kitchen, some of them broken, for tests of batches and watching. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { formatTimecode, countOf } from '../../src/timecode/timecode.js';
import { RATES, type Rate } from '../../src/timecode/rate.js';

const COUNT = countOf(RATES.find((rate) => rate.name === '29.97') as Rate, true);

/** A log of `shots` switches, each with another rhythm; sound, and the same for the same `seed`. */
export function smallLog(seed: number, shots = 20): string {
  const rows = ['time,action,source,duration,note'];
  let at = 1_078_920;
  const label = (): string => formatTimecode(at, COUNT);
  rows.push(`${label()},start,,,`);
  for (let index = 0; index < shots; index += 1) {
    const source = String(((index + seed) % 3) + 1);
    rows.push(index > 0 && (index * 7 + seed) % 5 === 0 ? `${label()},dissolve,${source},12,` : `${label()},cut,${source},,`);
    if ((index + seed) % 8 === 0) rows.push(`${label()},marker,,,Step ${String(index)}`);
    at += 30 + ((index * 31 + seed * 17) % 200);
  }
  rows.push(`${label()},stop,,,`);
  return `${rows.join('\n')}\n`;
}

/** Ways to break a log, each with the code it must be refused with. */
export const BREAKS: readonly { readonly code: string; readonly broken: (log: string) => string }[] = [
  { code: 'unknown-action', broken: (log) => log.replace('cut', 'jump') },
  { code: 'bad-time', broken: (log) => log.replace(/^10:00:00;00,cut/m, '99:00:00;00,cut') },
  { code: 'missing-column', broken: (log) => log.replace('time,', 'when it was,') },
  { code: 'dropped-label', broken: (log) => log.replace(/^10:00:00;00,cut/m, '10:01:00;00,cut') },
  { code: 'no-events', broken: () => 'time,action,source\n' },
];

/** Writes `count` logs into a folder, every one of `broken` (indices) damaged; gives their names without ending. */
export function writeLogs(folder: string, count: number, broken: ReadonlySet<number> = new Set()): string[] {
  mkdirSync(folder, { recursive: true });
  return Array.from({ length: count }, (_, index) => {
    const name = `show-${String(index).padStart(4, '0')}`;
    const log = smallLog(index);
    writeFileSync(join(folder, `${name}.csv`), broken.has(index) ? (BREAKS[index % BREAKS.length] as (typeof BREAKS)[number]).broken(log) : log);
    return name;
  });
}
