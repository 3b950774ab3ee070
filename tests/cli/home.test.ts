/** Paths in a file are from the folder it lies in, which a link to it does not change. */
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pathOfUrl } from '../../src/file-url.js';
import { homeOf } from '../../src/cli/home.js';
import { cli, folderWith, textOf } from '../support/cli.js';

const LOG = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:10:00,stop,\n';
const SHOW = '{ "rate": "25", "sources": [{ "id": "1", "files": [{ "path": "media/wide.mov", "start": "10:00:00:00", "frames": 250 }] }] }';

/** The show file in `proj`, a link to it in `logs`, and a link `away` to the folder `proj`. */
function folders(): string {
  const cwd = folderWith({ 'proj/show.json': SHOW, 'proj/media/wide.mov': 'x', 'logs/log.csv': LOG });
  symlinkSync('../proj/show.json', join(cwd, 'logs/log.show.json'));
  symlinkSync('proj', join(cwd, 'away'));
  mkdirSync(join(cwd, 'out'));
  return cwd;
}

const urlIn = (cwd: string): string => /"target_url": ?"([^"]*)"/.exec(textOf(cwd, 'out/log.otio'))?.[1] ?? '';

describe('a show file that a link leads to', () => {
  it.each([['beside the log', []], ['given', ['--show', 'logs/log.show.json']]])('has its recordings beside itself, %s', async (_how, options) => {
    const cwd = folders();
    expect(await cli(['convert', 'logs/log.csv', '--to', 'edl,otio', '-o', 'out', ...options], { cwd })).toMatchObject({ status: 0 });
    expect(pathOfUrl(urlIn(cwd))).toBe(homeOf('proj/media/wide.mov', cwd).folder.concat('/wide.mov'));
    expect(await cli(['check', 'out/log.otio', '--files', '--show', 'proj/show.json'], { cwd })).toMatchObject({ status: 0 });
  });

  it('is written with relative paths from there', async () => {
    const cwd = folders();
    expect((await cli(['convert', 'logs/log.csv', '--to', 'otio', '-o', 'out', '--paths', 'relative'], { cwd })).status).toBe(0);
    expect(urlIn(cwd)).toBe('../proj/media/wide.mov');
  });
});

describe('homeOf', () => {
  it('follows a link to the file, and leaves the names of folders as they were given', () => {
    const cwd = folders();
    expect(homeOf('logs/log.csv', cwd)).toEqual({ folder: join(cwd, 'logs'), elsewhere: false });
    expect(homeOf('away/show.json', cwd)).toEqual({ folder: join(cwd, 'away'), elsewhere: false });
    expect(homeOf('logs/log.show.json', cwd)).toMatchObject({ elsewhere: true });
    expect(homeOf('logs/log.show.json', cwd).folder.endsWith('/proj')).toBe(true);
    expect(homeOf('not/there.json', cwd)).toEqual({ folder: join(cwd, 'not'), elsewhere: false });
  });
});
