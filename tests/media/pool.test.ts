/** The pool of threads, with workers made up here; that the real one reads is shown by tests/media/command.test.ts and the interop suite. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { probeAll } from '../../src/media/pool.js';

const folder = mkdtempSync(join(tmpdir(), 'linecut-pool-'));
afterAll(() => { rmSync(folder, { recursive: true, force: true }); });

/** Answers with the thread that did it, once three of them have met where a file is called so; dies on files that are called so, after the first word of it. */
const WORKER = `
import { mkdirSync, readdirSync } from 'node:fs';
import { parentPort, threadId } from 'node:worker_threads';
const meeting = new URL('meeting/', import.meta.url);
let turn = Promise.resolve();
parentPort.on('message', ({ index, task: path }) => {
  turn = turn.then(async () => {
    if (path.startsWith('exit')) process.exit(3);
    if (path.startsWith('throw')) throw new Error('no memory');
    if (path.startsWith('meet')) mkdirSync(new URL(String(threadId), meeting), { recursive: true });
    do await new Promise((resolve) => setTimeout(resolve, path.startsWith('slow') ? 50 : 1));
    while (path.startsWith('meet') && readdirSync(meeting).length < 3);
    parentPort.postMessage({ index, answer: { path, reason: 'thread ' + threadId } });
  });
});
`;
const file = join(folder, 'worker.mjs');
writeFileSync(file, WORKER);
const worker = pathToFileURL(file);

describe('many files with every core', () => {
  test('answers come in the order of the files, from as many threads as were asked for', async () => {
    const paths = Array.from({ length: 200 }, (_, index) => `${index % 17 === 0 ? 'slow' : index < 20 ? 'meet' : 'quick'} ${String(index)}`);
    const told: number[] = [];
    const answers = await probeAll(paths, { worker, threads: 3, progress: (done, total) => {
      expect(total).toBe(200);
      told.push(done);
    } });
    expect(answers.map(({ path }) => path)).toEqual(paths);
    expect(new Set(answers.map((answer) => ('reason' in answer ? answer.reason : ''))).size).toBe(3);
    expect(told).toEqual(Array.from({ length: 200 }, (_, index) => index + 1));
  });

  test('a thread that dies costs its file, and the rest is read', async () => {
    const paths = Array.from({ length: 60 }, (_, index) => (index % 20 === 7 ? `exit ${String(index)}` : index % 20 === 13 ? `throw ${String(index)}` : `quick ${String(index)}`));
    const answers = await probeAll(paths, { worker, threads: 2 });
    expect(answers.map(({ path }) => path)).toEqual(paths);
    for (const answer of answers) {
      const reason = 'reason' in answer ? answer.reason : '';
      expect(reason).toMatch(answer.path.startsWith('quick') ? /^thread/ : answer.path.startsWith('exit') ? /^reading it failed: its thread ended with 3$/ : /^reading it failed: no memory$/);
    }
  });

  test('few files, one thread or no worker: this thread reads', async () => {
    const gone = ['/nowhere/a.mov', '/nowhere/b.mov'];
    for (const options of [{ worker }, { worker, threads: 1 }, {}]) {
      expect(await probeAll(gone, options)).toEqual(gone.map((path) => ({ path, reason: 'there is no such file or folder' })));
    }
    expect(await probeAll([], { worker })).toEqual([]);
  });
});
