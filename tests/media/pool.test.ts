/** The pool of threads, with a thread made up here; that the real one reads is shown by tests/media/command.test.ts and the interop suite. */
import { describe, expect, test } from 'vitest';
import { probeAll } from '../../src/media/pool.js';
import { threadOf } from '../support/thread-module.js';

// Says which thread it is, and dies on files that are called so.
const worker = threadOf(`async (path) => {
  if (path.startsWith('exit')) process.exit(3);
  if (path.startsWith('throw')) throw new Error('no memory');
  await new Promise((resolve) => setTimeout(resolve, path.startsWith('slow') ? 50 : 1));
  return { path, reason: 'thread ' + threadId };
}`);

const reasonOf = (answer: object): string => ('reason' in answer ? String(answer.reason) : '');
/** What this thread says of files that are not there. */
const GONE = 'there is no such file or folder';

describe('many files with every core', () => {
  test('answers come in the order of the files, whoever read them', async () => {
    const paths = Array.from({ length: 200 }, (_, index) => `/nowhere/${String(index)}`);
    const told: number[] = [];
    const answers = await probeAll(paths, { worker, threads: 3, progress: (done, total) => {
      expect(total).toBe(200);
      told.push(done);
    } });
    expect(answers.map(({ path }) => path)).toEqual(paths);
    for (const answer of answers) expect(reasonOf(answer)).toMatch(/^thread \d+$|^there is no such file or folder$/);
    expect(told).toEqual(Array.from({ length: 200 }, (_, index) => index + 1));
  });

  test('a thread that dies costs its file, and the rest is read', async () => {
    const paths = Array.from({ length: 60 }, (_, index) => (index % 20 === 7 ? `exit ${String(index)}` : index % 20 === 13 ? `throw ${String(index)}` : `quick ${String(index)}`));
    const answers = await probeAll(paths, { worker, threads: 2 });
    expect(answers.map(({ path }) => path)).toEqual(paths);
    for (const answer of answers) {
      const beside = answer.path.startsWith('quick') ? /^thread/ : answer.path.startsWith('exit') ? /^reading it failed: its thread ended with 3$/ : /^reading it failed: no memory$/;
      if (reasonOf(answer) !== GONE) expect(reasonOf(answer)).toMatch(beside);
    }
  });

  test('few files, one thread or no worker: this thread reads', async () => {
    const gone = ['/nowhere/a.mov', '/nowhere/b.mov'];
    for (const options of [{ worker }, { worker, threads: 1 }, {}]) {
      expect(await probeAll(gone, options)).toEqual(gone.map((path) => ({ path, reason: GONE })));
    }
    expect(await probeAll([], { worker })).toEqual([]);
  });
});
