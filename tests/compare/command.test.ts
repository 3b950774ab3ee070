/** `linecut compare`, and the adjusting options of `convert`, as calls. */
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith, textOf } from '../support/cli.js';

const LOG = [
  'time,action,source,duration,note', '10:00:00:00,start,,,', '10:00:00:00,cut,1,,', '10:00:04:00,marker,,,Opening', '10:00:10:00,dissolve,2,25,',
  '10:00:20:00,cut,3,,', '10:00:20:03,cut,2,,', '10:00:30:00,cut,1,,', '10:00:40:00,stop,,,', '',
].join('\n');
const at25 = ['--rate', '25', '--audio', 'follow'];

describe('convert with rules', () => {
  it('applies them in their order, and says what each did', async () => {
    const folder = folderWith({ 'log.csv': LOG });
    const { status, err } = await cli(['convert', 'log.csv', ...at25, '--cuts-only', '--min-shot', '5', '--lead', '6', '--lag', '1=2', '--to', 'edl'], { cwd: folder });
    expect(status).toBe(0);
    expect(err.split('\n').filter((line) => line.includes('[adjusted]'))).toEqual([
      '--lead: note: 4 switches moved earlier [adjusted]',
      '--lag: note: 1 switch moved later [adjusted]',
      '--min-shot: note: 1 shot under 5 frames went to a neighbour (1 to the previous one, 0 to the next), once the shots on both sides became one [adjusted]',
      '--cuts-only: note: 1 transition became a cut [adjusted]',
    ]);
    const events = textOf(folder, 'log.edl').split('\r\n').filter((line) => /^\d/.test(line)).map((line) => line.slice(5));
    expect(events).toEqual([
      '1        AA/V  C        10:00:00:00 10:00:09:19 01:00:00:00 01:00:09:19', '2        AA/V  C        10:00:09:19 10:00:29:21 01:00:09:19 01:00:29:21',
      '1        AA/V  C        10:00:29:21 10:00:40:00 01:00:29:21 01:00:40:00',
    ]);
  });

  it('refuses what cannot be meant', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'b.csv': LOG, 'fix.csv': 'do,at\n' });
    const refused = async (...options: string[]): Promise<string> => {
      const { status, err } = await cli(['convert', ...options], { cwd: folder });
      expect(status).toBe(2);
      return err;
    };
    expect(await refused('log.csv', ...at25, '--lead', 'x')).toBe("--lead: error: 'x' is not frames (6), or a source and frames (4=6) [bad-option]\n");
    expect(await refused('log.csv', ...at25, '--lead', '4=-2')).toContain('for the other direction use --lag');
    expect(await refused('log.csv', ...at25, '--lead', '1', '--lead', '2')).toContain('frames for all sources are given twice');
    expect(await refused('log.csv', ...at25, '--absorb', 'next')).toContain('--absorb: error:');
    expect(await refused('log.csv', ...at25, '--dissolve-all', '5', '--cuts-only')).toContain('--dissolve-all: error:');
    expect(await refused('log.csv', 'b.csv', ...at25, '--corrections', 'fix.csv')).toContain('corrections are of one list, and there are 2 logs');
    expect(await refused('log.csv', ...at25, '--corrections', 'fix.csv', '--takes', 'separate')).toContain('--takes separate makes several');
    expect(await refused('log.csv', ...at25, '--corrections', 'none.csv')).toContain('none.csv: error: cannot be read');
    expect(await refused('log.csv', ...at25, '--lead', '9=2')).toContain("--lead: error: source '9' is not known");
    expect(filesIn(folder)).toEqual(['b.csv', 'fix.csv', 'log.csv']);
  });

  it('writes nothing when a correction does not fit', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'fix.csv': 'do,at,expect,to\nstart,01:00:10:00,2,5 later\nstart,01:00:20:00,1,5 later\n' });
    const { status, err } = await cli(['convert', 'log.csv', ...at25, '--corrections', 'fix.csv'], { cwd: folder });
    expect(status).toBe(1);
    expect(err).toContain('fix.csv:3: error: start: it expects 1, and shot 3 is 3 from 01:00:20:00 [correction-mismatch]');
    expect(filesIn(folder)).toEqual(['fix.csv', 'log.csv']);
  });

  it('does not write over its corrections file, and sees with --resume that it changed', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'fix.csv': 'do,at,expect,to\nstart,01:00:10:00,2,5 later\n' });
    const call = ['convert', 'log.csv', ...at25, '--corrections', 'fix.csv', '--resume', '--to', 'edl'];
    expect((await cli(call, { cwd: folder })).err).not.toContain('current');
    expect((await cli(call, { cwd: folder })).err).toContain('log.csv: current, nothing to do');
    const { writeFileSync } = await import('node:fs');
    writeFileSync(`${folder}/fix.csv`, 'do,at,expect,to\nstart,01:00:10:00,2,6 later\n');
    expect((await cli(call, { cwd: folder })).err).not.toContain('current');
    expect(textOf(folder, 'log.edl')).toContain('01:00:10:06');
    expect((await cli([...call.slice(0, 5), '--lead', '1', ...call.slice(7)], { cwd: folder })).err).not.toContain('current');
    expect((await cli([...call.slice(0, 5), '--lead', '2=3', ...call.slice(7)], { cwd: folder })).err).not.toContain('current');
    expect((await cli([...call.slice(0, 5), '--lead', '2=4', ...call.slice(7)], { cwd: folder })).err).not.toContain('current');
  });
});

describe('compare', () => {
  const made = async (): Promise<string> => {
    const folder = folderWith({ 'log.csv': LOG });
    await cli(['convert', 'log.csv', ...at25, '-o', 'a'], { cwd: folder });
    await cli(['convert', 'log.csv', ...at25, '-o', 'b', '--lead', '6', '--min-shot', '5', '--dissolve-all', '8'], { cwd: folder });
    return folder;
  };

  it('says nothing and gives 0 for the same list in other formats', async () => {
    const folder = await made();
    for (const [a, b] of [['a/log.edl', 'a/log.otio'], ['a/log.otio', 'a/log.edl'], ['log.csv', 'a/log.otio'], ['a/log.edl', 'log.csv'], ['log.csv', 'log.csv']] as const) {
      expect(await cli(['compare', a, b, ...at25], { cwd: folder }), `${a} ${b}`).toEqual({ status: 0, out: '', err: '' });
    }
  });

  it('compares a log as it is adjusted', async () => {
    const folder = await made();
    const rules = ['--lead', '6', '--min-shot', '5', '--dissolve-all', '8'];
    for (const pair of [['log.csv', 'b/log.otio'], ['b/log.edl', 'log.csv']]) {
      expect((await cli(['compare', ...pair, ...at25], { cwd: folder })).status).toBe(1);
      expect(await cli(['compare', ...pair, ...at25, ...rules, '-q'], { cwd: folder })).toEqual({ status: 0, out: '', err: '' });
    }
    await cli(['compare', 'log.csv', 'a/log.otio', ...at25, ...rules, '--write-corrections', 'fix.csv'], { cwd: folder });
    expect((await cli(['compare', 'log.csv', 'a/log.otio', ...at25, ...rules, '--corrections', 'fix.csv', '-q'], { cwd: folder })).status).toBe(0);
    const refused = async (...args: string[]): Promise<string> => {
      const { status, err } = await cli(['compare', ...args, ...at25], { cwd: folder });
      expect(status).toBe(2);
      return err;
    };
    expect(await refused('a/log.edl', 'b/log.otio', '--lead', '6')).toBe('--lead: error: neither of the two is a log, and only a log is adjusted here [bad-option]\n');
    expect(await refused('log.csv', 'log.csv', ...rules, '--corrections', 'fix.csv')).toContain('corrections are of one list, and there are 2 logs');
    expect(await refused('log.csv', 'a/log.edl', '--corrections', 'fix.csv', '--write-corrections', 'more.csv')).toContain('give --corrections or --write-corrections');
  });

  it('lists what is different and gives 1', async () => {
    const folder = await made();
    const { status, out } = await cli(['compare', 'a/log.edl', 'b/log.otio'], { cwd: folder });
    expect(status).toBe(1);
    expect(out).toBe([
      '01:00:10:00>01:00:09:19  shot 2  2 begins 6 frames earlier', '01:00:10:00>01:00:09:19  shot 2  dissolve of 25 frames became dissolve of 8 frames',
      '01:00:20:00  shot 3>-  3 removed, 3 frames', '01:00:20:03  shot 4>-  2 removed, 247 frames',
      '01:00:30:00>01:00:29:19  shot 5>3  1 begins 6 frames earlier', '01:00:30:00>01:00:29:19  shot 5>3  cut became dissolve of 8 frames', '',
    ].join('\n'));
    const json = JSON.parse((await cli(['compare', 'a/log.edl', 'b/log.otio', '--json'], { cwd: folder })).out) as { same: boolean; differences: { kind: string; frames?: number; a?: { shot: number; frame: number } }[] };
    expect(json.same).toBe(false);
    expect(json.differences[0]).toMatchObject({ kind: 'moved', frames: -6, a: { shot: 2, frame: 250, at: '01:00:10:00' }, b: { shot: 2, frame: 244 } });
    expect((await cli(['compare', 'a/log.edl', 'b/log.otio', '--within', '6'], { cwd: folder })).out).not.toContain('begins');
  });

  it('prints its object with what was wrong, where nothing could be compared or written', async () => {
    const folder = await made();
    const told = async (...args: string[]): Promise<{ status: number; same: boolean | null; differences: number; codes: string[] }> => {
      const { status, out } = await cli(['compare', ...args, '--json', '-q'], { cwd: folder });
      const { same, differences, problems } = JSON.parse(out) as { same: boolean | null; differences: unknown[]; problems: { code: string; severity: string }[] };
      return { status, same, differences: differences.length, codes: problems.filter(({ severity }) => severity === 'error').map(({ code }) => code) };
    };
    expect(await told('a/log.otio', 'b/log.otio')).toEqual({ status: 1, same: false, differences: 6, codes: [] });
    expect(await told('a/log.otio', 'none.otio')).toEqual({ status: 2, same: null, differences: 0, codes: ['unreadable'] });
    expect(await told('a/log.otio', 'log.csv')).toEqual({ status: 2, same: null, differences: 0, codes: ['bad-rate'] });
    expect(await told('a/log.otio', 'log.csv', '--map', 'none.json')).toEqual({ status: 2, same: null, differences: 0, codes: ['unreadable'] });
    expect(await told('a/log.otio', 'b/log.otio', '--write-corrections', 'log.csv')).toEqual({ status: 2, same: false, differences: 6, codes: ['file-exists'] });
  });

  it('writes corrections that lead from A to B, to the byte', async () => {
    const folder = await made();
    for (const name of ['fix.csv', 'fix.json']) {
      const { status, err } = await cli(['compare', 'a/log.otio', 'b/log.otio', '--write-corrections', name], { cwd: folder });
      expect([status, err]).toEqual([1, `6 corrections: ${name}\n`]);
      const out = `out-${name}`;
      expect((await cli(['convert', 'log.csv', ...at25, '--corrections', name, '-o', out], { cwd: folder })).status).toBe(0);
      for (const file of ['log.edl', 'log.otio', 'log.chapters.txt']) expect(textOf(folder, `${out}/${file}`)).toBe(textOf(folder, `b/${file}`));
    }
    expect((await cli(['compare', 'a/log.edl', 'b/log.edl', '--write-corrections', 'fix.csv'], { cwd: folder })).err).toContain('fix.csv: error: is there already; --force replaces it [file-exists]');
    expect(await cli(['check', 'fix.csv', 'fix.json'], { cwd: folder })).toMatchObject({ status: 0, out: 'fix.csv: corrections, sound\nfix.json: corrections, sound\n' });
  });

  it('counts one correction as one', async () => {
    const folder = folderWith({ 'a/log.csv': LOG, 'b/log.csv': LOG.replace('10:00:20:00,cut,3', '10:00:20:02,cut,3') });
    const { status, err } = await cli(['compare', 'a/log.csv', 'b/log.csv', ...at25, '--write-corrections', 'fix.csv'], { cwd: folder });
    expect([status, err]).toEqual([1, '1 correction: fix.csv\n']);
  });

  it('writes corrections for a list that was read, too', async () => {
    const folder = await made();
    await cli(['compare', 'a/log.edl', 'b/log.otio', '--write-corrections', 'fix.csv'], { cwd: folder });
    expect((await cli(['convert', 'a/log.edl', '--corrections', 'fix.csv', '-o', 'c'], { cwd: folder })).status).toBe(0);
    expect(await cli(['compare', 'c/log.otio', 'b/log.edl'], { cwd: folder })).toEqual({ status: 0, out: '', err: '' });
    expect(textOf(folder, 'c/log.edl')).toBe(textOf(folder, 'b/log.edl'));
  });

  it.each(['none', 'None', 'follow', 'black'])('writes corrections for a source that is called %s, in a list or a log', async (word) => {
    const edl = (more: number): string => [
      'TITLE: x', 'FCM: NON-DROP FRAME', `001  AX       AA/V  C        00:00:0${String(more)}:00 00:00:0${String(4 + more)}:00 01:00:00:00 01:00:04:00`,
      `* FROM CLIP NAME: ${word}`, '002  BL       V     C        00:00:00:00 00:00:02:00 01:00:04:00 01:00:06:00', '',
    ].join('\r\n');
    const clip = (at: number): object => ({
      OTIO_SCHEMA: 'Clip.1', name: word, media_reference: { OTIO_SCHEMA: 'ExternalReference.1', target_url: 'm/c.mov' },
      source_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: { OTIO_SCHEMA: 'RationalTime.1', rate: 25, value: at }, duration: { OTIO_SCHEMA: 'RationalTime.1', rate: 25, value: 80 } },
    });
    const otio = (at: number): string => JSON.stringify({
      OTIO_SCHEMA: 'Timeline.1', name: 'x', tracks: { OTIO_SCHEMA: 'Stack.1', children: ['Video', 'Audio'].map((kind) => ({ OTIO_SCHEMA: 'Track.1', kind, children: [clip(at)] })) },
    });
    const log = (at: number): string => `time,action,source\n0,start,\n0,cut,1\n${String(at)},cut,${word}\n80,cut,2\n100,stop,\n`;
    const folder = folderWith({ 'a.edl': edl(0), 'b.edl': edl(1), 'a.otio': otio(10), 'b.otio': otio(20), 'a.csv': log(40), 'b.csv': log(30) });
    for (const ending of ['edl', 'otio', 'csv']) {
      const sound = ending === 'csv' ? ['--audio', 'follow'] : [];
      const [a, b] = [`a.${ending}`, `b.${ending}`];
      expect((await cli(['compare', a, b, '--rate', '25', ...sound, '--write-corrections', `${ending}-fix.csv`], { cwd: folder })).status).toBe(1);
      expect((await cli(['convert', a, '--rate', '25', ...sound, '--corrections', `${ending}-fix.csv`, '-o', ending], { cwd: folder })).status).toBe(0);
      expect(await cli(['compare', `${ending}/a.otio`, b, '--rate', '25', ...sound], { cwd: folder })).toMatchObject({ status: 0, out: '' });
    }
  });

  it("warns where B plays frames that A's recording does not have, for corrections cannot bring them", async () => {
    const range = (start: number, frames: number): object => ({
      OTIO_SCHEMA: 'TimeRange.1', start_time: { OTIO_SCHEMA: 'RationalTime.1', rate: 25, value: start }, duration: { OTIO_SCHEMA: 'RationalTime.1', rate: 25, value: frames },
    });
    const otio = (has: number, plays: number): string => JSON.stringify({
      OTIO_SCHEMA: 'Timeline.1', name: 'a', tracks: { OTIO_SCHEMA: 'Stack.1', children: [{ OTIO_SCHEMA: 'Track.1', kind: 'Video', children: [{
        OTIO_SCHEMA: 'Clip.1', name: 'CAM', source_range: range(10, plays), media_reference: { OTIO_SCHEMA: 'ExternalReference.1', target_url: 'm/c.mov', available_range: range(0, has) },
      }] }] },
    });
    const folder = folderWith({ 'a.otio': otio(100, 80), 'b.otio': otio(500, 200), 'c.otio': otio(500, 85) });
    const said = async (b: string): Promise<string> => (await cli(['compare', 'a.otio', b, '--write-corrections', 'fix.csv', '--force'], { cwd: folder })).err;
    expect(await said('b.otio')).toContain("warning: B plays 110 frames of CAM that A's recording does not have: what the corrections give differs there [beyond-recording]");
    expect(await said('c.otio')).toBe('1 correction: fix.csv\n');
  });

  it('takes all parts of a divided EDL', async () => {
    const { edlOf, otioOf } = await import('../check/written.js');
    const { listOf } = await import('../support/small.js');
    const list = listOf(Array.from({ length: 1200 }, (_, index) => `${String(1 + (index % 4))}:20`).join(' '));
    const folder = folderWith(Object.fromEntries([...edlOf(list), otioOf(list)].map(({ name, text }) => [name, text])));
    expect(filesIn(folder)).toEqual(['show-1.edl', 'show-2.edl', 'show.otio']);
    expect(await cli(['compare', 'show-1.edl', 'show.otio'], { cwd: folder })).toEqual({ status: 0, out: '', err: '' });
    expect((await cli(['compare', 'show-2.edl', 'show.otio'], { cwd: folder })).status).toBe(1);
  });

  it('gives 2 for trouble', async () => {
    const folder = await made();
    expect((await cli(['compare', 'a/log.edl', 'none.edl'], { cwd: folder })).status).toBe(2);
    expect((await cli(['compare', 'a/log.edl'], { cwd: folder })).status).toBe(2);
    expect((await cli(['compare', 'a/log.edl', 'log.csv', '--map', 'none.json'], { cwd: folder })).status).toBe(2);
    expect((await cli(['compare', 'a/log.edl', 'log.csv', '--within', '-1'], { cwd: folder })).status).toBe(2);
    expect(await cli(['compare', 'a/log.edl', 'log.csv'], { cwd: folder })).toMatchObject({ status: 2, out: '' });
  });

  it('prints its object also where standard input was given twice', async () => {
    const { status, out, err } = await cli(['compare', '-', '-', '--json'], { stdin: '' });
    expect([status, err]).toEqual([2, expect.stringContaining('given twice')]);
    expect(JSON.parse(out)).toMatchObject({ a: '-', b: '-', same: null, differences: [], problems: [{ code: 'bad-option', severity: 'error' }] });
  });

  it('reads one of the two from standard input', async () => {
    const folder = await made();
    expect(await cli(['compare', '-', 'a/log.otio'], { cwd: folder, stdin: textOf(folder, 'a/log.edl') })).toEqual({ status: 0, out: '', err: '' });
  });
});
