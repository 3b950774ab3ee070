/** A batch that is told to stop: the log in work is finished, no other is begun. */
import { describe, expect, it } from 'vitest';
import { NOWHERE, type Io } from '../../src/cli/io.js';
import { run } from '../../src/cli/program.js';
import { filesIn, folderWith } from '../support/cli.js';

const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:10:00,stop,\n';
const NAMES = ['a', 'b', 'c', 'd', 'e'];

describe('a batch', () => {
  it.each([['SIGINT', 130], ['SIGTERM', 143], ['SIGHUP', 129]] as const)('ends at %s with status %i', async (signal, expected) => {
    const cwd = folderWith(Object.fromEntries(NAMES.map((name) => [`${name}.csv`, LOG])));
    let said = '';
    const err = { ...NOWHERE, write: (text: string) => {
      said += text;
      if (text.startsWith('b.csv: ')) process.emit(signal, signal);
      return Promise.resolve();
    } };
    const io: Io = { cwd, env: {}, out: NOWHERE, err, readStdin: () => Promise.resolve(undefined) };
    const before = process.listenerCount(signal);
    expect(await run(['convert', ...NAMES.map((name) => `${name}.csv`), '--rate', '25', '--to', 'edl'], io)).toBe(expected);
    expect(filesIn(cwd).filter((name) => !name.endsWith('.csv'))).toEqual(['a.edl', 'b.edl']);
    expect(said).toContain('5 logs: 2 converted, 0 failed');
    expect(said).toContain('interrupted: 3 logs not begun');
    expect(process.listenerCount(signal)).toBe(before);
  });
});
