import { describe, expect, it } from 'vitest';
import { helpOf } from '../../src/cli/help.js';
import { COMMANDS } from '../../src/cli/program.js';
import { cli } from '../support/cli.js';

const commands = await Promise.all(COMMANDS.map(({ load }) => load()));

describe.each(commands)('the help of $name', (command) => {
  it('keeps to the width of the terminal, from 40 columns on, but for commands to be copied', () => {
    const examples = new Set(command.examples.map((one) => `  ${one.command}`));
    for (let width = 40; width <= 140; width += 1) {
      const wide = helpOf(command, width).split('\n').filter((line) => line.length > width && !examples.has(line));
      expect(wide).toEqual([]);
    }
  });

  it('says the same at any width', () => {
    const words = (width: number): string[] => helpOf(command, width).split(/\s+/).filter((word) => word !== '#');
    for (const width of [20, 40, 55, 67, 80]) expect(words(width)).toEqual(words(1000));
  });

  it('says of an option whether it may be repeated', () => {
    const said = helpOf(command, 1000).split('\n').filter((line) => line.endsWith('(may be repeated)')).map((line) => /--([\w-]+)/.exec(line)?.[1]);
    expect(said).toEqual(command.options.filter(({ repeat }) => repeat === true).map(({ name }) => name));
  });
});

it.each(['convert', 'check', 'compare', 'media', 'picture'])('linecut %s --help says its exit status', async (name) => {
  expect((await cli([name, '--help'])).out).toMatch(/^Exit status: 0 /m);
});
