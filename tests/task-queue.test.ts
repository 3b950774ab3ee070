import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TaskQueue } from '../src/task-queue.js';

describe('a queue of tasks', () => {
  it('gives each task once, in order, whoever asks, and knows what each took last', () => {
    fc.assert(fc.property(fc.nat(40), fc.array(fc.nat(3), { maxLength: 80 }), (tasks, asking) => {
      const queue = new TaskQueue(tasks, 4);
      const last: (number | undefined)[] = [undefined, undefined, undefined, undefined];
      const seen = asking.map((place, turn) => {
        // As another thread sees it, in turn.
        const index = (turn % 2 === 0 ? queue : new TaskQueue(tasks, queue.memory)).take(place);
        last[place] = index ?? last[place];
        return index;
      });
      expect(seen).toEqual(asking.map((_, turn) => (turn < tasks ? turn : undefined)));
      expect(last.map((_, place) => queue.at(place))).toEqual(last);
      expect(queue.isOver).toBe(asking.length >= tasks);
    }));
  });

  it('gives nothing once it is stopped', () => {
    const queue = new TaskQueue(3, 1);
    expect(queue.take(0)).toBe(0);
    queue.stop();
    expect(queue.take(0)).toBeUndefined();
    expect([queue.isOver, queue.at(0)]).toEqual([true, 0]);
    queue.leave(0);
    expect(queue.at(0)).toBeUndefined();
  });
});
