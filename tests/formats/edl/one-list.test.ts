/** Which parts are one list: in record order each where the one before ends, in source order all of them together. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeEdl } from '../../../src/formats/edl/write.js';
import { partsOfOne } from '../../../src/formats/edl/record-side.js';
import { OneList, type Stretch } from '../../../src/formats/edl/one-list.js';
import { listOf } from '../../support/small.js';

const DAY = 1000;

/** `10-20` is picture, `a10-20` sound. */
function lengthOf(...parts: readonly string[]): number {
  const one = new OneList(DAY);
  for (const part of parts) {
    one.add(part.split(' ').map((word): Stretch => {
      const [from = 0, out = 0] = word.replace('a', '').split('-').map(Number);
      return { picture: !word.startsWith('a'), in: from, out };
    }));
  }
  return one.length;
}

describe('parts', () => {
  it.each([
    ['run on', ['0-10 10-20', '20-30', '30-40'], 3],
    ['run on over midnight', ['980-990', '990-5', '5-10'], 3],
    ['run on, with holes inside', ['0-10 15-20', '20-25 30-40'], 2],
    ['run on beside sound that is longer or begins again', ['0-20 a0-30', '20-30 a0-5'], 2],
    ['have only sound', ['a0-20 a0-10', 'a20-30'], 2],
    ['leave a hole', ['0-20', '20-30', '31-40', '40-50'], 2],
    ['overlap', ['0-20', '19-30'], 1],
    ['fill one another', ['0-10 20-30', '10-20 30-40'], 2],
    ['fill one another only with the third', ['0-10 30-40', '10-20', '20-30', '50-60'], 3],
    ['fill one another over midnight', ['980-990 0-10', '990-0 10-20'], 2],
    ['fill one another, and the last is the sound of it', ['0-10 20-30', '10-20', 'a0-30'], 3],
    ['have sound elsewhere', ['0-10', 'a50-60'], 1],
    ['have mixes, whose first line has no length', ['0-10 20-20 20-30', '10-10 10-20'], 2],
    ['fill one another and go round the clock once more', ['0-10 20-500', '10-20 500-499'], 1],
  ])('%s', (_, parts, expected) => {
    expect(lengthOf(...parts)).toBe(expected);
  });

  it.each(['record', 'source'] as const)('that we write in %s order are one list, and none without one of the first', (order) => {
    const shot = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 6, max: 40 }), fc.boolean());
    fc.assert(fc.property(fc.array(shot, { minLength: 3, maxLength: 40 }), fc.integer({ min: 2, max: 7 }), fc.constantFrom('follow', 'none'), fc.integer({ min: 0, max: 2_159_999 }), (shots, maxEvents, sound, recordStart) => {
      const text = shots.map(([source, frames, mixes], index) => `${String(source)}:${String(frames)}${mixes && index > 0 ? 'd3' : ''}`).join(' ');
      const texts = writeEdl(listOf(text, sound as 'follow' | 'none', { recordStart }), { order, maxEvents }, () => undefined).map(({ chunks }) => [...chunks].join(''));
      expect(partsOfOne(texts)).toBe(texts.length);
      if (texts.length > 2 && order === 'record') expect(partsOfOne([...texts.slice(0, 1), ...texts.slice(2)])).toBe(1);
    }));
  });
});
