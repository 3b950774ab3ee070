import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mapping } from '../../src/log/mapping.js';
import { readMapping } from '../../src/log/mapping-file.js';
import { problemLine, type Problem } from '../../src/problems.js';

function read(text: string): { map: Mapping | undefined; said: string[] } {
  const problems: Problem[] = [];
  const map = readMapping(text, 'map.json', (found) => problems.push(found));
  return { map, said: problems.map(problemLine) };
}

/** A mapping with one key a line, so that the key at fault is on line 2. */
const one = (member: string): string[] => read(`{\n  ${member}\n}`).said;

describe('a mapping file', () => {
  it('is read as it stands: the example of the contract', () => {
    const map = {
      rows: '/session/list/item', skipLines: 0, delimiter: ';', encoding: 'utf-8', decimal: ',',
      fields: { time: 'when', action: 'what/@kind', source: 'bus', duration: 'len', note: 'text' },
      actions: { TAKE: 'cut', AUTO: 'dissolve', ARM: 'cue', 'KEY ON': 'ignore' },
      sources: { 'CAM 1': '1' },
      timeAs: 'clock', clockFormat: 'dd.MM.yyyy HH:mm:ss.SSS', zone: 'Europe/Lisbon', rowsAre: 'events',
    };
    expect(read(JSON.stringify(map, null, 2))).toEqual({ map, said: [] });
    expect(read('\uFEFF{"$schema": "./map.schema.json", "rate": "29.97", "fields": {"time": 1}}')).toEqual({ map: { rate: '29.97', fields: { time: 1 } }, said: [] });
    expect(read('{"fields": {"action": null}}')).toEqual({ map: { fields: { action: null } }, said: [] });
    expect(read('{"actions": {"": "ignore"}}')).toEqual({ map: { actions: { '': 'ignore' } }, said: [] });
    expect(read('{}')).toEqual({ map: {}, said: [] });
  });

  it('says every fault, not only the first', () => {
    expect(read('{"skipLines": -1,\n "zone": "Europe/Lissabon",\n "decimal": "."}').said).toHaveLength(1);
    expect(read('{"zone": "Europe/Lissabon",\n "encoding": "utf-9",\n "rate": "26"}').said.map((line) => line.slice(0, 14))).toEqual(['map.json:2:2: ', 'map.json:1:2: ', 'map.json:3:2: ']);
  });

  // RFC 8259: what is not JSON has the place where it stops being JSON.
  it.each([
    ['', 'map.json:1:1: error: not valid JSON: the file is empty [bad-map]'],
    ['{\n  "rows": "/a/b",\n}', 'map.json:3:1: error: not valid JSON: expected a key in double quotes'],
    ['{\n  "rows": \'/a\'\n}', 'map.json:2:11: error: not valid JSON: text needs double quotes'],
    ['{"rows": "/a"', 'map.json:1:14: error: not valid JSON: a { is not closed'],
    ['{\n "skipLines": 1,\n "skipLines": 2}', "map.json:3:2: error: the key 'skipLines' is there twice; keep one [bad-map]"],
    [`{"rows": ${'['.repeat(100_000)}`, 'map.json:1:1: error: the file is nested too deeply [bad-map]'],
  ])('not JSON: %.30j', (text, said) => {
    const found = read(text);
    expect(found.map).toBeUndefined();
    expect(found.said[0]?.startsWith(said)).toBe(true);
  });

  it.each([
    ['"row": "/a/b"', "2:3: error: unknown key 'row' in the file; did you mean 'rows'?"],
    ['"clockformat": "HH:mm"', "unknown key 'clockformat' in the file; did you mean 'clockFormat'?"],
    ['"banana": 1', "unknown key 'banana' in the file; expected rows, skipLines, delimiter"],
    ['"fields": {"tme": "x"}', "2:14: error: unknown key 'tme' in fields; did you mean 'time'?"],
    ['"fields": {"time": 0}', '2:14: error: fields.time is the number 0; expected 1 or more'],
    ['"fields": {"time": true}', 'fields.time is the value true; expected a text in double quotes or a whole number or null'],
    ['"fields": {"time": 1.5}', 'fields.time is the number 1.5'],
    ['"fields": {"time": " "}', 'fields.time is empty'],
    ['"fields": "time"', "fields is 'time'; expected an object"],
    ['"skipLines": "3"', "2:3: error: skipLines is '3'; expected a whole number"],
    ['"skipLines": -1', 'skipLines is the number -1; expected 0 or more'],
    ['"delimiter": ""', 'delimiter is empty'],
    ['"delimiter": ";;"', "delimiter is ';;'; expected a single character"],
    ['"delimiter": "a"', '2:3: error: delimiter is "a"; expected a sign such as , ; | or "\\t"'],
    ['"delimiter": "\\""', 'delimiter is "\\""; expected a sign'],
    ['"delimiter": "\\n"', 'delimiter is "\\n"; expected a sign'],
    ['"encoding": "utf-9"', "2:3: error: encoding is 'utf-9', which is not known; expected utf-8, utf-16le, utf-16be, windows-1252"],
    ['"decimal": ";"', "decimal is ';'; expected one of ., ,"],
    ['"timeAs": "timecodes"', "timeAs is 'timecodes'; expected one of timecode, frames, seconds, milliseconds, clock; did you mean 'timecode'?"],
    ['"zone": "Europe/Lissabon"', "2:3: error: zone is 'Europe/Lissabon', which is no time zone; expected a name such as Europe/Lisbon or UTC"],
    ['"rate": "29.97i"', "2:3: error: rate: unknown rate '29.97i'"],
    ['"rate": "25df"', 'there is no drop-frame at 25'],
    ['"rowsAre": "shot"', "rowsAre is 'shot'; expected one of events, shots; did you mean 'shots'?"],
    ['"actions": {"TAKE": "cutt"}', "2:15: error: actions.TAKE is 'cutt'; expected one of cut, dissolve, dissolve-end, wipe, cue, start, stop, marker, audio, ignore; did you mean 'cut'?"],
    ['"actions": {"TAKE": "cut", "take": "cue"}', "2:30: error: actions: 'take' is there twice, as 'cut' and as 'cue'; case makes no difference"],
    ['"sources": {"CAM 1": 1}', "sources.CAM 1 is the number 1; expected a text in double quotes"],
    ['"sources": {" ": "1"}', '2:15: error: sources: a blank word names no source; a row without a source takes the cued one; leave it out'],
    ['"sources": {"Cam 1": "1", "CAM 1 ": "2"}', "'CAM 1 ' is there twice"],
    ['"rows": "session/item"', "2:3: error: rows is 'session/item'; expected a path of element names from the outermost one, such as /session/list/item"],
    ['"rows": "/"', "rows is '/': a name is missing"],
    ['"rows": "/a//b"', "rows is '/a//b': a name is missing"],
    ['"rows": "/a/@b"', "rows is '/a/@b': '@b' is not the name of an element"],
    ['"rows": "/a/b[1]"', "rows is '/a/b[1]': 'b[1]' is not the name of an element"],
    ['"rows": "/a/b", "fields": {"time": 3}', '2:30: error: fields.time is the number 3, and rows says that the log is XML'],
    ['"rows": "/a/b", "fields": {"time": "@x/y"}', "fields.time is '@x/y': '@x' is not a name there; expected a path"],
    ['"rows": "/a/b", "fields": {"time": "x/"}', "fields.time is 'x/': a name is missing"],
  ])('%s', (member, said) => {
    const [first = '', ...more] = one(member);
    expect(first).toContain(said);
    expect(first).toMatch(/^map\.json:2:\d+: error: .* \[bad-map\]$/);
    expect(more).toEqual([]);
  });

  it('takes every sign for a delimiter, prefixes in paths, and a row\'s own text', () => {
    for (const sign of [',', ';', '\\t', '|', ' ', '^', ':', '¦']) expect(one(`"delimiter": "${sign}"`)).toEqual([]);
    expect(one('"rows": "/s:session/s:item", "fields": {"time": "@x:at", "source": ".", "note": "a/b"}')).toEqual([]);
    expect(one('"fields": {"time": "Time (s) [@x]/y"}')).toEqual([]);
  });
});

// The letters are those of luxon 3's table of tokens for parsing, which follow Unicode TR 35.
describe('clockFormat', () => {
  it.each(['HH:mm:ss', 'dd.MM.yyyy HH:mm:ss.SSS', "yyyy-MM-dd'T'HH:mm:ss.uZZ", 'M/d/yy h:mm:ss a', "H'h'mm", 'EEE d MMM yyyy, HH:mm z'])('%s', (format) => {
    expect(one(`"clockFormat": ${JSON.stringify(format)}`)).toEqual([]);
  });

  it.each([
    ['DD.MM.YYYY HH:mm', 'has the letters DD, which mean nothing there; is dd meant?'],
    ['dd.MM.YYYY HH:mm', 'has the letters YYYY, which mean nothing there; is yyyy meant?'],
    ['HH:mm:ss.fff', 'has the letters fff, which mean nothing there; is SSS meant?'],
    ['yyyy-MM-ddTHH:mm', "has the letters T, which mean nothing there; is 'T' meant?"],
    ['HH:mm Uhr', 'has the letters U, which mean nothing there; put plain words in single quotes'],
    ['HHH:mm', 'has the letters HHH, which mean nothing'],
    ['dd.MM.yyyy', 'has no hours; expected letters such as dd.MM.yyyy HH:mm:ss.SSS'],
    ["HH 'o clock", 'opens a quote and does not close it'],
  ])('%s', (format, said) => {
    expect(one(`"clockFormat": ${JSON.stringify(format)}`)[0]).toContain(said);
  });

  it('is for clock times only', () => {
    expect(one('"timeAs": "frames", "clockFormat": "HH:mm"')).toEqual(["map.json:2:23: error: clockFormat is for clock times, and timeAs is 'frames'; leave one of them out [bad-map]"]);
    expect(one('"timeAs": "clock", "clockFormat": "HH:mm"')).toEqual([]);
  });
});

it('whatever the file holds, it is read or refused, never thrown', () => {
  fc.assert(
    fc.property(fc.oneof(fc.json(), fc.string(), fc.object({ key: fc.constantFrom('rows', 'fields', 'time', 'actions', 'sources', 'rate', 'zone', 'encoding', 'clockFormat', '__proto__', 'x') }).map((value) => JSON.stringify(value))), (text) => {
      const { map, said } = read(text);
      expect(map === undefined).toBe(said.length > 0);
    }),
    { numRuns: 1000 },
  );
});
