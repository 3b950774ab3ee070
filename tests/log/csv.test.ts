import { describe, expect, it } from 'vitest';
import { complaints, csv, fieldsOf, notes } from './collect.js';

const LOG = 'time,action,source,duration,end,wipe,note\r\n10:00:00:00,cut,1,,,,\r\n10:00:05:00,wipe,2,30,,7,"On the pass, please"\r\n';

describe('the contract\'s own columns', () => {
  it('gives every field of every row, trimmed, and undefined for an empty one', () => {
    const read = csv(LOG);
    expect(read.problems).toEqual([]);
    expect(read.rows.map((row) => row.values)).toEqual([
      ['10:00:00:00', 'cut', '1', undefined, undefined, undefined, undefined],
      ['10:00:05:00', 'wipe', '2', '30', undefined, '7', 'On the pass, please'],
    ]);
    expect(read.head).toEqual({
      form: 'csv', delimiter: ',', skipLines: 0, sources: [], unused: [],
      found: { time: 'time', action: 'action', source: 'source', duration: 'duration', end: 'end', wipe: 'wipe', note: 'note' },
    });
  });

  it('reads columns in any order and any case, and lists those that feed nothing', () => {
    const read = csv('Operator,NOTE,Source,Time,Shift\nAnn,Title card,3,00:00:01:00,late\n');
    expect(fieldsOf(read.rows[0])).toEqual({ time: '00:00:01:00', source: '3', note: 'Title card' });
    expect(read.head?.unused).toEqual(['Operator', 'Shift']);
  });

  it('does without an action column and says that every row is a cut', () => {
    const read = csv('time,source\n00:00:01:00,3\n');
    expect(fieldsOf(read.rows[0])).toEqual({ time: '00:00:01:00', source: '3' });
    expect(notes(read)).toEqual(['show.csv:1:1: note: there is no column for the action, so every row is a cut [found]']);
  });

  it('warns where a column is nearly called action', () => {
    expect(complaints(csv('time,actoin,source\n1,dissolve,3\n'))).toEqual([
      "show.csv:1:1: warning: no column is called action; is 'actoin' meant? Every row is read as a cut [missing-column]",
    ]);
    expect(complaints(csv('time,Section,source\n1,Soup,3\n'))).toEqual([]);
  });

  it('leaves out blank rows and rows of delimiters, and knows no comments', () => {
    const read = csv('time,source\n\n1,2\n , \n,\n\r\n#3,4\n\n');
    expect(read.rows.map((row) => [row.line, ...row.values.slice(0, 3)])).toEqual([[3, '1', undefined, '2'], [7, '#3', undefined, '4']]);
  });

  it('takes a missing cell for an empty one', () => {
    expect(csv('time,action,source,note\n1,cut\n2\n').rows.map(fieldsOf)).toEqual([{ time: '1', action: 'cut' }, { time: '2' }]);
  });

  it('warns of cells beyond the header, with their place, and lets empty ones be', () => {
    expect(complaints(csv('time,source,note\n1,2,hot,pan\n3,4,x,,\n'))).toEqual([
      'show.csv:2:9: warning: this row has 4 cells and the header 3; a cell that holds commas needs quotes around it [malformed-csv]',
    ]);
  });

  it('skips a byte order mark in text', () => {
    expect(csv('\uFEFF"time",source\n1,2\n').rows.map(fieldsOf)).toEqual([{ time: '1', source: '2' }]);
  });

  it('stops at the row limit and names the option', () => {
    const read = csv('time,source\n1,1\n\n2,2\n3,3\n', undefined, 2);
    expect(read.rows).toHaveLength(2);
    expect(complaints(read)).toEqual(['show.csv:5:1: error: the log has more than 2 rows; raise the limit with --max-rows [too-large]']);
  });
});

// RFC 4180 section 2: the numbers are those of its definitions.
describe('RFC 4180', () => {
  it.each([
    ['2.1 CRLF', 'time,source\r\n1,a\r\n2,b\r\n'],
    ['2.1 LF alone, as Unix writes it', 'time,source\n1,a\n2,b\n'],
    ['2.1 CR alone, as old machines write it', 'time,source\r1,a\r2,b\r'],
    ['2.1 mixed', 'time,source\r\n1,a\n2,b\r'],
    ['2.2 no line break at the end', 'time,source\r\n1,a\r\n2,b'],
    ['2.5 quoted cells', '"time","source"\r\n"1","a"\r\n2,"b"\r\n'],
  ])('%s', (_, text) => {
    const read = csv(text);
    expect(read.rows.map((row) => [row.line, row.values[0], row.values[2]])).toEqual([[2, '1', 'a'], [3, '2', 'b']]);
  });

  it('2.6, 2.7: delimiters, line breaks and doubled quotes inside quotes', () => {
    const read = csv('time,source,note\r\n1,2,"a ""hot"" pan,\r\nthen\nplates"\r\n3,4,""\r\n5,6,""""\r\n');
    expect(read.rows.map((row) => [row.line, row.values[6]])).toEqual([[2, 'a "hot" pan,\r\nthen\nplates'], [5, undefined], [6, '"']]);
  });

  it('allows blanks around quoted cells, as people write them', () => {
    expect(csv('time, "source" ,note\n1, "a,b" , "c"\n').rows.map(fieldsOf)).toEqual([{ time: '1', source: 'a,b', note: 'c' }]);
    expect(csv('time\tsource\tnote\n1\t "a\tb" \t\n').rows.map(fieldsOf)).toEqual([{ time: '1', source: 'a\tb' }]);
  });
});

describe('places', () => {
  it('gives line and column of each field, behind its quote and blanks', () => {
    const [row] = csv('time,source,note,action\n10:00:00:00,  "cam 1" ,"x\ny", cut\n').rows;
    expect(row?.columnOf('time')).toEqual({ line: 2, column: 1 });
    expect(row?.columnOf('source')).toEqual({ line: 2, column: 16 });
    expect(row?.columnOf('note')).toEqual({ line: 2, column: 25 });
    expect(row?.columnOf('action')).toEqual({ line: 3, column: 5 });
  });

  it('gives the start of the row for an absent or empty field', () => {
    const [, row] = csv('time,source,note\n1,2,\n3,,\n').rows;
    expect([row?.columnOf('source'), row?.columnOf('wipe')]).toEqual([{ line: 3, column: 1 }, { line: 3, column: 1 }]);
  });

  it('counts lines behind a multi-line cell, and behind a preamble', () => {
    const read = csv('Harbour Kitchen\n\ntime,source,note\n1,2,"a\r\nb\rc\nd"\n3,4,\n');
    expect(read.rows.map(({ line }) => line)).toEqual([4, 8]);
  });

  it('counts columns in UTF-16 units, as editors do', () => {
    expect(csv('note,time\n🍲🍲,5\n').rows[0]?.columnOf('time')).toEqual({ line: 2, column: 6 });
  });
});
