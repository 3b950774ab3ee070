import { describe, expect, it } from 'vitest';
import { scanXml } from '../../src/log/xml-scan.js';
import { complaints, places, xml } from './collect.js';

/** The document with the row `inside` on line 2, so that columns there are those of `inside` itself. */
const doc = (inside: string): string => `<cutlog>\n${inside}\n</cutlog>`;

// XML 1.0 fifth edition; the numbers are its sections. Namespaces in XML 1.0 for names with two colons.
describe('what is not well-formed has line and column', () => {
  it.each([
    ['2.1 no element', '', '1:1', 'the document has no element'],
    ['2.1 only a comment', '<!-- x -->\n', '2:1', 'the document has no element'],
    ['2.1 text before', 'x\n<cutlog/>', '1:1', 'text stands before the outermost element'],
    ['2.1 text behind', '<cutlog/>\n x', '2:2', 'text stands behind the outermost element'],
    ['2.1 a second outermost element', '<cutlog/>\n<cutlog/>', '2:1', '<cutlog> is a second outermost element'],
    ['2.1 truncated', doc('<event time="1">').slice(0, 15), '2:1', 'the tag <event is never closed'],
    ['2.1 truncated inside an element', '<cutlog>\n<event><time>1', '2:8', '<time> is never closed: the document ends inside it'],
    ['2.1 truncated behind a row', '<cutlog>\n<event/>', '1:1', '<cutlog> is never closed'],
    ['2.2 a control character', doc('<event note="\u0001"/>'), '2:14', 'the character U+0001 cannot stand in XML'],
    ['2.2 U+FFFE', doc('\uFFFE'), '2:1', 'U+FFFE'],
    ['2.3 a name that is none', doc('<1event/>'), '2:1', "'1event' is not a name"],
    ['2.3 < without a name', doc('a < b'), '2:3', "'<' begins no tag; in text write &lt;"],
    ['2.4 ]]> in text', doc('a]]>'), '2:2', ']]> stands in text'],
    ['2.5 a comment left open', doc('<!-- x'), '2:1', 'a comment is opened here and never closed'],
    ['2.5 a comment left open behind the end', '<cutlog/>\n<!-- x', '2:1', 'a comment is opened here'],
    ['2.5 -- in a comment', doc('<!-- a -- b -->'), '2:8', '-- stands inside a comment'],
    ['2.6 an instruction left open', doc('<?x '), '2:1', "'<?' is opened here"],
    ['2.7 CDATA left open', doc('<event><![CDATA[x</event>'), '2:8', 'a CDATA section is opened here and never closed'],
    ['2.7 CDATA outside', '<![CDATA[x]]><cutlog/>', '1:1', 'a CDATA section stands outside'],
    ['2.8 a declaration that is not first', '\n<?xml version="1.0"?><cutlog/>', '2:1', 'an XML declaration stands only at the very start'],
    ['2.8 a declaration without a version', '<?xml encoding="UTF-8"?><cutlog/>', '1:1', 'the XML declaration is wrong'],
    ['2.8 a declaration in capitals', '<?XML version="1.0"?><cutlog/>', '1:1', 'an XML declaration stands only'],
    ['2.6 an instruction without a name', '<cutlog>\n<? x?></cutlog>', '2:1', "'<?' begins no processing instruction"],
    ['2.8 another <!', doc('<!ELEMENT a ANY>'), '2:1', "'<!' begins neither a comment nor a CDATA section"],
    ['3 the wrong closing tag', doc('<event></evnt>'), '2:8', '</evnt> stands where </event> is expected'],
    ['3 tags that overlap', doc('<event><time></event></time>'), '2:14', '</event> stands where </time> is expected'],
    ['3 a closing tag too many', '<cutlog/></cutlog>', '1:10', '</cutlog> closes nothing'],
    ['3.1 a closing tag without >', '<cutlog></cutlog', '1:9', "the closing tag </cutlog has no '>'"],
    ['3.1 a closing tag with an attribute', doc('<event></event x="1">'), '2:8', "the closing tag </event has no '>'"],
    ['3.1 no white space before an attribute', doc('<event a="1"b="2"/>'), '2:13', 'white space is missing before the attribute b'],
    ['3.1 no value', doc('<event time/>'), '2:8', 'the attribute time has no value; write time="…"'],
    ['3.1 no quotes', doc('<event time=1/>'), '2:13', 'the value of the attribute time needs quotes'],
    ['3.1 a value left open', doc('<event time="1/>'), '3:1', "'<' stands in the value of the attribute time"],
    ['3.1 a value left open at the end', '<cutlog a="1', '1:11', 'the value of the attribute a is never closed'],
    ['3.1 < in a value', doc('<event note="a < b"/>'), '2:16', "'<' stands in the value of the attribute note; write &lt;"],
    ['3.1 an attribute twice', doc('<event time="1" time="2"/>'), '2:17', 'the attribute time is there twice'],
    ['3.1 something else in a tag', doc('<event , time="1"/>'), '2:8', "',' is not expected in the tag <event>"],
    ['3.1 / without >', doc('<event / time="1"/>'), '2:8', "'/' is not expected in the tag <event>"],
    ['4.1 a bare &', doc('<event note="salt & oil"/>'), '2:19', "'&' begins no reference; write &amp;"],
    ['4.1 a bare & in text', doc('salt & oil'), '2:6', "'&' begins no reference"],
    ['4.1 an undeclared entity', doc('<event note="&eacute;"/>'), '2:14', '&eacute; is not a reference that XML has by itself'],
    ['4.1 a number that is no character', doc('<event note="&#0;"/>'), '2:14', '&#0; is not a reference'],
    ['4.1 a surrogate', doc('<event note="&#xD800;"/>'), '2:14', '&#xD800; is not a reference'],
    ['4.1 a number beyond Unicode', doc('<event note="&#1114112;"/>'), '2:14', '&#1114112; is not a reference'],
    ['Namespaces 3: two colons', doc('<a:b:c/>'), '2:1', "'a:b:c' is not a name"],
  ])('%s', (_, text, place, message) => {
    const read = xml(text);
    const [line = '', ...more] = complaints(read);
    expect(line).toContain(`show.xml:${place}: error: `);
    expect(line).toContain(message);
    expect(line).toContain('[malformed-xml]');
    expect(more).toEqual([]);
    expect(read.head).toBeUndefined();
  });

  it('columns count from the line break, whichever it is', () => {
    expect(places(xml('<cutlog>\r<x>\r\n  </y>'))).toEqual(['3:3 malformed-xml']);
  });
});

// Contract §3: external entities and DTD entity expansion are off. Any document type is refused unread.
describe('entities', () => {
  it.each([
    ['a document type', '<?xml version="1.0"?>\n<!DOCTYPE cutlog>\n<cutlog/>', '2:1'],
    ['an external entity', '<!DOCTYPE c [<!ENTITY x SYSTEM "file:///etc/hostname">]><c>&x;</c>', '1:1'],
    ['a bomb', `<!DOCTYPE l [<!ENTITY a "ha">${Array.from({ length: 20 }, (_, n) => `<!ENTITY a${String(n)} "&a;&a;&a;&a;&a;&a;&a;&a;">`).join('')}]><l>&a19;</l>`, '1:1'],
    ['a parameter entity', '<!DOCTYPE c [<!ENTITY % p SYSTEM "http://127.0.0.1:9/x"> %p;]><c/>', '1:1'],
    ['small letters', ' <!doctype html><html/>', '1:2'],
    ['inside the document', '<cutlog>\n <!DOCTYPE cutlog></cutlog>', '2:2'],
    ['an entity without a document type', '<cutlog>\n<!ENTITY a "b"></cutlog>', '2:1'],
  ])('%s is refused', (_, text, place) => {
    const read = xml(text);
    expect(places(read)).toEqual([`${place} entity-refused`]);
    expect(read.head).toBeUndefined();
  });
});

const MB = 1_000_000;
const list = (row: string, count: number): string => `<cutlog>${row.repeat(count)}</cutlog>`;

// Issue 2 and contract §3: within a second or two. The limit leaves room for a busy machine; what is quadratic takes minutes.
describe('hostile input is answered soon', () => {
  it.each([
    ['100,000 levels', '<a>'.repeat(100_000), '1:301 too-large'],
    ['100,000 levels, closed', `${'<a>'.repeat(100_000)}${'</a>'.repeat(100_000)}`, '1:301 too-large'],
    ['50 MB of <', '<'.repeat(50 * MB), '1:1 malformed-xml'],
    ['50 MB of &', `<cutlog>${'&'.repeat(50 * MB)}`, '1:9 malformed-xml'],
    ['20 MB of references and a bad one', `<cutlog>${'&amp;'.repeat(4 * MB)}&x</cutlog>`, '1:20000009 malformed-xml'],
    ['a name of 20 MB', `<${'a'.repeat(20 * MB)}`, '1:1 malformed-xml'],
    ['an attribute of 20 MB', `<cutlog a="${'a'.repeat(20 * MB)}"/>`, '1:1 too-large'],
    ['an open attribute of 20 MB', `<cutlog a="${'a'.repeat(20 * MB)}`, '1:11 malformed-xml'],
    ['a hundred thousand attributes', `<cutlog ${Array.from({ length: 100_000 }, (_, n) => `a${String(n)}="1"`).join(' ')}/>`, '1:1 too-large'],
    ['white space of 20 MB in a tag', `<cutlog${' '.repeat(20 * MB)}`, '1:1 malformed-xml'],
    ['a row of 2 MB', `<cutlog><event time="1">${'<a/>'.repeat(MB / 2)}</event></cutlog>`, '1:9 too-large'],
    ['a note of 20 MB', `<cutlog><event time="1"><note>${'x'.repeat(20 * MB)}</note></event></cutlog>`, '1:9 too-large'],
    ['a comment of 20 MB left open', `<cutlog><!--${'-'.repeat(20 * MB)}`, '1:13 malformed-xml'],
    ['many open comments', `<cutlog>${'<!-- '.repeat(2 * MB)}`, '1:16 malformed-xml'],
    ['half a million unclosed rows', `<cutlog>${'<event time="1">'.repeat(500_000)}`, '1:1593 too-large'],
  ])('%s', (_, text, place) => {
    expect(places(xml(text))).toEqual([place]);
  });

  it('50,000 rows on one line, each asked for its places', () => {
    const row = '<event time="10:00:00:00"><note>x</note></event>';
    let columns = 0;
    for (const one of xml(list(row, 50_000)).rows) columns += one.columnOf('note').column + one.columnOf('time').column;
    expect(columns).toBeGreaterThan(50_000);
  });

  it('a hundred thousand different names', () => {
    const text = `<cutlog>${Array.from({ length: 100_000 }, (_, n) => `<x${String(n)} y${String(n)}="1"/>`).join('')}<event time="1"/></cutlog>`;
    const read = xml(text);
    expect(read.rows).toHaveLength(1);
  });

  it('a 10 MB log without a line break is read', () => {
    const row = `<event time="1"><note>${'x'.repeat(50_000)}</note></event>`;
    const read = xml(list(row, 200));
    expect([read.problems, read.rows.length]).toEqual([[], 200]);
  });
});

it('every beginning of a sound document is refused, none throws', () => {
  const text = '<?xml version="1.0"?>\n<cutlog a=\'1\'><!-- c --><event time="1" note="&lt;"><![CDATA[x]]><n/>y</event><?p i?></cutlog>';
  const nothing = { open: () => undefined, attribute: () => undefined, characters: () => undefined, close: () => undefined };
  expect(scanXml(text, nothing)).toBeUndefined();
  for (let end = 0; end < text.length; end += 1) {
    const fault = scanXml(text.slice(0, end), nothing);
    expect(fault?.code).toBe('malformed-xml');
    expect(fault?.offset).toBeLessThanOrEqual(end);
  }
});
