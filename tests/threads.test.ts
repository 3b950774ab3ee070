import { describe, expect, it } from 'vitest';
import { inThreads, Thread, type ThreadOptions } from '../src/threads.js';
import { threadOf } from './support/thread-module.js';

// Doubles numbers, dies of 13 and leaves at 17.
const MODULE = threadOf(`async (n) => {
  if (n === 13) throw new Error('thirteen');
  if (n === 17) process.exit(3);
  await new Promise((resolve) => setTimeout(resolve, n % 3));
  return 2 * n;
}`);

/** Waits for the others, so that they have something to do. */
const slowly = (milliseconds: number, answer: (n: number) => string) => async (n: number): Promise<string> => {
  await new Promise((resolve) => setTimeout(resolve, milliseconds));
  return answer(n);
};

/** What the two sides answer, by task. */
async function answersOf(tasks: readonly number[], options: Partial<ThreadOptions<number, unknown>>): Promise<unknown[]> {
  const answers: unknown[] = [];
  await inThreads<number, unknown>(tasks, {
    module: MODULE,
    threads: 3,
    here: slowly(5, (n) => `${String(n)} here`),
    takesPart: true,
    each: (index, answer) => {
      expect(answers[index], 'a task is answered once').toBeUndefined();
      answers[index] = answer;
    },
    lost: (task, reason) => `${String(task)}: ${reason}`,
    ...options,
  });
  return answers;
}

describe('threads', () => {
  it('answer every task once, here and beside', async () => {
    const tasks = Array.from({ length: 200 }, (_, n) => (n === 13 || n === 17 ? 0 : n));
    const answers = await answersOf(tasks, {});
    for (const [index, task] of tasks.entries()) expect([2 * task, `${String(task)} here`]).toContain(answers[index]);
    expect(answers.filter((one) => typeof one === 'number').length).toBeGreaterThan(0);
    expect(answers.filter((one) => typeof one === 'string').length).toBeGreaterThan(0);
  });

  it('cost only their own task when they die, and others take their place', async () => {
    const tasks = Array.from({ length: 60 }, (_, n) => n);
    // This thread takes the first task, and is at it until the others have done the rest.
    let rest = (): void => undefined;
    const others = new Promise<void>((resolve) => { rest = resolve; });
    const answers: unknown[] = [];
    await inThreads<number, unknown>(tasks, {
      module: MODULE,
      threads: 3,
      here: async (n) => {
        await others;
        return `${String(n)} here`;
      },
      takesPart: true,
      each: (index, answer) => {
        answers[index] = answer;
        if (Object.keys(answers).length === tasks.length - 1) rest();
      },
      lost: (task, reason) => `${String(task)}: ${reason}`,
    });
    expect(answers).toEqual(tasks.map((n) => (n === 0 ? '0 here' : n === 13 ? '13: thirteen' : n === 17 ? '17: its thread ended with 3' : 2 * n)));
  });

  it('are none without a module, and a task that throws costs only itself', async () => {
    const answers = await answersOf([1, 2, 3], {
      module: undefined,
      here: (n) => (n === 2 ? Promise.reject(new Error('two')) : Promise.resolve(n)),
    });
    expect(answers).toEqual([1, '2: two', 3]);
  });

  it('tell of one task at a time', async () => {
    let telling = 0;
    await answersOf([1, 2, 3, 4, 5, 6], {
      each: async () => {
        telling += 1;
        expect(telling).toBe(1);
        await new Promise((resolve) => setTimeout(resolve, 2));
        telling -= 1;
      },
    });
  });

  it('begin nothing more once they are told to stop', async () => {
    const stop = new AbortController();
    let done = 0;
    await answersOf(new Array<number>(500).fill(2), {
      signal: stop.signal,
      each: () => {
        done += 1;
        if (done === 10) stop.abort();
      },
    });
    expect(done).toBeGreaterThanOrEqual(10);
    expect(done).toBeLessThan(20);
    const answers = await answersOf([1, 2, 3], { signal: AbortSignal.abort() });
    expect(answers).toEqual([]);
  });

  it('stop when somebody who is told cannot go on, and pass on why', async () => {
    let told = 0;
    await expect(answersOf(new Array<number>(500).fill(2), {
      each: () => {
        told += 1;
        if (told === 10) throw new Error('the disk is full');
      },
    })).rejects.toThrow('the disk is full');
    expect(told).toBe(10);
  });

  it('say once that the code of all of them is loaded', async () => {
    const told: string[] = [];
    await answersOf(Array.from({ length: 60 }, (_, n) => (n === 13 || n === 17 ? 0 : n)), {
      here: slowly(20, String),
      each: (_, answer) => { told.push(String(answer)); },
      loaded: () => { told.push('loaded'); },
    });
    expect(told.filter((one) => one === 'loaded')).toHaveLength(1);
    expect(told).toHaveLength(61);
    const alone: string[] = [];
    await answersOf([1], { each: () => { alone.push('told'); }, loaded: () => { alone.push('loaded'); } });
    expect(alone).toEqual(['loaded', 'told']);
  });

  it('may have begun before there is anything to do: what they said is not lost, and those too many end', async () => {
    const begun = [0, 1, 2, 3].map(() => new Thread<number, unknown>(MODULE));
    await new Promise((resolve) => setTimeout(resolve, 150));
    const answers = await answersOf(new Array<number>(20).fill(4), { begun, here: slowly(40, () => 'here') });
    expect(answers.filter((one) => one === 8).length).toBeGreaterThan(0);
    expect(answers.filter((one) => one === 'here').length + answers.filter((one) => one === 8).length).toBe(20);
  });

  it('that cannot begin cost nothing: this thread does what they would have done', async () => {
    for (const takesPart of [true, false]) {
      const dead = new Thread<number, unknown>(new URL('data:text/javascript,process.exit(4)'));
      await new Promise((resolve) => setTimeout(resolve, 150));
      const answers = await answersOf([1, 2, 3], { module: new URL('data:text/javascript,process.exit(5)'), begun: [dead], takesPart });
      expect(answers).toEqual(['1 here', '2 here', '3 here']);
    }
  });

  it('leave this thread nothing where it does not take part', async () => {
    expect(await answersOf([1, 2, 3, 4, 5, 6], { takesPart: false })).toEqual([2, 4, 6, 8, 10, 12]);
    expect(await answersOf([1, 13, 2], { takesPart: false, threads: 1 })).toEqual([2, '13: thirteen', 4]);
  });

  it('end at once when there is nothing to do', async () => {
    expect(await answersOf([], {})).toEqual([]);
  });
});
