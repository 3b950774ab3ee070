import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FIELDS, type Field } from '../../src/log/mapping.js';
import { COLUMN_SYNONYMS } from '../../src/log/words.js';
import { complaints, csv, textAt } from './collect.js';

const DELIMITERS = [',', ';', '\t', '|'];
const BREAKS = ['\r\n', '\n', '\r'];

/** A cell: any text, with what RFC 4180 makes special more often than chance would. */
const cell = fc.oneof(
  fc.string({ unit: fc.constantFrom('a', '7', ' ', '"', ',', ';', '\t', '|', '\n', '\r\n', 'é', '🍲', ':'), maxLength: 8 }),
  fc.string({ unit: 'grapheme', maxLength: 6 }).filter((text) => !/[\u0000\uFEFF]/.test(text)),
);

interface Sheet {
  readonly fields: readonly Field[];
  readonly names: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly delimiter: string;
  readonly lineBreak: string;
  /** Cells that are quoted although they need not be, by position. */
  readonly quoted: readonly boolean[];
  readonly blanks: readonly string[];
  readonly lastBreak: boolean;
  readonly preamble: readonly string[];
}

const sheet: fc.Arbitrary<Sheet> = fc
  .record({ rest: fc.shuffledSubarray(FIELDS.filter((field) => field !== 'time')), at: fc.nat(6), upper: fc.boolean(), synonym: fc.nat(12) })
  .chain(({ rest, at, upper, synonym }) => {
    // At least two columns: one alone has no delimiter to be found.
    const fields = [...rest.slice(0, at), 'time' as const, ...rest.slice(at)];
    const all: readonly Field[] = fields.length > 1 ? fields : ['time', 'note'];
    const names = all.map((field) => [field, ...COLUMN_SYNONYMS[field]][synonym % (COLUMN_SYNONYMS[field].length + 1)] ?? field);
    return fc.record({
      fields: fc.constant(all),
      names: fc.constant(upper ? names.map((name) => name.toUpperCase()) : names),
      rows: fc.array(fc.tuple(...all.map(() => cell)), { maxLength: 12 }),
      delimiter: fc.constantFrom(...DELIMITERS),
      lineBreak: fc.constantFrom(...BREAKS),
      quoted: fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }),
      blanks: fc.array(fc.constantFrom('', '', ' ', '  '), { minLength: 1, maxLength: 5 }),
      lastBreak: fc.boolean(),
      preamble: fc.array(fc.constantFrom('', 'Harbour Kitchen, live; "late" | 14', 'Made on 1 May', '"'), { maxLength: 3 }),
    });
  });

/** RFC 4180, written independently of the reader: quotes where a cell needs them, or where `quoted` says so. */
function write({ names, rows, delimiter, lineBreak, quoted, blanks, lastBreak, preamble }: Sheet): string {
  let count = 0;
  const written = (text: string): string => {
    count += 1;
    if (!/["\r\n]/.test(text) && !text.includes(delimiter) && quoted[count % quoted.length] !== true) return text;
    const blank = blanks[count % blanks.length] ?? '';
    return `${blank}"${text.replaceAll('"', '""')}"${blank}`;
  };
  const lines = [names, ...rows].map((row) => row.map(written).join(delimiter));
  return [...preamble, ...lines].join(lineBreak) + (lastBreak ? lineBreak : '');
}

/** Line on which each row of the sheet begins. */
function linesOf({ rows, preamble, names }: Sheet): number[] {
  let line = 1 + preamble.length + (names.length > 0 ? 1 : 0);
  return rows.map((row) => {
    const at = line;
    line += 1 + row.reduce((sum, text) => sum + (text.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
    return at;
  });
}

describe('any sheet in any delimiter', () => {
  it('gives the same rows, on their lines, and finds its own layout', () => {
    fc.assert(
      fc.property(sheet, (given) => {
        const text = write(given);
        const read = csv(text);
        expect(complaints(read)).toEqual([]);
        expect(read.head?.delimiter).toBe(given.delimiter);
        expect(read.head?.skipLines).toBe(given.preamble.length);
        const lines = linesOf(given);
        const expected = given.rows
          .map((row, index) => [lines[index], ...FIELDS.map((field) => row[given.fields.indexOf(field)]?.trim() || undefined)])
          .filter((row) => row.slice(1).some((value) => value !== undefined));
        expect(read.rows.map((row) => [row.line, ...row.values])).toEqual(expected);
      }),
      { numRuns: 1500 },
    );
  });

  it('says where each field stands', () => {
    fc.assert(
      fc.property(sheet, (given) => {
        const text = write(given);
        for (const row of csv(text).rows) {
          for (const [index, field] of FIELDS.entries()) {
            const place = row.columnOf(field);
            const value = row.values[index];
            if (value === undefined) expect(place).toEqual({ line: row.line, column: 1 });
            else {
              // Only quoted cells have quotes in them, and there they are doubled.
              const start = (value.split(/\r\n|\n|\r/)[0] ?? '').replaceAll('"', '""');
              expect(textAt(text, place).slice(0, start.length)).toBe(start);
            }
          }
        }
      }),
      { numRuns: 500 },
    );
  });

  it('whatever is done to it, the reader ends without a throw, and each problem has its place', () => {
    fc.assert(
      fc.property(sheet, fc.array(fc.tuple(fc.nat(), fc.constantFrom('"', ',', ';', '\n', '\r', '\t', '', ' ', '""', '\u0001')), { maxLength: 4 }), (given, edits) => {
        let text = write(given);
        for (const [at, put] of edits) {
          const where = at % (text.length + 1);
          text = text.slice(0, where) + put + text.slice(where + 1);
        }
        const read = csv(text);
        const lines = text.split(/\r\n|\n|\r/);
        for (const { place } of read.problems) {
          expect(place?.line).toBeGreaterThanOrEqual(1);
          expect(place?.line).toBeLessThanOrEqual(lines.length);
          expect(place?.column).toBeGreaterThanOrEqual(1);
          expect(place?.column).toBeLessThanOrEqual((lines[(place?.line ?? 1) - 1] ?? '').length + 1);
        }
        for (const [before, after] of read.rows.slice(1).map((row, index) => [read.rows[index], row] as const)) expect(after.line).toBeGreaterThan(before?.line ?? 0);
      }),
      { numRuns: 1500 },
    );
  });
});
