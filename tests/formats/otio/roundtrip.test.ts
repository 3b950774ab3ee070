import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BLACK, type CutList } from '../../../src/cutlist/model.js';
import { placeOnRecordings } from '../../../src/cutlist/place.js';
import { listFaults } from '../../../src/cutlist/validate.js';
import { readOtio } from '../../../src/formats/otio/read.js';
import type { Problem } from '../../../src/problems.js';
import { arbitraryCase, listOf } from '../../cutlist/recorded.js';
import { arbitraryList } from '../../support/lists.js';
import { steadyList } from '../../support/steady.js';
import { otioText, richList } from './support.js';

const RUNS = Number(process.env['LINECUT_RUNS'] ?? 300);

function readBack(text: string): { list: CutList | undefined; problems: Problem[] } {
  const problems: Problem[] = [];
  const list = readOtio(text, { file: 'show.otio' }, (problem) => problems.push(problem));
  return { list, problems };
}

describe('what was written comes back', () => {
  it('for any list, with everything in it', () => {
    fc.assert(
      fc.property(richList(), fc.boolean(), (list, pretty) => {
        expect(listFaults(list)).toEqual([]);
        const { list: back, problems } = readBack(otioText(list, { angles: true, pretty }));
        expect(problems).toEqual([]);
        expect(back).toEqual(list);
      }),
      { numRuns: RUNS },
    );
  });

  it('for lists whose sound leaves shots early', () => {
    fc.assert(
      fc.property(arbitraryList({ audio: ['early'] }), (list) => {
        expect(listFaults(list)).toEqual([]);
        const { list: back, problems } = readBack(otioText(list, {}));
        expect(problems).toEqual([]);
        expect(back?.audio).toEqual(list.audio);
      }),
      { numRuns: RUNS },
    );
  });

  it('for lists on recordings that lack and divide what they show', () => {
    let goingOn = 0;
    fc.assert(
      fc.property(fc.boolean().chain(arbitraryCase), (given) => {
        const logical = listOf(given);
        if (logical === undefined) return;
        const list = placeOnRecordings(logical, () => undefined);
        const { list: back } = readBack(otioText(list, {}));
        expect(back?.audio).toEqual(list.audio);
        expect(back?.shots).toEqual(list.shots);
        goingOn += list.audio.filter(({ continues, source }) => continues === true && source === BLACK).length;
      }),
      { numRuns: RUNS },
    );
    // The property is about something.
    expect(goingOn).toBeGreaterThan(RUNS / 50);
  });

  it('but for sound that goes on from nothing, or from another source: somebody edited the list since', () => {
    const list = steadyList(2);
    const goesOn = (before: string, source: string, from: number): boolean | undefined => {
      const piece = { sourceIn: 0, sourceOut: 10, tracks: [1], channels: [1], take: 0, withPicture: false };
      const audio = [{ ...piece, source: before, in: 0, out: 10 }, { ...piece, source, in: from, out: from + 10, continues: true }];
      return readBack(otioText({ ...list, audio }, {})).list?.audio[1]?.continues;
    };
    const [one, other] = list.sources.map(({ id }) => id) as [string, string];
    expect([goesOn(one, one, 10), goesOn(one, other, 10), goesOn(one, one, 11)]).toEqual([true, undefined, undefined]);
  });

  it('with absolute media paths, the same list but for where the paths begin', () => {
    fc.assert(
      fc.property(richList({ maxShots: 10 }), (list) => {
        const { list: back } = readBack(otioText(list, { paths: 'absolute', angles: true }));
        const sources = list.sources.map((source) => ({ ...source, files: source.files.map((file) => ({ ...file, path: `/srv/Harbour Kitchen 14/${file.path}` })) }));
        expect(back).toEqual({ ...list, sources });
      }),
      { numRuns: Math.ceil(RUNS / 5) },
    );
  });
});
