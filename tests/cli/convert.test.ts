/** `linecut convert` as a call: files, streams, statuses, summaries. */
import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';

const LOG = 'time,action,source,duration,note\n10:00:00:00,start,,,\n10:00:00:00,cut,1,,\n10:00:04:00,marker,,,Opening\n10:00:10:00,dissolve,2,25,\n10:00:20:00,stop,,,\n';
const BAD = LOG.replace('10:00:10:00,dissolve', '10:00:99:00,dissolve');
const at25 = ['--rate', '25'];

interface LogObject {
  readonly log: string;
  readonly outputs: readonly { readonly format: string; readonly path: string }[];
  readonly rate: string | null;
  readonly dropFrame: boolean | null;
  readonly shots: number | null;
  readonly frames: number | null;
  readonly seconds: number | null;
  readonly sources: readonly { readonly id: string; readonly name: string; readonly shots: number; readonly frames: number }[];
  readonly problems: readonly { readonly code: string; readonly severity: string; readonly file: string | null; readonly line: number | null; readonly column: number | null; readonly message: string }[];
}

const objects = (text: string): LogObject[] => text.trimEnd().split('\n').map((line) => JSON.parse(line) as LogObject);

describe('the files of a call', () => {
  it('are an EDL, an OTIO and chapters, named after the log, in this folder', async () => {
    const folder = folderWith({ 'kitchen.v2.csv': LOG });
    const { status, out, err } = await cli(['convert', 'kitchen.v2.csv', ...at25], { cwd: folder });
    expect([status, out]).toEqual([0, '']);
    expect(filesIn(folder)).toEqual(['kitchen.v2.chapters.txt', 'kitchen.v2.csv', 'kitchen.v2.edl', 'kitchen.v2.otio']);
    expect(textOf(folder, 'kitchen.v2.edl')).toMatch(/^TITLE: kitchen\.v2\r\nFCM: NON-DROP FRAME\r\n001 {2}1 {8}V {5}C {8}10:00:00:00 10:00:10:00 01:00:00:00 01:00:10:00\r\n/);
    expect(err).toContain('2 shots in 0:00:20.000 (500 frames at 25), 01:00:00:00 to 01:00:20:00, 1 marker');
  });

  it('go where --out says, which is made', async () => {
    const folder = folderWith({ 'a/log.csv': LOG });
    const { status } = await cli(['convert', 'a/log.csv', ...at25, '-o', 'x/y', '--to', 'edl,otio,chapters,cutlog'], { cwd: folder });
    expect(status).toBe(0);
    expect(filesIn(folder)).toEqual(['a/log.csv', 'x/y/log.chapters.txt', 'x/y/log.cutlog.xml', 'x/y/log.edl', 'x/y/log.otio']);
  });

  it('are only those of --to', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    await cli(['convert', 'log.csv', ...at25, '--to', 'OTIO'], { cwd: folder });
    expect(filesIn(folder)).toEqual(['log.csv', 'log.otio']);
  });

  it('that are there already stay, unless --force says otherwise', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'log.otio': 'mine' });
    const refused = await cli(['convert', 'log.csv', ...at25], { cwd: folder });
    expect(refused.status).toBe(2);
    expect(refused.err).toContain('log.otio: error: is there already; --force replaces it [file-exists]');
    expect(filesIn(folder)).toEqual(['log.csv', 'log.otio']);
    expect(textOf(folder, 'log.otio')).toBe('mine');
    expect((await cli(['convert', 'log.csv', ...at25, '--force'], { cwd: folder })).status).toBe(0);
    expect(textOf(folder, 'log.otio')).toContain('Timeline.1');
  });

  it('gives one of two calls at the same time the names that both want, and tells the other', async () => {
    // Long enough that each looks for the names before the other takes them.
    const rows = (source: string): string => Array.from({ length: 12_000 }, (_, row) => `${String(row * 9)},cut,${row % 2 === 0 ? source : '9'}\n`).join('');
    const folder = folderWith({ 'a/show.csv': `frame,action,source\n${rows('1')}108000,stop,\n`, 'b/show.csv': `frame,action,source\n${rows('2')}108000,stop,\n` });
    const calls = await Promise.all(['a', 'b'].map((from) => cli(['convert', `${from}/show.csv`, '-o', 'lists', '--rate', '25', '--to', 'otio,chapters'], { cwd: folder })));
    expect(calls.map(({ status }) => status).sort()).toEqual([0, 2]);
    expect(calls.find(({ status }) => status === 2)?.err).toContain('is there already; --force replaces it [file-exists]');
    expect(filesIn(join(folder, 'lists'))).toEqual(['show.chapters.txt', 'show.otio']);
    const winner = calls[0]?.status === 0 ? '1' : '2';
    expect(readFileSync(join(folder, 'lists/show.otio'), 'utf8').includes(`"name":"${winner}"`)).toBe(true);
  });

  it('a link that leads nowhere is there too', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    symlinkSync('gone', join(folder, 'log.edl'));
    expect((await cli(['convert', 'log.csv', ...at25], { cwd: folder })).status).toBe(2);
  });

  it('never replace what the call reads', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    await cli(['convert', 'log.csv', ...at25, '--to', 'edl'], { cwd: folder });
    const before = textOf(folder, 'log.edl');
    const { status, err } = await cli(['convert', 'log.edl', ...at25, '--to', 'edl,otio', '--force', '--title', 'Other'], { cwd: folder });
    expect(status).toBe(2);
    expect(err).toContain('log.edl: error: is read by the same call and is not written over');
    expect(textOf(folder, 'log.edl')).toBe(before);
    expect(filesIn(folder)).toEqual(['log.csv', 'log.edl']);
  });

  it('that cannot be written are said, and leave nothing', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    mkdirSync(join(folder, 'out/log.otio'), { recursive: true });
    const { status, err } = await cli(['convert', 'log.csv', ...at25, '-o', 'out', '--force'], { cwd: folder });
    expect(status).toBe(2);
    expect(err).toContain('cannot be written');
    expect(filesIn(folder).filter((name) => name.endsWith('.linecut-part') || name.endsWith('.otio'))).toEqual([]);
    chmodSync(join(folder, 'out'), 0o755);
  });
});

describe('the show file', () => {
  const show = '{"title": "Beside", "sources": [{"id": "1", "name": "Wide"}, {"id": "2", "name": "Close"}]}';

  it('beside the log is found', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'log.show.json': show });
    await cli(['convert', 'log.csv', ...at25, '--to', 'edl'], { cwd: folder });
    expect(textOf(folder, 'log.edl')).toContain('* FROM CLIP NAME: Wide');
  });

  it('that is given wins over it', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'log.show.json': '{"wrong": 1}', 'other.json': show.replace('Beside', 'Given') });
    const { status } = await cli(['convert', 'log.csv', ...at25, '--to', 'edl', '--show', 'other.json'], { cwd: folder });
    expect(status).toBe(0);
    expect(textOf(folder, 'log.edl')).toContain('TITLE: Given');
  });

  it('says where media paths begin', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'shows/s.json': '{"sources": [{"id": "1", "files": [{"path": "media/a.mov"}]}, {"id": "2"}]}' });
    await cli(['convert', 'log.csv', ...at25, '--to', 'otio', '--show', 'shows/s.json'], { cwd: folder });
    expect(textOf(folder, 'log.otio')).toContain(new URL(`file://${folder}/shows/media/a.mov`).href);
  });
});

describe('standard streams', () => {
  it('- is standard input, named log', async () => {
    const folder = folderWith();
    const { status } = await cli(['convert', '-', ...at25], { cwd: folder, stdin: LOG });
    expect(status).toBe(0);
    expect(filesIn(folder)).toEqual(['log.chapters.txt', 'log.edl', 'log.otio']);
  });

  it('--out - writes one format to standard output, and nothing else there', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    await cli(['convert', 'log.csv', ...at25], { cwd: folder });
    for (const [format, name] of [['edl', 'log.edl'], ['otio', 'log.otio'], ['chapters', 'log.chapters.txt']] as const) {
      const { status, out } = await cli(['convert', '-', ...at25, '--to', format, '-o', '-'], { cwd: folder, stdin: LOG });
      expect(status).toBe(0);
      expect(out.replaceAll('TITLE: log', 'TITLE: log')).toBe(textOf(folder, name));
    }
  });

  it('a split EDL does not fit on standard output', async () => {
    const rows = Array.from({ length: 1200 }, (_, index) => `${String(index * 10)},cut,${String(index % 2)}`);
    const log = `frames,action,source\n${rows.join('\n')}\n12000,stop,\n`;
    const { status, out, err } = await cli(['convert', '-', ...at25, '--to', 'edl', '-o', '-'], { stdin: log });
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain('--out: error: this log gives 2 files, and standard output holds one');
  });

  it('too much standard input is refused', async () => {
    const { status, err } = await cli(['convert', '-', ...at25, '--max-bytes', '50', '-o', '-', '--to', 'edl'], { stdin: LOG });
    expect(status).toBeGreaterThan(0);
    expect(err).toContain('[too-large]');
  });
});

describe('several logs', () => {
  it('are all converted but those with errors, and the highest status wins', async () => {
    const folder = folderWith({ 'a.csv': LOG, 'b.csv': BAD, 'c.csv': LOG });
    const { status, err } = await cli(['convert', 'a.csv', 'b.csv', 'c.csv', ...at25, '-o', 'out', '--to', 'edl'], { cwd: folder });
    expect(status).toBe(1);
    expect(filesIn(join(folder, 'out'))).toEqual(['a.edl', 'c.edl']);
    expect(err).toContain('b.csv:5:1: error: ');
    const missing = await cli(['convert', 'gone.csv', 'b.csv', 'c.csv', ...at25, '-o', 'out2', '--to', 'edl'], { cwd: folder });
    expect(missing.status).toBe(2);
    expect(filesIn(join(folder, 'out2'))).toEqual(['c.edl']);
  });

  it('print an object each, in order', async () => {
    const folder = folderWith({ 'a.csv': LOG, 'b.csv': BAD });
    const { out } = await cli(['convert', 'a.csv', 'b.csv', ...at25, '-o', 'out', '--json', '--quiet'], { cwd: folder });
    expect(objects(out).map(({ log, shots }) => [log, shots])).toEqual([['a.csv', 2], ['b.csv', null]]);
  });
});

describe('--json', () => {
  it('is the object of the contract, with every key', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    const { out } = await cli(['convert', 'log.csv', '--rate', '29.97', '-o', 'out', '--json', '--audio', '1'], { cwd: folder });
    const [object] = objects(out);
    expect(object).toEqual({
      log: 'log.csv',
      outputs: [{ format: 'edl', path: 'out/log.edl' }, { format: 'otio', path: 'out/log.otio' }, { format: 'chapters', path: 'out/log.chapters.txt' }],
      rate: '29.97',
      dropFrame: false,
      shots: 2,
      frames: 600,
      seconds: 600 * 1001 / 30000,
      sources: [{ id: '1', name: '1', shots: 1, frames: 300 }, { id: '2', name: '2', shots: 1, frames: 300 }],
      problems: object?.problems,
    });
    for (const found of object?.problems ?? []) expect(Object.keys(found)).toEqual(['code', 'severity', 'file', 'line', 'column', 'message']);
    expect(object?.problems.map(({ severity }) => severity)).not.toContain('error');
  });

  it('of a log with errors has its problems with their places', async () => {
    const folder = folderWith({ 'log.csv': BAD });
    const { status, out } = await cli(['convert', 'log.csv', ...at25, '--json'], { cwd: folder });
    expect(status).toBe(1);
    const [object] = objects(out);
    expect(object).toMatchObject({ outputs: [], rate: null, dropFrame: null, shots: null, frames: null, seconds: null, sources: [] });
    expect(object?.problems.find(({ severity }) => severity === 'error')).toMatchObject({ code: 'bad-time', file: 'log.csv', line: 5, column: 1 });
  });

  it('names the option in the message of an option', async () => {
    const { out } = await cli(['convert', '-', ...at25, '--start', '99:00:00:00', '--json'], { stdin: LOG, cwd: folderWith() });
    const found = objects(out)[0]?.problems.find(({ severity }) => severity === 'error');
    expect(found).toMatchObject({ code: 'bad-time', file: null, line: null, column: null });
    expect(found?.message).toMatch(/^--start: /);
  });

  it('calls standard input by the name that its problems have', async () => {
    const { out } = await cli(['convert', '-', ...at25, '--json'], { stdin: BAD, cwd: folderWith() });
    expect(objects(out)).toMatchObject([{ log: 'log', problems: expect.arrayContaining([expect.objectContaining({ code: 'bad-time', file: 'log' })]) as unknown }]);
  });
});

describe('what is said', () => {
  it('is nothing but errors with --quiet', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'bad.csv': BAD });
    expect((await cli(['convert', 'log.csv', ...at25, '--quiet'], { cwd: folder })).err).toBe('');
    const { err } = await cli(['convert', 'bad.csv', ...at25, '-q'], { cwd: folder });
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toContain('bad.csv:5:1: error: ');
  });

  it('has colours on a terminal, unless NO_COLOR is set', async () => {
    const call = (env: Record<string, string>): Promise<{ err: string }> => cli(['convert', '-', ...at25, '-o', '-', '--to', 'edl'], { stdin: BAD, tty: true, env });
    expect((await call({})).err).toContain('\u001b[31merror\u001b[0m: ');
    expect((await call({ NO_COLOR: '1' })).err).not.toContain('\u001b');
    expect((await call({ NO_COLOR: '' })).err).toContain('\u001b[31m');
  });

  it('lets no control character of a log reach the terminal', async () => {
    const { err, status } = await cli(['convert', '-', ...at25, '-o', '-', '--to', 'edl'], { stdin: LOG.replace('dissolve', '"\u001b]0;owned\u0007"') });
    expect(status).toBe(1);
    expect(err).toContain('[unknown-action]');
    expect(err).not.toContain('\u001b');
  });

  it('shows the screen time of each source', async () => {
    const { err } = await cli(['convert', '-', ...at25], { stdin: LOG, cwd: folderWith() });
    expect(err).toMatch(/source +shots +on program +share\n +1 +1 +0:00:10\.000 +50\.0 %\n +2 +1 +0:00:10\.000 +50\.0 %/);
  });
});

describe('--strict', () => {
  const late = LOG.replace('10:00:00:00,cut,1', '10:00:02:00,cut,1');

  it('makes warnings errors, and then nothing is written', async () => {
    const folder = folderWith({ 'log.csv': late });
    const lax = await cli(['convert', 'log.csv', ...at25, '-o', 'lax'], { cwd: folder });
    expect(lax.status).toBe(0);
    expect(lax.err).toContain('warning: ');
    const strict = await cli(['convert', 'log.csv', ...at25, '-o', 'strict', '--strict'], { cwd: folder });
    expect(strict.status).toBe(1);
    expect(strict.err).not.toContain('warning: ');
    expect(filesIn(folder).some((name) => name.startsWith('strict/'))).toBe(false);
  });

  it('passes a log without any', async () => {
    expect((await cli(['convert', '-', ...at25, '--strict'], { stdin: LOG, cwd: folderWith() })).status).toBe(0);
  });
});

describe('a transition too long for an EDL', () => {
  const long = LOG.replace('dissolve,2,25', 'dissolve,2,1200').replace('10:00:20:00', '10:10:00:00');

  it('is an error of the EDL alone: the other lists are written', async () => {
    const folder = folderWith({ 'log.csv': long });
    const { status, err } = await cli(['convert', 'log.csv', ...at25], { cwd: folder });
    expect(status).toBe(1);
    expect(err).toContain('[long-transition]');
    expect(filesIn(folder)).toEqual(['log.chapters.txt', 'log.csv', 'log.otio']);
  });
});

describe('parts of an EDL', () => {
  const log = (shots: number): string => `frames,action,source\n${Array.from({ length: shots }, (_, index) => `${String(index * 10)},cut,${String(index % 2)}`).join('\n')}\n${String(shots * 10)},stop,\n`;
  const convert = (folder: string): Promise<unknown> => cli(['convert', 'show.csv', ...at25, '--to', 'edl', '--force', '-o', '.'], { cwd: folder });

  it('that are left from a longer list go with --force; files of others stay', async () => {
    const folder = folderWith({ 'show.csv': log(2100), 'show-9.edl': 'TITLE: somebody else\r\n', 'show-x.edl': 'TITLE: show\r\n', 'showing.edl': 'TITLE: show\r\n' });
    await convert(folder);
    const others = ['show-9.edl', 'show-x.edl', 'show.csv', 'showing.edl'];
    expect(filesIn(folder)).toEqual(['show-1.edl', 'show-2.edl', 'show-3.edl', ...others].sort());
    const again = await cli(['convert', 'show.csv', ...at25, '--to', 'edl'], { cwd: folder });
    expect(again.status).toBe(2);
    const { writeFileSync } = await import('node:fs');
    writeFileSync(join(folder, 'show.csv'), log(1100));
    await convert(folder);
    expect(filesIn(folder)).toEqual(['show-1.edl', 'show-2.edl', ...others].sort());
    writeFileSync(join(folder, 'show.csv'), log(10));
    await convert(folder);
    expect(filesIn(folder)).toEqual(['show.edl', ...others].sort());
  });
});

describe('--explain and --write-map', () => {
  const german = 'Mitschnitt\n\nZeit;Quelle;Was\n10:00:00:00;1;Schnitt\n10:00:10:00;2;Schnitt\n';

  it('print how a log is read and write nothing', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    const { status, out } = await cli(['convert', 'log.csv', ...at25, '--explain'], { cwd: folder });
    expect(status).toBe(0);
    expect(out).toContain('log.csv\n');
    expect(out).toMatch(/times +timecode/);
    expect(filesIn(folder)).toEqual(['log.csv']);
  });

  it('explain a log with errors as far as it goes', async () => {
    const { status, out, err } = await cli(['convert', '-', ...at25, '--explain'], { stdin: BAD });
    expect(status).toBe(1);
    expect(out).toMatch(/4 events/);
    expect(err).toContain('[bad-time]');
  });

  it('save a mapping that reads the log the same', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    const { status } = await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect(status).toBe(0);
    expect(filesIn(folder)).toEqual(['log.csv', 'map.json']);
    await cli(['convert', 'log.csv', ...at25, '-o', 'plain'], { cwd: folder });
    await cli(['convert', 'log.csv', ...at25, '-o', 'mapped', '--map', 'map.json'], { cwd: folder });
    for (const name of ['log.edl', 'log.otio']) expect(readFileSync(join(folder, 'mapped', name))).toEqual(readFileSync(join(folder, 'plain', name)));
  });

  it('save the mapping of standard input, and convert that', async () => {
    const folder = folderWith();
    const { status, err } = await cli(['convert', '-', ...at25, '--write-map', 'map.json', '-o', 'lists'], { cwd: folder, stdin: LOG });
    expect([status, err]).toEqual([0, expect.not.stringContaining('error')]);
    expect(filesIn(folder)).toEqual(['lists/log.chapters.txt', 'lists/log.edl', 'lists/log.otio', 'map.json']);
  });

  it('keep a mapping that is there', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'map.json': 'mine' });
    const { status } = await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect(status).toBe(2);
    expect(textOf(folder, 'map.json')).toBe('mine');
  });

  it('never write a mapping over the log that it is of, nor over the mapping that was read', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'map.json': '{}' });
    for (const target of ['log.csv', 'map.json']) {
      const { status, err } = await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '--write-map', target, '--force'], { cwd: folder });
      expect(status).toBe(2);
      expect(err).toContain('is read by the same call');
    }
    expect([textOf(folder, 'log.csv'), textOf(folder, 'map.json')]).toEqual([LOG, '{}']);
  });

  const foreign = 'Zeit;Was;Kamera\n10:00:00:00;TAKE;1\n10:00:10:00;TAKE;2\n';

  it('explain a log in columns of its own, and write a mapping that says what is to be filled in', async () => {
    const folder = folderWith({ 'log.csv': `Mischer-Protokoll;Halle 3\nBediener;Ute\n\n${foreign}` });
    const first = await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect(first.status).toBe(1);
    expect(first.out.split('\n')).toEqual([
      'log.csv', 'form      CSV, cells between semicolons, after 3 lines', 'columns   Zeit, Was, Kamera', 'fields    time = Zeit',
      'not known action, source; say in a mapping file where they stand', 'times     timecode', '',
    ]);
    expect(first.err).toContain('log.csv:4:1: error: no header row names a column for the time; the columns are Zeit, Was, Kamera; name it in a mapping file: {"skipLines": 3, "fields": {"time": "Zeit", "action": "Was", "source": "Kamera"}} [missing-column]\n');
    expect(first.err).toContain('map.json: note: what is missing is marked FILL IN: write it there, and convert with --map [found]\n');
    const map = textOf(folder, 'map.json');
    expect(JSON.parse(map)).toEqual({
      skipLines: 3, delimiter: ';', fields: { action: 'FILL IN: Was, Kamera', source: 'FILL IN: Was, Kamera', time: 'Zeit' }, timeAs: 'timecode', rowsAre: 'events',
    });
    const call = ['convert', 'log.csv', ...at25, '--map', 'map.json', '--end', '10:00:20:00', '--to', 'edl'];
    const unfilled = await cli(call, { cwd: folder });
    expect(unfilled.status).toBe(1);
    expect(unfilled.err.match(/^map\.json:\d+:5: error: fields\.(?:action|source) is still to be filled in; write the column's name or number, or null where the log has none \[bad-map\]$/gm)).toHaveLength(2);
    writeFileSync(join(folder, 'map.json'), map.replace('FILL IN: Was, Kamera', 'Was').replace('FILL IN: Was, Kamera', 'Kamera'));
    expect((await cli(call, { cwd: folder })).status).toBe(0);
    expect(textOf(folder, 'log.edl')).toContain('002  2        V     C        10:00:10:00 10:00:20:00 01:00:10:00 01:00:20:00');
  });

  it('write a mapping that reads a log whose events are numbered', async () => {
    const folder = folderWith({ 'log.csv': 'Timecode,Event,Source\n10:00:00:00,1,1\n10:00:10:00,2,2\n' });
    const first = await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect([first.status, first.out]).toEqual([1, 'log.csv\nform      CSV, cells between commas\ncolumns   Timecode, Event, Source\nfields    time = Timecode, source = Source\ntimes     timecode\n']);
    expect(JSON.parse(textOf(folder, 'map.json'))).toMatchObject({ fields: { time: 'Timecode', action: null, source: 'Source' }, timeAs: 'timecode' });
    expect((await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '--end', '10:00:20:00', '--to', 'edl'], { cwd: folder })).status).toBe(0);
  });

  it('state no kind of time where labels are cut, so that the mapping does not read them as clock times', async () => {
    const folder = folderWith({ 'log.csv': 'time;source\n10:00:00;00;1\n10:04:11;20;2\n' });
    expect((await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder })).out).toContain('times     not known\n');
    const again = await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '--end', '10:05:00'], { cwd: folder });
    expect([again.status, again.err]).toEqual([1, expect.stringContaining('[malformed-csv]')]);
  });

  it('write the mapping without --explain too, and say once what is wrong', async () => {
    const folder = folderWith({ 'log.csv': foreign });
    const { status, err } = await cli(['convert', 'log.csv', ...at25, '--write-map', 'map.json'], { cwd: folder });
    expect([status, filesIn(folder)]).toEqual([1, ['log.csv', 'map.json']]);
    expect(err.match(/missing-column/g)).toHaveLength(1);
  });

  it('explain a log without a rate, and one in XML, as far as it goes', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'log.xml': '<log><row at="10:00:00:00" was="x" kamera="1"/><row at="10:00:05:00" was="x" kamera="2"/></log>' });
    const plain = await cli(['convert', 'log.csv', '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect([plain.status, plain.err]).toEqual([1, expect.stringContaining('[bad-rate]')]);
    expect(plain.out).toMatch(/^fields {4}time = time, action = action, source = source\b[^]*^times {5}timecode$/m);
    expect((await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '-o', 'lists'], { cwd: folder })).status).toBe(0);
    const xml = await cli(['convert', 'log.xml', ...at25, '--explain', '--write-map', 'xml.json'], { cwd: folder });
    expect([xml.status, xml.out]).toEqual([1, expect.stringContaining('rows hold @at, @was, @kamera\n')]);
    expect(JSON.parse(textOf(folder, 'xml.json'))).toMatchObject({ rows: '/log/row', fields: { time: '@at', action: 'FILL IN: @was, @kamera' } });
    for (const stdin of ['', '<log><row></log>']) {
      expect((await cli(['convert', '-', ...at25, '--explain', '--write-map', 'none.json'], { cwd: folder, stdin })).out).toBe('');
    }
    expect(filesIn(folder)).not.toContain('none.json');
  });

  it('leave action words that nobody knows to be filled in', async () => {
    const folder = folderWith({ 'log.csv': LOG.replaceAll(',cut,', ',Schnitt,') });
    const { status, out } = await cli(['convert', 'log.csv', ...at25, '--explain', '--write-map', 'map.json'], { cwd: folder });
    expect([status, out]).toEqual([1, expect.stringContaining('actions   Schnitt is not known\n')]);
    const unfilled = await cli(['convert', 'log.csv', ...at25, '--map', 'map.json'], { cwd: folder });
    expect([unfilled.status, unfilled.err]).toEqual([1, expect.stringContaining("error: actions.Schnitt is 'FILL IN'; expected one of cut,")]);
    writeFileSync(join(folder, 'map.json'), textOf(folder, 'map.json').replace('FILL IN', 'cut'));
    expect((await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '-o', 'lists'], { cwd: folder })).status).toBe(0);
  });

  it('of a log in words of its own end in a mapping that works', async () => {
    const folder = folderWith({ 'log.csv': german, 'map.json': '{"fields": {"time": "Zeit", "source": "Quelle", "action": "Was"}, "actions": {"Schnitt": "cut"}}' });
    const { status } = await cli(['convert', 'log.csv', ...at25, '--map', 'map.json', '--end', '10:00:20:00', '--to', 'edl'], { cwd: folder });
    expect(status).toBe(0);
    expect(textOf(folder, 'log.edl')).toContain('002  2        V     C        10:00:10:00 10:00:20:00 01:00:10:00 01:00:20:00');
  });
});

describe('help', () => {
  it('names every command, every option of one, and shows examples', async () => {
    const { status, out } = await cli(['--help']);
    expect(status).toBe(0);
    expect(out).toContain('convert');
    const help = await cli(['convert', '--help']);
    expect(help.status).toBe(0);
    for (const option of ['--out', '--to', '--show', '--map', '--rate', '--start', '--end', '--audio', '--title', '--time-as', '--log-rate', '--rounding', '--anchor', '--dissolve-at', '--cuts-only', '--takes', '--paths', '--angles', '--newline', '--reel-length', '--edl-order', '--chapters-from', '--chapters-min', '--chapters-as', '--explain', '--write-map', '--max-rows', '--max-bytes', '--strict', '--quiet', '--json', '--force']) {
      expect(help.out).toContain(` ${option}`);
    }
    expect(help.out).toContain('Examples:');
    expect((await cli(['help', 'convert'])).out).toBe(help.out);
    expect((await cli([])).status).toBe(2);
  });
});

it('the demo show converts as the README says', async () => {
  const demo = fileURLToPath(new URL('../../fixtures/demo/harbour-kitchen-14.csv', import.meta.url));
  const folder = folderWith();
  const { status, err } = await cli(['convert', demo, '-o', 'lists'], { cwd: folder });
  expect(status).toBe(0);
  expect(err).toContain('157 shots in 0:48:12.289 (86,682 frames at 29.97df), 01:00:00;00 to 01:48:12;10, 9 markers');
  expect(filesIn(folder)).toHaveLength(3);
});
