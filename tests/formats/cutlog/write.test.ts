/** The cutlog XML writer (contract §3): what it writes, and that reading it back gives the same events and the same list. */
import fc from 'fast-check';
import { XMLValidator } from 'fast-xml-parser';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildCutLists } from '../../../src/cutlist/build.js';
import type { LogEvent } from '../../../src/cutlist/event.js';
import { writeCutlog, type Cutlog } from '../../../src/formats/cutlog/write.js';
import type { LogReading } from '../../../src/log/reading.js';
import { plainSources } from '../../../src/show/sources.js';
import { problemLine } from '../../../src/problems.js';
import { loadClock } from '../../../src/timecode/luxon.js';
import { arbitraryDialect, arbitraryShow, writeDialect } from '../../support/dialects.js';
import { read } from '../../support/logs.js';

beforeAll(async () => {
  await loadClock({ zone: 'UTC' });
});

function written(log: Cutlog): string {
  const output = writeCutlog(log, (found) => {
    throw new Error(problemLine(found));
  });
  if (output === undefined) throw new Error('not written');
  expect([output.format, output.suffix]).toEqual(['cutlog', '.cutlog.xml']);
  return [...output.chunks].join('');
}

const cutlogOf = ({ title, count, origin, restarts, sources, events, endAt }: LogReading): Cutlog =>
  ({ file: 'log', count, origin, restarts, sources, events, ...(title === undefined ? {} : { title }), ...(endAt === undefined ? {} : { endAt }) });

const back = (xml: string): LogReading => {
  const { reading, loud } = read(xml, { rate: undefined });
  if (reading === undefined) throw new Error(loud.join('\n'));
  return reading;
};

/** Events but for their places in a file. */
const plain = (events: readonly LogEvent[]): object[] => events.map((event) => ({ ...event, line: 0, column: 0 }));

/** Lists but for where in the log's own counting their takes lie. */
function lists({ events, sources, count, origin, restarts }: LogReading): object[] {
  const endAt = Math.max(...events.map(({ at }) => at)) + 50;
  return buildCutLists(events, plainSources(sources, count), { title: 'x', count, recordStart: 0, origin, restarts, endAt, file: 'log' }, () => undefined)
    .map((list) => ({ ...list, takes: list.takes.map((take) => [take.in, take.out]) }));
}

describe('a cutlog', () => {
  it('is written in the contract’s form', () => {
    const { reading } = read('time,action,source,duration,end,wipe,note\n10:00:00;00,start,,,,,\n10:00:00;00,cut,1,,,,\n10:04:11;20,dissolve,2,30,,,"Salt & <""pepper"">"\n10:05:00;02,wipe,1,,10:05:01;00,17,\n10:59:30;00,stop,,,,,\n', { rate: '29.97' });
    if (reading === undefined) throw new Error('not read');
    expect(written({ ...cutlogOf(reading), title: 'Harbour\nKitchen', sources: [{ id: '1', name: 'Stage wide' }, { id: '2', name: 'Küche' }, { id: 'program', name: 'Program' }] })).toBe([
      '<?xml version="1.0" encoding="UTF-8"?>',
      '<cutlog version="1" rate="29.97df" timeAs="timecode" title="Harbour Kitchen">',
      '  <source id="1" name="Stage wide"/>',
      '  <source id="2" name="Küche"/>',
      '  <event time="10:00:00;00" action="start"/>',
      '  <event time="10:00:00;00" action="cut" source="1"/>',
      '  <event time="10:04:11;20" action="dissolve" source="2" duration="30" note="Salt &amp; &lt;&quot;pepper&quot;&gt;"/>',
      '  <event time="10:05:00;02" action="wipe" source="1" end="10:05:01;00" wipe="17"/>',
      '  <event time="10:59:30;00" action="stop"/>',
      '</cutlog>',
      '',
    ].join('\n'));
  });

  it('counts frames where the log had no labels', () => {
    const { reading } = read('seconds,action,source\n1.5,cut,1\n2,stop,\n', { rate: '29.97ndf' });
    if (reading === undefined) throw new Error('not read');
    const xml = written(cutlogOf(reading));
    expect(xml).toContain('<cutlog version="1" rate="29.97ndf" timeAs="frames">');
    expect(xml).toContain('<event time="45" action="cut" source="1"/>');
    expect(back(xml).count.dropFrame).toBe(false);
  });

  it.each([
    ['a switch before the start', '10:00:00.000,cut,1,\n10:00:02.000,start,,\n10:00:03.000,cut,2,\n10:00:04.000,stop,,', [-50, 0, 25, 50]],
    ['a marker before the first switch, and no start', '10:00:00.000,marker,,early\n10:00:02.000,cut,1,\n10:00:03.000,cut,2,\n10:00:04.000,stop,,', [-50, 0, 25, 50]],
    ['a take without a start before one that has it', '10:00:00.000,cut,1,\n10:00:01.000,stop,,\n10:00:02.000,start,,\n10:00:03.000,cut,2,\n10:00:04.000,stop,,', [-50, -25, 0, 25, 50]],
  ])('counts from the first frame of the recording, also rows that lie before it: %s', (_, rows, frames) => {
    const { reading } = read(`time,action,source,note\n${rows}\n`);
    if (reading === undefined) throw new Error('not read');
    const again = back(written(cutlogOf(reading)));
    expect(again.events.map(({ at }) => at)).toEqual(frames);
    expect(lists(again)).toEqual(lists(reading));
  });

  it.each([
    ['seconds', 'seconds,action,source\n0,start,\n0,cut,1\n10,cut,2\n', '12.5', '313', '20'],
    ['clock times', 'time,action,source\n10:00:00.000,start,\n10:00:00.000,cut,1\n10:00:04.000,cut,2\n10:00:09.000,stop,\n', '10:00:06.000', '150', '20'],
    ['labels', 'time,action,source\n23:59:58:00,cut,1\n00:00:01:00,cut,2\n', '00:00:03:00', '00:00:03:00', '00:00:02:00'],
  ])('keeps the end that was asked for in a log of %s', (_, log, end, text, other) => {
    const { reading } = read(log, { end });
    if (reading === undefined) throw new Error('not read');
    const xml = written(cutlogOf(reading));
    expect(/^<cutlog [^>]* end="([^"]*)"/m.exec(xml)?.[1]).toBe(text);
    expect([back(xml).endAt, written(cutlogOf(back(xml)))]).toEqual([reading.endAt, xml]);
    // What is asked for now counts more than what the log says.
    expect(read(xml, { rate: undefined, end: other }).reading?.endAt).toBeLessThan(reading.endAt ?? 0);
  });

  it('says of an end that cannot be read in which file it is', () => {
    const { loud } = read('<cutlog version="1" rate="25" timeAs="frames" end="10:00"><event time="0" source="1"/></cutlog>', { rate: undefined });
    expect(loud).toEqual([expect.stringMatching(/^log: error: .*10:00.*\[bad-time\]$/)]);
  });

  it.each(['&amp;', '&lt;b&gt;', '&quot;&apos;', '&#65;&#x41;', '&thyme;', '&#x110000;', 'salt & pepper', '&amp;amp;', '&', ']]> <!-- -->'])('keeps %s in notes, titles and names as it is', (text) => {
    const { reading } = read(`time,action,source,note\n0,cut,${text},\n5,marker,,${text}\n`);
    if (reading === undefined) throw new Error('not read');
    const again = back(written({ ...cutlogOf(reading), title: text }));
    expect([again.title, again.sources[0]?.name, again.events[0]?.source, again.events[1]?.note]).toEqual([text, text, text, text]);
  });

  it('puts clock times in order, so that no counter seems to begin again', () => {
    const { reading } = read('time,action,source\n10:00:04.000,stop,\n10:00:03.000,cut,2\n10:00:02.000,start,\n10:00:02.000,cut,1\n');
    if (reading === undefined) throw new Error('not read');
    const again = back(written(cutlogOf(reading)));
    expect(again.events.map(({ at, action }) => [at, action])).toEqual([[0, 'start'], [0, 'cut'], [25, 'cut'], [50, 'stop']]);
  });

  it('keeps a counter that begins again', () => {
    const { reading } = read('frame,action,source\n0,start,\n0,cut,1\n50,stop,\n0,start,\n20,cut,2\n70,stop,\n');
    if (reading === undefined) throw new Error('not read');
    const again = back(written(cutlogOf(reading)));
    expect(plain(again.events)).toEqual(plain(reading.events));
    expect(lists(again)).toEqual(lists(reading));
  });

  it('is not written where labels cannot tell the day', () => {
    const { reading } = read('time,source\n2026-01-01T10:00:00Z,1\n2026-01-02T11:00:00Z,2\n', { anchor: { clock: '2026-01-01T10:00:00Z', timecode: '10:00:00:00' } });
    if (reading === undefined) throw new Error('not read');
    const said: string[] = [];
    expect(writeCutlog(cutlogOf(reading), (found) => said.push(problemLine(found)))).toBeUndefined();
    expect(said).toEqual(['log:3:1: error: this row lies twelve hours or more from the one before, which labels cannot tell; the cutlog is not written [bad-time]']);
  });

  it.each([
    ['time,action,source,end\n2026-01-01T10:00:00Z,cut,1,\n2026-01-01T10:00:01Z,dissolve,2,2026-01-02T11:00:00Z\n', undefined, 'log:3:1: error: this transition takes twelve hours or more'],
    ['time,source\n2026-01-01T10:00:00Z,1\n', '2026-01-01T22:00:00Z', '--end: error: the end lies twelve hours or more from the last row'],
  ])('is not written where labels cannot tell the day of an end', (log, end, message) => {
    const { reading } = read(log, { anchor: { clock: '2026-01-01T10:00:00Z', timecode: '10:00:00:00' }, ...(end === undefined ? {} : { end }) });
    if (reading === undefined) throw new Error('not read');
    const said: string[] = [];
    expect(writeCutlog(cutlogOf(reading), (found) => said.push(problemLine(found)))).toBeUndefined();
    expect(said).toEqual([`${message}, which labels cannot tell; the cutlog is not written [bad-time]`]);
  });

  it('holds the demo show, as the demo’s own XML does', () => {
    const { reading } = read(readFileSync(new URL('../../../fixtures/demo/harbour-kitchen-14.csv', import.meta.url)), { rate: '29.97df' });
    const own = read(readFileSync(new URL('../../../fixtures/demo/harbour-kitchen-14.xml', import.meta.url)), { rate: undefined }).reading;
    if (reading === undefined || own === undefined) throw new Error('not read');
    expect(plain(back(written(cutlogOf(reading))).events)).toEqual(plain(own.events));
  });

  it('comes in pieces of bounded size', () => {
    const count = read('time,source\n0,1\n').reading?.count;
    if (count === undefined) throw new Error('not read');
    const events: LogEvent[] = Array.from({ length: 20_000 }, (_, index) => ({ number: index + 1, action: 'cut', at: index, source: String(index % 4), line: index + 2, column: 1 }));
    const output = writeCutlog({ file: 'log', count, origin: 'recording', restarts: true, sources: [], events }, () => undefined);
    let pieces = 0;
    let longest = 0;
    for (const piece of output?.chunks ?? []) {
      pieces += 1;
      longest = Math.max(longest, piece.length);
    }
    expect(pieces).toBeGreaterThan(10);
    expect(longest).toBeLessThan(70_000);
  });
});

describe('reading a cutlog back', () => {
  it('gives the same events and the same list, to the frame, however the log was written', () => {
    fc.assert(fc.property(arbitraryShow, arbitraryDialect, (show, choice) => {
      const { log, map } = writeDialect(choice, show);
      const { rate, dropFrame } = show.count;
      const { reading } = read(log, { rate: `${rate.name}${dropFrame ? 'df' : ''}`, map });
      if (reading === undefined) throw new Error('not read');
      const xml = written(cutlogOf(reading));
      expect(XMLValidator.validate(xml)).toBe(true);
      const again = back(xml);
      expect(plain(again.events)).toEqual(plain(reading.events));
      expect(again.sources).toEqual(reading.sources);
      expect(again.count).toEqual(reading.count);
      expect(lists(again)).toEqual(lists(reading));
      // What is put right once stays as it is.
      expect(written(cutlogOf(again))).toBe(xml);
    }), { numRuns: Number(process.env['LINECUT_CUTLOGS'] ?? 120) });
  });

  it('keeps any note', () => {
    fc.assert(fc.property(fc.array(fc.string({ unit: 'binary', minLength: 1, maxLength: 20 }), { minLength: 1, maxLength: 5 }), (notes) => {
      const rows = notes.map((note, index) => `${String(index)},cut,${String(index % 2)},"${note.replaceAll('"', '""')}"`);
      const { reading } = read(`time,action,source,note\n${rows.join('\n')}\n`);
      if (reading === undefined) throw new Error('not read');
      expect(plain(back(written(cutlogOf(reading))).events)).toEqual(plain(reading.events));
    }), { numRuns: 150 });
  });
});
