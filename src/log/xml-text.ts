/** The characters of XML: names, white space, and references to characters (XML 1.0 fifth edition). */

/** White space, XML 1.0 section 2.3 [3]. */
export const isSpace = (code: number): boolean => code === 32 || code === 10 || code === 13 || code === 9;

/** Name characters without the colon: XML 1.0 section 2.3 [4] and [4a], Namespaces in XML 1.0 section 3 [4] NCName. */
const START =
  'A-Z_a-z\\u{C0}-\\u{D6}\\u{D8}-\\u{F6}\\u{F8}-\\u{2FF}\\u{370}-\\u{37D}\\u{37F}-\\u{1FFF}\\u{200C}\\u{200D}\\u{2070}-\\u{218F}\\u{2C00}-\\u{2FEF}\\u{3001}-\\u{D7FF}\\u{F900}-\\u{FDCF}\\u{FDF0}-\\u{FFFD}\\u{10000}-\\u{EFFFF}';
const REST = `${START}\\-.0-9\\u{B7}\\u{300}-\\u{36F}\\u{203F}\\u{2040}`;
const NAME = new RegExp(`^[${START}][${REST}]*(?::[${START}][${REST}]*)?$`, 'u');
const PLAIN_NAME = /^[A-Z_a-z][\w.-]*$/;

/** True for a name as elements and attributes have it, with a namespace prefix or without. */
export const isName = (name: string): boolean => PLAIN_NAME.test(name) || (name.length < 1000 && NAME.test(name));

/** The name without its namespace prefix. */
export const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

/** Offset behind the name at `at`: up to white space or a character that ends names in tags. */
export function nameEnd(text: string, at: number): number {
  for (; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    // > / = < " ' &
    if (isSpace(code) || code === 62 || code === 47 || code === 61 || code === 60 || code === 34 || code === 39 || code === 38) break;
  }
  return at;
}

const REFERENCE = /&(?:(lt|gt|amp|quot|apos)|#(\d+)|#x([\dA-Fa-f]+));/g;
const HERE = new RegExp(REFERENCE.source, 'y');
const NAMED: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

/** The first reference in text[at, to) that cannot be resolved without a DTD, and why (XML 1.0 section 4.1). */
export function wrongReference(text: string, at: number, to: number): { readonly offset: number; readonly message: string } | undefined {
  for (let offset = at; offset !== -1 && offset < to; offset = text.indexOf('&', offset + 1)) {
    HERE.lastIndex = offset;
    const parts = HERE.exec(text);
    if (parts !== null && resolve(parts) !== undefined) continue;
    const name = /^&([^\s;&<]{1,40});/.exec(text.slice(offset, offset + 42));
    const message =
      name === null ? "'&' begins no reference; write &amp;" : `&${name[1] ?? ''}; is not a reference that XML has by itself; those are &lt; &gt; &amp; &quot; &apos; and &#…;`;
    return { offset, message };
  }
  return undefined;
}

/** What a reference stands for; undefined for a number that is no character of XML (section 2.2 [2]). */
function resolve([, name, decimal, hexadecimal]: readonly (string | undefined)[]): string | undefined {
  if (name !== undefined) return NAMED[name];
  const code = decimal === undefined ? Number.parseInt(hexadecimal ?? '', 16) : Number(decimal);
  const allowed = code === 9 || code === 10 || code === 13 || (code >= 32 && code <= 0xd7ff) || (code >= 0xe000 && code <= 0xfffd) || (code >= 0x10000 && code <= 0x10ffff);
  return allowed ? String.fromCodePoint(code) : undefined;
}

/** Text with its references resolved; `wrongReference` was asked before. */
export const resolved = (text: string): string => (text.includes('&') ? text.replace(REFERENCE, (whole, ...parts: (string | undefined)[]) => resolve([whole, ...parts.slice(0, 3)]) ?? whole) : text);

/** An attribute's value: white space becomes blanks (XML 1.0 section 3.3.3), references are resolved. */
export const attributeValue = (raw: string): string => resolved(/[\t\n\r]/.test(raw) ? raw.replace(/\r\n|[\t\n\r]/g, ' ') : raw);
