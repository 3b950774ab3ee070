import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CutList } from '../../../src/cutlist/model.js';
import { listFaults } from '../../../src/cutlist/validate.js';
import { readOtio } from '../../../src/formats/otio/read.js';
import type { Problem } from '../../../src/problems.js';
import { arbitraryList } from '../../support/lists.js';
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
