import { describe, expect, it } from 'vitest';
import type { Transition } from '../../src/cutlist/model.js';
import { inOffsetOf, resized } from '../../src/cutlist/transitions.js';

const mix = (frames: number, inOffset: number): Transition => ({ kind: 'dissolve', frames, inOffset });

describe('a mix of another length', () => {
  it('has its boundary where a mix made in that length has it', () => {
    for (const rule of ['start', 'center', 'end'] as const) {
      // Below three frames one place may be that of two rules.
      for (let frames = 3; frames <= 30; frames += 1) {
        for (const oldLength of [frames, frames + 1, 100]) {
          for (let left = 1; left <= frames; left += 1) {
            for (const length of [left, oldLength]) {
              const made = resized(mix(frames, inOffsetOf(rule, frames, oldLength)), left, oldLength, length);
              expect(made).toEqual(mix(left, inOffsetOf(rule, left, length)));
            }
          }
        }
      }
    }
  });
  it('keeps its proportion where no rule put it there', () => {
    expect(resized(mix(25, 5), 10, 100, 100)).toEqual(mix(10, 2));
    expect(resized(mix(25, 23), 20, 25, 18)).toEqual(mix(20, 17));
  });
  it('is the same where nothing changes', () => {
    const old = mix(25, 12);
    expect(resized(old, 25, 100, 90)).toBe(old);
  });
});
