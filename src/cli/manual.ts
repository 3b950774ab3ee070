/** `linecut manual`: the man page, from the same tables as --help. The package carries it ready-made. */
import { VERSION } from '../version.js';
import type { Command } from './command.js';
import { manPage } from './man-page.js';
import { programSpec } from './program.js';

export const manual: Command = {
  name: 'manual',
  summary: 'print the man page',
  description: 'Prints the man page of linecut (roff, man macros).',
  args: [],
  options: [],
  examples: [{ says: 'read it', command: 'linecut manual | man -l -' }],
  run: async ({ io }) => {
    await io.out.write(manPage(await programSpec(), VERSION));
    return 0;
  },
};
