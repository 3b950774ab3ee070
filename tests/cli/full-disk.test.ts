/** A disk that is full behind standard output or standard error: a word, and status 2. As a process: tests/interop/full-disk.test.ts. */
import { describe, expect, it } from 'vitest';
import { NOWHERE, EdgeError, type Io, type Sink } from '../../src/cli/io.js';
import { run } from '../../src/cli/program.js';
import { folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const full: Sink = { ...NOWHERE, write: () => Promise.reject(new EdgeError('standard output cannot be written: the disk is full')) };

describe('standard output that is full', () => {
  it.each(['--version', '--help', 'help', 'help convert', 'convert --help', 'convert log.csv --rate 25 --to edl -o - -q'])('is said of %s', async (words) => {
    let said = '';
    const err = { ...NOWHERE, write: (text: string) => { said += text; return Promise.resolve(); } };
    const io: Io = { cwd: folderWith({ 'log.csv': LOG }), env: {}, out: full, err, readStdin: () => Promise.resolve(undefined) };
    expect(await run(words.split(' '), io)).toBe(2);
    expect(said).toContain('error: standard output cannot be written: the disk is full');
  });

  it('leaves the status alone to say it where standard error is full too', async () => {
    const io: Io = { cwd: '/', env: {}, out: full, err: full, readStdin: () => Promise.resolve(undefined) };
    for (const argv of [['--version'], [], ['frob'], ['convert', 'gone.csv']]) expect(await run(argv, io)).toBe(2);
  });
});
