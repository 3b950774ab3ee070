/** XML documents that somebody spoilt: a sound one with up to three pieces cut out or put in. */
import fc from 'fast-check';

/** A small document of everything that XML logs may have, to be spoilt. */
const SOUND = `<?xml version="1.0" encoding="UTF-8"?>
<!-- live --><h:cutlog xmlns:h="urn:x" version='1' title="A &amp; B">
 <source id="1" name='x "y"'/><?p it's?>
 <event time="1" note="&#233;&lt;"><![CDATA[a<b]]></event >
 <event
  time = "2" ><note>x &gt; y</note><n.o-t/></event>
</h:cutlog>
`;

const PIECES = ['<', '>', '/', '&', ';', '"', "'", '=', ' ', 'a', ':', '!', '?', '-', '--', ']', ']]>', '<!--', '-->', '<![CDATA[', '&#x41;', '&amp', '</event>', '<e/>', '<?', '?>', '\u0001', 'é', '1', '#', '\n', ''];

export const spoilt: fc.Arbitrary<string> = fc.array(fc.tuple(fc.nat(SOUND.length), fc.nat(3), fc.constantFrom(...PIECES)), { minLength: 1, maxLength: 3 }).map((edits) =>
  edits.reduce((document, [at, cut, put]) => document.slice(0, at) + put + document.slice(at + cut), SOUND),
);
