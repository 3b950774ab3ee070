/** `linecut picture` as a command: what it compares, what it writes and where, and how it exits. */
import { describe, expect, it } from 'vitest';
import { cli, folderWith, textOf } from '../support/cli.js';

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
});
