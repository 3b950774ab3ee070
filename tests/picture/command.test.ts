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
