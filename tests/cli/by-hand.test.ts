import { truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';

// Files that people write by hand are text as logs are: UTF-8 with or without a mark, UTF-16 with one (WHATWG Encoding, section 6).

const LOG = 'time,action,source,note\n10:00:00:00,start,,\n10:00:00:00,cut,1,\n10:00:10:00,cut,2,\n10:00:20:00,stop,,\n';
const SHOW = '{\n  "rate": "25",\n  "sources": [{ "id": "1", "name": "Küche" }, { "id": "2" }]\n}\n';
const MAP = '{\n  "timeAs": "timecode",\n  "sources": { "Küche": "1" }\n}\n';
const FIX = 'do,at,expect,note,remark\nadd-marker,01:00:05:00,,Flambé,ü\n';
const FIX_JSON = '[\n  { "do": "add-marker", "at": "01:00:05:00", "note": "Flambé" }\n]\n';
const RULES = '{\n  "short-shot": "off" }\n';

const utf16 = (text: string, big = false): Uint8Array => {
  const bytes = Buffer.from(`\uFEFF${text}`, 'utf16le');
  return big ? bytes.swap16() : bytes;
};
const ENCODINGS: readonly (readonly [string, (text: string) => Uint8Array])[] = [
  ['UTF-8', (text) => Buffer.from(text)], ['UTF-8 with a mark', (text) => Buffer.from(`\uFEFF${text}`)], ['UTF-16LE', utf16], ['UTF-16BE', (text) => utf16(text, true)],
];
const GIVEN = [
  ['show.json', SHOW, '--show'], ['my.map.json', MAP, '--map'], ['fix.csv', FIX, '--corrections'], ['fix.json', FIX_JSON, '--corrections'],
] as const;
const commands = (option: string, name: string): string[][] => [
  ['convert', 'log.csv', option, name, '--rate', '25', '-o', 'out'],
  ['check', 'log.csv', '--against', 'log.csv', option, name, '--rate', '25'],
  ...(option === '--corrections' ? [] : [['compare', 'log.csv', 'log.csv', option, name, '--rate', '25']]),
];

/** Line and column of the first character beyond ASCII. */
function strange(text: string): string {
  const before = text.slice(0, text.search(/[^\0-\u007F]/)).split('\n');
  return `${String(before.length)}:${String((before.at(-1) ?? '').length + 1)}`;
}

describe.each(GIVEN)('%s', (name, text, option) => {
  it.each(ENCODINGS)('is the same in %s to every command', async (_encoding, encode) => {
    const cwd = folderWith({ 'log.csv': LOG, [name]: encode(text) });
    for (const argv of [...commands(option, name), ['check', name, '--rate', '25']]) {
      const { status, err } = await cli(argv, { cwd });
      expect([status, err]).toEqual([0, expect.not.stringContaining('error')]);
    }
    expect(textOf(cwd, 'out/log.otio')).not.toContain('\uFFFD');
    if (option !== '--map') expect(textOf(cwd, 'out/log.otio')).toMatch(/Küche|Flambé/);
  });

  it('in another encoding is refused alike by every command, where it first is not UTF-8', async () => {
    const cwd = folderWith({ 'log.csv': LOG, [name]: Buffer.from(text, 'latin1') });
    const said = new RegExp(`${name}:${strange(text)}: error: the byte 0x(FC|E9) is not UTF-8 here; save the file as UTF-8 \\[bad-encoding\\]\n`);
    for (const argv of [...commands(option, name), ['check', name]]) {
      const { status, out, err } = await cli(argv, { cwd });
      expect(status).not.toBe(0);
      expect(out + err).toMatch(said);
    }
    expect(filesIn(cwd)).toEqual([name, 'log.csv'].sort());
  });
});

it('a mapping says the encoding of logs, and of no file that is checked beside them', async () => {
  const latin = (text: string): Uint8Array => Buffer.from(text, 'latin1');
  const cwd = folderWith({ 'log.csv': latin(LOG.replace('cut,1,', 'marker,,Küche')), 'show.json': latin(SHOW), 'fix.csv': latin(FIX), 'map.json': '{"encoding": "windows-1252"}' });
  const { out } = await cli(['check', 'log.csv', 'show.json', 'fix.csv', '--map', 'map.json', '--rate', '25'], { cwd });
  expect(out.match(/is not UTF-8 here; save the file as UTF-8/g)).toHaveLength(2);
});

it('a rules file in UTF-16 is read, and one that is not text is refused', async () => {
  const call = async (rules: Uint8Array): Promise<readonly [number, string]> => {
    const { status, err } = await cli(['check', 'log.csv', '--rules', 'rules.json', '--rate', '25'], { cwd: folderWith({ 'log.csv': LOG, 'rules.json': rules }) });
    return [status, err];
  };
  expect(await call(utf16(RULES))).toEqual([0, '']);
  expect(await call(Buffer.from(RULES, 'utf16le'))).toEqual([2, 'rules.json:1:2: error: the file looks like UTF-16 without a byte order mark; save it as UTF-8 [bad-encoding]\n']);
  expect(await call(Buffer.from('PK\u0003\u0004'))).toEqual([2, 'rules.json:1:1: error: this is not text, but a ZIP container, as spreadsheets are; export the sheet as CSV [bad-encoding]\n']);
});

it('names of logs may come in UTF-16', async () => {
  const cwd = folderWith({ 'Küche.csv': LOG, 'names.txt': utf16('Küche.csv\r\n') });
  expect((await cli(['convert', '--logs-from', 'names.txt', '--rate', '25', '-o', 'out', '-q', '--to', 'edl'], { cwd })).status).toBe(0);
  expect(filesIn(cwd)).toContain('out/Küche.edl');
});

const EDL = (event: string, [from, to]: readonly [string, string]): string => `TITLE: show\nFCM: NON-DROP FRAME\n${event}  CAM      V     C        ${from} ${to} ${from} ${to}\n`;
const FIRST = EDL('001', ['01:00:00:00', '01:00:10:00']);
const SECOND = EDL('001', ['01:00:10:00', '01:00:20:00']);

describe('the next part of a divided EDL', () => {
  it('is read in UTF-16', async () => {
    const cwd = folderWith({ 'show-1.edl': utf16(FIRST), 'show-2.edl': utf16(SECOND), 'whole.edl': FIRST + SECOND.replace(/^.*\n.*\n001/, '002') });
    expect(await cli(['compare', 'show-1.edl', 'whole.edl', '--rate', '25'], { cwd })).toEqual({ status: 0, out: '', err: '' });
  });

  it.each([
    ['no EDL', LOG, 'show-2.edl: error: is called like part 2 of show-1.edl, and is no EDL; export it again, or give it another name [bad-event]'],
    ['empty', '', 'show-2.edl: error: is called like part 2 of show-1.edl, and is no EDL; export it again, or give it another name [bad-event]'],
    ['not text', Buffer.from(SECOND.replace('show', 'Küche'), 'latin1'), 'show-2.edl:1:9: error: the byte 0xFC is not UTF-8 here; save the file as UTF-8 [bad-encoding]'],
  ])('is not passed over when it is %s', async (_what, part, said) => {
    const cwd = folderWith({ 'show-1.edl': FIRST, 'show-2.edl': part, 'other.edl': FIRST });
    expect(await cli(['compare', 'show-1.edl', 'other.edl', '--rate', '25'], { cwd })).toEqual({ status: 2, out: '', err: `${said}\n` });
    const { status, err } = await cli(['picture', 'show-1.edl', '-o', 'show.svg', '--rate', '25'], { cwd });
    expect([status, err]).toEqual([1, `${said}\n`]);
  });
});

it.each(GIVEN)('%s is not read where it is larger than any such file, and no option is named that would not help', async (name, _text, option) => {
  const cwd = folderWith({ 'log.csv': LOG, [name]: '{}' });
  truncateSync(join(cwd, name), 64 * 1024 * 1024 + 1);
  const { status, err } = await cli(['convert', 'log.csv', option, name, '--rate', '25', '-o', 'out', '-q'], { cwd });
  expect([status, err]).toEqual([1, `${name}: error: the file has 67108865 bytes; the limit is 67108864, and such a file is written by hand: is it the right one? [too-large]\n`]);
});
