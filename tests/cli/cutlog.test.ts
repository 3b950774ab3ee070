/** The cutlog as the command line writes it: one for a log, from which the same lists come again. */
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source,note\n09:59:50.000,cue,2,\n10:00:00.000,start,,\n10:00:00.000,cut,"Salt &amp; pepper",\n10:00:02.500,marker,,&lt;b&gt;\n10:00:05.000,stop,,\n10:00:07.000,start,,\n10:00:08.000,cut,,\n';

describe('a cutlog', () => {
  it.each(['joined', 'gaps', 'separate'])('is one file for the log, and gives the lists again without --end: takes %s', async (takes) => {
    const folder = folderWith({ 'log.csv': LOG });
    const how = ['--takes', takes, '--to', 'edl,otio,chapters,cutlog'];
    expect((await cli(['convert', 'log.csv', '--rate', '25', '--end', '10:00:09.000', ...how, '-o', 'a'], { cwd: folder })).status).toBe(0);
    const made = filesIn(join(folder, 'a'));
    expect(made.filter((name) => name.endsWith('.cutlog.xml'))).toEqual(['log.cutlog.xml']);
    copyFileSync(join(folder, 'a/log.cutlog.xml'), join(folder, 'log.xml'));
    expect((await cli(['convert', 'log.xml', ...how, '-o', 'b'], { cwd: folder })).status).toBe(0);
    expect(filesIn(join(folder, 'b'))).toEqual(made);
    for (const name of made) expect(readFileSync(join(folder, 'b', name), 'utf8')).toBe(readFileSync(join(folder, 'a', name), 'utf8'));
  });
});
