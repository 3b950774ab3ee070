/** Recordings that begin on different labels, in logs that are counted from the recording: when that is said, and how loudly. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NONE, PROGRAM, type Source } from '../../src/cutlist/model.js';
import type { BuildOptions } from '../../src/cutlist/build.js';
import { isFault } from '../../src/problems.js';
import { parseTimecode } from '../../src/timecode/timecode.js';
import { build, C25, countNamed, rows, source } from './rows.js';

const LOG = '0 start | 0 cut a | 250 cut b | 500 stop';

function frame(label: string, count = C25): number {
  const at = parseTimecode(label, count);
  if (isFault(at)) throw new Error(at.message);
  return at;
}

/** A source that begins on a label, and is so many seconds long where that is known. */
function from(id: string, label: string, seconds?: number, more: Partial<Source> = {}): Source {
  const count = more.count ?? C25;
  const start = frame(label, count);
  const files = seconds === undefined ? [] : [{ path: `${id}.mov`, start, frames: Math.round((seconds * count.rate.num) / count.rate.den) }];
  return source(id, { starts: [start], files, ...more });
}

const said = (sources: readonly Source[], options: Partial<BuildOptions> = {}, log = LOG): string[] =>
  build(rows(log), { origin: 'recording', ...options }, sources).problems.filter(({ code }) => code === 'starts-differ').map(({ severity, message }) => `${severity}: ${message}`);

const levels = (...given: Parameters<typeof said>): string => said(...given).map((line) => line.split(':')[0]).join();

describe('recordings that begin on different labels', () => {
  const early = from('a', '19:59:58:00', 40);
  const long = from('b', '19:50:00:00', 2000);

  it('are warned of where they look like one time of day, with their labels and the remedy', () => {
    expect(said([early, long])).toEqual([
      "warning: recordings begin on different labels ('a' 19:59:58:00, 'b' 19:50:00:00), and each is taken to begin with the log; their lengths say that they were not all started and stopped together: where they share the time of day, give sources sync in the show file",
    ]);
    expect(said([early, long], { restarts: false })[0]).toMatch(/: where they share the time of day, say --anchor CLOCK=TIMECODE, or give sources sync in the show file$/);
  });

  it('are warned of over midnight too, at any rate, and where one is the program recording', () => {
    expect(levels([from('a', '00:00:20:00', 3600), from('b', '23:59:00:00', 3700)])).toBe('warning');
    const count = countNamed('29.97df');
    expect(levels([from('a', '10:00:00;00', 3600, { count }), from('b', '09:58:00:00', 3700)])).toBe('warning');
    expect(levels([from('a', '10:00:00:00', 3600), source('b'), from(PROGRAM, '09:58:00:00', 3700)], { audio: { from: PROGRAM } })).toBe('warning');
  });

  it.each([
    ['are equally long: started and stopped together', from('a', '19:59:58:00', 3600), from('b', '20:01:13:12', 3601)],
    ['lie far apart in the day', from('a', '19:59:58:00', 40), from('b', '02:11:07:03', 2000)],
    ['share a moment of the day only', from('a', '19:59:58:00', 600), from('b', '20:09:00:00', 1000)],
    ['are not known to their ends', from('a', '19:59:58:00'), from('b', '19:50:00:00')],
    ['are not all known to their ends', from('a', '19:59:58:00', 40), from('b', '19:50:00:00')],
  ])('are noted where they %s', (_, one, other) => {
    expect(said([one, other], { restarts: false })).toEqual([
      expect.stringMatching(/^note: recordings begin on different labels \('a' [\d:]+, 'b' [\d:]+\), and each is taken to begin with the log; where they share timecode instead, say --anchor CLOCK=TIMECODE, or give sources sync in the show file$/),
    ]);
  });

  it.each<readonly [string, readonly Source[]]>([
    ['on the same label', [from('a', '10:00:00:00', 40), from('b', '10:00:00:00', 2000)]],
    ['on the same label at different rates', [from('a', '10:00:00:00', 40), from('b', '10:00:00:00', 2000, { count: countNamed('50') })]],
    ['whole hours apart, as each machine has its number', [from('a', '01:00:00:00', 4000), from('b', '02:00:00:00', 9000), from(PROGRAM, '10:00:00:00')]],
    ['with sync', [early, { ...long, sync: { this: 0, is: 0 } }]],
    ['take by take', [early, { ...long, starts: [0, 100], files: [] }]],
    ['where one is not known', [early, source('b')]],
    ['where one was not recorded', [early, { ...long, recorded: false }]],
    ['where one is not used', [early, source('b'), { ...long, id: 'c' }]],
  ])('are no news %s', (_, sources) => {
    expect(said(sources)).toEqual([]);
  });

  it('are what a timecode log counts by', () => {
    expect(said([early, long], { origin: 'timecode' })).toEqual([]);
  });

  it('are heard too', () => {
    const desk = { ...long, id: 'desk', picture: false };
    expect(levels([early, source('b'), desk], { audio: { from: 'desk' } })).toBe('warning');
    expect(levels([early, source('b'), desk], { audio: { from: NONE } })).toBe('');
  });

  it('are never warned of where all were started and stopped together, and always where they share the day', () => {
    let cases = 0;
    const second = fc.integer({ min: 0, max: 86_399 });
    fc.assert(fc.property(second, fc.integer({ min: 10, max: 20_000 }), fc.integer({ min: 3, max: 3599 }), (at, seconds, later) => {
      const label = (time: number): string => `${[Math.floor(time / 3600) % 24, Math.floor(time / 60) % 60, time % 60].map((part) => String(part).padStart(2, '0')).join(':')}:00`;
      const one = from('a', label(at), seconds);
      expect(levels([one, from('b', label(at + later), seconds)])).toBe('note');
      // Started one after the other, stopped together.
      if (later > seconds - 3) return;
      expect(levels([one, from('b', label(at + later), seconds - later)])).toBe('warning');
      cases += 1;
    }));
    expect(cases).toBeGreaterThan(30);
  });
});
