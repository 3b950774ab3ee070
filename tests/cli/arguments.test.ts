import { expect, it } from 'vitest';
import { programSpec } from '../../src/cli/program.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:10:00,stop,\n';
const { commands } = await programSpec();

// A shell makes one of "$LOG" where the variable holds nothing; a file system takes it for the current folder.
it.each(commands.filter(({ args }) => args.length > 0))('an empty argument is refused: $name', async ({ name, args }) => {
  const cwd = folderWith({ 'show.csv': LOG });
  for (let at = 0; at < args.length; at += 1) {
    const words = args.map(({ choices }, index) => (index === at ? '' : choices?.[0] ?? 'show.csv'));
    const { status, out, err } = await cli([name, ...words], { cwd });
    expect([status, out, err]).toEqual([2, '', `error: the ${args[at]?.name ?? ''} is empty; was a variable meant that holds nothing? [bad-option]\n`]);
  }
  expect(filesIn(cwd)).toEqual(['show.csv']);
});

it('an empty argument behind others is refused, and nothing is converted', async () => {
  const cwd = folderWith({ 'show.csv': LOG });
  const { status, err } = await cli(['convert', 'show.csv', '', '--rate', '25'], { cwd });
  expect([status, err, filesIn(cwd)]).toEqual([2, 'error: the LOG is empty; was a variable meant that holds nothing? [bad-option]\n', ['show.csv']]);
});

const STREAMS = ['convert --out', 'convert --logs-from', 'check --against', 'picture --out'];

it('of the options that take a path, these take - for a stream, and the others refuse it', async () => {
  const cwd = folderWith({ 'show.csv': LOG });
  const taking: string[] = [];
  for (const { name, args, options } of commands) {
    for (const option of options.filter(({ kind }) => kind !== undefined)) {
      const call = [name, ...args.map(() => 'show.csv'), `--${option.name}`, '-'];
      if (STREAMS.includes(`${name} --${option.name}`)) {
        taking.push(`${name} --${option.name}`);
        expect(option.parse('-')).toBe('-');
        continue;
      }
      const { status, err } = await cli(call, { cwd, stdin: LOG });
      const kind = option.kind ?? '';
      expect([status, err]).toEqual([2, `--${option.name}: error: it does not take - for standard input or output; write ./- for a ${kind} of that name [bad-option]\n`]);
      expect(option.parse('./-')).toBe('./-');
    }
  }
  expect(taking).toEqual(STREAMS);
  expect(filesIn(cwd)).toEqual(['show.csv']);
});
