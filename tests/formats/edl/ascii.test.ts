import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import { asciiText } from '../../../src/formats/edl/ascii.js';

const { default: anyAscii } = createRequire(import.meta.url)('any-ascii') as { readonly default: (text: string) => string };

it('every letter with marks becomes what any-ascii makes of it', () => {
  let letters = 0;
  const wrong: string[] = [];
  for (let code = 0x80; code < 0x30000; code += 1) {
    if (code >= 0xd800 && code < 0xe000) continue;
    const letter = String.fromCodePoint(code);
    if (!/\p{L}/u.test(letter) || !/^[a-z]$/i.test(letter.normalize('NFD').replace(/\p{Mn}/gu, ''))) continue;
    letters += 1;
    if (asciiText(letter) !== anyAscii(letter)) wrong.push(letter);
  }
  expect(letters).toBeGreaterThan(400);
  expect(wrong).toEqual([]);
});

it.each([['Crème fraîche', 'Creme fraiche'], ['Ångström', 'Angstrom'], ['weiß', 'weiss'], ['Cre\u0300me', 'Creme'], ['5 € ≠ 6', '5 EUR = 6'], ['жар', 'zhar'], ['\u0300', '?']])('%s becomes %s', (given, plain) => {
  expect(asciiText(given)).toBe(plain);
});
