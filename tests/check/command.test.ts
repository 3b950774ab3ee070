/** `linecut check` as a call; its rules and its reports. */
import { describe, expect, it } from 'vitest';
import { readRules } from '../../src/check/rules.js';
import { problemLine, ProblemList } from '../../src/problems.js';
import { cli, folderWith, textOf } from '../support/cli.js';

const LOG = [
  'time,action,source,duration,note', '10:00:00:00,start,,,', '10:00:00:00,cut,1,,', '10:00:04:00,marker,,,Opening', '10:00:10:00,dissolve,2,25,',
  '10:00:20:00,cut,3,,', '10:00:20:03,cut,2,,', '10:00:40:00,stop,,,', '',
].join('\n');
const at25 = ['--rate', '25'];

async function lists(): Promise<string> {
  const folder = folderWith({ 'log.csv': LOG });
  await cli(['convert', 'log.csv', ...at25, '-o', '.'], { cwd: folder });
  return folder;
}

/** A file with another text in it. */
async function changed(name: string, from: string | RegExp, to: string): Promise<string> {
  const folder = await lists();
  const { writeFileSync } = await import('node:fs');
  const text = textOf(folder, name);
  expect(text.replace(from, to)).not.toBe(text);
  writeFileSync(`${folder}/${name}`, text.replace(from, to));
  return folder;
}

const ALL = ['log.chapters.txt', 'log.csv', 'log.edl', 'log.otio'];

interface JsonFile {
  readonly file: string;
  readonly kind: string;
  readonly findings: readonly { readonly code: string; readonly severity: string; readonly line: number | null; readonly advice: string }[];
  readonly switches: number | null;
  readonly accounted: number | null;
}

describe('check', () => {
  it('gives 0 for what is sound, and says what each file is', async () => {
    const folder = await lists();
    const { status, out, err } = await cli(['check', ...ALL, ...at25], { cwd: folder });
    expect([status, err]).toEqual([0, '']);
    expect(out).toContain('log.chapters.txt: chapters, sound\n');
    expect(out).toContain('log.edl: EDL, sound\nlog.otio: OTIO, sound\n');
    expect(out).toContain('log.csv: log, 1 note\n');
  });

  it('gives 1 for an error or a warning, with code, place and advice', async () => {
    const folder = await changed('log.edl', /^002 /gm, '007 ');
    const { status, out } = await cli(['check', 'log.edl'], { cwd: folder });
    expect(status).toBe(1);
    const line = textOf(folder, 'log.edl').split('\r\n').findIndex((text) => text.startsWith('007 ')) + 1;
    expect(out).toContain(`log.edl:${String(line)}:1: warning: event 7 follows event 1, expected 2 [event-number]\n    number the events again\n`);
    expect(out).toContain('log.edl: EDL, ');
  });

  it('holds files of one name against one another', async () => {
    const other = await changed('log.edl', /10:00:20:00 10:00:20:03/, '10:00:21:00 10:00:21:03');
    const { status, out } = await cli(['check', 'log.edl', 'log.otio'], { cwd: other });
    expect(status).toBe(1);
    expect(out).toContain('log.otio: error: unlike log.edl: 01:00:20:00  shot 3  source point 10:00:21:00 became 10:00:20:00 (25 frames earlier than it would be) [lists-differ]');
    // Each by itself has nothing to hide.
    expect((await cli(['check', 'log.edl'], { cwd: other })).status).toBe(0);
  });

  it('holds chapters against the end of their list', async () => {
    const folder = await changed('log.chapters.txt', /$/, '10:00 Never\n');
    const { status, out } = await cli(['check', 'log.otio', 'log.chapters.txt'], { cwd: folder });
    expect(status).toBe(1);
    expect(out).toContain('a chapter lies after the end (0:00:40) [chapter-order]');
    expect((await cli(['check', 'log.chapters.txt'], { cwd: folder })).status).toBe(0);
  });

  it('holds a list against its log', async () => {
    const folder = await lists();
    expect((await cli(['check', 'log.edl', '--against', 'log.csv', ...at25], { cwd: folder })).out).toBe('log.edl: EDL, sound, 4 of 4 shots as the log has them\n');
    const other = await changed('log.edl', '003  3 ', '003  1 ');
    const { status, out } = await cli(['check', 'log.edl', '--against', 'log.csv', ...at25], { cwd: other });
    expect(status).toBe(1);
    expect(out).toContain('from 01:00:20:00, for 3 frames: the log has 3 on air, the list 1 [not-as-logged]');
    expect(out).toContain('3 of 4 shots as the log has them');
    expect((await cli(['check', 'log.edl', '--against', 'none.csv', ...at25], { cwd: folder })).status).toBe(2);
  });

  it('holds the sound of a list against what the log is said to sound like, silence too', async () => {
    const folder = await lists();
    const made = (...options: string[]): Promise<unknown> => cli(['convert', 'log.csv', ...at25, ...options, '--force', '-q'], { cwd: folder });
    const against = async (...options: string[]): Promise<string> => {
      const { status, out } = await cli(['check', 'log.edl', '--against', 'log.csv', ...at25, ...options], { cwd: folder });
      return `${String(status)} ${out}`;
    };
    await made('--audio', 'follow');
    expect(await against('--audio', 'follow')).toBe('0 log.edl: EDL, sound, 4 of 4 shots as the log has them\n');
    expect(await against('--audio', '1')).toMatch(/^1 .*sound-not-as-logged/);
    expect(await against('--audio', 'none')).toMatch(/^1 .*the log has silence, the list 1 channel 1 .*\[sound-not-as-logged\]/);
    expect(await against()).toMatch(/^0 .*note: the list has sound, and nothing says what sound the log gives it/);
    await made('--audio', 'none');
    expect(await against('--audio', 'follow')).toMatch(/^1 .*, the list silence \[sound-not-as-logged\]/);
    expect(await against()).toBe('0 log.edl: EDL, sound, 4 of 4 shots as the log has them\n');
  });

  it('holds a list that was adjusted against a log that is adjusted alike', async () => {
    const folder = await lists();
    const { writeFileSync } = await import('node:fs');
    writeFileSync(`${folder}/bad.csv`, 'do,at,expect,source\nsource,01:00:10:00,1,3\n');
    const made = (...options: string[]): Promise<unknown> => cli(['convert', 'log.csv', ...at25, ...options, '--force', '-q'], { cwd: folder });
    const checked = async (...options: string[]): Promise<string> => {
      const { status, out, err } = await cli(['check', 'log.edl', 'log.otio', ...options, ...at25], { cwd: folder });
      return `${String(status)} ${out}${err}`;
    };
    const against = (...options: string[]): Promise<string> => checked('--against', 'log.csv', ...options);
    const corrected = ['--lead', '6', '--corrections', 'fix.csv'];
    writeFileSync(`${folder}/fix.csv`, 'do,at,expect,source\nsource,01:00:09:19,2,3\n');
    await made(...corrected);
    expect(await against(...corrected)).toBe('0 log.edl: EDL, sound, 4 of 4 shots as the log has them\nlog.otio: OTIO, sound, 4 of 4 shots as the log has them\n');
    const without = await against();
    expect(without).toMatch(/^1 .*not-as-logged/);
    expect(without).toContain('give check the options that the list was made with (--corrections, --lead, --anchor, …; --log-min-shot for --min-shot)');
    for (const rules of [['--cuts-only'], ['--dissolve-all', '7'], ['--lag', '2=3']]) {
      await made(...rules);
      expect([rules, await against(...rules)]).toEqual([rules, expect.stringMatching(/^0 /)]);
    }
    // --min-shot looks for short shots here; the rule of that name has another one.
    await made('--min-shot', '5', '--absorb', 'next');
    expect(await against('--log-min-shot', '5', '--absorb', 'next', '--min-shot', '5')).toMatch(/^0 /);
    expect(await against('--min-shot', '5')).toMatch(/^1 /);
    expect(await checked('--lead', '6')).toBe('2 --lead: error: it says how the log of --against was adjusted; give that too [bad-option]\n');
    expect(await checked('--against', 'log.otio', '--lead', '6')).toMatch(/^2 [^]*--lead: error: log\.otio is a list, and only a log is adjusted here \[bad-option\]\n/);
    expect(await against('--cuts-only', '--dissolve-all', '7')).toMatch(/^2 --dissolve-all: error: /);
    expect(await against('--corrections', 'none.csv')).toMatch(/^2 none\.csv: error: /);
    expect(await against('--corrections', 'bad.csv')).toMatch(/^1 [^]*\nbad\.csv:2: error: [^\n]* \[correction-mismatch\]/);
    expect(await checked('log.csv', '--against', 'log.csv', '--lead', '9=2')).toMatch(/^2 [^]*--lead: error: source '9' is not known/);
  });

  it('reports a log that has errors, or is not there, and the other files all the same', async () => {
    const folder = await changed('log.csv', '10:00:20:00,cut,3', '10:00:20:99,cut,3');
    const broken = await cli(['check', 'log.edl', '--against', 'log.csv', ...at25, '--report', 'junit'], { cwd: folder });
    expect([broken.status, broken.err]).toEqual([1, '']);
    expect(broken.out).toMatch(/<testsuite name="log\.csv" tests="1" failures="1"[^]*name="bad-time at line 6"[^]*<testsuite name="log\.edl" tests="1" failures="0"/);
    const json = JSON.parse((await cli(['check', 'log.edl', '--against', 'log.csv', ...at25, '--report', 'json'], { cwd: folder })).out) as JsonFile[];
    expect(json).toMatchObject([{ file: 'log.csv', kind: 'log', findings: [{ code: 'bad-time', line: 6 }] }, { file: 'log.edl', kind: 'edl', findings: [] }]);
    const missing = await cli(['check', 'log.edl', '--against', 'none.csv', ...at25, '--report', 'junit'], { cwd: folder });
    expect([missing.status, missing.err]).toEqual([2, '']);
    expect(missing.out).toMatch(/<testsuite name="none\.csv" tests="1" failures="0" errors="1"[^]*<error type="error: unreadable"[^]*<testsuite name="log\.edl"/);
    // Among the files, it is told of there; what rules say of it does not make it a list.
    const both = await cli(['check', 'log.csv', 'log.edl', '--against', 'log.csv', ...at25], { cwd: folder });
    expect([both.status, both.out.match(/\[bad-time\]/g)]).toEqual([1, ['[bad-time]']]);
    expect((await cli(['check', 'log.edl', '--against', 'log.csv', '--audio', 'x', ...at25], { cwd: await lists() })).status).toBe(2);
  });

  it('says of a log that is among the files why there is no list, also where its own check says nothing', async () => {
    const endless = { 'log.csv': LOG.replace('10:00:40:00,stop,,,\n', ''), 'rules.json': '{"no-end": "off"}', 'noted.json': '{"no-end": "note"}' };
    const found = async (...args: string[]): Promise<[number, readonly (string | undefined)[]]> => {
      const folder = folderWith({ ...endless, 'a.chapters.txt': '00:00 One\n' });
      const { status, out } = await cli(['check', ...args, ...at25, '--report', 'json'], { cwd: folder });
      const files = JSON.parse(out) as readonly { readonly findings: readonly { readonly code: string; readonly severity: string }[] }[];
      return [status, files.flatMap(({ findings }) => findings.filter(({ severity }) => severity === 'error').map(({ code }) => code))];
    };
    expect(await found('log.csv', '--rules', 'rules.json')).toEqual([0, []]);
    for (const rules of [[], ['--rules', 'rules.json'], ['--rules', 'noted.json']]) {
      expect(await found('log.csv', '--against', 'log.csv', ...rules)).toEqual([1, ['no-end']]);
    }
    // Chapters are no log, and no list.
    expect(await found('a.chapters.txt')).toEqual([0, []]);
    expect(await found('a.chapters.txt', '--against', 'a.chapters.txt')).toEqual([1, ['missing-column']]);
    // One part is sound by itself, and the list needs all of them.
    const parts = await lists();
    const { writeFileSync } = await import('node:fs');
    writeFileSync(`${parts}/show-1.edl`, textOf(parts, 'log.edl'));
    const [title = ''] = textOf(parts, 'log.edl').split('\r\n', 1);
    writeFileSync(`${parts}/show-2.edl`, `${title}\n001  1        V     C        10:00:00:99 10:00:02:00 01:00:40:00 01:00:42:00\n`);
    expect((await cli(['check', 'show-1.edl', ...at25], { cwd: parts })).status).toBe(0);
    const { status, out } = await cli(['check', 'show-1.edl', '--against', 'show-1.edl', ...at25], { cwd: parts });
    expect([status, out]).toEqual([1, expect.stringMatching(/show-2\.edl:2:30: error: .* \[bad-time\]\n[^]*show-1\.edl: EDL, 2 errors\n$/)]);
  });

  it('reports shots under --min-shot, and looks for recordings with --files', async () => {
    const folder = await lists();
    expect((await cli(['check', 'log.otio', '--min-shot', '4'], { cwd: folder })).out).toContain('shot 3, 3 at 01:00:20:00, has 3 frames, fewer than 4 [short-shot]');
    expect((await cli(['check', 'log.otio', '--min-shot', '3'], { cwd: folder })).status).toBe(0);
    const show = folderWith({ 'log.csv': LOG, 'log.show.json': '{"rate": "25", "sources": [{"id": "1", "files": [{"path": "a.mov"}]}, {"id": "2", "files": [{"path": "b.mov"}]}, {"id": "3"}]}', 'a.mov': '' });
    expect((await cli(['check', 'log.csv'], { cwd: show })).status).toBe(0);
    const { status, out } = await cli(['check', 'log.csv', '--files'], { cwd: show });
    expect(status).toBe(1);
    expect(out).toContain('log.show.json: warning: b.mov, a recording of 2, is not there [missing-file]');
    expect(out).not.toContain('a.mov');
  });

  it('gives 2 for trouble, and checks the other files all the same', async () => {
    const folder = await lists();
    const { status, out } = await cli(['check', 'none.edl', 'log.edl'], { cwd: folder });
    expect(status).toBe(2);
    expect(out).toContain('none.edl: error: cannot be read: there is no such file or folder [unreadable]');
    expect(out).toContain('log.edl: EDL, sound');
    expect((await cli(['check'], { cwd: folder })).status).toBe(2);
    expect((await cli(['check', 'log.edl', '--report', 'xml'], { cwd: folder })).status).toBe(2);
  });

  it('says of wide reels once what holds for every event', async () => {
    const folder = folderWith({ 'log.csv': LOG, 'log.show.json': '{"rate": "25", "sources": [{"id": "1", "reel": "HARBOURWIDE"}, {"id": "2"}, {"id": "3"}]}' });
    await cli(['convert', 'log.csv', '-o', 'lists', '--reel-length', '32'], { cwd: folder });
    const { status, out } = await cli(['check', 'lists/log.edl'], { cwd: folder });
    expect(status).toBe(1);
    expect(out.match(/: warning: .*/g)).toEqual([
      ': warning: reel HARBOURWIDE has 11 characters; the format has 8, and systems that keep to it cut the rest (said once a reel) [outside-format]',
      ': warning: the reel column is 32 wide, and 8 in the format (said once a list) [outside-format]',
    ]);
  });

  it('reads corrections, as a table and as JSON', async () => {
    const row = { do: 'dissolve', at: '01:00:10:00', expect: '2', frames: 25 };
    const folder = folderWith({
      'fix.csv': 'do,at,expect,frames\ndissolve,01:00:10:00,2,25\n', 'fix.json': JSON.stringify({ corrections: [row] }), 'wrong.csv': 'do,at,expect,frames\ndisolve,01:00:10:00,2,25\n',
    });
    expect(await cli(['check', 'fix.csv', 'fix.json'], { cwd: folder })).toMatchObject({ status: 0, out: 'fix.csv: corrections, sound\nfix.json: corrections, sound\n' });
    const wrong = await cli(['check', 'wrong.csv'], { cwd: folder });
    expect(wrong.status).toBe(1);
    expect(wrong.out).toContain("wrong.csv:2: error: 'disolve' is no correction; did you mean 'dissolve'?");
  });

  it('takes rules: codes off, or of another severity', async () => {
    const folder = await changed('log.edl', /^002 /gm, '007 ');
    const { writeFileSync } = await import('node:fs');
    const withRules = async (rules: string): Promise<{ status: number; out: string; err: string }> => {
      writeFileSync(`${folder}/rules.json`, rules);
      return cli(['check', 'log.edl', '--rules', 'rules.json'], { cwd: folder });
    };
    const off = '"bad-event": "off", "hole": "off", "overlap": "off"';
    expect(await withRules(`{"event-number": "off", ${off}}`)).toMatchObject({ status: 0, out: 'log.edl: EDL, sound\n' });
    expect(await withRules(`{"event-number": "note", ${off}}`)).toMatchObject({ status: 0 });
    expect((await withRules(`{"event-number": "error", ${off}}`)).out).toContain('error: event 7 follows event 1');
    expect(await withRules('{"event-nmber": "off"}')).toEqual({ status: 2, out: '', err: "rules.json:1:2: error: there is no code 'event-nmber'; did you mean 'event-number'? [bad-rules]\n" });
    expect((await withRules('{"hole": "of"}')).err).toContain('hole is "of"; expected one of off, note, warning, error [bad-rules]');
    expect((await withRules('{"found": "note"}')).out).toContain('[found]');
    for (const wrong of ['', '[]', '{"hole": "off", "hole": "off"}', '5']) {
      const problems = new ProblemList();
      expect(readRules(wrong, 'r.json', problems.add)).toBeUndefined();
      expect(problems.problems.map(problemLine).join()).toContain('[bad-rules]');
    }
  });

  it('lets no rule call a file sound that cannot be read, or one whose show file cannot be used', async () => {
    const codes = ['unreadable', 'too-large', 'bad-encoding', 'bad-show-file'];
    const rules = (word: string): string => JSON.stringify(Object.fromEntries(codes.map((code) => [code, word])));
    const folder = await lists();
    const { writeFileSync } = await import('node:fs');
    for (const word of ['off', 'note', 'warning']) writeFileSync(`${folder}/${word}.json`, rules(word));
    writeFileSync(`${folder}/bytes.csv`, Buffer.from([0x74, 0x00, 0xff, 0x81, 0x00, 0x0a]));
    writeFileSync(`${folder}/bad.show.json`, '{"rate": "25", "sorces": []}');
    const cases: [args: string[], status: number, code: string][] = [
      [['gone.edl'], 2, 'unreadable'],
      [['log.edl', '--max-bytes', '3'], 2, 'too-large'],
      [['bytes.csv'], 1, 'bad-encoding'],
      [['log.edl', '--show', 'gone.json'], 2, 'unreadable'],
      [['log.edl', '--show', 'bad.show.json'], 1, 'bad-show-file'],
    ];
    for (const [args, status, code] of cases) {
      for (const ruled of [[], ...['off', 'note', 'warning'].map((word) => ['--rules', `${word}.json`])]) {
        const json = await cli(['check', ...args, ...ruled, '--report', 'json'], { cwd: folder });
        const found = (JSON.parse(json.out) as JsonFile[]).flatMap(({ findings }) => findings);
        expect([args, ruled, json.status, found.filter((one) => one.severity !== 'note').map((one) => `${one.severity} ${one.code}`)]).toEqual([args, ruled, status, [`error ${code}`]]);
      }
      const junit = await cli(['check', ...args, '--rules', 'off.json', '--report', 'junit'], { cwd: folder });
      expect(junit.out).not.toContain('name="sound"');
    }
  });

  it('reports as JSON', async () => {
    const folder = await changed('log.edl', /^002 /gm, '007 ');
    const { status, out } = await cli(['check', 'log.edl', 'log.otio', '--report', 'json', '--against', 'log.csv', ...at25], { cwd: folder });
    expect(status).toBe(1);
    const [edl, otio] = JSON.parse(out) as [JsonFile, JsonFile];
    expect(edl.kind).toBe('edl');
    expect(edl.findings.find(({ code }) => code === 'event-number')).toMatchObject({ advice: 'number the events again', severity: 'warning', column: 1 });
    expect([otio.kind, otio.switches, otio.accounted]).toEqual(['otio', 4, 4]);
  });

  it('reports as JUnit XML', async () => {
    const folder = await changed('log.edl', /^002 /gm, '007 ');
    const { out } = await cli(['check', 'log.edl', 'log.otio', '--report', 'junit'], { cwd: folder });
    expect(out).toContain('<testsuite name="log.otio"');
    expect(out).toContain('<failure type="warning: event-number" message="event 7 follows event 1, expected 2">');
  });

  it('writes JUnit XML that is XML, whatever the messages hold', async () => {
    const folder = folderWith({ 'a.xml': '<cutlog version="1" rate="25"><event time="0" action="&thyme;" source="1"/></cutlog>' });
    const { status, out } = await cli(['check', 'a.xml', '--report', 'junit'], { cwd: folder });
    expect(status).toBe(1);
    expect(out).toContain('message="&amp;thyme; is not a reference that XML has by itself; those are &amp;lt; &amp;gt; &amp;amp; ');
    expect(out.replace(/&(?:lt|gt|amp|quot);/g, '')).not.toContain('&');
  });

  it('keeps its head with ten thousand findings', async () => {
    const rows = Array.from({ length: 10_000 }, (_, index) => `${String(index + 1).padStart(3, '0')}  A        V     C        10:00:00:00 10:00:00:02 01:00:00:00 01:00:00:01`);
    const folder = folderWith({ 'bad.edl': `TITLE: x\n${rows.join('\n')}\n` });
    const { status, out } = await cli(['check', 'bad.edl', ...at25], { cwd: folder });
    expect(status).toBe(1);
    expect(out.length).toBeLessThan(200_000);
    expect(out).toMatch(/bad\.edl: \d+ more of these \[length-differs\]/);
    // The verdict counts those that are not listed, too: every event has a length that differs, all but the first overlap.
    expect(out).toMatch(/^bad\.edl: EDL, 19999 errors, /m);
  });
});
