import { describe, expect, it } from 'vitest';
import type { Mapping } from '../../src/log/mapping.js';
import { complaints, fieldsOf, notes, textAt, xml } from './collect.js';

const OWN = `<?xml version="1.0" encoding="UTF-8"?>
<cutlog version="1" rate="29.97df" timeAs="timecode" title="Harbour &amp; Kitchen">
  <source id="1" name="Stage wide"/>
  <source id="2"><name>Close-up</name></source>
  <source id="3"/>
  <event time="10:00:00;00" action="start"/>
  <event time="10:00:00;00" action="cut" source="1"/>
  <event><time>10:04:11;20</time><action> dissolve </action><source><![CDATA[2]]></source><duration>30</duration></event>
  <event time="10:05:00;00" action="marker" note="Soup &lt;hot&gt; &#233; &#x1F372; &quot;now&quot;"/>
</cutlog>
`;

describe('our own form', () => {
  it('gives what the log says of itself, and its rows, from attributes or child elements', () => {
    const read = xml(OWN);
    expect(read.problems).toEqual([]);
    expect(read.head).toEqual({
      form: 'xml', title: 'Harbour & Kitchen', rate: '29.97df', timeAs: 'timecode', rows: '/cutlog/event', unused: [],
      sources: [{ id: '1', name: 'Stage wide' }, { id: '2', name: 'Close-up' }, { id: '3', name: '3' }],
      found: { time: '@time', action: '@action', source: '@source', duration: 'duration', note: '@note' },
    });
    expect(read.rows.map((row) => ({ line: row.line, ...fieldsOf(row) }))).toEqual([
      { line: 6, time: '10:00:00;00', action: 'start' },
      { line: 7, time: '10:00:00;00', action: 'cut', source: '1' },
      { line: 8, time: '10:04:11;20', action: 'dissolve', source: '2', duration: '30' },
      { line: 9, time: '10:05:00;00', action: 'marker', note: 'Soup <hot> é 🍲 "now"' },
    ]);
  });

  it('warns of elements that look like events, and are none', () => {
    const around = (more: string): string[] => complaints(xml(`<cutlog version="1">\n${more}\n<event time="0" action="cut" source="1"/></cutlog>`));
    expect(around('<Event time="1"/><Event time="2"/>')).toEqual(['show.xml:2:1: warning: the 2 elements /cutlog/Event are not read: rows are at /cutlog/event [stray-element]']);
    for (const one of ['evnt', 'events', 'Source', 'sorce']) expect(around(`<${one} id="1"/>`)).toEqual([expect.stringContaining(`/cutlog/${one} is not read`)]);
    expect(around('<group><event time="1"/></group>')).toEqual([expect.stringContaining('/cutlog/group is not read')]);
    expect(around('<row time="1"/>')).toEqual([expect.stringContaining('/cutlog/row is not read')]);
    expect(around('<event time="0" action="cut" source="1"><event time="4"/></event>')).toEqual([expect.stringContaining('the element /cutlog/event/event is not read')]);
    expect(around('<event Time="3" Action="cut" Source="2"/>').filter((line) => line.includes("events have '@Time', which is no field and is not read; did you mean 'time'?"))).toHaveLength(1);
    expect(around('<remark>Rain</remark><event time="0" action="cut" source="1"><event2 time="4"/></event>')).toEqual([]);
  });

  it('says where every field stands', () => {
    const [, , row] = xml(OWN).rows;
    const at = (field: 'time' | 'action' | 'source' | 'duration' | 'note'): string => textAt(OWN, row?.columnOf(field) ?? { line: 1, column: 1 });
    expect(at('time')).toMatch(/^10:04:11;20</);
    expect(at('action')).toMatch(/^dissolve /);
    expect(at('source')).toMatch(/^2\]\]>/);
    expect(at('duration')).toMatch(/^30</);
    expect(row?.columnOf('note')).toEqual({ line: 8, column: 3 });
  });

  it('takes rows without events, and a log without sources', () => {
    expect(xml('<cutlog/>')).toMatchObject({ problems: [], rows: [], head: { sources: [] } });
    expect(xml('\uFEFF<cutlog version="1"></cutlog>').problems).toEqual([]);
  });

  it('knows only the very names there, and warns of one that is nearly right', () => {
    const read = xml('<cutlog><event time="1" actoin="dissolve" cam="2" source="1"/></cutlog>');
    expect(fieldsOf(read.rows[0])).toEqual({ time: '1', source: '1' });
    expect(read.head?.unused).toEqual(['@actoin', '@cam']);
    expect(complaints(read)).toEqual([
      "show.xml:1:9: warning: events have '@actoin', which is no field and is not read; did you mean 'action'? [missing-column]",
    ]);
  });

  it('refuses another version, sources without id, and one id twice', () => {
    expect(complaints(xml('<cutlog\n version="2"/>'))).toEqual(["show.xml:2:11: error: this is version '2' of cutlog; this linecut reads version 1 [malformed-xml]"]);
    expect(complaints(xml('<cutlog><source name="x"/>\n<source id="a"/><source id="A"/></cutlog>'))).toEqual([
      'show.xml:1:9: error: this source has no id [missing-field]',
      "show.xml:2:17: error: a second source has the id 'A' [duplicate-source]",
    ]);
  });

  it('warns where an attribute and an element of one event or source do not say the same, and the attribute counts', () => {
    const read = xml([
      '<cutlog><source id="1" name="Wide"><name>Close</name></source>', '<event time="1" source="1"><time> 1 </time><source>1</source></event>',
      '<event time="2" source="1">', '  <time>', '    5</time><note/></event><event time="3" source="1" note=""><source>2</source><note>x</note></event>', '</cutlog>',
    ].join('\n'));
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '1', source: '1' }, { time: '2', source: '1' }, { time: '3', source: '1', note: 'x' }]);
    expect(read.head?.sources).toEqual([{ id: '1', name: 'Wide' }]);
    expect(complaints(read)).toEqual([
      "show.xml:1:42: warning: the element name says 'Close', and the attribute of that name, which counts, 'Wide'; expected one of them [two-values]",
      "show.xml:5:5: warning: the element time says '5', and the attribute of that name, which counts, '2'; expected one of them [two-values]",
      "show.xml:5:71: warning: the element source says '2', and the attribute of that name, which counts, '1'; expected one of them [two-values]",
    ]);
  });

  it('says of a field that several elements give, which one counts', () => {
    const read = xml([
      '<cutlog>', '<event time="1"><source>2</source><source>3</source><source>2</source></event>',
      '<event time="2" source="1"><source>4</source><source>5</source><note/><note>x</note></event>', '</cutlog>',
    ].join('\n'));
    // Also where no event has it as an attribute.
    expect(complaints(xml('<cutlog><event time="1"><source>2</source><source>3</source></event></cutlog>'))).toHaveLength(1);
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }, { time: '2', source: '1', note: 'x' }]);
    expect(complaints(read)).toEqual([
      "show.xml:2:25: warning: a further element source says '3', and the first of that name, which counts, '2'; expected one of them [two-values]",
      "show.xml:3:36: warning: the element source says '4', and the attribute of that name, which counts, '1'; expected one of them [two-values]",
      "show.xml:3:36: warning: the element source says '5', and the attribute of that name, which counts, '1'; expected one of them [two-values]",
    ]);
  });

  it('takes the first of several elements that a mapping names', () => {
    const read = xml('<list><item when="1"><tag>2</tag><tag>3</tag></item></list>', { rows: 'list/item', fields: { time: '@when', source: 'tag' } });
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
    expect(complaints(read)).toEqual([]);
  });

  it('says when nothing holds the time', () => {
    expect(complaints(xml('<cutlog><event when="1" source="2"/></cutlog>'))).toEqual([
      'show.xml:1:9: error: nothing holds the time of a row; rows hold @when, @source; give each event the attribute time [missing-column]',
    ]);
  });

  it('stops at the row limit and names the option', () => {
    const read = xml('<cutlog>\n<event time="1"/><event time="2"/>\n <event time="3"/></cutlog>', undefined, 2);
    expect(complaints(read)).toEqual(['show.xml:3:2: error: the log has more than 2 rows; raise the limit with --max-rows [too-large]']);
  });
});

const FOREIGN = `<s:session xmlns:s="urn:example:harbour" xmlns:x="urn:example:other" id="7">
  <s:info><s:operator>Ann</s:operator></s:info>
  <s:list>
    <s:item when="251.43"><s:what x:kind="TAKE">now</s:what><s:bus> CAM 1 </s:bus></s:item>
    <s:item when="252.1"><s:what/><s:what x:kind="AUTO"/><s:bus>CAM 2</s:bus><s:len>12</s:len><s:text>The <b>stock</b> boils</s:text></s:item>
  </s:list>
</s:session>`;

const MAP: Mapping = { rows: '/session/list/item', fields: { time: '@when', action: 'what/@kind', source: 'bus', duration: 'len', note: 'text' } };

describe('any vocabulary through a mapping', () => {
  it('follows paths, leaves prefixes out, takes the first element that has the value, and text inside text', () => {
    const read = xml(FOREIGN, MAP);
    expect(read.problems).toEqual([]);
    expect(read.rows.map(fieldsOf)).toEqual([
      { time: '251.43', action: 'TAKE', source: 'CAM 1' },
      { time: '252.1', action: 'AUTO', source: 'CAM 2', duration: '12', note: 'The stock boils' },
    ]);
    expect(read.head).toMatchObject({
      rows: '/session/list/item', sources: [], unused: ['what', 'text/b'],
      found: { time: '@when', action: 'what/@kind', source: 'bus', duration: 'len', note: 'text' },
    });
    const [, second] = read.rows;
    expect(textAt(FOREIGN, second?.columnOf('action') ?? { line: 1, column: 1 })).toMatch(/^AUTO/);
    expect(textAt(FOREIGN, second?.columnOf('note') ?? { line: 1, column: 1 })).toMatch(/^The <b>/);
    expect(read.rows[0]?.columnOf('source')).toEqual({ line: 4, column: 69 });
  });

  it('may name prefixes, which mean nothing, and the text of the row itself', () => {
    const map: Mapping = { rows: '/s:session/s:list/s:cut', fields: { time: '@x:at', source: '.' } };
    const read = xml('<session><list><cut at="5">CAM 1</cut><cut at="6"> CAM 2</cut></list><list><cut at="7">CAM 3</cut></list></session>', map);
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '5', source: 'CAM 1' }, { time: '6', source: 'CAM 2' }, { time: '7', source: 'CAM 3' }]);
    expect(read.rows[1]?.columnOf('source')).toEqual({ line: 1, column: 52 });
  });

  it('finds fields by name where the mapping does not give them, and says so', () => {
    const read = xml('<log><row tc="1" cam="2"><comment>hot</comment></row></log>', { rows: '/log/row' });
    expect(fieldsOf(read.rows[0])).toEqual({ time: '1', source: '2', note: 'hot' });
    expect(notes(read)).toEqual(["show.xml:1:6: note: time is '@tc', source is '@cam', note is 'comment' [found]"]);
  });

  it('may say that rows have no such field', () => {
    const read = xml('<log><row tc="1" cam="2" event="17"/></log>', { rows: '/log/row', fields: { action: null } });
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
    expect(read.head?.unused).toEqual(['@event']);
  });

  it('a path to the rows that finds nothing: lists the elements, commonest first', () => {
    expect(complaints(xml(FOREIGN, { ...MAP, rows: '/session/item' }))).toEqual([
      "show.xml:1:1: error: rows of the mapping: nothing is at '/session/item'; the elements are /session/list/item/what (3 times), /session/list/item (2 times), /session/list/item/bus (2 times) [bad-map]",
    ]);
  });

  it('a path to a field that finds nothing: an error where the field is needed, a note where a log may do without', () => {
    const read = xml(FOREIGN, { ...MAP, fields: { ...MAP.fields, action: 'what/@kin', duration: 'length', end: '@out' } });
    expect(complaints(read)).toEqual([
      "show.xml:4:5: error: fields.action of the mapping: no row has anything at 'what/@kin'; did you mean 'what/@kind'?; rows hold @when, what/@kind, what, bus, len, text, text/b [bad-map]",
    ]);
    expect(notes(read)).toHaveLength(2);
    expect(read.head).toBeUndefined();
    expect(complaints(xml(FOREIGN, { ...MAP, rowsAre: 'shots', fields: { ...MAP.fields, end: '@out' } }))[0]).toContain("fields.end of the mapping: no row has anything at '@out'");
  });

  it('an element beside the rows that is named as they are but for capitals is warned of, others are not', () => {
    const odd = FOREIGN.replace(/<(?:s:)?list[^>]*>/, '$&<Item when="9"/><head when="8"/>');
    expect(odd).not.toBe(FOREIGN);
    expect(complaints(xml(odd, MAP))).toEqual([expect.stringContaining('the element /session/list/Item is not read: rows are at /session/list/item [stray-element]')]);
  });

  it('a column number means nothing in XML', () => {
    expect(complaints(xml(FOREIGN, { ...MAP, fields: { ...MAP.fields, source: 3 } }))).toEqual([
      "show.xml:4:5: error: fields.source of the mapping is the number 3; in XML a field is a path such as '@time' or 'what/@kind' [bad-map]",
    ]);
  });

  it('is asked for where the document is not ours', () => {
    expect(complaints(xml(FOREIGN))).toEqual([
      'show.xml:1:1: error: the outermost element is <session>, not <cutlog>; say in a mapping file which elements are the rows: {"rows": "/session/list/item", "fields": {"time": "…"}}; the elements are /session/list/item/what (3 times), /session/list/item (2 times), /session/list/item/bus (2 times) [missing-column]',
    ]);
  });

  it('says when nothing holds the time', () => {
    expect(complaints(xml('<a><b when="1"/></a>', { rows: '/a/b' }))).toEqual([
      'show.xml:1:4: error: nothing holds the time of a row; rows hold @when; name it in the mapping: {"fields": {"time": "@when"}} [missing-column]',
    ]);
  });
});

describe('XML as it may be written', () => {
  const map: Mapping = { rows: '/r/e', fields: { time: '@t', note: 'n' } };
  const note = (inside: string): string | undefined => fieldsOf(xml(`<r><e t="1">${inside}</e></r>`, map).rows[0]).note;

  // XML 1.0 fifth edition: 2.4 character data, 2.5 comments, 2.6 processing instructions, 2.7 CDATA, 2.11 line ends, 3.3.3 attribute values, 4.1 references.
  it.each([
    ['2.5 a comment in text', '<n>a<!-- > " \' <b> & -->b</n>', 'ab'],
    ['2.6 a processing instruction with an apostrophe', "<n>a<?x it's <b> ?>b</n>", 'ab'],
    ['2.6 what only looks like one, in CDATA and in a comment', '<n><!--<?--><![CDATA[<?x?>]]></n>', '<?x?>'],
    ['2.7 CDATA: nothing in it is markup or a reference', '<n>a<![CDATA[<b>&amp;]]]]><![CDATA[>]]></n>', 'a<b>&amp;]]>'],
    ['2.11 line ends become LF', '<n>a\r\nb\rc</n>', 'a\nb\nc'],
    ['4.1 references, once', '<n>&amp;lt; &#38;#65; &#x41;&#10;&apos;</n>', "&lt; &#65; A\n'"],
    ['an empty element', '<n/>', undefined],
    ['white space alone', '<n> \n </n>', undefined],
    ['names of other alphabets beside it', '<Ü.x-1 ß="1"/><n>ok</n>', 'ok'],
    ['names that JavaScript objects have', '<constructor/><toString>x</toString><n hasOwnProperty="1">ok</n>', 'ok'],
    ['a tag over several lines', '<n\n  x = "1"\r\n\ty=\'2\'\n>ok</n\n>', 'ok'],
  ])('%s', (_, inside, value) => {
    expect(note(inside)).toBe(value);
  });

  it('3.3.3 white space in attributes becomes blanks, references to it do not', () => {
    expect(fieldsOf(xml('<r><e t="a\r\nb\tc&#10;d"/></r>', map).rows[0]).time).toBe('a b c\nd');
  });

  it('a > and both kinds of quotes in attributes', () => {
    expect(fieldsOf(xml(`<r><e t='a>"b"/'/></r>`, map).rows[0]).time).toBe('a>"b"/');
    expect(fieldsOf(xml(`<r><e t="a>'b'="/></r>`, map).rows[0]).time).toBe("a>'b'=");
  });

  it('a row called constructor, with an attribute of that name', () => {
    const read = xml('<r><constructor __proto__="1" constructor="2"/></r>', { rows: '/r/constructor', fields: { time: '@constructor', note: '@__proto__' } });
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '2', note: '1' }]);
  });

  it('lines and columns without line breaks, and with all three kinds', () => {
    const one = xml('<r><e t="1"/><e t="2"/><e t="3"/></r>', map);
    expect(one.rows.map((row) => [row.line, row.columnOf('time').column])).toEqual([[1, 10], [1, 20], [1, 30]]);
    const three = xml('<r>\r<e t="1"/>\r\n\r\n <e\n t="2"/>\n</r>', map);
    expect(three.rows.map((row) => [row.line, row.columnOf('time')])).toEqual([[2, { line: 2, column: 7 }], [4, { line: 5, column: 5 }]]);
  });
});
