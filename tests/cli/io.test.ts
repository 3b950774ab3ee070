/** What the process stands on, as a real process. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { folderWith } from '../support/cli.js';

const BIN = fileURLToPath(new URL('../../bin/linecut.js', import.meta.url));

describe('a current folder that was removed', () => {
  const gone = (args: string): { status: number | null; stdout: string; stderr: string } =>
    spawnSync('sh', ['-c', `mkdir gone && cd gone && rmdir ../gone && exec "$0" "$1" ${args}`, process.execPath, BIN], { cwd: folderWith(), encoding: 'utf8' });

  it.each(['convert show.csv --rate 25', 'check show.csv', 'compare a.edl b.edl', 'media .', 'picture show.csv -o a.svg'])('is said: %s', (args) => {
    const { status, stdout, stderr } = gone(args);
    expect(stderr).toBe('error: the current folder cannot be used: there is no such file or folder; change to one that is there [unreadable]\n');
    expect([status, stdout]).toEqual([2, '']);
  });

  it('is nothing to what needs no folder', () => {
    expect(gone('--version')).toMatchObject({ status: 0, stdout: expect.stringMatching(/^linecut \d/) as string, stderr: '' });
  });
});
