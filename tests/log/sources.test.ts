/** Every word of a log is a source of its own, also where words stand that are no id of a source. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SourceBook } from '../../src/log/sources.js';

const idsOf = (words: readonly string[], listed: readonly string[] = []): string[] => {
  const book = new SourceBook(undefined, listed.map((id) => ({ id, name: id })), undefined);
  const ids = words.map((word) => String(book.forPicture(word)));
  expect(book.named.map(({ id }) => id)).toEqual([...new Set([...listed.map((id) => String(book.forPicture(id))), ...ids])]);
  return ids;
};

describe('a log without a show file', () => {
  it.each([
    [['Wide', 'Follow', 'Follow 2', 'Wide', 'follow']], [['Follow 2', 'Follow', 'Follow 3', 'FOLLOW']], [['none', 'None 2', 'none 2 2', 'none']],
  ])('keeps its words apart: %j', (words) => {
    const different = new Set(words.map((word) => word.toLowerCase())).size;
    expect(new Set(idsOf(words)).size).toBe(different);
    expect(new Set(idsOf(words, words.slice(0, 2))).size).toBe(different);
  });

  it('keeps any words apart', () => {
    const word = fc.tuple(fc.constantFrom('follow', 'None', 'Wide'), fc.constantFrom('', ' 2', ' 2 2', ' 3')).map((parts) => parts.join(''));
    fc.assert(fc.property(fc.array(word, { minLength: 1 }), (words) => {
      expect(new Set(idsOf(words)).size).toBe(new Set(words.map((one) => one.toLowerCase())).size);
    }));
  });
});
