import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { editJson, jsonText } from '../../src/media/jsontext.js';

describe('values set in a JSON text', () => {
  test('the rest stays as it is, to the space', () => {
    const text = '{\n\t"title":   "Harbour Kitchen" ,\n\n\t"sources": [\n\t\t{ "id": "1",   "files": [ {"path":"a.mov"} ] },\n\t\t{"id":"2"}\n\t]\n}\n';
    const edited = editJson(text, [
      { path: ['sources', 0, 'files'], value: [{ path: 'a.mov', frames: 5 }] },
      { path: ['sources', 1, 'files'], value: [{ path: 'b.mov' }] },
      { path: ['sources', '-'], value: { id: '3', files: [{ path: 'c.mov' }] } },
      { path: ['program'], value: { files: [] } },
    ]);
    expect(edited).toBe([
      '{', '\t"title":   "Harbour Kitchen" ,', '', '\t"sources": [',
      '\t\t{ "id": "1",   "files": [', '\t\t\t{ "path": "a.mov", "frames": 5 }', '\t\t] },',
      '\t\t{"id":"2", "files": [', '\t\t\t{ "path": "b.mov" }', '\t\t]},',
      '\t\t{', '\t\t\t"id": "3",', '\t\t\t"files": [', '\t\t\t\t{ "path": "c.mov" }', '\t\t\t]', '\t\t}',
      '\t],', '\t"program": {', '\t\t"files": []', '\t}', '}', '',
    ].join('\n'));
  });

  test('line ends stay what they are', () => {
    expect(editJson('{\r\n  "a": 1\r\n}\r\n', [{ path: ['b'], value: [{ c: 1 }] }])).toBe('{\r\n  "a": 1,\r\n  "b": [\r\n    { "c": 1 }\r\n  ]\r\n}\r\n');
  });

  test('empty objects and arrays open up', () => {
    expect(JSON.parse(editJson('{}', [{ path: ['a'], value: 1 }, { path: ['b'], value: 2 }]))).toEqual({ a: 1, b: 2 });
    expect(JSON.parse(editJson('{"a":[]}', [{ path: ['a', '-'], value: 1 }, { path: ['a', '-'], value: 2 }, { path: ['b'], value: 3 }]))).toEqual({ a: [1, 2], b: 3 });
  });

  const key = fc.constantFrom('a', 'b', 'c', 'ä "q"');
  const value = fc.jsonValue({ maxDepth: 2, noUnicodeString: false });

  test('any document, any values: what comes out is what was set, and what was there', () => {
    fc.assert(fc.property(
      fc.dictionary(key, value), fc.array(fc.tuple(key, value), { maxLength: 4 }), fc.array(value, { maxLength: 3 }), fc.constantFrom(undefined, 1, 2, '\t'),
      (document, sets, appended, space) => {
        const before = { ...document, list: [1, { x: 1 }] };
        const unique = new Map(sets);
        const edited = editJson(JSON.stringify(before, null, space), [
          ...[...unique].map(([name, to]) => ({ path: [name], value: to })),
          ...appended.map((to) => ({ path: ['list', '-'], value: to })),
        ]);
        const plain = (one: unknown): unknown => JSON.parse(JSON.stringify(one));
        expect(JSON.parse(edited)).toEqual(plain({ ...before, ...Object.fromEntries(unique), list: [...before.list, ...appended] }));
      },
    ), { numRuns: 300 });
  });

  test('any value reads back', () => {
    fc.assert(fc.property(fc.jsonValue(), (one) => { expect(JSON.parse(jsonText(one))).toEqual(JSON.parse(JSON.stringify(one))); }));
  });
});
