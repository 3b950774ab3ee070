import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { create } from 'xmlbuilder2';
import { FIELDS, type Field, type Mapping } from '../../src/log/mapping.js';
import { spoilt } from '../support/spoilt.js';
import { complaints, textAt, xml } from './collect.js';

/** Text with what XML makes special more often than chance would; xmlbuilder2 4.0 leaves what looks like a reference as it is. */
const text = fc.oneof(
  fc.string({ unit: fc.constantFrom('a', '7', ' ', '"', "'", '<', '>', '&', ']', '/', '\n', '\t', 'é', '🍲', '-', ';', '#'), maxLength: 10 }),
  fc.string({ unit: 'grapheme', maxLength: 6 }).filter((value) => !/[\0-\u001F\u007F-\u009F\uFFFE\uFFFF\p{Cs}]/u.test(value)),
).filter((value) => !/&.*;/s.test(value));

type Form = 'attribute' | 'element' | 'cdata' | 'deep' | 'deep attribute';

const row = fc.record(Object.fromEntries(FIELDS.map((field) => [field, fc.option(fc.tuple(text, fc.constantFrom<Form>('attribute', 'element', 'cdata', 'deep', 'deep attribute')), { nil: undefined })])) as Record<Field, fc.Arbitrary<[string, Form] | undefined>>);

/** Where each form of a field stands, as a mapping writes it; the name is the field's and the form's. */
const PATHS: Readonly<Record<Form, (field: Field) => string>> = {
  attribute: (field) => `@${field}A`,
  element: (field) => `${field}E`,
  cdata: (field) => `${field}C`,
  deep: (field) => `in/${field}D`,
  'deep attribute': (field) => `${field}B/x/@v`,
};

type Row = Partial<Record<Field, [string, Form]>>;

/** Rows as xmlbuilder2 4.0 writes them, each field in the form that `forms` gives it. */
function write(rows: readonly Row[], forms: Readonly<Record<Field, Form>>, pretty: boolean, prefix: string): string {
  const root = create({ version: '1.0' }).ele(`${prefix}session`);
  if (prefix !== '') root.att(`xmlns:${prefix.slice(0, -1)}`, 'urn:example:harbour');
  const list = root.ele(`${prefix}list`);
  for (const given of rows) {
    const item = list.ele(`${prefix}item`, { other: 'x' });
    for (const field of FIELDS) {
      const value = given[field]?.[0];
      if (value === undefined) continue;
      const form = forms[field];
      if (form === 'attribute') item.att(`${field}A`, value);
      else if (form === 'element') item.ele(`${prefix}${field}E`).txt(value);
      else if (form === 'cdata') item.ele(`${prefix}${field}C`).dat(value.replaceAll(']]>', ''));
      else if (form === 'deep') item.ele(`${prefix}in`).ele(`${prefix}${field}D`).txt(value);
      else item.ele(`${prefix}${field}B`).ele(`${prefix}x`, { v: value });
    }
  }
  return root.end({ prettyPrint: pretty });
}

/** What a reader makes of it: white space in attributes becomes blanks unless it is written as a reference (XML 1.0 section 3.3.3). */
function expected(value: string, form: Form, document: string): string | undefined {
  const kept = form === 'cdata' ? value.replaceAll(']]>', '') : value;
  const asWritten = form.endsWith('attribute') && !document.includes('&#x') ? kept.replace(/[\t\n\r]/g, ' ') : kept;
  return asWritten.trim() || undefined;
}

const forms = fc.record(Object.fromEntries(FIELDS.map((field) => [field, fc.constantFrom<Form>('attribute', 'element', 'cdata', 'deep', 'deep attribute')])) as Record<Field, fc.Arbitrary<Form>>);

const mapFor = (chosen: Readonly<Record<Field, Form>>, used: readonly Field[]): Mapping => ({
  rows: '/session/list/item',
  fields: Object.fromEntries(used.map((field) => [field, PATHS[chosen[field]](field)])),
});

describe('any rows in any form', () => {
  it('are read as they were written, and each field is where it is said to be', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 6 }), forms, fc.boolean(), fc.constantFrom('', 'h:'), (given, chosen, pretty, prefix) => {
        const rows: Row[] = given.map((one) => ({ ...(one as Row), time: [`${one.time?.[0] ?? ''}t`, 'attribute'] }));
        const document = write(rows, chosen, pretty, prefix);
        const used = FIELDS.filter((field) => rows.some((one) => expected(one[field]?.[0] ?? '', chosen[field], document) !== undefined));
        const read = xml(document, mapFor(chosen, used));
        expect(complaints(read)).toEqual([]);
        expect(read.rows.map(({ values }) => values)).toEqual(rows.map((one) => FIELDS.map((field) => (one[field] === undefined ? undefined : expected(one[field][0], chosen[field], document)))));
        for (const one of read.rows) {
          expect(textAt(document, { line: one.line, column: 1 }).trimStart()).toMatch(/^(<(h:)?item|.*<(h:)?item)/);
          for (const [index, field] of FIELDS.entries()) {
            const first = one.values[index]?.codePointAt(0);
            if (first === undefined) continue;
            const at = textAt(document, one.columnOf(field));
            expect(at.startsWith('&') || at.codePointAt(0) === first).toBe(true);
          }
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe('spoilt documents', () => {
  it('never make the reader throw; every problem has a place that exists', () => {
    fc.assert(
      fc.property(spoilt, (document) => {
        const read = xml(document);
        const lines = document.split(/\r\n|\n|\r/);
        for (const { place } of read.problems) {
          expect(place?.line).toBeLessThanOrEqual(lines.length);
          expect(place?.column).toBeLessThanOrEqual((lines[(place?.line ?? 1) - 1] ?? '').length + 1);
        }
      }),
      { numRuns: 3000 },
    );
  });
});
