/** The pool of threads, with a thread made up here; that the real one reads is shown by tests/media/command.test.ts and the interop suite. */
import { describe, expect, test, vi } from 'vitest';
import { probeAll } from '../../src/media/pool.js';
import { threadOf } from '../support/thread-module.js';

/** This thread is at a file called `wait` until the others have read what is to be theirs. */
const gate = vi.hoisted(() => ({ open: (): void => undefined, opened: Promise.resolve() }));
vi.mock(import('../../src/media/probe.js'), async (original) => {
  const real = await original();
  return {
    ...real,
    probe: async (path) => {
      if (path === 'wait') await gate.opened;
      return real.probe(path);
    },
  };
});

// Says which thread it is, and dies on files that are called so.
const worker = threadOf(`async (path) => {
  if (path.startsWith('exit')) process.exit(3);
  if (path.startsWith('throw')) throw new Error('no memory');
  return { path, reason: 'thread ' + threadId };
}`);

const reasonOf = (answer: object): string => ('reason' in answer ? String(answer.reason) : '');
/** What this thread says of files that are not there. */
const GONE = 'there is no such file or folder';

/** Reads `wait` here, and all else beside. */
async function readBeside(paths: readonly string[], threads: number): Promise<{ readonly reasons: string[]; readonly told: number[] }> {
  gate.opened = new Promise((resolve) => { gate.open = resolve; });
  const told: number[] = [];
  const answers = await probeAll(['wait', ...paths], { worker, threads, progress: (done, total) => {
    expect(total).toBe(paths.length + 1);
    told.push(done);
    if (done === paths.length) gate.open();
  } });
  expect(answers.map(({ path }) => path)).toEqual(['wait', ...paths]);
  const [here, ...reasons] = answers.map(reasonOf);
  expect(here).toBe(GONE);
  return { reasons, told };
}

describe('many files with every core', () => {
  test('answers come in the order of the files, whoever read them', async () => {
    const { reasons, told } = await readBeside(Array.from({ length: 200 }, (_, index) => String(index)), 3);
    for (const reason of reasons) expect(reason).toMatch(/^thread \d+$/);
    expect(told).toEqual(Array.from({ length: 201 }, (_, index) => index + 1));
  });

  test('a thread that dies costs its file, and the rest is read', async () => {
    const { reasons } = await readBeside(Array.from({ length: 60 }, (_, index) => `${index % 20 === 7 ? 'exit' : index % 20 === 13 ? 'throw' : 'quick'} ${String(index)}`), 2);
    reasons.forEach((reason, index) => {
      expect(reason).toMatch(index % 20 === 7 ? /^reading it failed: its thread ended with 3$/ : index % 20 === 13 ? /^reading it failed: no memory$/ : /^thread \d+$/);
    });
  });

  test('few files, one thread or no worker: this thread reads', async () => {
    const gone = ['/nowhere/a.mov', '/nowhere/b.mov'];
    for (const options of [{ worker }, { worker, threads: 1 }, {}]) {
      expect(await probeAll(gone, options)).toEqual(gone.map((path) => ({ path, reason: GONE })));
    }
    expect(await probeAll([], { worker })).toEqual([]);
  });
});
