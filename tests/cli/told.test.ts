/** What `linecut convert` tells of a log: every line and object names it, counts are those of the list. */
import { describe, expect, it } from 'vitest';
import { cli, folderWith, textOf } from '../support/cli.js';

const LOG = 'time,action,source,duration\n10:00:00:00,start,,\n10:00:00:00,cut,1,\n10:00:10:00,dissolve,2,25\n10:05:00:00,stop,,\n';
const LONG = LOG.replace('2,25', '2,1200');
const at25 = ['--rate', '25'];

interface Told {
  readonly log: string;
  readonly outputs: readonly { readonly format: string }[];
  readonly shots: number | null;
  readonly frames: number | null;
  readonly sources: readonly { readonly id: string; readonly shots: number; readonly frames: number }[];
  readonly problems: readonly { readonly code: string; readonly severity: string; readonly file: string | null; readonly message: string }[];
}

const told = (text: string): Told[] => text.trimEnd().split('\n').map((line) => JSON.parse(line) as Told);

describe('what is said of a list as a whole', () => {
  it('names its log, so that many logs can be told apart', async () => {
    const folder = folderWith({ 'a.csv': LONG, 'b.csv': LOG, 'c.csv': LONG });
    const { status, err, out } = await cli(['convert', 'a.csv', 'b.csv', 'c.csv', ...at25, '-o', 'lists', '--json'], { cwd: folder });
    expect(status).toBe(1);
    const lines = err.split('\n');
    for (const log of ['a.csv', 'c.csv']) {
      const line = `${log}: error: the dissolve to 2 at 01:00:10:00 takes 1200 frames; an EDL has room for 999 at most [long-transition]`;
      expect(lines).toContain(line);
      expect(lines.slice(lines.indexOf('with errors, and lists written all the same:'))).toContain(`  ${line}`);
      expect(lines).toContain(`${log}: has errors; 2 lists written all the same`);
    }
    for (const { log, problems } of told(out)) {
      expect(problems.length).toBeGreaterThan(0);
      for (const { file } of problems) expect(file).toBe(log);
    }
  });

  it('warns of an EDL of an earlier run that stays where the new list cannot be one, with --force and without', async () => {
    const warning = (name: string): string => `lists/${name}.edl: warning: is of an earlier run: this list could not be written as an EDL [file-exists]\n`;
    const folder = folderWith({ 'a.csv': LONG, 'b.csv': LONG, 'b-1.csv': LOG, 'lists/a.edl': 'TITLE: a\n', 'lists/b-1.edl': 'TITLE: b\n', 'lists/b-1.otio': '{}' });
    for (const how of [['--to', 'edl,otio'], ['--force']]) {
      const { status, err } = await cli(['convert', 'a.csv', ...at25, '-o', 'lists', ...how], { cwd: folder });
      expect([status, err]).toEqual([1, expect.stringContaining(warning('a'))]);
      expect(textOf(folder, 'lists/a.edl')).toBe('TITLE: a\n');
    }
    // Strict takes no warning.
    const strict = await cli(['convert', 'a.csv', ...at25, '-o', 'lists', '--force', '--strict', '--audio', 'none'], { cwd: folder });
    expect([strict.status, strict.err]).toEqual([2, expect.stringContaining(warning('a').replace('warning', 'error'))]);
    // Another log's EDL is nobody's old one; and who asks for no EDL misses none.
    expect((await cli(['convert', 'b.csv', ...at25, '-o', 'lists'], { cwd: folder })).err).not.toContain('earlier run');
    expect((await cli(['convert', 'a.csv', ...at25, '-o', 'lists', '--force', '--to', 'otio'], { cwd: folder })).err).not.toContain('earlier run');
    // The first of several parts is one too.
    const parts = folderWith({ 'a.csv': LONG, 'lists/a-1.edl': 'TITLE: a\n' });
    expect((await cli(['convert', 'a.csv', ...at25, '-o', 'lists'], { cwd: parts })).err).toContain(warning('a-1'));
  });

  it('names standard input as its lists are named', async () => {
    const { err } = await cli(['convert', '-', ...at25], { stdin: LOG, cwd: folderWith() });
    expect(err).toContain('log: note: the list has no sound; --audio gives it some [no-audio]\n');
    const cwd = folderWith({ 'a.csv': LOG });
    const resumed = (...logs: string[]): Promise<{ err: string }> => cli(['convert', ...logs, ...at25, '-o', 'lists', '--resume'], { stdin: LOG, cwd });
    expect((await resumed('-', 'a.csv')).err).toContain('log: 2 shots in');
    expect((await resumed('-')).err).toBe('log: current, nothing to do\n');
    expect((await cli(['check', '-', ...at25], { stdin: LOG })).out).toMatch(/^log: note: [^]*\nlog: log, 1 note\n$/);
    expect((await cli(['compare', '-', 'a.csv', ...at25], { stdin: LOG, cwd })).err).toContain('log: note: the list has no sound');
    for (const stdin of [LOG.replace('cut', 'zap'), '{"sources": []}']) {
      for (const command of [['compare', '-', 'a.csv'], ['check', '-'], ['picture', '-', '-o', '-']]) {
        const { out, err } = await cli([...command, ...at25], { stdin, cwd });
        expect(out + err).toMatch(/^(error: )?log\b/);
        expect(out + err).not.toMatch(/^(error: )?-/m);
      }
    }
  });

  it('names the log of a wrong option at the end of many', async () => {
    const folder = folderWith({ 'a.csv': LOG.replaceAll('10:0', '09:0'), 'b.csv': LOG });
    const { status, err } = await cli(['convert', 'a.csv', 'b.csv', ...at25, '--end', '09:30:00:00', '-o', 'lists'], { cwd: folder });
    expect(status).toBe(2);
    expect(err.slice(err.indexOf('not converted:'))).toBe('not converted:\n  b.csv: --end: error: the list would end on 09:30:00:00, before it begins [bad-option]\n');
  });
});

describe('the end of a batch', () => {
  it('tells logs that have lists in spite of an error from those that have none', async () => {
    const { status, err } = await cli(['convert', 'a.csv', 'b.csv', 'c.csv', ...at25, '-o', 'lists'], { cwd: folderWith({ 'a.csv': LONG, 'b.csv': LOG, 'c.csv': LOG.replace('cut', 'cup') }) });
    expect(status).toBe(1);
    expect(err).toMatch(/\n3 logs: 1 converted, 1 with errors, 1 failed, in .*\nwith errors, and lists written all the same:\n {2}a\.csv: error: .*\nnot converted:\n {2}c\.csv:.*\n$/);
    const one = await cli(['convert', 'a.csv', 'b.csv', ...at25, '-o', 'lists'], { cwd: folderWith({ 'a.csv': LONG, 'b.csv': LOG }) });
    expect(one.err).toContain('\n2 logs: 1 converted, 1 with errors, 0 failed, in ');
    expect(one.err).not.toContain('not converted');
  });

  it.each([
    ['a show file', ['--show', 'bad.json'], { 'bad.json': '{"rat":"25"}' }, 1, "bad.json:1:2: error: unknown key 'rat'"],
    ['a list that is there', ['--to', 'edl'], { 'lists/b.edl': 'mine', 'lists/a.edl': 'mine', 'lists/log.edl': 'mine' }, 2, /^lists\/\w+\.edl: error: is there already/],
  ])('names the log where %s is in the way', async (_, args, files, status, said) => {
    const result = await cli(['convert', 'b.csv', 'a.csv', '-', ...at25, '-o', 'lists', ...args], { cwd: folderWith({ 'a.csv': LOG, 'b.csv': LOG, ...files }), stdin: LOG });
    const lines = result.err.slice(result.err.indexOf('not converted:\n')).split('\n').slice(1, -1);
    expect([result.status, lines.map((line) => line.split(':')[0])]).toEqual([status, ['  b.csv', '  a.csv', '  log']]);
    for (const line of lines) expect(line.replace(/^.*?: /, '')).toMatch(said);
  });

  it('names it once where the error lies in it', async () => {
    const { err } = await cli(['convert', 'a.csv', '-', 'none.csv', ...at25, '-o', 'lists'], { cwd: folderWith({ 'a.csv': LOG.replace('cut', 'cup') }), stdin: LOG.replace('cut', 'cup') });
    const lines = err.slice(err.indexOf('not converted:\n')).split('\n').slice(1, -1);
    expect(lines.map((line) => line.replace(/: error: .*/, ''))).toEqual(['  none.csv', '  a.csv:3:13', '  log:3:13']);
  });
});

describe('the object of a log', () => {
  it('counts the problems that are too many to be told one by one', async () => {
    const rows = Array.from({ length: 250 }, (_, index) => `${String(index)},spin,1`).join('\n');
    const { out, err } = await cli(['convert', '-', ...at25, '--json', '-q'], { stdin: `frames,action,source\n${rows}\n`, cwd: folderWith() });
    const unknown = told(out)[0]?.problems.filter(({ code }) => code === 'unknown-action');
    expect(unknown).toHaveLength(101);
    expect(unknown?.at(-1)).toEqual({ code: 'unknown-action', severity: 'error', file: 'log', line: null, column: null, message: '150 more of these' });
    expect(err).toContain('log: error: 150 more of these [unknown-action]\n');
  });

  it('says nothing of shots and frames where no list was made in this run', async () => {
    const folder = folderWith({ 'a.csv': LOG });
    const call = ['convert', 'a.csv', ...at25, '-o', 'lists', '--resume', '--json', '-q'];
    expect(told((await cli(call, { cwd: folder })).out)[0]).toMatchObject({ shots: 2, frames: 7500 });
    const again = told((await cli(call, { cwd: folder })).out)[0];
    expect(again).toMatchObject({ shots: null, frames: null, seconds: null });
    expect(again?.outputs).toHaveLength(3);
  });

  it('counts a source that comes on after frames which its recording lacks', async () => {
    // The recording of 1 starts at 10:00:00:00; two frames of offset before it are black.
    const show = JSON.stringify({ rate: '25', sources: [{ id: '1', start: '10:00:00:00', offset: -2 }, { id: '2' }] });
    const { out } = await cli(['convert', 'a.csv', '-o', 'lists', '--json', '-q'], { cwd: folderWith({ 'a.csv': 'frames,source\n0,1\n100,2\n150,1\n200,2\n', 'a.show.json': show }), stdin: '' });
    expect(out).toContain('"code":"no-end"');
    const { out: ended } = await cli(['convert', 'a.csv', '--end', '250', '-o', 'lists', '--json', '-q'], { cwd: folderWith({ 'a.csv': 'frames,source\n0,1\n100,2\n150,1\n200,2\n', 'a.show.json': show }) });
    expect(told(ended)[0]).toMatchObject({
      shots: 5,
      frames: 250,
      sources: [{ id: '1', shots: 2, frames: 148 }, { id: '2', shots: 2, frames: 100 }, { id: 'black', shots: 1, frames: 2 }],
    });
  });
});

describe('takes that are a list each', () => {
  const TWO = 'time,action,source,note\n10:00:00:00,start,,\n10:00:00:00,cut,1,\n10:00:04:00,cut,2,\n10:00:05:00,stop,,\n11:00:00:00,start,,\n11:00:00:00,cut,2,\n11:00:08:00,cut,1,\n11:00:09:00,marker,,Soup\n11:00:10:00,stop,,\n';
  const separate = (...more: string[]): ReturnType<typeof cli> => cli(['convert', 'a.csv', ...at25, '--takes', 'separate', '-o', 'lists', ...more], { cwd: folderWith({ 'a.csv': TWO }) });

  it('are summed up one by one, each with the range that it has; their screen time together', async () => {
    const { err, out } = await separate('--to', 'edl', '--audio', '1', '--json');
    expect(err.slice(err.indexOf('a.csv: 2 lists'))).toBe([
      'a.csv: 2 lists',
      '  a, take 1: 2 shots in 0:00:05.000 (125 frames at 25), 01:00:00:00 to 01:00:05:00',
      '  a, take 2: 2 shots in 0:00:10.000 (250 frames at 25), 01:00:00:00 to 01:00:10:00, 1 marker',
      '    source  shots   on program   share',
      '    1           2  0:00:06.000  40.0 %',
      '    2           2  0:00:09.000  60.0 %',
      '  lists/a.take1.edl',
      '  lists/a.take2.edl',
      '',
    ].join('\n'));
    expect(told(out)[0]).toMatchObject({ shots: 4, frames: 375, seconds: 15 });
  });

  it('are named in what is said of each list', async () => {
    const { err } = await separate('--min-shot', '30', '--chapters-from', 'every:1s', '--chapters-min', '2s');
    expect(err).toMatch(/^--min-shot: note: take 1: 1 shot under 30 frames/m);
    expect(err).toMatch(/^--min-shot: note: take 2: 0 shots under 30 frames/m);
    expect(err).toMatch(/^--chapters-min: note: take 1: 2 of 5 chapters/m);
    expect(err).toMatch(/^--chapters-min: note: take 2: 5 of 10 chapters/m);
    // Of the log itself, nothing is of a take; and one list needs no name.
    expect(err).toContain('a.csv: note: the list has no sound');
    expect((await cli(['convert', 'a.csv', ...at25, '--min-shot', '30'], { cwd: folderWith({ 'a.csv': TWO }) })).err).toMatch(/^--min-shot: note: 1 shot/m);
  });
});

describe('sound from a source that is not there', () => {
  it('lists each word once, and calls no other digit a slip', async () => {
    const show = JSON.stringify({ rate: '25', sources: [{ id: '1' }, { id: '2' }], program: { name: 'Program' } });
    const { err } = await cli(['convert', 'a.csv', '--audio', '9'], { cwd: folderWith({ 'a.csv': LOG, 'a.show.json': show }) });
    expect(err).toContain("--audio: error: there is no source '9'; expected one of 1, 2, program, follow, none [unknown-source]");
  });

  it('does not name the program where it was not recorded', async () => {
    const said = async (audio: string): Promise<string> => (await cli(['convert', 'a.csv', ...at25, '--audio', audio], { cwd: folderWith({ 'a.csv': LOG }) })).err;
    expect(await said('9')).toContain("--audio: error: there is no source '9'; expected one of 1, 2, follow, none [unknown-source]");
    expect(await said('program')).toContain('--audio: error: sound is to come from the program, and there is no program recording; describe it in the show file [unknown-source]');
  });

  it('is the fault of what asked for it: of the show file, or of the option', async () => {
    const files = { 'a.csv': LOG, 'a.show.json': '{\n  "rate": "25",\n  "audio": { "from": "program" }\n}' };
    const said = 'error: sound is to come from the program, and there is no program recording; describe it in the show file [unknown-source]\n';
    const ofShow = await cli(['convert', 'a.csv'], { cwd: folderWith(files) });
    expect([ofShow.status, ofShow.err]).toEqual([1, expect.stringContaining(`a.show.json:3:14: ${said}`)]);
    expect(ofShow.err).not.toContain('--audio');
    const ofOption = await cli(['convert', 'a.csv', '--audio', 'program'], { cwd: folderWith(files) });
    expect([ofOption.status, ofOption.err]).toEqual([2, expect.stringContaining(`--audio: ${said}`)]);
  });
});
