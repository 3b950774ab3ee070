import { expect, it } from 'vitest';
import { startsWithMark, withoutMark } from '../src/byte-order-mark.js';

it('takes one mark from the start, and none from the middle', () => {
  expect(['\uFEFFa\uFEFFb', '\uFEFF', '', 'a'].map(withoutMark)).toEqual(['a\uFEFFb', '', '', 'a']);
  expect(['\uFEFFa', 'a\uFEFF'].map(startsWithMark)).toEqual([true, false]);
});
