/** A sound list of a given number of shots of six seconds on the average, the same every time: for sizes and layouts. */
import type { CutList, Shot } from '../../src/cutlist/model.js';
import { RATES, type Rate } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';

const NAMES = ['Stage wide', 'Close-up', 'Overhead', 'Slides'];

export function steadyList(shots: number): CutList {
  const count = countOf(RATES.find((rate) => rate.name === '29.97') as Rate, true);
  const made: Shot[] = [];
  let at = 0;
  for (let index = 0; index < shots; index += 1) {
    const frames = 60 + ((index * 97) % 240);
    const mixes = index > 0 && index % 9 === 0;
    made.push({
      source: String((index % NAMES.length) + 1),
      in: at,
      out: at + frames,
      sourceIn: 1_078_920 + at,
      sourceOut: 1_078_920 + at + frames,
      take: 0,
      ...(mixes ? { transition: index % 2 === 0 ? { kind: 'dissolve', frames: 30, inOffset: 0 } : { kind: 'wipe', wipe: 17, frames: 30, inOffset: 0 } } : {}),
    });
    at += frames;
  }
  return {
    title: 'Harbour Kitchen 14',
    count,
    recordStart: 107_892,
    frames: at,
    sources: NAMES.map((name, index) => ({ id: String(index + 1), name, aliases: [], picture: true, recorded: true, count, starts: [], offset: 0, files: [] })),
    takes: [{ in: 0, out: at, logIn: 0 }],
    shots: made,
    audio: [],
    markers: Array.from({ length: Math.floor(shots / 20) }, (_, index) => ({ at: index * 3000 + 10, note: `Step ${String(index + 1)} of the recipe` })),
  };
}
