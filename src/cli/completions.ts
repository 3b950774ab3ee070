/** `linecut completions`: what a shell needs to complete commands, options and values. */
import { problem } from '../problems.js';
import type { Command } from './command.js';
import { completionScript, SHELLS } from './completion-scripts.js';
import { programSpec } from './program.js';
import { complain } from './report.js';

export const completions: Command = {
  name: 'completions',
  summary: 'print completions for bash, zsh or fish',
  description: 'Prints a script that teaches a shell the commands, options and values of linecut.',
  args: [{ name: 'SHELL', help: `one of ${SHELLS.join(', ')}`, choices: SHELLS }],
  options: [],
  examples: [
    { says: 'bash, for this shell', command: 'source <(linecut completions bash)' },
    { says: 'zsh, for this shell', command: 'source <(linecut completions zsh)' },
    { says: 'fish, for good', command: 'linecut completions fish > ~/.config/fish/completions/linecut.fish' },
  ],
  run: async ({ args, io }) => {
    const [given = ''] = args;
    const shell = SHELLS.find((one) => one === given.toLowerCase());
    if (shell === undefined) {
      await complain([problem('bad-option', `there are no completions for '${given}'; expected ${SHELLS.join(', ')}`)], io);
      return 2;
    }
    await io.out.write(completionScript(shell, await programSpec()));
    return 0;
  },
};
