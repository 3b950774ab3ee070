import { describe, expect, it } from 'vitest';
import type { Mapping } from '../../src/log/mapping.js';
import { outlineLog } from '../../src/log/outline.js';
import { problemLine } from '../../src/problems.js';
import { complaints, csv, fieldsOf, notes } from './collect.js';

const HEAD = ['time', 'action', 'source', 'note'];
const ROW = ['10:00:00;00', 'dissolve', '2', 'soup, hot'];

describe('the delimiter', () => {
  it.each([[','], [';'], ['\t'], ['|']])('%j is found by itself', (delimiter) => {
    const text = [HEAD, ROW].map((cells) => cells.map((cell) => `"${cell}"`).join(delimiter)).join('\n');
    const read = csv(text);
    expect(fieldsOf(read.rows[0])).toEqual({ time: '10:00:00;00', action: 'dissolve', source: '2', note: 'soup, hot' });
    expect(read.head?.delimiter).toBe(delimiter);
  });

  it('says which one it is when it is not a comma', () => {
    expect(notes(csv('time;action;source\n1;cut;2\n'))).toEqual(['show.csv:1:1: note: cells are separated by semicolons [found]']);
  });

  it('is not misled by drop-frame labels, decimal commas or a preamble with other signs', () => {
    const read = csv('Show; Harbour Kitchen; 14; live\nRate, 29.97, drop\ntime,source\n10:00:00;00,1\n10:00:01;00,2\n');
    expect(read.rows.map((row) => row.values[0])).toEqual(['10:00:00;00', '10:00:01;00']);
    const decimal = csv('time;source;action\n251,43;1;cut\n252,5;2;cut\n');
    expect(decimal.rows.map((row) => row.values[0])).toEqual(['251,43', '252,5']);
  });

  it('is a sign of the mapping where one is given', () => {
    expect(fieldsOf(csv('time^source\n1,5^2\n', { delimiter: '^' }).rows[0])).toEqual({ time: '1,5', source: '2' });
    expect(fieldsOf(csv('time source\n15 2\n', { delimiter: ' ' }).rows[0])).toEqual({ time: '15', source: '2' });
  });

  it('does not matter in a log with one column', () => {
    expect(csv('timecode\n10:00:00;00\n10:00:01,00\n').rows.map((row) => row.values[0])).toEqual(['10:00:00;00', '10:00:01,00']);
  });

  it.each([
    ['drop-frame labels', '10:00:00;00,1\n10:00:01;00,2\n', ','],
    ['labels of commas', '10:00:00,00;1\n10:00:01,00;2\n', ';'],
    ['labels of semicolons alone', '10;00;00;00,1\n10;00;01;00,2\n', ','],
    ['decimal commas', '251,43;1\n252,50;2\n', ';'],
    ['mixed decimals', '251;1;x\n252,5;2;y\n', ';'],
    ['vertical bars', '251,43|1|a;b\n252,50|2|c\n', '|'],
    ['quotes', '"1,2,3";"4;5"\n"1,2";6\n', ';'],
  ])('is guessed without a header: %s', (_, text, delimiter) => {
    const read = csv(text, { fields: { time: 1, source: 2 } });
    expect(read.head?.delimiter).toBe(delimiter);
    expect(read.rows).toHaveLength(2);
  });
});

describe('the header row', () => {
  it.each([
    ['three lines', 'Harbour Kitchen 14\nStudio 2, "late" shift\n\ntime,action,source\n1,cut,2\n', 4],
    ['open quotes', 'He said "go\nand "again\ntime,action,source\n1,cut,2\n', 3],
    ['words that are columns elsewhere', 'Title,Harbour Kitchen\nEvent,Semi-final\nStart,2026-05-01\ntime,action,source\n1,cut,2\n', 4],
    ['a column word alone', 'Timecode\ntime,action,source\n1,cut,2\n', 2],
  ])('is found behind a preamble: %s', (_, text, line) => {
    const read = csv(text);
    expect(read.rows.map((row) => [row.line, ...row.values.slice(0, 3)])).toEqual([[line + 1, '1', 'cut', '2']]);
    expect(read.head?.skipLines).toBe(line - 1);
    expect(notes(read)[0]).toContain(`the header row is line ${String(line)}`);
  });

  it('is where skipLines says, whatever stands before', () => {
    const text = 'time,action\n1,cut\ntime,source\n2,5\n';
    expect(fieldsOf(csv(text, { skipLines: 2 }).rows[0])).toEqual({ time: '2', source: '5' });
    expect(csv(text, { skipLines: 0 }).rows).toHaveLength(3);
  });

  it('counts lines of skipLines as lines, not rows', () => {
    expect(fieldsOf(csv('\n\n"a\nb"\ntime,source\n2,5\n', { skipLines: 4 }).rows[0])).toEqual({ time: '2', source: '5' });
  });

  it('is not taken from a row that has column words in it', () => {
    expect(complaints(csv('10:00:00:00,start,,marker\n10:00:01:00,cut,1,\n'))).toEqual([
      'show.csv:1:1: error: the log has no header row: the first one holds \'10:00:00:00\'; say in a mapping file by number which column holds what: {"fields": {"time": 1, "action": 2, "source": 3}} [missing-column]',
    ]);
  });

  it('may be missing: the advice has the numbers of the columns, and they read the log', () => {
    const advice = (text: string): unknown => JSON.parse(/what: (\{.*\}) \[/.exec(complaints(csv(text))[0] ?? '')?.[1] ?? 'null');
    for (const [text, fields] of [
      ['1;10:00:00:00;CUT\n2;10:00:05:00;CUT\n', { time: 2, action: 3, source: 1 }],
      ['0,cut,wide\n50,cut,close\n90,stop,\n', { time: 1, action: 2, source: 3 }],
      ['2026-05-01T10:00:00Z|a\n2026-05-01T10:00:05Z|b\n', { time: 1, source: 2 }],
    ] as const) {
      expect(advice(text)).toEqual({ fields });
      expect(csv(text, { fields }).rows.map((row) => fieldsOf(row).time)).toEqual(text.trim().split('\n').map((line) => line.split(/[;,|]/)[fields.time - 1]));
    }
    // A row of words may be one, and so may a year in a preamble.
    for (const text of ['Shot,Camera\n1,3\n', 'Halle,3\nKamera,Zeit\n1,ja\n']) expect(advice(text)).toBeNull();
  });
});

describe('synonyms', () => {
  it('an exact name wins over a synonym to its left, and the leftmost synonym counts', () => {
    expect(csv('start,tc,time,cam,input\n1,2,3,4,5\n').rows.map(fieldsOf)).toEqual([{ time: '3', source: '4' }]);
    expect(csv('TC,Clock,Angle,Camera\n1,2,3,4\n').rows.map(fieldsOf)).toEqual([{ time: '1', source: '3' }]);
  });

  it('says what was taken for what', () => {
    expect(notes(csv('TC,Event,Cam\n1,cut,3\n'))).toEqual(["show.csv:1:1: note: time is column 'TC', action is column 'Event', source is column 'Cam' [found]"]);
  });
});

describe('a mapping', () => {
  const german = 'Zeit;Was;Quelle;Bemerkung\n10:00:00:00;TAKE;CAM 1;\n';

  it('names columns, in any case, and the rest is found by itself', () => {
    const map: Mapping = { fields: { time: 'zeit', action: 'Was', source: 'QUELLE' } };
    expect(csv(`Ausgabe vom 1. Mai\n${german}`, map).rows.map(fieldsOf)).toEqual([{ time: '10:00:00:00', action: 'TAKE', source: 'CAM 1' }]);
    expect(csv('Zeit,cam\n1,2\n', { fields: { time: 'Zeit' } }).rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
  });

  it('takes the column of that very name before one in another case', () => {
    expect(csv('zeit,Zeit\n1,2\n', { fields: { time: 'Zeit' } }).rows.map(fieldsOf)).toEqual([{ time: '2' }]);
  });

  it('keeps a column that it gives to one field from feeding another', () => {
    expect(csv('time,event,source\n1,17,2\n', { fields: { note: 'event' } }).rows.map(fieldsOf)).toEqual([{ time: '1', source: '2', note: '17' }]);
  });

  it('may say that the log has no such field, whatever its columns are called', () => {
    const read = csv('time,event,source\n1,17,2\n', { fields: { action: null } });
    expect(read.rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
    expect([read.problems, read.head?.unused]).toEqual([[], ['event']]);
    expect(csv('1;17;2\n', { fields: { time: 1, source: 3, action: null } }).rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
  });

  it('numbers columns, with a header row or without', () => {
    const map: Mapping = { fields: { time: 1, action: 2, source: 3 } };
    expect(csv(german, map).rows.map(fieldsOf)).toEqual([{ time: '10:00:00:00', action: 'TAKE', source: 'CAM 1' }]);
    expect(csv('10:00:00:00;TAKE;CAM 1\n', map).rows.map(fieldsOf)).toEqual([{ time: '10:00:00:00', action: 'TAKE', source: 'CAM 1' }]);
    expect(csv('Harbour Kitchen 14\ntime,action,source\n5,cut,1\n', map).rows.map(fieldsOf)).toEqual([{ time: '5', action: 'cut', source: '1' }]);
    expect(csv(german, map).head?.found).toEqual({ time: 'Zeit', action: 'Was', source: 'Quelle' });
    expect(csv('1;a;b\n', map).head).toMatchObject({ found: { time: '1', action: '2', source: '3' }, unused: [], skipLines: 0 });
  });

  it('says which column is not there, what was meant, and what is there', () => {
    expect(complaints(csv(german, { fields: { time: 'Zeit', source: 'Qelle', note: 'Kommentar' } }))).toEqual([
      "show.csv:1:1: error: fields.source of the mapping is the column 'Qelle', which is not there; did you mean 'Quelle'?; the columns are Zeit, Was, Quelle, Bemerkung [bad-map]",
      "show.csv:1:1: error: fields.note of the mapping is the column 'Kommentar', which is not there; the columns are Zeit, Was, Quelle, Bemerkung [bad-map]",
    ]);
    expect(complaints(csv('1;2\n', { fields: { time: 1, source: 7 } }))).toEqual([
      'show.csv:1:1: error: fields.source of the mapping is column 7, and there is none; the log has no header row [bad-map]',
    ]);
    expect(complaints(csv('a;b\n1;2\n', { fields: { time: 'Zeit', source: 'Quelle' } }))).toHaveLength(2);
  });

  it('a missing time column is said with what is there, and the likeliest in the advice', () => {
    expect(complaints(csv('x\nShot,Tme,Camera\n1,2,3\n', { skipLines: 1 }))).toEqual([
      'show.csv:2:1: error: no header row names a column for the time; the columns are Shot, Tme, Camera; name it in a mapping file: {"fields": {"time": "Tme"}} [missing-column]',
    ]);
    expect(complaints(csv('Shot,Camera\n1,3\n'))[0]).toContain('the columns are Shot, Camera');
    // A column that feeds another field is not it, however much its name is like one.
    expect(complaints(csv('when,action,source,wipe\n10:00:00:00,start,,\n'))[0]).toContain('{"fields": {"time": "when"}}');
    // Nor is one whose cells are no times, where another's are.
    for (const name of ['Name', 'Item', 'Rec', 'Frms', 'State']) expect(complaints(csv(`Uhr;${name};Quelle\n10:00:00:00;TAKE;1\n10:00:05:00;TAKE;2\n`))[0]).toContain(`{"fields": {"time": "Uhr", "action": "${name}", "source": "Quelle"}}`);
    expect(complaints(csv('Frms;Was;When\n;CUT;10:00:00:00\n00:00:01:00;MIX;10:00:05:00\n'))[0]).toContain('{"fields": {"time": "When", "action": "Was", "source": "…"}}');
    expect(complaints(csv('moment,action,source\nten,cut,1\n'))[0]).toContain('{"fields": {"time": "moment"}}');
  });

  it('the advice names the source, where no column is called so, and an action whose words are known', () => {
    const advice = (text: string): string => /(\{"fields.*\}) \[/.exec(complaints(csv(text))[0] ?? '')?.[1] ?? '';
    expect(advice('Uhrzeit;Notiz;Kamera\n10:00:00:00;;1\n')).toBe('{"fields": {"time": "Uhrzeit", "source": "Kamera"}}');
    expect(advice('Uhrzeit;Notiz;Wer\n10:00:00:00;;1\n10:00:05:00;x;2\n10:00:08:00;;2\n')).toBe('{"fields": {"time": "Uhrzeit", "source": "Wer"}}');
    expect(advice('Uhrzeit;Notiz;Wer\n10:00:00:00;a;1\n10:00:05:00;b;2\n')).toBe('{"fields": {"time": "Uhrzeit", "source": "…"}}');
    expect(advice('Uhrzeit;cam;x\n10:00:00:00;1;\n')).toBe('{"fields": {"time": "Uhrzeit"}}');
    // What stands for a column that nobody can guess names none.
    expect(complaints(csv('Uhrzeit;Notiz;Wer\n10:00:00:00;a;1\n', { fields: { time: 'Uhrzeit', source: '…' } }))[0]).toContain("is the column '…', which is not there; the columns are Uhrzeit, Notiz, Wer");
  });

  it('a preamble is not taken for the header row, and the advice says how long it is', () => {
    const advice = (text: string, map?: Mapping): string => complaints(csv(text, map))[0]?.replace(/: error: .*(?=the columns)/, ' ') ?? '';
    const rows = 'Kamera;Zeit;Was\n1;10:00:00:00;TAKE\n2;10:00:10:00;TAKE\n';
    expect(advice(`Mischer-Protokoll;Halle 3\nBediener;Ute\n\n${rows}`)).toBe('show.csv:4:1 the columns are Kamera, Zeit, Was; name it in a mapping file: {"skipLines": 3, "fields": {"time": "Zeit", "action": "Was", "source": "Kamera"}} [missing-column]');
    expect(advice(`Halle 3\n${rows}`)).toContain('{"skipLines": 1, "fields": {"time": "Zeit", "action": "Was", "source": "Kamera"}}');
    expect(advice(rows)).toBe('show.csv:1:1 the columns are Kamera, Zeit, Was; name it in a mapping file: {"fields": {"time": "Zeit", "action": "Was", "source": "Kamera"}} [missing-column]');
    // Who said how long it is need not be told.
    expect(advice(`Halle 3\n${rows}`, { skipLines: 1 })).toContain('mapping file: {"fields": {"time": "Zeit", "action": "Was", "source": "Kamera"}}');
    // A row with more cells than the others is no preamble.
    expect(advice('Kamera;Wann und wo;Was;Wer\n1;ja;TAKE\n2;nein;TAKE\n')).toContain('the columns are Kamera, Wann und wo, Was, Wer; name it in a mapping file: {"fields"');
  });
});

describe('a delimiter of the mapping that is not there', () => {
  it('is doubted, and no column is advised that is a whole header row', () => {
    for (const map of [{ delimiter: ';' }, { delimiter: ';', fields: { time: 'time', source: 'source' } }, { delimiter: ';', fields: { time: 1, source: 3 } }] as Mapping[]) {
      expect(complaints(csv('time,action,source\n10:00:00:00,cut,1\n10:00:05:00,cut,2\n', map))).toEqual([
        'show.csv:1:1: error: delimiter of the mapping is ";", and leaves one cell a row; commas are found to separate the cells; mend it, or leave it out [bad-map]',
      ]);
    }
    expect(complaints(csv('Zeit\n10:00:00:00\n', { delimiter: ';' }))[0]).toContain('no header row names a column for the time');
    expect(complaints(csv('timecode\n10:00:00:00\n', { delimiter: ';' }))).toEqual([]);
  });
});

describe('labels that are cut where their mark is the delimiter', () => {
  const cut = /^show\.csv:2:1: error: times have no frames, and two digits stand in the cell behind each: .*put them in quotes \("10:00:00;00"\).*--time-as clock \[malformed-csv\]$/;

  it.each([
    ['time;source\n10:00:00;07;1\n10:04:11;20;2\n'],
    ['time;action;source\n10:00:00;00;cut;1\n10:04:11;20;cut;2\n10:05:00;02;stop;\n'],
    ['source;time\n1;10:00:00;00\n2;10:04:11;20\n'],
    ['time,source\n10:00:00,00,1\n10:04:11,20,2\n'],
  ])('are refused: %j', (text) => {
    const { rows, problems } = csv(text);
    expect([rows, problems.map(problemLine)]).toEqual([[], [expect.stringMatching(cut)]]);
    // The labels in quotes are whole.
    const quoted = csv(text.replace(/(\d\d:\d\d:\d\d[;,]\d\d)/g, '"$1"'));
    expect([quoted.rows.length > 1, complaints(quoted)]).toEqual([true, []]);
    // Who says that these are clock times is believed.
    expect(complaints(csv(text, { timeAs: 'clock' })).filter((line) => cut.test(line))).toEqual([]);
  });

  it('may be, where the header has a cell for what is behind them', () => {
    const text = 'time;source;note\n10:00:00;00;1\n10:04:11;20;2\n10:05:00;02;1\n';
    expect(complaints(csv(text))).toEqual([
      'show.csv:2:1: warning: times have no frames, and two digits stand in the cell behind each: are these labels that hold the delimiter? Then put them in quotes ("10:00:00;00"), or separate the cells by another sign; where these are clock times, say --time-as clock [malformed-csv]',
    ]);
    expect(csv(text).rows).toHaveLength(3);
    for (const said of [{ timeAs: 'clock' as const }, { fields: { source: 'source' } }]) expect(complaints(csv(text, said))).toEqual([]);
  });

  it.each([
    ['actions behind the sources', 'time,source,action\n20:00:00,01,cut\n20:00:05,02,cut\n'],
    ['notes behind the sources', 'time,source,note\n20:00:00,00,A\n20:00:05,02,Ann\n'],
    ['durations behind the sources', 'time;source;duration\n20:00:00;01;30\n20:00:05;02;12\n'],
    ['sources of one digit', 'time;source;note\n10:00:00;1;a\n10:04:11;2;b\n'],
    ['sources of two digits and nothing behind', 'time;source;note\n10:00:00;01;\n10:04:11;02;b\n'],
    ['few sources of two digits', `time;source;note\n${'10:00:00;01;a\n10:04:11;02;b\n'.repeat(3)}`],
    ['sources beyond frames', 'time;source;note\n10:00:00;01;a\n10:04:11;71;b\n'],
    ['an end behind the source', 'time;source;end\n10:00:00;01;10:00:10\n10:00:10;02;10:00:20\n'],
    ['whole labels', 'time;source;note\n10:00:00:00;01;a\n10:04:11:20;02;b\n'],
    ['another delimiter', 'time|source|note\n10:00:00|01|a\n10:04:11|02|b\n'],
    ['a single row', 'time;source;note\n10:00:00;01;a\n'],
  ])('are not seen in %s', (_, text) => {
    expect(complaints(csv(text))).toEqual([]);
  });
});

describe('an event column that numbers the rows', () => {
  const text = 'Timecode,Event,Source\n10:00:00:00,1,1\n10:00:05:00,2,2\n10:00:06:00,3,1\n';

  it('is said once, with the mapping that reads the log', () => {
    expect(complaints(csv(text))).toEqual([
      `show.csv:1:1: error: the column 'Event' is taken for the action, and holds another number in each row; where it only numbers them, say so in a mapping file: {"fields": {"action": null}}; where its numbers are actions, say in actions of the mapping which [unknown-action]`,
    ]);
    expect(csv(text, { fields: { action: null } }).rows.map(fieldsOf)).toEqual([1, 2, 1].map((source, row) => ({ time: `10:00:0${String([0, 5, 6][row])}:00`, source: String(source) })));
  });

  it.each([
    ['is called so', 'Event,Timecode,Type,Source,Duration', 'Type'],
    ['has words of actions', 'Event,Timecode,What,Source,Duration', 'What'],
    ['is called so, whatever words another has', 'Event,Timecode,Remarks,Source,Operation', 'Operation'],
  ])('gives way to another column that %s', (_, header, name) => {
    const log = `${header}\n1,10:00:00:00,cut,1,\n2,10:00:05:00,cue,2,\n3,10:00:06:00,dissolve,2,${name === 'Operation' ? 'Swap' : '12'}\n`;
    expect(complaints(csv(log))).toEqual([expect.stringContaining(`where it only numbers them, name the action's column in a mapping file: {"fields": {"action": "${name}"}}; where its numbers`)]);
    expect(outlineLog(log)?.map.fields).toMatchObject({ action: name });
    const actions = name === 'Operation' ? [undefined, undefined, 'Swap'] : ['cut', 'cue', 'dissolve'];
    expect(csv(log, { fields: { action: name } }).rows.map((row) => fieldsOf(row).action)).toEqual(actions);
  });

  it('gives way to the column with most words of actions, of the mapping as well', () => {
    const log = 'Event,Timecode,Mode,What\n1,10:00:00:00,auto,Schnitt\n2,10:00:05:00,manual,Schnitt\n';
    expect(outlineLog(log)?.map.fields).toMatchObject({ action: 'Mode' });
    expect(outlineLog(log, { actions: { schnitt: 'cut' } })?.map.fields).toMatchObject({ action: 'What' });
  });

  it('does not give way to further numbers', () => {
    const log = 'Event,Timecode,Type,Source\n1,10:00:00:00,7,1\n2,10:00:05:00,8,2\n';
    expect(complaints(csv(log))).toEqual([expect.stringContaining('{"fields": {"action": null}}')]);
    expect(outlineLog(log)?.map.fields).toMatchObject({ action: null });
  });

  it('is none where numbers come twice, where the mapping knows one, and where it names the column', () => {
    expect(complaints(csv(text.replace(',3,', ',2,')))).toEqual([]);
    expect(complaints(csv(text, { actions: { 2: 'cut' } }))).toEqual([]);
    expect(complaints(csv(text, { fields: { action: 'Event' } }))).toEqual([]);
    expect(complaints(csv(text.replace(',3,', ',cut,')))).toEqual([]);
  });
});

describe('nothing there', () => {
  it.each([['', undefined], ['\n\r\n  \n,,,\n', undefined]] as const)('%j is an empty log', (text, map) => {
    expect(complaints(csv(text, map))).toEqual(['show.csv:1:1: error: the log is empty [no-events]']);
  });

  it('skipLines beyond the end', () => {
    expect(complaints(csv('time,source\n1,2\n', { skipLines: 9 }))).toEqual(['show.csv:1:1: error: the log has nothing behind its first 9 lines [no-events]']);
  });

  it('a header row alone has no rows and no problem', () => {
    const read = csv('time,action,source\n');
    expect([read.rows, read.problems]).toEqual([[], []]);
  });
});
