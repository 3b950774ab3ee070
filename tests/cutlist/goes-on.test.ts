import { describe, expect, it } from 'vitest';
import { goesOn } from '../../src/cutlist/goes-on.js';
import type { Shot } from '../../src/cutlist/model.js';

describe('a shot that goes on', () => {
  it('shows the source of the one before, and nobody switched', () => {
    const shot: Shot = { source: '1', in: 10, out: 20, sourceIn: 10, sourceOut: 20, take: 0, continues: true };
    expect(goesOn({ ...shot, in: 0, out: 10 }, shot)).toBe(true);
    expect(goesOn({ ...shot, source: 'program', instead: '1' }, shot)).toBe(false);
    expect(goesOn(undefined, shot)).toBe(false);
    expect(goesOn({ ...shot, in: 0, out: 10 }, { ...shot, continues: false })).toBe(false);
  });
});
