/** The law of corrections: what compare writes, applied to A, gives B. Always. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareLists } from '../../src/compare/compare.js';
import { correctionsFor } from '../../src/compare/corrections.js';
import { applyCorrections } from '../../src/corrections/apply.js';
import type { Correction } from '../../src/corrections/model.js';
import { readCorrections } from '../../src/corrections/read.js';
import { writeCorrections } from '../../src/corrections/write.js';
import type { CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { problemLine, ProblemList } from '../../src/problems.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryEdits } from '../support/edits.js';
import { arbitraryList, COUNTS } from '../support/lists.js';
import { likeness, likenesses } from '../support/same.js';
import { anyList } from '../support/synced.js';

/** Through a file and back: what counts is the file. */
function throughFile(corrections: readonly Correction[], form: 'csv' | 'json'): Correction[] {
  const problems = new ProblemList();
  const read = readCorrections(writeCorrections(corrections, form), `fix.${form}`, problems.add);
  expect(problems.problems.map(problemLine)).toEqual([]);
  return read ?? [];
}

function corrected(a: CutList, b: CutList, form: 'csv' | 'json'): CutList {
  const problems = new ProblemList();
  const out = applyCorrections(a, throughFile(correctionsFor(a, b), form), problems.add);
  expect(problems.problems.map(problemLine)).toEqual([]);
  return out as CutList;
}

function expectAlike(a: CutList, b: CutList): void {
  const [one, other] = likenesses(a, b);
  expect(one).toEqual(other);
}

const form = fc.constantFrom('csv', 'json');
const RUNS = Number(process.env['LINECUT_RUNS'] ?? 300);

describe('apply(A, compare(A, B)) is B', () => {
  it('for any two lists', () => {
    fc.assert(fc.property(anyList(), anyList(), form, (a, b, as) => {
      const out = corrected(a, b, as);
      expectAlike(out, b);
      expect(listFaults(out)).toEqual([]);
      expect(correctionsFor(out, b)).toEqual([]);
    }), { numRuns: RUNS });
  });

  it('for a list and what an editor made of it', () => {
    fc.assert(fc.property(anyList(), arbitraryEdits, form, (a, edits, as) => {
      const b = edits(a);
      expect(listFaults(b)).toEqual([]);
      const out = corrected(a, b, as);
      expectAlike(out, b);
      expect(listFaults(out)).toEqual([]);
      expect(compareLists(out, b)).toEqual([]);
      // And back.
      expectAlike(corrected(b, a, as), a);
    }), { numRuns: RUNS });
  });

  it('for lists whose sound leaves a shot after its mix, for other sound or for more of the same', () => {
    const early = arbitraryList({ audio: ['early', 'early', 'follow'], otherRates: true, maxShots: 12 });
    let mixes = 0;
    fc.assert(fc.property(early, fc.oneof({ weight: 2, arbitrary: early.map((b) => () => b) }, { weight: 1, arbitrary: arbitraryEdits }), form, (a, edits, as) => {
      const b = edits(a);
      if (b.audio.some(({ transition, withPicture }) => transition !== undefined && !withPicture)) mixes += 1;
      const out = corrected(a, b, as);
      expectAlike(out, b);
      expect(listFaults(out)).toEqual([]);
    }), { numRuns: RUNS / 2 });
    expect(mixes).toBeGreaterThan(RUNS / 12);
  });

  it('in any order of the corrections', () => {
    fc.assert(fc.property(anyList({ maxShots: 12 }), arbitraryEdits, fc.infiniteStream(fc.double({ min: 0, max: 1, noNaN: true })), (a, edits, dice) => {
      const b = edits(a);
      const mixed = correctionsFor(a, b).map((row) => ({ row, at: dice.next().value })).sort((one, other) => one.at - other.at).map(({ row }) => row);
      const problems = new ProblemList();
      const out = applyCorrections(a, mixed, problems.add);
      expect(problems.problems.map(problemLine)).toEqual([]);
      expectAlike(out as CutList, b);
    }), { numRuns: RUNS / 2 });
  });

  it('for lists longer than a day, in which labels name two frames', () => {
    const long = anyList({ maxShots: 5, maxShotFrames: 3_000_000, counts: COUNTS.filter(({ rate }) => rate.nominal < 40) });
    let days = 0;
    fc.assert(fc.property(long, arbitraryEdits, form, (a, edits, as) => {
      const b = edits(a);
      if (a.frames > framesPerDay(a.count)) days += 1;
      expectAlike(corrected(a, b, as), b);
      expectAlike(corrected(b, a, as), a);
    }), { numRuns: RUNS / 2 });
    expect(days).toBeGreaterThan(RUNS / 20);
  });

  it('for lists whose sources have one another\'s ids, or reels', () => {
    fc.assert(fc.property(anyList(), anyList(), fc.shuffledSubarray(['1', '2', '3', '4', '5', '6'], { minLength: 6 }), fc.boolean(), form, (a, b, ids, reels, as) => {
      const idOf = (id: string): string => ids[Number(id) - 1] ?? id;
      const reel = (id: string): object => (reels && /^\d$/.test(id) ? { reel: `CAM${id}` } : {});
      const renamed = <T extends { readonly source: string }>(piece: T): T => ({ ...piece, source: idOf(piece.source) });
      const from = { ...a, sources: a.sources.map((source) => ({ ...source, ...reel(source.id) })) };
      const to = { ...b, sources: b.sources.map((source) => ({ ...source, ...reel(source.id), id: idOf(source.id) })), shots: b.shots.map(renamed), audio: b.audio.map(renamed) };
      const out = corrected(from, to, as);
      expectAlike(out, to);
      expect(listFaults(out)).toEqual([]);
    }), { numRuns: RUNS / 2 });
  });

  it('nothing is different exactly where nothing has to be corrected', () => {
    fc.assert(fc.property(anyList({ maxShots: 4, maxShotFrames: 12 }), fc.option(arbitraryEdits), (a, edits) => {
      const b = edits === null ? a : edits(a);
      const same = JSON.stringify(likeness(a)) === JSON.stringify(likeness(b));
      expect(compareLists(a, b).length === 0).toBe(same);
      expect(correctionsFor(a, b).length === 0).toBe(same);
    }), { numRuns: RUNS });
  });

  it('nothing is corrected in a list that is the same', () => {
    fc.assert(fc.property(anyList(), (list) => {
      expect(correctionsFor(list, list)).toEqual([]);
    }), { numRuns: RUNS });
  });
});
