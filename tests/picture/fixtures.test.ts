import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { NOWHERE, type Io } from '../../src/cli/io.js';
import { run } from '../../src/cli/program.js';

const FOLDER = join(import.meta.dirname, '../../fixtures/pictures');

async function drawn(...files: string[]): Promise<string> {
  let text = '';
  const io: Io = {
    cwd: FOLDER,
    env: {},
    out: { ...NOWHERE, write: (part) => { text += part; return Promise.resolve(); } },
    err: NOWHERE,
    readStdin: () => Promise.resolve(undefined),
  };
  expect(await run(['picture', ...files, '--show', 'kitchen.show.json', '--as', 'svg', '-o', '-'], io)).toBe(0);
  return text;
}

describe("the README's pictures", () => {
  it('are what the command draws', async () => {
    expect(await drawn('first.csv')).toBe(readFileSync(join(FOLDER, 'first.svg'), 'utf8'));
    expect(await drawn('first.csv', 'second.csv')).toBe(readFileSync(join(FOLDER, 'changes.svg'), 'utf8'));
  });
});
