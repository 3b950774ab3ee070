/** Reading a log as a whole: rates, what it says of itself, limits, the mapping that was found, the explanation. */
import { describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import { explainLog } from '../../src/log/explain.js';
import { MAX_BYTES, MAX_ROWS } from '../../src/log/limits.js';
import { readLog } from '../../src/log/read.js';
import { rateSpec, read } from '../support/logs.js';

const demo = (name: string): Buffer => readFileSync(new URL(`../../fixtures/demo/harbour-kitchen-14.${name}`, import.meta.url));

describe('the rate', () => {
  const xml = (rate: string): string => `<cutlog version="1"${rate}><event time="01:00:00:00" source="1"/></cutlog>`;

  it('is that of the options, else the log’s own, else the mapping’s', () => {
    expect(read(xml(' rate="25"'), { rate: undefined }).reading?.count.rate.name).toBe('25');
    expect(read(xml(' rate="25"'), { rate: undefined }).lines).toContain('log: note: the rate is 25, as the log says; say --rate otherwise [found]');
    expect(read(xml(''), { rate: '24' }).reading?.count.rate.name).toBe('24');
    expect(read(xml(''), { rate: undefined, map: { rate: '25' } }).reading?.count.rate.name).toBe('25');
    expect(read(xml(' rate="29.97ndf"'), { rate: undefined }).reading?.count).toMatchObject({ dropFrame: false });
  });

  it('of the options wins over the log’s own, which is warned of', () => {
    const { reading, loud } = read(xml(' rate="25"'), { rate: '50' });
    expect(reading?.count.rate.name).toBe('50');
    expect(loud).toEqual(['log: warning: the log says 25, and its times are read at 50 as given; where its labels count frame pairs, say --log-rate [found]']);
    expect(read(xml(' rate="29.97"'), { rate: '29.97df' }).loud).toEqual([]);
  });

  it('must be said by somebody', () => {
    const { reading, loud } = read('time,source\n1,1\n', { rate: undefined });
    expect(reading).toBeUndefined();
    expect(loud).toEqual(['log: error: no rate was given; say --rate with one of 23.976, 24, 25, 29.97, 29.97df, 30, 47.952, 48, 50, 59.94, 59.94df, 60 [bad-rate]']);
    expect(read(xml(' rate="25df"'), { rate: undefined }).loud).toEqual(['log: error: there is no drop-frame at 25; it exists for 29.97 and 59.94 only [bad-rate]']);
  });
});

describe('what a log says of itself', () => {
  it('is its title, its kind of time, its sources', () => {
    const text = '<cutlog version="1" rate="25" timeAs="seconds" title="Harbour Kitchen 14"><event time="10" source="1"/></cutlog>';
    const { reading, lines } = read(text, { rate: undefined });
    expect(reading).toMatchObject({ title: 'Harbour Kitchen 14', timeAs: 'seconds', origin: 'recording', restarts: true });
    expect(reading?.events[0]?.at).toBe(250);
    expect(lines.join('\n')).not.toContain('by the look');
    expect(read(text, { rate: undefined, timeAs: 'frames' }).reading?.events[0]?.at).toBe(10);
  });

  it('is refused where it is no kind of time', () => {
    const { loud } = read('<cutlog version="1" rate="25" timeAs="sundial"><event time="10" source="1"/></cutlog>', { rate: undefined });
    expect(loud).toEqual(["log: error: timeAs 'sundial' is no kind of time; expected timecode, frames, seconds, milliseconds, clock [bad-time]"]);
  });
});

describe('--end', () => {
  it.each([
    ['time,source\n10:00:00:00,1\n', '10:00:05:00', 900_125],
    ['time,source\n23:59:50:00,1\n', '00:00:10:00', 2_160_250],
    ['time,source\n0,1\n', '500', 500],
    ['seconds,source\n0,1\n', '20.02', 501],
    ['ms,source\n0,1\n', '1000', 25],
  ])('is in the log’s kind of time: %j %s', (text, end, frame) => {
    expect(read(text, { end }).reading?.endAt).toBe(frame);
  });

  it('is a problem of the option when it is none', () => {
    expect(read('time,source\n10:00:00:00,1\n', { end: '500' }).loud).toEqual(["--end: error: '500' looks like a number in a log of timecode; say the kind with --time-as [bad-time]"]);
    expect(read('time,source\n10:00:00:00,1\n', { end: '10:00:00:30' }).loud).toEqual(['--end: error: 10:00:00:30 has frame 30; at 25 frames go from 00 to 24 [bad-time]']);
  });
});

describe('limits', () => {
  const rows = (count: number): string => `time,source\n${Array.from({ length: count }, (_, index) => `${String(index)},${String(index % 3)}`).join('\n')}\n`;

  it('of rows and bytes can be set, and are far above any show', () => {
    expect(MAX_ROWS).toBeGreaterThanOrEqual(1_000_000);
    expect(MAX_BYTES).toBeGreaterThanOrEqual(100_000_000);
    expect(read(rows(100), { maxRows: 100 }).reading?.events.length).toBe(100);
    expect(read(rows(101), { maxRows: 100 }).loud.join('\n')).toMatch(/more than 100 rows.*--max-rows \[too-large\]/);
    expect(read(rows(100), { maxBytes: 100 }).loud.join('\n')).toMatch(/--max-bytes.*\[too-large\]/);
    expect(read(Buffer.from(rows(100)), { maxBytes: 100 }).loud.join('\n')).toMatch(/\[too-large\]/);
  });

  it('leave room for many rows', () => {
    expect(read(rows(100_000)).reading?.events.length).toBe(100_000);
  });
});

describe('the mapping that was found', () => {
  it('says all that was found', () => {
    const text = 'Protocol\n\nseconds|event|cam|remark\n1,5|TAKE|CAM 1|\n2,75|Mark||Salt\n9,25|REC STOP||\n';
    expect(read(text).reading?.map).toEqual({
      skipLines: 2,
      delimiter: '|',
      fields: { time: 'seconds', action: 'event', source: 'cam', note: 'remark' },
      decimal: ',',
      actions: { TAKE: 'cut', Mark: 'marker', 'REC STOP': 'stop' },
      sources: { 'CAM 1': 'CAM 1' },
      timeAs: 'seconds',
      rowsAre: 'events',
    });
  });

  it('leaves our own XML to itself', () => {
    expect(read(demo('xml'), { rate: undefined }).reading?.map).toEqual({ timeAs: 'timecode', rowsAre: 'events' });
  });
});

describe('a log whose columns name no source', () => {
  const log = 'Timecode,Notes,Camera Name\n10:00:00:00,,1\n10:00:10:00,x,2\n';

  it('is refused once, with what to write', () => {
    const { reading, loud } = read(log);
    expect(reading).toBeUndefined();
    expect(loud).toEqual(['log:1:1: error: no column is called source, so no switch has one; not used: Notes, Camera Name; name it in a mapping file: {"fields": {"source": "Camera Name"}} [missing-column]']);
    expect(read(log, { map: { fields: { source: 'Camera Name' } } }).events).toEqual(['900000 cut 1', '900250 cut 2']);
    for (const name of ['Kamera', 'Input No', 'bus', 'CAM#']) expect(read(`Timecode,Notes,${name}\n10:00:00:00,,1\n`).loud[0]).toContain(`{"fields": {"source": "${name}"}}`);
    expect(read('Timecode,Wo,Wer\n10:00:00:00,,1\n').loud[0]).toContain('{"fields": {"source": "…"}}');
    // The mapping that there is goes on to hold what it holds.
    expect(read('Wann,Wer\n10:00:00:00,1\n', { map: { fields: { time: 'Wann', action: null } } }).loud[0]).toContain('{"fields": {"time": "Wann", "action": null, "source": "Wer"}}');
    expect(read('<l><r at="10:00:00:00" who="1"/></l>', { map: { rows: '/l/r' } }).loud).toEqual([
      'log: error: no attribute or element of a row is called source, so no switch has one; not used: @who; name it in a mapping file: {"fields": {"source": "@who"}} [missing-column]',
    ]);
  });

  it('leaves it to be filled in, and the explanation says so', () => {
    const { reading } = read(log, { partial: true });
    expect(reading?.map.fields).toEqual({ time: 'Timecode', source: 'FILL IN: Notes, Camera Name' });
    expect(reading === undefined ? [] : explainLog(reading)).toContain('not known source; say in a mapping file where it stands');
  });

  it('has none where the mapping says so, where no column is left, and needs none without a switch', () => {
    expect(read(log, { map: { fields: { source: null } } }).loud).toEqual([]);
    expect(read('time,action\n0,cut\n').loud).toEqual([]);
    expect(read('time,action,who\n0,start,Ann\n').loud).toEqual(['log: error: nothing in this log puts a picture on air: it has no cut, dissolve or wipe [no-events]']);
  });
});

describe('times of no known kind', () => {
  it.each(['10:00:00 AM', '5/4/2024 10:00:00', '04:11.5'])('%s: the mapping states no kind', (time) => {
    const { reading } = read(`time,source\n${time},1\n`, { partial: true });
    expect(reading?.map).toEqual({ skipLines: 0, delimiter: ',', fields: { time: 'time', source: 'source' }, rowsAre: 'events', ...(reading?.map.sources === undefined ? {} : { sources: { 1: '1' } }) });
    expect(reading === undefined ? [] : explainLog(reading)).toContain('times     not known');
  });

  it('of minutes and seconds need hours, and a point: with a comma they would be drop-frame labels', () => {
    expect(read('time;source\n04:11,52;1\n', { timeAs: 'clock' }).loud).toContain("log:2:1: error: '04:11,52' has minutes and seconds, and no hours; write it with hours (00:04:11.52), or in seconds alone [bad-time]");
  });

  it('have no groups in linecut\'s own form', () => {
    const own = (timeAs: string): string => `<cutlog version="1" rate="25" timeAs="${timeAs}"><event time="0" action="start"/><event time="120.500" action="cut" source="1"/><event time="900.125" action="stop"/></cutlog>`;
    for (const timeAs of ['milliseconds', 'frames']) expect(read(own(timeAs), {}).loud.filter((line) => line.includes('error'))).toEqual([]);
  });

  it('of minutes and seconds need hours, which no clockFormat gives', () => {
    for (const options of [{}, { timeAs: 'clock' }] as const) {
      expect(read('time,source\n04:11.5,1\n', options).loud).toContain("log:2:1: error: '04:11.5' has minutes and seconds, and no hours; write it with hours (00:04:11.5), or in seconds alone [bad-time]");
    }
    expect(read('time,action,source\n00:04:11.5,start,\n00:04:11.5,cut,1\n').loud).toEqual([]);
  });
});

describe('the explanation', () => {
  it('tells how a log is read', () => {
    const { reading } = read(demo('csv'), { rate: '29.97' });
    if (reading === undefined) throw new Error('not read');
    expect(explainLog(reading).slice(0, 12)).toEqual([
      'form      CSV, cells between commas',
      'fields    time = time, action = action, source = source, duration = duration, end = end, wipe = wipe, note = note',
      'times     timecode',
      'rate      29.97df',
      'sources   1, 4, 2, 3',
      'rows      224 events',
      '',
      'line  frame    label        action    source  frames  note',
      '2     1078920  10:00:00;00  start',
      '3     1078920  10:00:00;00  cut       black',
      '4     1078965  10:00:01;15  dissolve  1       60',
      '5     1078970  10:00:01;20  marker                    Opening',
    ]);
    expect(explainLog(reading).at(-1)).toBe('… and 214 more');
  });

  it('tells what is not used, what was ignored, and what was moved', () => {
    const { reading } = read('Notes of the night\ntime;who;what;source;action\n1,5;Ann;x;CAM 1;TAKE\n2,51;Bob;;;STATUS\n3,01;Bob;;CAM 2;TAKE\n', { map: { actions: { STATUS: 'ignore' } } });
    if (reading === undefined) throw new Error('not read');
    expect(explainLog(reading)).toEqual([
      'form      CSV, cells between semicolons, after 1 line',
      'fields    time = time, action = action, source = source',
      'not used  who, what',
      'times     seconds, from the first frame of the recording; moved to whole frames by at most 0.500',
      'rate      25',
      'sources   CAM 1, CAM 2',
      'actions   STATUS = ignore, TAKE = cut',
      'rows      2 events, and 1 row to ignore',
      '',
      'line  frame  label        action  source  frames  note',
      '3     38     00:00:01:13  cut     CAM 1',
      '5     75     00:00:03:00  cut     CAM 2',
    ]);
  });

  it('tells of XML and anchored clocks', () => {
    const text = '<list><row when="10:00:00.000"><to>1</to></row></list>';
    const { reading } = read(text, { map: { rows: '/list/row', fields: { time: '@when', source: 'to' } }, anchor: { clock: '10:00:00', timecode: '01:00:00:00' } });
    if (reading === undefined) throw new Error('not read');
    expect(explainLog(reading).slice(0, 3)).toEqual(['form      XML, a row is /list/row', 'fields    time = @when, source = to', 'times     clock times, UTC, put on timecode by the anchor']);
  });
});

describe('text and bytes', () => {
  it('are the same log', () => {
    for (const name of ['csv', 'xml']) {
      const bytes = demo(name);
      expect(read(bytes.toString(), { rate: '29.97' }).reading?.events).toEqual(read(bytes, { rate: '29.97' }).reading?.events);
    }
  });

  it('give the same events as CSV and as XML', () => {
    const strip = (name: string): unknown => read(demo(name), { rate: '29.97' }).reading?.events.map((event) => ({ ...event, line: 0, column: 0 }));
    expect(strip('xml')).toEqual(strip('csv'));
  });

  it('are read without luxon where there is no zone and no format', () => {
    const reported: string[] = [];
    expect(readLog('time,action,source\n10:00:00.0,start,\n10:00:00.5,cut,1\n', { file: 'log', rate: rateSpec('25') }, ({ code }) => reported.push(code))?.events.length).toBe(2);
    expect(reported).not.toContain('bad-map');
    // Whoever forgets the one step that loads it is told which.
    expect(readLog('time,source\n10:00:00.5,1\n', { file: 'log', rate: rateSpec('25'), map: { zone: 'Europe/Lisbon' } }, ({ message }) => reported.push(message))).toBeUndefined();
    expect(reported.at(-1)).toContain('await loadClock(map)');
  });
});
