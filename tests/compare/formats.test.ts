/** A list and what was written of it are the same, and corrections found by way of a format lead to the same list. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { carriedBy } from '../../src/compare/carried.js';
import { compareLists } from '../../src/compare/compare.js';
import { correctionsFor } from '../../src/compare/corrections.js';
import { differenceLine } from '../../src/compare/difference.js';
import { applyCorrections } from '../../src/corrections/apply.js';
import type { CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { readEdlParts } from '../../src/formats/edl/read.js';
import { readOtio } from '../../src/formats/otio/read.js';
import { edlOf, otioOf } from '../check/written.js';
import { arbitraryEdits } from '../support/edits.js';
import { arbitraryList } from '../support/lists.js';

const nothing = (): void => undefined;
const throughEdl = (list: CutList): CutList => readEdlParts(edlOf(list).map(({ name, text }) => ({ file: name, text })), {}, nothing) as CutList;
const throughOtio = (list: CutList): CutList => readOtio(otioOf(list).text, { file: 'show.otio' }, nothing) as CutList;

/** With more sound channels than an EDL has. */
const withSix = (list: CutList): CutList => ({ ...list, audio: list.audio.map((piece) => ({ ...piece, tracks: [1, 2, 3, 4, 5, 6], channels: [1, 2, 3, 4, 5, 6] })) });

const lists = fc.tuple(fc.boolean(), fc.boolean()).chain(([otherRates, six]) => arbitraryList({ otherRates, maxShots: 20 }).map((list) => (six ? withSix(list) : list)));

describe('a list and its files', () => {
  it('are the same: log and EDL', () => {
    fc.assert(fc.property(lists, (list) => {
      const read = throughEdl(list);
      expect(compareLists(list, read, { carried: carriedBy('log', 'edl', list, read) }).map(differenceLine)).toEqual([]);
    }), { numRuns: 200 });
  });

  it('are the same: log and OTIO', () => {
    fc.assert(fc.property(lists, (list) => {
      const read = throughOtio(list);
      expect(compareLists(list, read, { carried: carriedBy('log', 'otio', list, read) }).map(differenceLine)).toEqual([]);
    }), { numRuns: 200 });
  });
});

describe('corrections found by way of a format', () => {
  it('lead to the list: EDL against OTIO', () => {
    fc.assert(fc.property(lists, arbitraryEdits, (list, edits) => {
      const [a, b] = [throughEdl(list), throughOtio(edits(list))];
      const carried = carriedBy('edl', 'otio', a, b);
      const out = applyCorrections(a, correctionsFor(a, b, carried), (found) => { throw new Error(found.message); }) as CutList;
      expect(listFaults(out)).toEqual([]);
      expect(compareLists(out, b, { carried }).map(differenceLine)).toEqual([]);
    }), { numRuns: 200 });
  });
});
