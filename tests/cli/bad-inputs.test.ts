/**
 * Bad input, case by case: what is said, where, with which exit status, and that nothing is written. Every case runs the whole
 * command line. `at` is where the message points: a place in a file, or an option.
 */
import { Buffer } from 'node:buffer';
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CATALOGUE, type Code } from '../../src/problems.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

interface Case {
  readonly says: string;
  /** Contents of log.csv (or of `name`). */
  readonly log?: string | Uint8Array;
  readonly name?: string;
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  /** Instead of `convert NAME --rate 25 -o out`. */
  readonly argv?: readonly string[];
  /** Behind it. */
  readonly args?: readonly string[];
  readonly code: Code;
  readonly status: 1 | 2;
  readonly at: string;
  /** Part of the message. */
  readonly text?: string;
}

const HEAD = 'time,action,source,duration,end,wipe,note';
const rows = (...lines: string[]): string => [HEAD, ...lines, ''].join('\n');
const START = '10:00:00:00,start,,,,,';
const CUT = '10:00:00:00,cut,1,,,,';
const STOP = '10:01:00:00,stop,,,,,';
/** A sound log with one row more, on line 4. */
const withRow = (row: string): string => rows(START, CUT, row, STOP);
const GOOD = rows(START, CUT, '10:00:10:00,cut,2,,,,', STOP);
const xml = (body: string): string => `<cutlog version="1" rate="25">\n${body}\n</cutlog>\n`;
const event = (attributes: string): string => xml(`<event time="10:00:00:00" action="start"/>\n<event time="10:00:00:00" action="cut" source="1"/>\n<event ${attributes}/>\n<event time="10:01:00:00" action="stop"/>`);
const show = (content: unknown): Record<string, string> => ({ 'log.show.json': typeof content === 'string' ? content : JSON.stringify(content) });
const map = (content: unknown): Record<string, string> => ({ 'map.json': typeof content === 'string' ? content : JSON.stringify(content) });

const row = (says: string, line: string, code: Code, column: number, text?: string): Case => ({
  says, log: withRow(line), code, status: 1, at: `log.csv:4:${String(column)}`, ...(text === undefined ? {} : { text }),
});
const option = (says: string, args: readonly string[], code: Code, text?: string): Case => ({
  says, log: GOOD, args, code, status: 2, at: args[0] as string, ...(text === undefined ? {} : { text }),
});
const usage = (says: string, argv: readonly string[], at: string, text: string, code: Code = 'bad-option'): Case => ({ says, log: GOOD, argv, code, status: 2, at, text });
const showCase = (says: string, content: unknown, code: Code, text?: string, at = 'log.show.json:1'): Case => ({
  says, log: GOOD, files: show(content), code, status: 1, at, ...(text === undefined ? {} : { text }),
});
const mapCase = (says: string, content: unknown, text?: string, at = 'map.json:1'): Case => ({
  says, log: GOOD, files: map(content), args: ['--map', 'map.json'], code: 'bad-map', status: 1, at, ...(text === undefined ? {} : { text }),
});
const xmlCase = (says: string, log: string | Uint8Array, code: Code, at: string, text?: string): Case => ({
  says, name: 'log.xml', log, code, status: 1, at, ...(text === undefined ? {} : { text }),
});
const listCase = (says: string, name: string, log: string, code: Code, at: string): Case => ({ says, name, log, code, status: 1, at });

const RATES: readonly Case[] = [
  ...['25df', '24df', '30df', '60df', '23.976df', '47.952df', '48df'].map((rate) => option(`${rate}, which has no drop-frame`, ['--rate', rate], 'bad-rate', 'no drop-frame')),
  ...['50i', '59.94i', '60i'].map((rate) => option(`${rate}, which counts fields`, ['--rate', rate], 'bad-rate', 'counts fields')),
  ...['26', 'abc', '', '0', '-25', 'NaN', '1e309', '30000/1002', '30000/0', '29.97dfx', '1/25'].map((rate) => option(`rate '${rate}'`, ['--rate', rate], 'bad-rate', 'unknown rate')),
  { says: 'no rate anywhere', log: GOOD, argv: ['convert', 'log.csv', '-o', 'out'], code: 'bad-rate', status: 1, at: 'log.csv', text: '--rate' },
  xmlCase('a rate in XML that does not exist', '<cutlog version="1" rate="26"><event time="10:00:00:00" action="cut" source="1"/></cutlog>', 'bad-rate', 'log.xml'),
];

const OPTIONS: readonly Case[] = [
  usage('no command that exists', ['convrt', 'log.csv'], 'error', "did you mean 'convert'?"),
  usage('no command at all', ['log.csv'], 'error', 'write linecut convert log.csv'),
  usage('an option before the command', ['--rate', '25', 'convert'], 'error', 'stands before the command'),
  usage('an option that does not exist', ['convert', 'log.csv', '--raet', '25'], '--raet', "did you mean '--rate'?"),
  usage('a short option that does not exist', ['convert', 'log.csv', '-z'], '-z', 'there is no option'),
  usage('an option without its value', ['convert', 'log.csv', '--rate'], '--rate', 'it needs a value'),
  usage('no log', ['convert', '--rate', '25'], 'error', 'no LOG was given'),
  usage('standard output without a format', ['convert', 'log.csv', '--rate', '25', '-o', '-'], '--out', 'one format'),
  usage('standard output with two formats', ['convert', 'log.csv', '--rate', '25', '-o', '-', '--to', 'edl,otio'], '--out', 'one format'),
  usage('standard output with JSON', ['convert', 'log.csv', '--rate', '25', '-o', '-', '--to', 'edl', '--json'], '--json', 'is taken'),
  usage('an explanation as JSON', ['convert', 'log.csv', '--rate', '25', '--explain', '--json'], '--json', 'is taken by --explain'),
  usage('standard input as both lists to compare', ['compare', '-', '-', '--rate', '25'], 'error', 'can be read once'),
  usage('standard input as both lists to draw', ['picture', '-', '-', '--rate', '25', '-o', 'out.svg'], 'error', 'can be read once'),
  usage('standard input as a list and its log', ['check', '-', '--against', '-', '--rate', '25'], 'error', 'can be read once'),
  usage('a shell without completions', ['completions', 'tcsh'], 'error', "there are no completions for 'tcsh'; expected bash, zsh, fish ["),
  option('no format', ['--to', ''], 'bad-option'),
  option('a format that does not exist', ['--to', 'edl,otoi'], 'bad-option', "did you mean 'otio'?"),
  option('a start that is no label', ['--start', 'one'], 'bad-time'),
  option('a start past the day', ['--start', '24:00:00:00'], 'bad-time'),
  option('a start with too many frames', ['--start', '01:00:00:25'], 'bad-time'),
  option('a drop-frame start at 25', ['--start', '01:00:00;00'], 'bad-time'),
  { says: 'a start that drop-frame skips', log: GOOD.replace('10:01:', '10:10:'), argv: ['convert', 'log.csv', '--rate', '29.97df', '--start', '01:01:00;00', '-o', 'out'], code: 'dropped-label', status: 2, at: '--start', text: '01:00:59;29 and 01:01:00;02' },
  option('an end that is no time', ['--end', 'soon'], 'bad-time'),
  option('an end past the day', ['--end', '25:00:00:00'], 'bad-time'),
  option('sound from nowhere', ['--audio', '9'], 'unknown-source'),
  option('sound from a misspelt word', ['--audio', 'folow'], 'unknown-source', "did you mean 'follow'?"),
  option('a way of taking takes that does not exist', ['--takes', 'join'], 'bad-option', "did you mean 'joined'?"),
  option('a place in a mix that does not exist', ['--dissolve-at', 'centre'], 'bad-option', "did you mean 'center'?"),
  option('a line end that does not exist', ['--newline', 'cr'], 'bad-option'),
  option('a reel length that is neither', ['--reel-length', '16'], 'bad-option', '8, 32'),
  option('an order that does not exist', ['--edl-order', 'reel'], 'bad-option'),
  option('paths that are neither', ['--paths', 'short'], 'bad-option'),
  option('chapters from nothing', ['--chapters-from', 'scenes'], 'bad-option'),
  option('chapters from a source without an id', ['--chapters-from', 'source:'], 'bad-option'),
  option('chapters from a source that is not there', ['--chapters-from', 'source:9'], 'unknown-source', 'expected one of 1, 2, black'),
  option('chapters every nothing', ['--chapters-from', 'every:0'], 'bad-option'),
  option('chapters every so often', ['--chapters-from', 'every:often'], 'bad-option'),
  option('a least distance that is no time', ['--chapters-min', 'short'], 'bad-option'),
  option('a negative distance', ['--chapters-min', '-5s'], 'bad-option'),
  option('a chapter form that does not exist', ['--chapters-as', 'pdf'], 'bad-option'),
  option('a limit of no rows', ['--max-rows', '0'], 'bad-option'),
  option('half a row', ['--max-rows', '1.5'], 'bad-option'),
  option('rows in words', ['--max-rows', 'ten'], 'bad-option'),
  option('a limit of no bytes', ['--max-bytes', '0'], 'bad-option'),
  option('bytes in words', ['--max-bytes', 'many'], 'bad-option'),
  option('bytes without end', ['--max-bytes', '1e309'], 'bad-option'),
  option('a kind of time that does not exist', ['--time-as', 'minutes'], 'bad-option'),
  option('a rounding that does not exist', ['--rounding', 'up'], 'bad-option'),
  option('a rate of labels that does not exist', ['--log-rate', '31'], 'bad-rate'),
  option('an anchor without a timecode', ['--anchor', '18:00:00'], 'bad-option', 'CLOCK=TIMECODE'),
  option('an anchor that is half there', ['--anchor', '=10:00:00:00'], 'bad-option'),
];

const FILES: readonly Case[] = [
  { says: 'a log that is not there', argv: ['convert', 'gone.csv', '--rate', '25', '-o', 'out'], code: 'unreadable', status: 2, at: 'gone.csv', text: 'no such file' },
  { says: 'a folder without logs', files: { 'empty/readme.txt': 'x' }, argv: ['convert', 'empty', '--rate', '25', '-o', 'out'], code: 'unreadable', status: 2, at: 'empty' },
  { says: 'two logs of one name', log: GOOD, files: { 'b/log.csv': GOOD }, argv: ['convert', 'log.csv', 'b/log.csv', '--rate', '25', '-o', 'out'], code: 'same-output', status: 2, at: 'error', text: "as 'log'" },
  { says: 'two forms of one log', log: GOOD, files: { 'log.xml': event('time="10:00:05:00" action="cut" source="2"') }, argv: ['convert', 'log.csv', 'log.xml', '--rate', '25', '-o', 'out'], code: 'same-output', status: 2, at: 'error' },
  { says: 'names that differ in case alone', log: GOOD, files: { 'LOG.csv': GOOD }, argv: ['convert', 'log.csv', 'LOG.csv', '--rate', '25', '-o', 'out'], code: 'same-output', status: 2, at: 'error' },
  { says: 'two logs for standard output', log: GOOD, files: { 'b.csv': GOOD }, argv: ['convert', 'log.csv', 'b.csv', '--rate', '25', '--to', 'edl', '-o', '-'], code: 'bad-option', status: 2, at: '--out', text: 'holds one log' },
  { says: 'a mapping of two logs', log: GOOD, files: { 'b.csv': GOOD }, argv: ['convert', 'log.csv', 'b.csv', '--rate', '25', '--write-map', 'out.json'], code: 'bad-option', status: 2, at: '--write-map', text: 'of one log' },
  { says: 'an output folder that is a file', log: GOOD, files: { taken: 'x' }, argv: ['convert', 'log.csv', '--rate', '25', '-o', 'taken'], code: 'unreadable', status: 2, at: 'taken', text: 'cannot be written' },
  { says: 'an output folder below a file', log: GOOD, files: { taken: 'x' }, argv: ['convert', 'log.csv', '--rate', '25', '-o', 'taken/out'], code: 'unreadable', status: 2, at: 'taken/out' },
  { says: 'an output that is there', log: GOOD, files: { 'log.edl': 'mine' }, argv: ['convert', 'log.csv', '--rate', '25'], code: 'file-exists', status: 2, at: 'log.edl', text: '--force' },
  { says: 'a show file that is not there', log: GOOD, args: ['--show', 'gone.json'], code: 'unreadable', status: 2, at: 'gone.json' },
  { says: 'a show file that is a folder', log: GOOD, files: { 'd/x': '' }, args: ['--show', 'd'], code: 'unreadable', status: 2, at: 'd', text: 'folder' },
  { says: 'a mapping that is not there', log: GOOD, args: ['--map', 'gone.json'], code: 'unreadable', status: 2, at: 'gone.json' },
];

const SHOWS: readonly Case[] = [
  showCase('empty', '', 'bad-show-file', 'empty'),
  showCase('not JSON', 'title: Harbour Kitchen', 'bad-show-file', 'not valid JSON'),
  showCase('cut off', '{"title": "Harbour', 'bad-show-file', 'not valid JSON'),
  showCase('a comma too many', '{"rate": "25",}', 'bad-show-file', 'a comma before }'),
  showCase('a list', [], 'bad-show-file', 'a list'),
  showCase('a key twice', '{"rate": "25", "rate": "24"}', 'bad-show-file', 'twice'),
  showCase('an unknown key', { titel: 'x' }, 'bad-show-file', "did you mean 'title'?"),
  showCase('an unknown key of a source', { sources: [{ id: '1', nmae: 'x' }] }, 'bad-show-file', "did you mean 'name'?"),
  showCase('a source without id', { sources: [{ name: 'Wide' }] }, 'bad-show-file', "lacks the key 'id'"),
  showCase('an id that is a number', { sources: [{ id: 1 }] }, 'bad-show-file', 'double quotes'),
  showCase('an empty id', { sources: [{ id: '' }] }, 'bad-show-file', 'empty'),
  showCase('an id twice', { sources: [{ id: '1' }, { id: '1' }] }, 'duplicate-source'),
  showCase('an id twice, in another case', { sources: [{ id: 'cam' }, { id: 'CAM' }] }, 'duplicate-source'),
  showCase('an alias that is an id', { sources: [{ id: '1' }, { id: '2', aliases: ['1'] }] }, 'duplicate-source'),
  showCase('a source called black', { sources: [{ id: 'black' }] }, 'duplicate-source'),
  showCase('a reel twice', { sources: [{ id: '1', reel: 'A' }, { id: '2', reel: 'a' }] }, 'reel-taken'),
  showCase('the reel of black', { sources: [{ id: '1', reel: 'BL' }] }, 'reel-taken', 'black'),
  showCase('a rate that does not exist', { rate: '26' }, 'bad-rate'),
  showCase('drop-frame at 25', { rate: '25df' }, 'bad-rate'),
  showCase('two rates in one source', { sources: [{ id: '1', files: [{ path: 'a', rate: '25' }, { path: 'b', rate: '50' }] }] }, 'bad-show-file'),
  showCase('a start that is no label', { sources: [{ id: '1', start: 'noon' }, { id: '2' }] }, 'bad-time'),
  showCase('a start past the day', { sources: [{ id: '1', start: '24:00:00:00' }, { id: '2' }] }, 'bad-time'),
  showCase('a file that starts on no label', { sources: [{ id: '1', files: [{ path: 'a', start: '00:00:00:25' }] }, { id: '2' }] }, 'bad-time'),
  showCase('a record start that is no label', { recordStart: 'one', sources: [{ id: '1' }, { id: '2' }] }, 'bad-time'),
  showCase('a length of nothing', { sources: [{ id: '1', files: [{ path: 'a', frames: 0 }] }] }, 'bad-show-file'),
  showCase('half an offset', { sources: [{ id: '1', offset: 0.5 }] }, 'bad-show-file', 'whole number'),
  showCase('sound from nowhere', { sources: [{ id: '1' }], audio: { from: 'desk' } }, 'bad-show-file'),
  showCase('sound of channel zero', { audio: { channels: [0] } }, 'bad-show-file'),
  showCase('a mapping with a wrong word', { log: { timeAs: 'minutes' } }, 'bad-show-file'),
  { says: 'a source that the show does not have', log: GOOD, files: show({ sources: [{ id: '1' }] }), code: 'unknown-source', status: 1, at: 'log.csv:4:17' },
  { says: 'a switch to a sound desk', log: GOOD, files: show({ sources: [{ id: '1' }, { id: '2', picture: false }] }), code: 'unknown-source', status: 1, at: 'log.csv:4:17' },
  showCase('nested too deeply', '['.repeat(100_000), 'bad-show-file', 'too deeply'),
];

const MAPS: readonly Case[] = [
  mapCase('empty', '', 'empty'),
  mapCase('not JSON', 'fields: time', 'not valid JSON'),
  mapCase('an unknown key', { feilds: {} }, "did you mean 'fields'?"),
  mapCase('an unknown field', { fields: { tiem: 'a' } }, "did you mean 'time'?"),
  mapCase('an unknown action', { actions: { TAKE: 'cutt' } }, "did you mean 'cut'?"),
  mapCase('a delimiter of two characters', { delimiter: ';;' }, 'single character'),
  mapCase('an unknown kind of time', { timeAs: 'date' }),
  mapCase('a zone that does not exist', { timeAs: 'clock', zone: 'Mars/Olympus' }),
  mapCase('an encoding that does not exist', { encoding: 'utf-9' }),
  mapCase('a column zero', { fields: { time: 0 } }),
  mapCase('rows that are neither', { rowsAre: 'takes' }),
  mapCase('lines skipped backwards', { skipLines: -1 }),
  { says: 'a column that is not there', log: GOOD, files: map({ fields: { time: 'when' } }), args: ['--map', 'map.json'], code: 'bad-map', status: 1, at: 'log.csv' },
  { says: 'a path that finds nothing', name: 'log.xml', log: event('time="10:00:05:00" action="cut" source="2"'), files: map({ rows: '/session/item' }), args: ['--map', 'map.json'], code: 'bad-map', status: 1, at: 'log.xml' },
];

const binary = Buffer.from(Array.from({ length: 4096 }, (_, index) => (index * 7919) % 256));

const LOGS: readonly Case[] = [
  { says: 'nothing', log: '', code: 'no-events', status: 1, at: 'log.csv', text: 'empty' },
  { says: 'blank lines', log: ' \n\n\t\n', code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'a byte order mark alone', log: '\uFEFF', code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'a header alone', log: `${HEAD}\n`, code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'markers alone', log: rows('10:00:00:00,marker,,,,,Opening', '10:00:10:00,marker,,,,,Plating'), code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'cues alone', log: rows(START, '10:00:01:00,cue,1,,,,', STOP), code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'start and stop alone', log: rows(START, STOP), code: 'no-events', status: 1, at: 'log.csv' },
  { says: 'prose', log: 'The show began at ten.\nIt ended at eleven.\n', code: 'missing-column', status: 1, at: 'log.csv' },
  { says: 'no column for the time', log: 'action,source\ncut,1\n', code: 'missing-column', status: 1, at: 'log.csv' },
  { says: 'bytes that are no text', log: binary, code: 'bad-encoding', status: 1, at: 'log.csv' },
  { says: 'zeros', log: Buffer.alloc(1000), code: 'bad-encoding', status: 1, at: 'log.csv' },
  { says: 'text in another encoding', log: Buffer.from(rows(START, CUT, '10:00:05:00,marker,,,,,K\u00fcche', STOP), 'latin1'), code: 'bad-encoding', status: 1, at: 'log.csv:4' },
  { says: 'UTF-16 with half a character', log: Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(GOOD, 'utf16le'), Buffer.from([0x41])]), code: 'bad-encoding', status: 1, at: 'log.csv' },
  { says: 'a quote that is not closed', log: rows(START, CUT, '10:00:05:00,marker,,,,,"Opening', STOP), code: 'malformed-csv', status: 1, at: 'log.csv:4' },
  { says: 'text behind a quote', log: rows(START, CUT, '10:00:05:00,marker,,,,,"Open"ing', STOP), code: 'malformed-csv', status: 1, at: 'log.csv:4' },
  { says: '50 MB on one line', log: 'a'.repeat(50_000_000), code: 'missing-column', status: 1, at: 'log.csv' },
  { says: '50 MB in one cell', log: `${HEAD}\n${START}\n${CUT}\n10:00:05:00,marker,,,,,${'a'.repeat(50_000_000)}\n`, code: 'too-large', status: 1, at: 'log.csv:4' },
  { says: '50 MB in quotes', log: `${HEAD}\n"${'a\n'.repeat(25_000_000)}`, code: 'malformed-csv', status: 1, at: 'log.csv:2' },
  { says: '10 MB of commas', log: `${HEAD}\n${','.repeat(10_000_000)}\n`, code: 'too-large', status: 1, at: 'log.csv:2' },
  { says: 'more rows than allowed', log: rows(START, CUT, STOP, STOP), args: ['--max-rows', '3'], code: 'too-large', status: 1, at: 'log.csv:5', text: '--max-rows' },
  { says: 'more bytes than allowed', log: GOOD, args: ['--max-bytes', '20'], code: 'too-large', status: 1, at: 'log.csv', text: '--max-bytes' },
  { says: 'no end', log: rows(START, CUT), code: 'no-end', status: 1, at: 'log.csv', text: '--end' },
];

const ROWS: readonly Case[] = [
  row('an action that does not exist', '10:00:05:00,jump,2,,,,', 'unknown-action', 13),
  row('a misspelt action', '10:00:05:00,disolve,2,25,,,', 'unknown-action', 13, "did you mean 'dissolve'?"),
  row('no time', ',cut,2,,,,', 'missing-field', 1),
  row('a label past the day', '24:00:00:00,cut,2,,,,', 'bad-time', 1),
  row('a minute 60', '10:60:00:00,cut,2,,,,', 'bad-time', 1),
  row('a second 60', '10:00:60:00,cut,2,,,,', 'bad-time', 1),
  row('a frame 25 at 25', '10:00:05:25,cut,2,,,,', 'bad-time', 1, 'from 00 to 24'),
  row('a drop-frame label at 25', '10:00:05;00,cut,2,,,,', 'bad-time', 1, 'no drop-frame at 25'),
  row('a negative label', '-10:00:05:00,cut,2,,,,', 'bad-time', 1),
  row('NaN', 'NaN,cut,2,,,,', 'bad-time', 1),
  row('1e309', '1e309,cut,2,,,,', 'bad-time', 1),
  row('Infinity', 'Infinity,cut,2,,,,', 'bad-time', 1),
  row('0x10', '0x10,cut,2,,,,', 'bad-time', 1),
  row('a clock time without parts of a second', '10:00:05,cut,2,,,,', 'mixed-times', 1),
  row('a label of five places', '10:00:05:00:00,cut,2,,,,', 'bad-time', 1),
  row('letters for digits', '1O:00:05:00,cut,2,,,,', 'bad-time', 1),
  row('a number among labels', '7543,cut,2,,,,', 'mixed-times', 1),
  row('a decimal among labels', '251.43,cut,2,,,,', 'mixed-times', 1),
  row('a clock time among labels', '10:00:05.200,cut,2,,,,', 'mixed-times', 1),
  row('a cut to nothing', '10:00:05:00,cut,,,,,', 'missing-source', 1),
  row('a dissolve to nothing', '10:00:05:00,dissolve,,25,,,', 'missing-source', 1),
  row('a dissolve without length', '10:00:05:00,dissolve,2,,,,', 'missing-field', 1),
  row('a dissolve of less than nothing', '10:00:05:00,dissolve,2,-25,,,', 'bad-duration', 24, 'negative'),
  row('a dissolve of a word', '10:00:05:00,dissolve,2,slow,,,', 'bad-duration', 24),
  row('a dissolve of half a frame', '10:00:05:00,dissolve,2,1.5,,,', 'bad-duration', 24),
  row('a dissolve of NaN', '10:00:05:00,dissolve,2,NaN,,,', 'bad-duration', 24),
  row('a dissolve of 1e309', '10:00:05:00,dissolve,2,1e309,,,', 'bad-duration', 24),
  row('a dissolve without end', '10:00:05:00,dissolve,2,99999999999999999999,,,', 'bad-duration', 24, 'too long'),
  row('a dissolve of an unknown unit', '10:00:05:00,dissolve,2,3x,,,', 'bad-duration', 24),
  row('a dissolve that ends before it begins', '10:00:05:00,dissolve,2,,10:00:04:00,,', 'bad-duration', 25),
  row('a dissolve that ends at no time', '10:00:05:00,dissolve,2,,later,,', 'bad-time', 25),
  row('a dissolve with length and end that differ', '10:00:05:00,dissolve,2,25,10:00:07:00,,', 'bad-duration', 1),
  row('a wipe without code', '10:00:05:00,wipe,2,25,,,', 'missing-field', 1),
  row('a wipe code of four digits', '10:00:05:00,wipe,2,25,,1000,', 'bad-wipe', 24),
  row('a wipe code of a word', '10:00:05:00,wipe,2,25,,star,', 'bad-wipe', 24),
  row('a cue of nothing', '10:00:05:00,cue,,,,,', 'missing-field', 1),
  row('a marker without a note', '10:00:05:00,marker,,,,,', 'missing-field', 1),
  row('sound from nowhere', '10:00:05:00,audio,,,,,', 'missing-field', 1),
  { says: 'a label that drop-frame skips', log: withRow('10:01:00;00,cut,2,,,,').replace(STOP, '10:02:00;00,stop,,,,,'), argv: ['convert', 'log.csv', '--rate', '29.97df', '-o', 'out'], code: 'dropped-label', status: 1, at: 'log.csv:4:1', text: '10:00:59;29 and 10:01:00;02' },
  { says: 'a label that 59.94 skips', log: withRow('10:01:00;03,cut,2,,,,').replace(STOP, '10:02:00;00,stop,,,,,'), argv: ['convert', 'log.csv', '--rate', '59.94df', '-o', 'out'], code: 'dropped-label', status: 1, at: 'log.csv:4:1', text: '10:00:59;59 and 10:01:00;04' },
  { says: 'a frame 30 at 29.97', log: withRow('10:00:05:30,cut,2,,,,'), argv: ['convert', 'log.csv', '--rate', '29.97', '-o', 'out'], code: 'bad-time', status: 1, at: 'log.csv:4:1' },
  { says: 'a number with two points', log: 'frames,source\n0,1\n10.5.1,2\n20,1\n', args: ['--end', '30'], code: 'bad-time', status: 1, at: 'log.csv:3:1' },
  { says: 'negative seconds', log: 'seconds,source\n0,1\n-10.5,2\n', args: ['--end', '30'], code: 'bad-time', status: 1, at: 'log.csv:3:1' },
  { says: 'seconds in words', log: 'seconds,source\n0,1\nten,2\n', args: ['--end', '30'], code: 'bad-time', status: 1, at: 'log.csv:3:1' },
  { says: 'a clock time on no day', log: 'time,action,source\n2024-02-30T10:00:00Z,cut,1\n2024-03-01T10:00:00Z,stop,\n', args: ['--time-as', 'clock'], code: 'bad-time', status: 1, at: 'log.csv:2:1' },
];

const XML: readonly Case[] = [
  xmlCase('nothing but a declaration', '<?xml version="1.0"?>', 'malformed-xml', 'log.xml:1'),
  xmlCase('cut off in a tag', '<cutlog version="1" rate="25"><event time="10:0', 'malformed-xml', 'log.xml:1'),
  xmlCase('cut off between tags', xml('<event time="10:00:00:00" action="cut" source="1"/>').replace('</cutlog>', ''), 'malformed-xml', 'log.xml'),
  xmlCase('tags that cross', xml('<event><note></event></note>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('an attribute without quotes', xml('<event time=10/>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('an attribute twice', xml('<event time="10:00:00:00" time="10:00:00:00"/>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('two roots', '<cutlog version="1" rate="25"/>\n<cutlog version="1"/>', 'malformed-xml', 'log.xml:2'),
  xmlCase('text behind the root', '<cutlog version="1" rate="25"/>\nstop', 'malformed-xml', 'log.xml:2'),
  xmlCase('an ampersand alone', xml('<event time="10:00:00:00" action="marker" note="Salt & pepper"/>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('an entity that nobody declared', xml('<event time="10:00:00:00" action="marker" note="&chef;"/>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('a comment that does not end', xml('<!-- later'), 'malformed-xml', 'log.xml:2'),
  xmlCase('a control character', xml('<event time="10:00:00:00" action="marker" note="&#1;"/>'), 'malformed-xml', 'log.xml:2'),
  xmlCase('an entity bomb', `<!DOCTYPE cutlog [<!ENTITY a "aaaaaaaaaa">${Array.from({ length: 9 }, (_, n) => `<!ENTITY a${String(n)} "${`&a${n === 0 ? '' : String(n - 1)};`.repeat(10)}">`).join('')}]>\n${xml('<event time="10:00:00:00" action="marker" note="&a8;"/>')}`, 'entity-refused', 'log.xml:1'),
  xmlCase('a file as an entity', `<!DOCTYPE cutlog [<!ENTITY x SYSTEM "file:///etc/passwd">]>\n${xml('<event time="10:00:00:00" action="marker" note="&x;"/>')}`, 'entity-refused', 'log.xml:1'),
  xmlCase('a DTD from elsewhere', `<!DOCTYPE cutlog SYSTEM "cutlog.dtd">\n${xml('<event time="10:00:00:00" action="cut" source="1"/>')}`, 'entity-refused', 'log.xml:1'),
  xmlCase('a hundred thousand levels', `<cutlog version="1" rate="25">${'<a>'.repeat(100_000)}${'</a>'.repeat(100_000)}</cutlog>`, 'too-large', 'log.xml:1', 'deep'),
  xmlCase('nothing that is a row', '<cutlog version="1" rate="25"></cutlog>', 'no-events', 'log.xml'),
  xmlCase('another vocabulary', '<session><item when="1"/></session>', 'missing-column', 'log.xml'),
  xmlCase('bytes that are no text', Buffer.concat([Buffer.from('<cutlog>'), binary]), 'bad-encoding', 'log.xml:1'),
  xmlCase('a version to come', '<cutlog version="7" rate="25"><event time="10:00:00:00" action="cut" source="1"/></cutlog>', 'malformed-xml', 'log.xml:1'),
  xmlCase('an unknown action', event('time="10:00:05:00" action="jump" source="2"'), 'unknown-action', 'log.xml:4:35'),
  xmlCase('a label past the day', event('time="24:00:05:00" action="cut" source="2"'), 'bad-time', 'log.xml:4:14'),
  xmlCase('a label with letters', event('time="ten" action="cut" source="2"'), 'bad-time', 'log.xml:4:14'),
  xmlCase('no time', event('action="cut" source="2"'), 'missing-field', 'log.xml:4:1'),
  xmlCase('no source', event('time="10:00:05:00" action="cut"'), 'missing-source', 'log.xml:4'),
  xmlCase('a dissolve without length', event('time="10:00:05:00" action="dissolve" source="2"'), 'missing-field', 'log.xml:4'),
  xmlCase('a negative length', event('time="10:00:05:00" action="dissolve" source="2" duration="-3"'), 'bad-duration', 'log.xml:4:66'),
  xmlCase('a kind of time that does not exist', '<cutlog version="1" rate="25" timeAs="minutes"><event time="1" action="cut" source="1"/></cutlog>', 'bad-time', 'log.xml'),
  xmlCase('a wipe code of four digits', event('time="10:00:05:00" action="wipe" source="2" duration="25" wipe="1000"'), 'bad-wipe', 'log.xml:4:72'),
];

const LISTS: readonly Case[] = [
  listCase('an OTIO that is cut off', 'list.otio', '{"OTIO_SCHEMA": "Timeline.1", "tracks"', 'bad-otio', 'list.otio:1'),
  listCase('an object that is no OTIO', 'list.otio', '{"name": "x"}', 'bad-otio', 'list.otio'),
  listCase('a schema from elsewhere', 'list.otio', '{"OTIO_SCHEMA": "Recipe.1"}', 'bad-otio', 'list.otio'),
  listCase('a timeline without tracks', 'list.otio', '{"OTIO_SCHEMA": "Timeline.1", "name": "x"}', 'bad-otio', 'list.otio'),
  listCase('an EDL of a title alone', 'list.edl', 'TITLE: Harbour Kitchen\n', 'no-events', 'list.edl'),
  listCase('an event with three points', 'list.edl', 'TITLE: HK\n001  WIDE     V     C        10:00:00:00 10:00:10:00 01:00:00:00\n', 'bad-event', 'list.edl:2'),
  listCase('an event on no label', 'list.edl', 'TITLE: HK\n001  WIDE     V     C        10:00:61:00 10:01:10:00 01:00:00:00 01:00:10:00\n', 'bad-time', 'list.edl:2'),
  listCase('an event that runs backwards', 'list.edl', 'TITLE: HK\n001  WIDE     V     C        10:00:00:00 10:00:10:00 01:00:10:00 01:00:00:00\n', 'bad-event', 'list.edl:2'),
];

const ALL: readonly (readonly [string, readonly Case[]])[] = [
  ['a rate', RATES], ['the command line', OPTIONS], ['files', FILES], ['a show file', SHOWS], ['a mapping', MAPS], ['a log', LOGS], ['a row', ROWS], ['an XML log', XML], ['a list', LISTS],
];

function prepare({ log, name = 'log.csv', files = {} }: Case): { folder: string; before: string[] } {
  const folder = folderWith({ ...(log === undefined ? {} : { [name]: log }), ...files });
  return { folder, before: filesIn(folder) };
}

const argvOf = ({ argv, name = 'log.csv', args = [] }: Case): string[] => [...(argv ?? ['convert', name, '--rate', '25', '-o', 'out']), ...args];

/** The line of standard error that the case is about, else everything that was said. */
const lineOf = (err: string, code: Code): string => err.split('\n').find((line) => line.includes(`error: `) && line.endsWith(`[${code}]`)) ?? err;

describe.each(ALL)('%s', (_, cases) => {
  it.each(cases.map((one) => [one.says, one] as const))('%s', async (_says, one) => {
    const { folder, before } = prepare(one);
    const { status, out, err } = await cli(argvOf(one), { cwd: folder });
    const line = lineOf(err, one.code);
    expect(line).toContain(`[${one.code}]`);
    expect(line.startsWith(one.at), `${line} begins with ${one.at}`).toBe(true);
    if (one.text !== undefined) expect(line).toContain(one.text);
    expect(err).not.toMatch(/\n\s+at .*:\d+:\d+/);
    expect(line.length).toBeLessThan(500);
    expect(status).toBe(one.status);
    expect(out).toBe('');
    expect(filesIn(folder)).toEqual(before);
  });
});

it('there are two hundred of them, with the codes of the catalogue', () => {
  const cases = ALL.flatMap(([, list]) => list);
  expect(cases.length).toBeGreaterThanOrEqual(200);
  for (const { code } of cases) expect(CATALOGUE).toHaveProperty(code);
});

describe('as a real process', () => {
  const bin = fileURLToPath(new URL('../../bin/linecut.js', import.meta.url));
  const sample = [RATES[0], OPTIONS[3], FILES[0], SHOWS[6], MAPS[2], LOGS[0], LOGS[9], LOGS[15], ROWS[0], XML[12], XML[15], LISTS[0]] as readonly Case[];

  it.each(sample.map((one) => [one.says, one] as const))('%s', (_says, one) => {
    const { folder, before } = prepare(one);
    const done = spawnSync(process.execPath, [bin, ...argvOf(one)], { cwd: folder, encoding: 'utf8', timeout: 20_000 });
    expect(lineOf(done.stderr, one.code).startsWith(one.at)).toBe(true);
    expect(done.stderr).toContain(`[${one.code}]`);
    expect(done.status).toBe(one.status);
    expect(done.stdout).toBe('');
    expect(filesIn(folder)).toEqual(before);
  });
});
