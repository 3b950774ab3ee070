import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pairUp } from '../../src/media/moved.js';

describe('files and what they are', () => {
  const table = fc.integer({ min: 0, max: 5 }).chain((entries) => fc.array(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: entries, maxLength: entries }), { maxLength: 6 }));

  test('each is paired once at most, with what is most like it; nothing that fits is left that is neither paired nor doubtful', () => {
    fc.assert(fc.property(table, (likeness) => {
      const files = likeness.map((_, index) => index);
      const entries = (likeness[0] ?? []).map((_, index) => index);
      const of = (file: number, entry: number): number => likeness[file]?.[entry] ?? 0;
      const { pairs, doubts } = pairUp(files, entries, of);
      const settled = new Map([...pairs.map(({ file, entry }): [number, number[]] => [file, [entry]]), ...doubts.map(({ file, entries: several }): [number, number[]] => [file, [...several]])]);
      expect(settled.size).toBe(pairs.length + doubts.length);
      expect(new Set(pairs.map(({ entry }) => entry)).size).toBe(pairs.length);
      const used = new Set([...settled.values()].flat());
      for (const { file, entry } of pairs) {
        const level = of(file, entry);
        expect(level).toBeGreaterThan(0);
        // Another that is as much like it would have made both doubtful.
        for (const other of entries) if (other !== entry && of(file, other) >= level) expect(used.has(other)).toBe(true);
        for (const other of files) if (other !== file && of(other, entry) >= level) expect(settled.has(other)).toBe(true);
      }
      for (const { file, entries: several } of doubts) expect(several.length > 1 || files.some((other) => other !== file && settled.get(other)?.includes(several[0] ?? -1) === true)).toBe(true);
      for (const file of files) if (!settled.has(file)) for (const entry of entries) if (of(file, entry) > 0) expect(used.has(entry)).toBe(true);
    }));
  });

  test('the order of files and entries changes no pair', () => {
    fc.assert(fc.property(table, (likeness) => {
      const files = likeness.map((_, index) => index);
      const entries = (likeness[0] ?? []).map((_, index) => index);
      const of = (file: number, entry: number): number => likeness[file]?.[entry] ?? 0;
      const sorted = (pairs: readonly { file: number; entry: number }[]): string[] => pairs.map(({ file, entry }) => `${String(file)} ${String(entry)}`).sort();
      expect(sorted(pairUp([...files].reverse(), [...entries].reverse(), of).pairs)).toEqual(sorted(pairUp(files, entries, of).pairs));
    }));
  });
});
