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

  // A show file's `log` says how a foreign log is read; what linecut made of it is not read that way a second time.
  const FOREIGN: readonly (readonly [what: string, show: object, log: string])[] = [
    ['labels of frame pairs', { rate: '59.94df', log: { rate: '29.97df' } }, 'time,action,source,end\n23:59:50;00,start,,\n23:59:50;00,cut,1,\n00:00:10;05,dissolve,2,00:00:11;05\n00:01:50;00,stop,,\n'],
    ['own words', { rate: '25', log: { fields: { time: 'when' }, actions: { TAKE: 'cut', cut: 'ignore' }, sources: { 1: '2', 2: '1' } } }, 'when,action,source\n10:00:00:00,TAKE,1\n10:00:10:00,TAKE,2\n10:00:20:00,stop,\n'],
    ['rows that are shots', { rate: '25', log: { rowsAre: 'shots' } }, 'start,end,source,note\n10:00:00:00,10:00:05:00,1,a\n10:00:07:00,10:00:09:00,2,b\n'],
    ['clock times in a zone', { rate: '25', log: { timeAs: 'clock', clockFormat: 'dd.MM.yyyy HH:mm:ss', zone: 'Europe/Lisbon' } }, 'time,action,source\n01.05.2026 10:00:00,start,\n01.05.2026 10:00:00,cut,1\n01.05.2026 10:00:09,cut,2\n01.05.2026 10:00:20,stop,\n'],
    ['milliseconds with a decimal comma', { rate: '25', log: { timeAs: 'milliseconds', decimal: ',', delimiter: ';', skipLines: 1 } }, 'export\ntime;action;source\n0;start;\n0;cut;1\n1040,0;cut;2\n5000;stop;\n'],
    ['another encoding', { rate: '25', log: { encoding: 'windows-1252' } }, 'time,action,source\n10:00:00:00,cut,K\u00fcche\n10:00:10:00,cut,2\n10:00:20:00,stop,\n'],
    ['rows of XML', { rate: '25', log: { rows: '/session/item', fields: { time: '@at', action: 'do', source: '@bus' } } }, '<session><item at="10:00:00:00" bus="1"><do>cut</do></item><item at="10:00:10:00" bus="2"><do>cut</do></item><item at="10:00:20:00"><do>stop</do></item></session>'],
  ];

  it.each(FOREIGN)('gives the same lists with the same show file: a log of %s', async (_, show, log) => {
    const encoded = JSON.stringify(show).includes('windows-1252') ? Buffer.from(log, 'latin1') : log;
    const folder = folderWith({ 'log.csv': encoded, 'the.show.json': JSON.stringify({ title: 'Show', ...show }) });
    const how = ['--show', 'the.show.json', '--to', 'edl,cutlog'];
    expect(await cli(['convert', 'log.csv', ...how, '-o', 'a'], { cwd: folder })).toMatchObject({ status: 0 });
    copyFileSync(join(folder, 'a/log.cutlog.xml'), join(folder, 'log.xml'));
    const again = await cli(['convert', 'log.xml', ...how, '-o', 'b'], { cwd: folder });
    expect(again).toMatchObject({ status: 0 });
    expect(again.err).toContain('log.xml: note: a cutlog says itself how it is read; log in the.show.json is not used for it');
    for (const name of filesIn(join(folder, 'a'))) expect(readFileSync(join(folder, 'b', name), 'utf8')).toBe(readFileSync(join(folder, 'a', name), 'utf8'));
    const compared = await cli(['compare', 'log.csv', 'log.xml', '--show', 'the.show.json'], { cwd: folder });
    expect(compared).toMatchObject({ status: 0, out: '' });
  });

  it('gives the same lists where a source is synced by a label of the log it was made of', async () => {
    const show = { rate: '59.94ndf', log: { rate: '29.97ndf' }, sources: [{ id: '1' }, { id: '2', sync: { this: '01:00:00:00', is: '10:00:00:15' } }] };
    const log = 'time,action,source,duration\n10:00:00:00,cut,1,\n10:00:01:15,dissolve,2,00:00:00:10\n10:00:12:15,stop,,\n';
    const folder = folderWith({ 'log.csv': log, 'the.show.json': JSON.stringify(show) });
    const how = ['--show', 'the.show.json', '--to', 'edl,cutlog'];
    expect(await cli(['convert', 'log.csv', ...how, '-o', 'a'], { cwd: folder })).toMatchObject({ status: 0 });
    copyFileSync(join(folder, 'a/log.cutlog.xml'), join(folder, 'log.xml'));
    expect(await cli(['convert', 'log.xml', ...how, '-o', 'b'], { cwd: folder })).toMatchObject({ status: 0 });
    const [made, again] = ['a', 'b'].map((out) => readFileSync(join(folder, out, 'log.edl'), 'utf8'));
    // A second of labels behind the common moment, at 30 of them a second, is 60 frames.
    expect(made).toMatch(/^002 {2}2 .* 01:00:01:00 01:00:12:00 01:00:01:30 01:00:12:30\r$/m);
    expect(again).toBe(made);
  });

  it('gives the same lists where clock times are tied to a label before midnight', async () => {
    const files = [{ path: 'two.mov', rate: '25', start: '00:00:30:00', frames: 3000 }];
    const show = { rate: '29.97df', sources: [{ id: '1' }, { id: '2', files }] };
    const log = 'time,action,source\n00:01:00.000,start,\n00:01:00.000,cut,1\n00:01:10.000,cut,2\n00:01:30.000,stop,\n';
    const folder = folderWith({ 'log.csv': log, 'the.show.json': JSON.stringify(show) });
    const how = ['--show', 'the.show.json', '--to', 'edl,otio,cutlog', '--angles'];
    expect(await cli(['convert', 'log.csv', ...how, '--anchor', '23:50:00=23:50:00;00', '-o', 'a'], { cwd: folder })).toMatchObject({ status: 0 });
    copyFileSync(join(folder, 'a/log.cutlog.xml'), join(folder, 'log.xml'));
    expect(await cli(['convert', 'log.xml', ...how, '-o', 'b'], { cwd: folder })).toMatchObject({ status: 0 });
    const [made, again] = ['a', 'b'].map((out) => readFileSync(join(folder, out, 'log.edl'), 'utf8'));
    expect(made).toContain(' 00:01:10:00 00:01:30:00 ');
    expect(again).toBe(made);
    const clips = (out: string): unknown[] => {
      const ranges: unknown[] = [];
      JSON.stringify(JSON.parse(readFileSync(join(folder, out, 'log.otio'), 'utf8')), (key, value: unknown) => {
        if (key === 'source_range') ranges.push(value);
        return value;
      });
      return ranges;
    };
    expect(clips('a').length).toBeGreaterThan(2);
    expect(clips('b')).toEqual(clips('a'));
  });

  it('that counts frame pairs by its own word is read so where the show file says it too', async () => {
    const log = '<!-- by a switcher --><cutlog rate="29.97df" timeAs="timecode"><event time="00:00:10;00" source="1"/><event time="00:00:20;00" action="stop"/></cutlog>';
    const folder = folderWith({ 'log.xml': log, 'log.show.json': JSON.stringify({ rate: '59.94df', log: { rate: '29.97df' } }) });
    const { out } = await cli(['convert', 'log.xml', '--json', '-o', 'a'], { cwd: folder });
    expect(JSON.parse(out)).toMatchObject({ rate: '59.94', frames: 600 });
  });

  it('that says nothing of its times takes what the show file says', async () => {
    const log = '<cutlog><event time="0" source="1"/><event time="10000" action="stop"/></cutlog>';
    const folder = folderWith({ 'log.xml': log, 'log.show.json': JSON.stringify({ rate: '25', log: { timeAs: 'milliseconds' } }) });
    const { out } = await cli(['convert', 'log.xml', '--json', '-o', 'a'], { cwd: folder });
    expect(JSON.parse(out)).toMatchObject({ frames: 250 });
  });
});
