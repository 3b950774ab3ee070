/** Names, values and cells may hold anything: what is said of them stays one line each, and sends a terminal no command. */
import { describe, expect, it } from 'vitest';
import { visible } from '../../src/visible.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source,duration\n10:00:00:00,start,,\n10:00:00:00,cut,1,\n10:00:10:00,stop,,\n';
const at25 = ['--rate', '25'];
const ESCAPE = '\u001b[31m';

describe('control characters', () => {
  it('are shown, one for one: C0 with line ends, DEL, C1, line separators, turned directions', () => {
    expect(visible('a\u0000\t\n\r\u001b\u007f\u0085\u009b\u2028\u2029\u202e\u2066z')).toBe(`a${'\uFFFD'.repeat(12)}z`);
    expect(visible('Küche 漢字 مطبخ\u200f 🍮')).toBe('Küche 漢字 مطبخ\u200f 🍮');
  });

  it.each([
    ['command', [`con${ESCAPE}vert`]],
    ['option', ['convert', 'x.csv', `--ra${ESCAPE}`]],
    ['value of an option', ['convert', 'x.csv', '--rate', `2${ESCAPE}5`]],
    ['name of a log that is not there', ['convert', `x${ESCAPE}.csv`]],
    ['name of a file to check', ['check', `x${ESCAPE}.csv`]],
    ['name of a picture', ['picture', 'log.csv', ...at25, '-o', `p${ESCAPE}.svg`]],
  ])('of the %s do not reach the terminal', async (_, argv) => {
    const { out, err } = await cli(argv, { cwd: folderWith({ 'log.csv': LOG }) });
    expect(err + out).toContain('\uFFFD[31m');
    expect(err + out).not.toContain('\u001b');
  });

  it('of a title and a source reach no summary and no explanation', async () => {
    const folder = folderWith({ 'log.csv': LOG.replace('cut,1', `cut,one${ESCAPE}`).replace('duration', `col${ESCAPE}umn`) });
    const { out, err } = await cli(['convert', 'log.csv', ...at25, '--title', `Har${ESCAPE}bour\nlog.csv: error: forged`], { cwd: folder });
    expect(err).toContain('log.csv: Har\uFFFD[31mbour\uFFFDlog.csv: error: forged\n');
    const explained = await cli(['convert', 'log.csv', ...at25, '--explain'], { cwd: folder });
    expect(explained.out).toContain('col\uFFFD[31mumn');
    expect(out + err + explained.out + explained.err).not.toContain('\u001b');
  });
});

describe('a line end', () => {
  it('in the name of a log forges no line, in messages and summary, of convert and of check', async () => {
    const name = 'a\nb.csv: error: forged.csv';
    const folder = folderWith({ [name]: LOG });
    for (const argv of [['convert', name, ...at25], ['check', name], ['compare', name, name, '--rate', '29.97']]) {
      const { out, err } = await cli(argv, { cwd: folder });
      expect(err + out).not.toMatch(/^b\.csv/m);
    }
    expect(filesIn(folder)).toHaveLength(4);
  });

  it('in a cell forges no message', async () => {
    const folder = folderWith({ 'x.csv': LOG.replace('cut', '"zap\nx.csv:9:1: error: forged [bad-time]"') });
    for (const command of ['convert', 'check']) {
      const { out, err } = await cli([command, 'x.csv', ...at25], { cwd: folder });
      expect(err + out).toContain("'zap\uFFFDx.csv:9:1: error: forged");
      expect(err + out).not.toMatch(/^x\.csv:9/m);
    }
  });

  it('stays what it was in --json', async () => {
    const { out } = await cli(['convert', '-', ...at25, '--json', '-o', folderWith()], { stdin: LOG.replace('cut', '"zap\nzip"') });
    const { problems } = JSON.parse(out) as { problems: { message: string }[] };
    expect(problems.map(({ message }) => message).join()).toContain("'zap\nzip'");
  });
});

describe('colour', () => {
  it('goes to the severity, not to a file that is named like one', async () => {
    const name = 'error: note: x.csv';
    const { err } = await cli(['convert', name, ...at25], { cwd: folderWith({ [name]: LOG.replace('cut', 'zap') }), tty: true });
    expect(err).toContain(`${name}:3:13: \u001b[31merror\u001b[0m: `);
  });
});
