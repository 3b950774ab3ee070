/** Corrections lie beside the log that they are for: whoever looks for logs there is not to make a list of them. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lookInto } from '../../src/cli/watch-look.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n01:00:00:00,cut,1\n01:00:05:00,cut,2\n01:00:10:00,stop,\n';
const FIX = 'do,at,expect,source\nsource,01:00:05:00,2,1\n';
const MARKS = '\ufeff"do";at;note\nadd-marker;01:00:05:00;Boil\n';
const EDLS = ['--rate', '25', '--to', 'edl', '-o', 'out'];

const edlsIn = (cwd: string): string[] => filesIn(cwd).filter((name) => name.endsWith('.edl'));

describe('a corrections file beside a log', () => {
  it.each([['in'], ['in/*.csv'], ['in/**/*']])('is no log where %s finds it, and a note says so', async (arg) => {
    const cwd = folderWith({ 'in/show.csv': LOG, 'in/fix.csv': FIX, 'in/marks.csv': MARKS });
    const { status, out, err } = await cli(['convert', arg, ...EDLS, '--json'], { cwd });
    expect([status, edlsIn(cwd)]).toEqual([0, ['out/show.edl']]);
    expect(err).toContain('in/fix.csv: corrections, left out\nin/marks.csv: corrections, left out\n');
    expect(err).toContain('1 log: 1 converted, 0 failed');
    const [fix] = out.split('\n').map((line) => JSON.parse(line || '{}') as { log: string; problems: { code: string; severity: string }[] });
    expect(fix).toMatchObject({ log: 'in/fix.csv', outputs: [], problems: [{ code: 'found', severity: 'note' }] });
  });

  it.each([
    ['do,at,to,note\ntitle,,New title,\nremove-marker,01:00:00:10,,x\n'], ['do,to\ntitle,New\n'], ['do;to\nrate;30\n'], ['to,do\n02:00:00:00,record-start\n'],
    [Buffer.from(`\ufeff${FIX}`, 'utf16le')],
  ])('is known in any form: %j', async (fix) => {
    const cwd = folderWith({ 'in/show.csv': LOG });
    writeFileSync(join(cwd, 'in/fix.csv'), fix);
    expect(await cli(['convert', 'in', ...EDLS, '-q'], { cwd })).toEqual({ status: 0, out: '', err: '' });
    expect(edlsIn(cwd)).toEqual(['out/show.edl']);
  });

  it('is left out also with --resume, alone in its folder, and of what --explain explains', async () => {
    const cwd = folderWith({ 'in/fix.csv': FIX });
    for (const how of [[], ['--resume'], ['--explain']]) {
      const { status, out, err } = await cli(['convert', 'in', ...EDLS, ...how], { cwd });
      expect([status, out, err]).toEqual([0, '', 'in/fix.csv: note: a corrections file, no log: left out; --corrections gives it to the log that it is for [found]\n']);
    }
    expect(edlsIn(cwd)).toEqual([]);
  });

  it('is not counted as a second log where it is what --corrections names', async () => {
    const cwd = folderWith({ 'in/show.csv': LOG, 'in/fix.csv': FIX });
    expect(await cli(['convert', 'in', ...EDLS, '--corrections', 'in/fix.csv', '-q'], { cwd })).toEqual({ status: 0, out: '', err: '' });
    expect(edlsIn(cwd)).toEqual(['out/show.edl']);
  });

  it.each([['convert', 'fix.csv', ...EDLS], ['convert', '--explain', 'fix.csv'], ['compare', 'fix.csv', 'show.csv', '--rate', '25', '-q']])('is an error where it is named as the log: %s %s', async (...args) => {
    const cwd = folderWith({ 'show.csv': LOG, 'fix.csv': FIX });
    const { status, err } = await cli(args, { cwd });
    expect(err).toBe('fix.csv: error: is a corrections file, not a log; give it with --corrections, beside the log whose list it corrects [no-events]\n');
    expect([status > 0, edlsIn(cwd)]).toEqual([true, []]);
  });

  it('is told from a log in a watched folder too', async () => {
    const cwd = folderWith({ 'in/fix.csv': FIX });
    const jobs: boolean[] = [];
    await lookInto(['in'], cwd, (log) => {
      jobs.push(log.found === true);
      return { log: log.path, cwd, folder: 'out', force: false, strict: false, reads: [], options: { to: ['edl'], maxBytes: 1e6, otio: {} } };
    });
    expect(jobs).toEqual([true]);
  });
});
