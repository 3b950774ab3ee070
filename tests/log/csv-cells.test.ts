/** A few rows with quotes are read without csv-parse: what readCells makes of a row is what csv-parse makes of it. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readCells } from '../../src/log/cells.js';

function byLibrary(row: string, delimiter: string, ways: readonly boolean[] = [false, true]): string[] | undefined {
  for (const trim of ways) {
    try {
      const rows = parse(row, { delimiter, record_delimiter: ['\r\n', '\n', '\r'], relax_column_count: true, trim }) as string[][];
      if (rows.length === 1) return rows[0]?.map((cell) => cell.trim());
    } catch {
      // The next way of reading is tried, as the reader of logs does.
    }
  }
  return undefined;
}

const byUs = (row: string, delimiter: string): string[] | undefined => {
  const read = readCells(row, 0, row.length, delimiter);
  return 'cells' in read && read.next === row.length ? [...read.cells] : undefined;
};

it.each([',', ';', '\t', '|'])('rows of cells with %j between them', (delimiter) => {
  const cell = fc.oneof(
    fc.string({ unit: fc.constantFrom('a', 'é', ' ', delimiter, '"', '\n', '\r\n') }).map((text) => `"${text.replaceAll('"', '""')}"`),
    fc.string({ unit: fc.constantFrom('a', 'b', ' ', '1') }),
  );
  fc.assert(fc.property(fc.array(cell, { minLength: 1, maxLength: 6 }), fc.constantFrom('\n', '\r\n', ''), (cells, end) => {
    const row = cells.join(delimiter) + end;
    fc.pre(/\S/.test(row.replaceAll(delimiter, '')));
    expect(byUs(row, delimiter)).toEqual(byLibrary(row, delimiter));
  }), { numRuns: 2000 });
});

it('rows that break RFC 4180 are broken for both; with blanks around quotes we never accept what csv-parse reads otherwise', () => {
  fc.assert(fc.property(fc.string({ unit: fc.constantFrom('a', '"', '"', ',', ' '), minLength: 1, maxLength: 12 }), (row) => {
    fc.pre(row.trim() !== '');
    const ours = byUs(row, ',');
    const strict = byLibrary(row, ',', [false]);
    if (strict !== undefined) expect(ours).toEqual(strict);
    // csv-parse takes two quoted texts in one cell when it trims (`"" ""`); we do not.
    else if (ours !== undefined) expect(ours).toEqual(byLibrary(row, ','));
  }), { numRuns: 5000 });
});
