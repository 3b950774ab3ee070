/**
 * Well-formedness of an XML text, and where everything in it stands (XML 1.0, fifth edition, without a DTD; Namespaces
 * in XML 1.0 for names). fast-xml-parser says what rows hold; it has no places of attributes, builds the whole tree, and
 * its validator lets faults pass (a second root, an open comment, `<` in a value), so that this one pass comes first.
 */
import { shorten } from '../visible.js';
import { isName, isSpace, localName, nameEnd, wrongReference } from './xml-text.js';

/** Deepest nesting of elements. A log has a handful of levels. */
export const DEEPEST = 100;
/** Longest tag, and most attributes in it. */
const LONGEST_TAG = 1_000_000;
const MOST_ATTRIBUTES = 1_000;

/** What is found, in order of the text. Names come without their namespace prefix. */
export interface XmlEvents {
  /** An element begins; `at` is the offset of its `<`. What it returns ends the scan. */
  readonly open: (name: string, at: number) => XmlFault | undefined;
  /** An attribute of the element opened last; its value is text[from, to), references and all. Not for xmlns. */
  readonly attribute: (name: string, from: number, to: number) => void;
  /** Character data, text[from, to): as written, or the inside of a CDATA section. */
  readonly characters: (from: number, to: number) => void;
  /** The innermost open element ends; `end` is the offset behind its `>`. */
  readonly close: (end: number) => void;
  /** A name with a namespace prefix was met. */
  readonly prefix?: () => void;
}

export interface XmlFault {
  readonly code: 'malformed-xml' | 'entity-refused' | 'too-large';
  readonly message: string;
  readonly offset: number;
}

const malformed = (offset: number, message: string): XmlFault => ({ code: 'malformed-xml', message, offset });

/** Characters that XML does not have (XML 1.0 section 2.2). */
const FORBIDDEN = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/;

/** The XML declaration without its end (XML 1.0 section 2.8 [23], 2.9 [32], 4.3.3 [80]). */
const DECLARATION = /^<\?xml\s+version\s*=\s*(["'])1\.\d+\1(?:\s+encoding\s*=\s*(["'])[A-Za-z][\w.-]*\2)?(?:\s+standalone\s*=\s*(["'])(?:yes|no)\3)?\s*$/;

/** Checks a document and hands what it finds to `events`. Linear in the text; stops at the first fault. */
export function scanXml(text: string, events: XmlEvents): XmlFault | undefined {
  return new Scanner(text, events).scan();
}

class Scanner {
  #at = 0;
  /** Full names and offsets of the open elements. */
  readonly #names: string[] = [];
  readonly #opened: number[] = [];
  #rootSeen = false;
  /** Offset of the next `&`, of the next `]]>`: looked for once each. */
  #ampersand: number;
  #sectionEnd: number;

  constructor(
    private readonly text: string,
    private readonly events: XmlEvents,
  ) {
    this.#ampersand = text.indexOf('&');
    this.#sectionEnd = text.indexOf(']]>');
  }

  scan(): XmlFault | undefined {
    const { text } = this;
    const forbidden = FORBIDDEN.exec(text);
    if (forbidden !== null) return malformed(forbidden.index, `the character U+${text.charCodeAt(forbidden.index).toString(16).toUpperCase().padStart(4, '0')} cannot stand in XML`);
    for (;;) {
      const found = text.indexOf('<', this.#at);
      const less = found === -1 ? text.length : found;
      const fault = less > this.#at ? this.#characters(this.#at, less) : undefined;
      if (fault !== undefined) return fault;
      if (less === text.length) break;
      const wrong = this.#markup(less);
      if (wrong !== undefined) return wrong;
    }
    const open = this.#names.at(-1);
    if (open !== undefined) return malformed(this.#opened.at(-1) ?? 0, `<${shorten(open)}> is never closed: the document ends inside it`);
    return this.#rootSeen ? undefined : malformed(text.length, 'the document has no element');
  }

  /** Character data between two tags. */
  #characters(from: number, to: number): XmlFault | undefined {
    const { text } = this;
    if (this.#names.length === 0) {
      const visible = from + text.slice(from, to).search(/[^ \t\r\n]/);
      return visible < from ? undefined : malformed(visible, `text stands ${this.#rootSeen ? 'behind' : 'before'} the outermost element`);
    }
    if (this.#sectionEnd !== -1 && this.#sectionEnd < from) this.#sectionEnd = text.indexOf(']]>', from);
    if (this.#sectionEnd !== -1 && this.#sectionEnd < to) return malformed(this.#sectionEnd, ']]> stands in text; write ]]&gt;');
    const fault = this.#references(from, to);
    if (fault === undefined) this.events.characters(from, to);
    return fault;
  }

  /** Checks the references in text[from, to); the next `&` is remembered, so that text without any costs nothing. */
  #references(from: number, to: number): XmlFault | undefined {
    if (this.#ampersand !== -1 && this.#ampersand < from) this.#ampersand = this.text.indexOf('&', from);
    if (this.#ampersand === -1 || this.#ampersand >= to) return undefined;
    const wrong = wrongReference(this.text, this.#ampersand, to);
    return wrong === undefined ? undefined : malformed(wrong.offset, wrong.message);
  }

  #markup(less: number): XmlFault | undefined {
    const { text } = this;
    const code = text.charCodeAt(less + 1);
    if (code === 47) return this.#closeTag(less);
    if (code === 33) return this.#declaration(less);
    if (code === 63) return this.#instruction(less);
    return this.#openTag(less);
  }

  /** A comment, a CDATA section, or a DOCTYPE, which is refused unread. */
  #declaration(less: number): XmlFault | undefined {
    const { text } = this;
    if (text.startsWith('<!--', less)) {
      const end = text.indexOf('--', less + 4);
      if (end === -1) return malformed(less, 'a comment is opened here and never closed');
      if (text.charCodeAt(end + 2) !== 62) return malformed(end, '-- stands inside a comment');
      this.#at = end + 3;
      return undefined;
    }
    if (text.startsWith('<![CDATA[', less)) {
      const end = text.indexOf(']]>', less + 9);
      if (this.#names.length === 0) return malformed(less, 'a CDATA section stands outside the outermost element');
      if (end === -1) return malformed(less, 'a CDATA section is opened here and never closed');
      this.events.characters(less + 9, end);
      this.#at = end + 3;
      return undefined;
    }
    if (/^<!(doctype|entity)/i.test(text.slice(less, less + 9))) {
      const what = text.charCodeAt(less + 2) === 68 || text.charCodeAt(less + 2) === 100 ? 'document type (DOCTYPE)' : 'entity';
      return { code: 'entity-refused', message: `the file declares a ${what}, which linecut never reads; remove it`, offset: less };
    }
    return malformed(less, "'<!' begins neither a comment nor a CDATA section");
  }

  #instruction(less: number): XmlFault | undefined {
    const { text } = this;
    const end = text.indexOf('?>', less + 2);
    if (end === -1) return malformed(less, "'<?' is opened here and never closed with '?>'");
    const target = text.slice(less + 2, Math.min(end, nameEnd(text, less + 2)));
    if (!isName(target) || (less + 2 + target.length < end && !isSpace(text.charCodeAt(less + 2 + target.length)))) {
      return malformed(less, "'<?' begins no processing instruction; a name follows it");
    }
    if (target.toLowerCase() === 'xml') {
      if (less !== 0 || target !== 'xml') return malformed(less, 'an XML declaration stands only at the very start');
      if (end > 200 || !DECLARATION.test(text.slice(0, end))) return malformed(less, 'the XML declaration is wrong; expected <?xml version="1.0" encoding="UTF-8"?>');
    }
    this.#at = end + 2;
    return undefined;
  }

  #closeTag(less: number): XmlFault | undefined {
    const { text } = this;
    const name = this.#names.at(-1);
    let end = less + 2 + (name?.length ?? 0);
    while (isSpace(text.charCodeAt(end))) end += 1;
    if (name !== undefined && text.startsWith(name, less + 2) && text.charCodeAt(end) === 62) {
      this.#names.pop();
      this.#opened.pop();
      this.#at = end + 1;
      this.events.close(end + 1);
      return undefined;
    }
    const given = text.slice(less + 2, nameEnd(text, less + 2));
    if (name === undefined) return malformed(less, `</${shorten(given)}> closes nothing`);
    if (given !== name) return malformed(less, `</${shorten(given)}> stands where </${shorten(name)}> is expected`);
    return malformed(less, `the closing tag </${shorten(name)} has no '>'`);
  }

  #openTag(less: number): XmlFault | undefined {
    const { text } = this;
    let at = nameEnd(text, less + 1);
    const name = text.slice(less + 1, at);
    if (!isName(name)) {
      if (name === '') return malformed(less, "'<' begins no tag; in text write &lt;");
      return malformed(less, `'${shorten(name)}' is not a name that an element can have`);
    }
    if (this.#names.length === 0 && this.#rootSeen) return malformed(less, `<${shorten(name)}> is a second outermost element; a document has one`);
    if (this.#names.length >= DEEPEST) return { code: 'too-large', message: `elements are nested more than ${String(DEEPEST)} deep`, offset: less };
    this.#rootSeen = true;
    const refused = this.events.open(this.#local(name), less);
    if (refused !== undefined) return refused;
    const attributes: string[] = [];
    for (;;) {
      const blank = at;
      while (isSpace(text.charCodeAt(at))) at += 1;
      const code = text.charCodeAt(at);
      if (code === 62) {
        this.#names.push(name);
        this.#opened.push(less);
        this.#at = at + 1;
        return undefined;
      }
      if (code === 47 && text.charCodeAt(at + 1) === 62) {
        this.#at = at + 2;
        this.events.close(at + 2);
        return undefined;
      }
      if (at >= text.length) return malformed(less, `the tag <${shorten(name)} is never closed with '>'`);
      const end = this.#attribute(at, blank, less, name, attributes);
      if (typeof end !== 'number') return end;
      at = end;
    }
  }

  /** One attribute at `at`; the offset behind it. `blank` is where the white space before it begins. */
  #attribute(at: number, blank: number, less: number, element: string, before: string[]): number | XmlFault {
    const { text } = this;
    const behind = nameEnd(text, at);
    const name = text.slice(at, behind);
    if (!isName(name)) return malformed(at, `'${shorten(name === '' ? String.fromCodePoint(text.codePointAt(at) ?? 0) : name)}' is not expected in the tag <${shorten(element)}>`);
    if (blank === at) return malformed(at, `white space is missing before the attribute ${shorten(name)}`);
    let i = behind;
    while (isSpace(text.charCodeAt(i))) i += 1;
    if (text.charCodeAt(i) !== 61) return malformed(at, `the attribute ${shorten(name)} has no value; write ${shorten(name)}="…"`);
    i += 1;
    while (isSpace(text.charCodeAt(i))) i += 1;
    const quote = text.charAt(i);
    if (quote !== '"' && quote !== "'") return malformed(i, `the value of the attribute ${shorten(name)} needs quotes`);
    const close = text.indexOf(quote, i + 1);
    const less2 = text.indexOf('<', i + 1);
    if (less2 !== -1 && (close === -1 || less2 < close)) return malformed(less2, `'<' stands in the value of the attribute ${shorten(name)}; write &lt;, or close its quote`);
    if (close === -1) return malformed(i, `the value of the attribute ${shorten(name)} is never closed`);
    if (close - less > LONGEST_TAG) return { code: 'too-large', message: 'this tag has more than 1,000,000 characters; a log has short ones', offset: less };
    if (before.includes(name)) return malformed(at, `the attribute ${shorten(name)} is there twice`);
    if (before.push(name) > MOST_ATTRIBUTES) return { code: 'too-large', message: 'this tag has more than 1,000 attributes', offset: less };
    const fault = this.#references(i + 1, close);
    if (fault !== undefined) return fault;
    if (name !== 'xmlns' && !name.startsWith('xmlns:')) this.events.attribute(this.#local(name), i + 1, close);
    return close + 1;
  }

  #local(name: string): string {
    const local = localName(name);
    if (local.length < name.length) this.events.prefix?.();
    return local;
  }
}
