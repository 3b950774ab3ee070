/** What a call asks for and does not get: it is said, counted, and listed again at the end. */
import { chmodSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expandLogs } from '../../src/cli/inputs.js';
import { lookInto } from '../../src/cli/watch-look.js';
import { problemLine } from '../../src/problems.js';
import { cli, filesIn, folderWith } from '../support/cli.js';
import { asNobody } from '../support/nobody.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const RATE = ['--rate', '25'];

describe('logs that are not there', () => {
  it('are counted and listed with what failed, and stop no other', async () => {
    const cwd = folderWith({ 'a.csv': LOG, 'b.csv': LOG });
    const { status, err } = await cli(['convert', 'a.csv', 'none.csv', 'b.csv', 'x/*.csv', ...RATE], { cwd });
    expect(status).toBe(2);
    expect(err).toContain('4 logs: 2 converted, 2 failed');
    expect(err.slice(err.indexOf('not converted:'))).toBe('not converted:\n  none.csv: error: there is no such file or folder [unreadable]\n  x/*.csv: error: no file matches [unreadable]\n');
    expect(filesIn(cwd).filter((name) => name.endsWith('.edl'))).toEqual(['a.edl', 'b.edl']);
  });

  it('are said with --explain too', async () => {
    const { status, out, err } = await cli(['convert', '--explain', 'a.csv', 'none.csv', ...RATE], { cwd: folderWith({ 'a.csv': LOG }) });
    expect([status, err]).toEqual([2, expect.stringContaining('none.csv: error: there is no such file or folder [unreadable]')]);
    expect(out).toContain('a.csv\n');
  });

  it('may lie behind links that lead nowhere, in a folder, for a glob and in a watched folder', async () => {
    const cwd = folderWith({ 'in/a.csv': LOG });
    symlinkSync('/nowhere/at/all.csv', join(cwd, 'in/gone.csv'));
    symlinkSync('circle.csv', join(cwd, 'in/circle.csv'));
    symlinkSync('/nowhere/notes.txt', join(cwd, 'in/notes.txt'));
    const gone = 'in/gone.csv: error: cannot be read: there is no such file or folder [unreadable]';
    const circle = 'in/circle.csv: error: cannot be read: too many links [unreadable]';
    for (const arg of ['in', 'in/*.csv', 'in/{a,gone,circle}.csv']) {
      const { status, err } = await cli(['convert', arg, '--to', 'edl', '-o', 'out', '--force', ...RATE], { cwd });
      expect(status).toBe(2);
      expect(err).toContain('3 logs: 1 converted, 2 failed');
      expect(err.slice(err.indexOf('not converted:\n'))).toBe(`not converted:\n  ${circle}\n  ${gone}\n`);
    }
    const { logs, problems } = await lookInto(['in'], cwd, ({ path }) => ({ log: path, cwd, folder: 'out', force: false, strict: false, reads: [], options: { to: ['edl'], maxBytes: 1e6, otio: {} } }));
    expect([[...logs.keys()], problems.map(problemLine)]).toEqual([['in/a.csv'], [circle, gone]]);
  });

  it('of recordings, behind a link below --media-root, costs no list', async () => {
    const show = JSON.stringify({ rate: '25', sources: [{ id: '1', files: [{ path: 'card2/x.wav' }] }] });
    const cwd = folderWith({ 'a.csv': LOG, 'a.show.json': show, 'card1/y.wav': '', 'card2/x.wav': 'x' });
    symlinkSync('/nowhere/x.wav', join(cwd, 'card1/x.wav'));
    const { status, err } = await cli(['convert', 'a.csv', '--media-root', '.', '--to', 'otio', '-o', 'out'], { cwd });
    expect([status, err]).toEqual([0, expect.stringContaining('card1/x.wav: warning: cannot be read: there is no such file or folder [unreadable]')]);
    expect(filesIn(cwd)).toContain('out/a.otio');
  });

  it('may lie in a folder behind a link that leads nowhere', async () => {
    const cwd = folderWith({ 'in/a.csv': LOG });
    symlinkSync('/nowhere/shows', join(cwd, 'in/shows'));
    const { status, err } = await cli(['convert', 'in', '--to', 'edl', '-o', 'out', ...RATE], { cwd });
    expect([status, err]).toEqual([2, expect.stringContaining('in/shows: error: cannot be read: there is no such file or folder [unreadable]')]);
    expect(filesIn(cwd)).toContain('out/a.edl');
  });

  it('may lie in a folder that cannot be read, and then that is said', async () => {
    const folder = folderWith({ 'shows/a.csv': LOG, 'shows/closed/b.csv': LOG });
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'shows/closed'), 0);
    try {
      for (const arg of ['shows', 'shows/**/*.csv']) {
        const { logs, problems } = await asNobody(() => expandLogs([arg], folder));
        expect(logs.map(({ path }) => path)).toEqual(['shows/a.csv']);
        expect(problems).toEqual([expect.objectContaining({ code: 'unreadable', message: 'cannot be read: permission denied', place: { file: 'shows/closed' } })]);
      }
      const { problems } = await asNobody(() => expandLogs(['shows/closed'], folder));
      expect(problems.map(({ message, place }) => [message, place])).toEqual([['cannot be read: permission denied', { file: 'shows/closed' }]]);
      // Whoever runs this may write beside the shows, root as nobody too.
      chmodSync(folder, 0o777);
      for (const [index, arg] of ['shows/closed/b.csv', 'shows/closed/*.csv'].entries()) {
        const out = `out-${String(index)}`;
        const { status, err } = await asNobody(() => cli(['convert', arg, 'shows/a.csv', '--to', 'chapters', ...RATE, '-o', out], { cwd: folder }));
        expect(status).toBe(2);
        expect(err).toMatch(/shows\/closed[^ ]*: error: cannot be read: permission denied \[unreadable\]/);
        expect(filesIn(join(folder, out))).toEqual(['a.chapters.txt']);
      }
    } finally {
      chmodSync(join(folder, 'shows/closed'), 0o755);
    }
  });
});

describe('a path that nobody can look at', () => {
  const LONG = 'x'.repeat(300);

  it('stops no other log', async () => {
    const cwd = folderWith({ 'a.csv': LOG });
    symlinkSync('circle', join(cwd, 'circle'));
    const { status, err } = await cli(['convert', 'circle', `${LONG}.csv`, 'a.csv', '--to', 'edl', ...RATE], { cwd });
    expect(status).toBe(2);
    expect(err).toContain('circle: error: cannot be read: too many links [unreadable]');
    expect(err).toContain(`${LONG}.csv: error: cannot be read: the name is too long [unreadable]`);
    expect(err).toContain('3 logs: 1 converted, 2 failed');
    expect(filesIn(cwd).filter((name) => name.endsWith('.edl'))).toEqual(['a.edl']);
  });

  it('is no folder to watch, and none to look for recordings in', async () => {
    const cwd = folderWith({ 'a.csv': LOG });
    expect(await cli(['convert', '--watch', LONG, '-o', 'out'], { cwd })).toMatchObject({ status: 2, err: `${LONG}: error: is no folder that can be watched [unreadable]\n` });
    const { status, err } = await cli(['convert', 'a.csv', '--media-root', LONG, '-o', 'out', ...RATE], { cwd });
    expect([status, err]).toEqual([2, expect.stringContaining(`${LONG}: error: cannot be read: the name is too long [unreadable]`)]);
    expect(filesIn(cwd)).toEqual(['a.csv']);
  });
});

describe('a list of names', () => {
  it('is taken line by line: blank lines, CRLF and a byte order mark are no names', async () => {
    const cwd = folderWith({ 'a.csv': LOG, 'b.csv': LOG, names: '\uFEFFa.csv\r\n\r\n  \r\nb.csv' });
    expect(await cli(['convert', '--logs-from', 'names', '-q', ...RATE], { cwd })).toMatchObject({ status: 0, err: '' });
    expect(filesIn(cwd).filter((name) => name.endsWith('.edl'))).toEqual(['a.edl', 'b.edl']);
  });

  it('with a NUL behind each is taken exactly, also blanks and line breaks in a name', async () => {
    const cwd = folderWith({ ' a.csv': LOG, 'b \n.csv': LOG });
    expect(await cli(['convert', '--logs-from', '-', '-q', ...RATE], { cwd, stdin: ' a.csv\0b \n.csv\0' })).toMatchObject({ status: 0, err: '' });
    expect(filesIn(cwd).filter((name) => name.endsWith('.edl'))).toEqual([' a.edl', 'b \n.edl']);
  });

  it('takes standard input for itself', async () => {
    const { status, err } = await cli(['convert', '-', '--logs-from', '-', ...RATE], { cwd: folderWith({ 'a.csv': LOG }), stdin: 'a.csv\n' });
    expect([status, err]).toEqual([2, '--logs-from: error: standard input holds the names of logs, so it is no log itself [bad-option]\n']);
  });

  it('says so where standard input is larger than any list', async () => {
    const limit = 512 * 1024 * 1024;
    const { status, err } = await cli(['convert', '--logs-from', '-', ...RATE], { stdin: Buffer.alloc(limit + 1) });
    expect([status, err]).toEqual([2, `log: error: standard input passes the limit of ${String(limit)} bytes; --max-bytes raises it [too-large]\n`]);
  });
});
