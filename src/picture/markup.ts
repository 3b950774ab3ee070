/** Small helpers for SVG and HTML text. */

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text for element content or a double-quoted attribute; characters that XML 1.0 does not allow (§2.2) become a space. */
export const escape = (text: string): string =>
  Array.from(text, (char) => ESCAPES[char] ?? (isXmlCharacter(char.codePointAt(0) ?? 0) ? char : ' ')).join('');

const isXmlCharacter = (code: number): boolean =>
  code === 9 || code === 10 || code === 13 || (code >= 0x20 && code <= 0xd7ff) || (code >= 0xe000 && code <= 0xfffd) || code >= 0x10000;

/** A coordinate with at most two decimals, so that a picture stays small and its bytes the same everywhere. */
export const coord = (value: number): string => String(Math.round(value * 100) / 100);

/** At most `most` characters, the last an ellipsis where something was left out. */
export const shorten = (text: string, most: number): string => {
  const chars = Array.from(text);
  return chars.length <= most ? text : `${chars.slice(0, Math.max(1, most - 1)).join('')}…`;
};
