/** `linecut picture` as a command: what it compares, what it writes and where, and how it exits. */
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';

const LOG = `time,action,source,note
0,start,,
0,cut,1,
100,marker,,"Crème fraîche, slowly"
200,cut,2,
400,stop,,
`;

const at25 = ['--rate', '25'];

/** What the tables of a page say changed. */
const changes = (page: string): string[] => [...page.matchAll(/<td>change<\/td><td>[^<]*<\/td><td>([^<]*)</g)].map(([, text]) => text ?? '');

describe('a picture of a log and its list', () => {
  it('shows no change where a format cannot say the same', async () => {
    const folder = folderWith({ 'show.csv': LOG });
    await cli(['convert', 'show.csv', ...at25, '--to', 'edl', '-o', '.'], { cwd: folder });
    const own = await cli(['picture', 'show.csv', 'show.edl', ...at25, '-o', '-'], { cwd: folder });
    expect([own.status, changes(own.out)]).toEqual([0, []]);
    const plain = textOf(folder, 'show.edl').replace(/^\* MARKER.*\r\n/m, '');
    const bare = await cli(['picture', 'show.csv', 'plain.edl', ...at25, '-o', '-'], { cwd: folderWith({ 'show.csv': LOG, 'plain.edl': plain }) });
    expect([bare.status, changes(bare.out)]).toEqual([0, []]);
    expect(bare.err).toContain('markers are not compared');
  });

  it('still shows a change that both can say', async () => {
    const folder = folderWith({ 'show.csv': LOG });
    await cli(['convert', 'show.csv', ...at25, '--to', 'edl', '-o', '.'], { cwd: folder });
    const { out } = await cli(['picture', 'show.csv', 'other.edl', ...at25, '-o', '-'], { cwd: folderWith({ 'show.csv': LOG, 'other.edl': textOf(folder, 'show.edl').replace('slowly', 'quickly') }) });
    expect(changes(out)).toHaveLength(1);
  });
});

describe('a picture of a divided EDL', () => {
  const rows = Array.from({ length: 1200 }, (_, index) => `${String(index * 20)},cut,${String(1 + (index % 4))},`);
  const long = `time,action,source,note\n0,start,,\n${rows.join('\n')}\n24000,stop,,\n`;

  it('is of all its parts, and says so', async () => {
    const folder = folderWith({ 'show.csv': long });
    await cli(['convert', 'show.csv', ...at25, '-o', '.'], { cwd: folder });
    const { status, out, err } = await cli(['picture', 'show.csv', 'show-1.edl', ...at25, '-o', '-'], { cwd: folder });
    expect([status, changes(out)]).toEqual([0, []]);
    expect(out.match(/<tr id="b\d+">/g)).toHaveLength(1200);
    expect(err).toContain('show-1.edl: note: read with its other part, show-2.edl');
  });

  it('has what is found in a later part at its place, with its file', async () => {
    const folder = folderWith({ 'show.csv': long });
    await cli(['convert', 'show.csv', ...at25, '-o', '.'], { cwd: folder });
    const parts = Object.fromEntries(['show-1.edl', 'show-2.edl'].map((name) => [name, textOf(folder, name)]));
    const second = parts['show-2.edl']?.split('\r\n') ?? [];
    const event = second.findIndex((line) => line.startsWith('003'));
    second.splice(event, 1);
    const { out } = await cli(['picture', 'show-1.edl', ...at25, '-o', '-'], { cwd: folderWith({ ...parts, 'show-2.edl': second.join('\r\n') }) });
    const record = / (\d\d:\d\d:\d\d:\d\d) \d\d:\d\d:\d\d:\d\d$/.exec(parts['show-2.edl']?.split('\r\n')[event] ?? '')?.[1] ?? '';
    expect(out).toMatch(new RegExp(`<td>${record}</td><td>error</td><td>hole</td><td>show-2\\.edl, line \\d+: nothing from ${record}`));
  });

  it('is none where a part cannot be read, which is said once', async () => {
    const folder = folderWith({ 'show.csv': long });
    await cli(['convert', 'show.csv', ...at25, '-o', '.'], { cwd: folder });
    const first = { 'show-1.edl': textOf(folder, 'show-1.edl') };
    const drawn = async (files: Record<string, string>): Promise<readonly [number, string, string[]]> => {
      const { status, out, err } = await cli(['picture', 'show-1.edl', '-o', '-'], { cwd: folderWith({ ...first, ...files }) });
      return [status, out, err.split('\n').slice(0, -1)];
    };
    expect(await drawn({ 'show-2.edl': 'TITLE: Show\nFCM: NON-DROP FRAME\n' })).toEqual([1, '', [
      'show-1.edl: note: read with its other part, show-2.edl [found]', 'show-2.edl: error: no line looks like an event of an EDL; check that this is the right file [no-events]',
    ]]);
    expect(await drawn({ 'show-2.edl/of-a-folder': '' })).toEqual([2, '', [expect.stringMatching(/^show-2\.edl: error: .* \[unreadable\]$/)]]);
  });
});

describe('the lanes of two lists', () => {
  const cut = 'time,action,source\n0,start,\n0,cut,1\n100,cut,2\n400,stop,\n';
  const named = (one: string, two: string): string => JSON.stringify({ sources: [{ id: '1', name: one }, { id: '2', name: two }] });

  /** Names of the lanes, once each, and for each bar its source by the table and the name of the lane that it lies in. */
  const lanesIn = (page: string): { names: string[]; bars: string[] } => {
    const lists = page.split('<g class="list">').slice(1);
    const tops = lists.map((list) => new Map([...list.matchAll(/<g><title>([^<]*)<\/title><text class="lane" x="4" y="([\d.]+)"/g)].map(([, name, y]) => [Number(y) - 16, name ?? ''])));
    const bars = lists.flatMap((list, index) => [...list.matchAll(/<title>Shot \d+, ([^,]*),[^<]*<\/title><rect x="[\d.]+" y="([\d.]+)"/g)].map(([, source, y]) => `${source ?? ''} in ${tops[index]?.get(Number(y)) ?? 'none'}`));
    return { names: [...new Set(tops.flatMap((one) => [...one.values()]))], bars };
  };

  it('go by what the sources are, not by their ids', async () => {
    const folder = folderWith({ 'a.csv': cut, 'b.csv': cut, 'a.show.json': named('Wide', 'Close'), 'b.show.json': named('Close', 'Wide') });
    const { out } = await cli(['picture', 'a.csv', 'b.csv', ...at25, '-o', '-'], { cwd: folder });
    expect(lanesIn(out)).toEqual({ names: ['Wide', 'Close'], bars: ['Wide in Wide', 'Close in Close', 'Close in Close', 'Wide in Wide'] });
    const times = [...out.matchAll(/<g><title>(Wide|Close)<\/title><text x="4"[\s\S]*?<text x="[\d.]+" y="[\d.]+">[\d:]+ {2}([\d.]+) %/g)].map(([, name, share]) => `${name ?? ''} ${share ?? ''}`);
    expect(times).toEqual(['Wide 25.0', 'Close 75.0', 'Wide 75.0', 'Close 25.0']);
  });

  it('are shared by a list and its EDL without names', async () => {
    const folder = folderWith({ 'a.csv': cut, 'a.show.json': named('Wide', 'Close') });
    await cli(['convert', 'a.csv', ...at25, '--to', 'edl', '-o', '.'], { cwd: folder });
    const plain = textOf(folder, 'a.edl').replace(/^\* .*\r\n/gm, '');
    const { out } = await cli(['picture', 'a.csv', 'plain.edl', ...at25, '-o', '-'], { cwd: folderWith({ 'a.csv': cut, 'a.show.json': named('Wide', 'Close'), 'plain.edl': plain }) });
    expect(lanesIn(out)).toEqual({ names: ['Wide', 'Close'], bars: ['Wide in Wide', 'Close in Close', 'WIDE in Wide', 'CLOSE in Close'] });
  });
});

describe('the file of a picture', () => {
  const show = { 'show.csv': LOG };
  const written = async (args: string[], options: { stdin?: string } = {}): Promise<[number, string[], string]> => {
    const folder = folderWith(show);
    const { status } = await cli(['picture', ...args, ...at25], { cwd: folder, ...options });
    const files = filesIn(folder).filter((name) => name !== 'show.csv');
    return [status, files, files.map((name) => (/<html|<svg/.exec(textOf(folder, name))?.[0] ?? '').slice(1)).join()];
  };

  it('is named after its form', async () => {
    expect(await written(['show.csv'])).toEqual([0, ['show.html'], 'html']);
    expect(await written(['show.csv', '--as', 'svg'])).toEqual([0, ['show.svg'], 'svg']);
    expect(await written(['show.csv', '--as', 'svg', '-o', 'show.picture'])).toEqual([0, ['show.picture'], 'svg']);
    expect(await written(['show.csv', '--as', 'html', '-o', 'show.htm'])).toEqual([0, ['show.htm'], 'html']);
  });

  it('is not written where name and --as say different things', async () => {
    expect(await written(['show.csv', '--as', 'html', '-o', 'show.svg'])).toEqual([2, [], '']);
    expect(await written(['show.csv', '--as', 'svg', '-o', 'show.htm'])).toEqual([2, [], '']);
  });

  it('of standard input is named log, and messages name it so, too', async () => {
    expect(await written(['-'], { stdin: LOG })).toEqual([0, ['log.html'], 'html']);
    const { status, err } = await cli(['picture', '-', ...at25, '-o', '-'], { cwd: folderWith(), stdin: LOG.replace('100', 'one') });
    expect([status, err]).toEqual([1, expect.stringMatching(/^log:4:1: error: /)]);
  });
});

describe('--strict', () => {
  const twice = 'time,action,source\n0,start,\n0,cut,1\n100,cut,2\n100,cut,3\n400,stop,\n';
  const found = (page: string): string[] => [...page.matchAll(/<td>(error|warning)<\/td><td>([^<]*)</g)].map(([, severity, code]) => `${severity ?? ''} ${code ?? ''}`);

  it('makes the warnings that are drawn errors, and exits with 1', async () => {
    const folder = folderWith({ 'show.csv': twice, 'clean.csv': LOG });
    const plain = await cli(['picture', 'show.csv', ...at25, '-o', '-'], { cwd: folder });
    expect([plain.status, found(plain.out)]).toEqual([0, ['warning same-frame']]);
    const strict = await cli(['picture', 'show.csv', ...at25, '-o', '-', '--strict'], { cwd: folder });
    expect([strict.status, found(strict.out)]).toEqual([1, ['error same-frame']]);
    expect((await cli(['picture', 'show.csv', ...at25, '--strict'], { cwd: folder })).status).toBe(1);
    expect(filesIn(folder)).toContain('show.html');
    expect((await cli(['picture', 'clean.csv', ...at25, '--strict'], { cwd: folder })).status).toBe(0);
  });
});
