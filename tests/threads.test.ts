import { describe, expect, it } from 'vitest';
import { inThreads, Thread } from '../src/threads.js';

// A thread that doubles numbers one after the other, dies of 13 and leaves at 17.
const WORKER = new URL(`data:text/javascript,${encodeURIComponent(`
  import { parentPort } from 'node:worker_threads';
  let turn = Promise.resolve();
  parentPort.on('message', ({ index, task: n }) => {
    turn = turn.then(async () => {
      if (n === 13) throw new Error('thirteen');
      if (n === 17) process.exit(3);
      await new Promise((resolve) => setTimeout(resolve, n % 3));
      parentPort.postMessage({ index, answer: 2 * n });
    });
  });
`)}`);

describe('threads', () => {
  it('answer every task once, and a dead thread costs only its own task', async () => {
    const tasks = Array.from({ length: 60 }, (_, n) => n);
    const answers: (number | string)[] = new Array<number | string>(tasks.length);
    await inThreads<number, number | string>(WORKER, tasks, {
      threads: 3,
      each: (index, answer) => { answers[index] = answer; },
      lost: (task, reason) => `${String(task)}: ${reason}`,
    });
    expect(answers).toEqual(tasks.map((n) => (n === 13 ? '13: thirteen' : n === 17 ? '17: its thread ended with 3' : 2 * n)));
  });

  it('tell of one task at a time', async () => {
    let telling = 0;
    await inThreads<number, number>(WORKER, [1, 2, 3, 4, 5, 6], {
      threads: 3,
      each: async () => {
        telling += 1;
        expect(telling).toBe(1);
        await new Promise((resolve) => setTimeout(resolve, 2));
        telling -= 1;
      },
      lost: () => -1,
    });
  });

  it('begin nothing more once they are told to stop', async () => {
    const stop = new AbortController();
    let done = 0;
    await inThreads<number, number>(WORKER, new Array<number>(500).fill(2), {
      threads: 2,
      signal: stop.signal,
      each: () => {
        done += 1;
        if (done === 10) stop.abort();
      },
      lost: () => -1,
    });
    expect(done).toBeGreaterThanOrEqual(10);
    expect(done).toBeLessThan(20);
  });

  it('stop when somebody who is told cannot go on, and pass on why', async () => {
    let told = 0;
    await expect(inThreads<number, number>(WORKER, new Array<number>(500).fill(2), {
      threads: 2,
      each: () => {
        told += 1;
        if (told === 10) throw new Error('the disk is full');
      },
      lost: () => -1,
    })).rejects.toThrow('the disk is full');
    expect(told).toBe(10);
  });

  it('say once that the code of all of them is loaded, before the last has answered', async () => {
    const worker = new URL(`data:text/javascript,${encodeURIComponent(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', ({ index, task }) => { setTimeout(() => { parentPort.postMessage({ index, answer: task }); }, 20); });
      parentPort.postMessage('loaded');
    `)}`);
    const told: string[] = [];
    await inThreads<number, number>(worker, Array.from({ length: 30 }, (_, n) => n), {
      threads: 3,
      each: (_, answer) => { told.push(String(answer)); },
      lost: () => -1,
      loaded: () => { told.push('loaded'); },
    });
    expect(told.filter((one) => one === 'loaded')).toHaveLength(1);
    expect(told.indexOf('loaded')).toBeLessThan(30);
    expect(told).toHaveLength(31);
  });

  it('may have begun before there is anything to do: what they said is not lost, and those too many end', async () => {
    const begun = [0, 1, 2, 3].map(() => new Thread<number, number | string>(WORKER));
    await new Promise((resolve) => setTimeout(resolve, 150));
    const answers: (number | string)[] = [];
    await inThreads<number, number | string>(WORKER, [1, 13, 3, 4, 5, 6], {
      threads: 3,
      begun,
      each: (index, answer) => { answers[index] = answer; },
      lost: (task, reason) => `${String(task)}: ${reason}`,
    });
    expect(answers).toEqual([2, '13: thirteen', 6, 8, 10, 12]);
    const dead = new Thread<number, string>(new URL('data:text/javascript,process.exit(4)'));
    await new Promise((resolve) => setTimeout(resolve, 150));
    const told: string[] = [];
    await inThreads<number, string>(new URL('data:text/javascript,process.exit(5)'), [1, 2], {
      threads: 1,
      begun: [dead],
      each: (_, answer) => { told.push(answer); },
      lost: (task, reason) => `${String(task)}: ${reason}`,
    });
    expect(told).toEqual(['1: its thread ended with 4', '2: its thread ended with 5']);
  });

  it('end at once when there is nothing to do', async () => {
    await inThreads<number, number>(WORKER, [], { threads: 2, each: () => undefined, lost: () => -1 });
  });
});
