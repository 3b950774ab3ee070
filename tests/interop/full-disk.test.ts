/** A batch whose report goes to a full disk: a word, status 2, no stack trace, no half-written file. */
import { spawnSync } from 'node:child_process';
import { closeSync, openSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const bin = fileURLToPath(new URL('../../bin/linecut.js', import.meta.url));

// A device that is always full (Linux man-pages, full(4)).
it('stops with a word, and what is written is whole', () => {
  const folder = folderWith(Object.fromEntries(Array.from({ length: 120 }, (_, index) => [`in/s${String(index)}.csv`, LOG])));
  const device = openSync('/dev/full', 'w');
  const done = spawnSync(process.execPath, [bin, 'convert', 'in', '--rate', '25', '--to', 'edl', '-o', 'out', '--json', '--jobs', '3'], { cwd: folder, encoding: 'utf8', stdio: ['ignore', device, 'pipe'] });
  closeSync(device);
  expect(done.status).toBe(2);
  expect(done.stderr.trimEnd().split('\n').at(-1)).toBe('error: standard output cannot be written: the disk is full [unreadable]');
  expect(done.stderr).not.toMatch(/^\s+at /m);
  expect(filesIn(join(folder, 'out')).filter((name) => !name.endsWith('.edl'))).toEqual([]);
}, 60_000);
