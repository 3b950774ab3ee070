import { describe, expect, it } from 'vitest';
import type { CutList, Shot } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import { follower } from '../../src/cutlist/shift.js';
import { build, countNamed, rows, source } from './rows.js';

describe('a shot at another rate than the list', () => {
  it('that goes up to the end of its file is in sync wherever it is moved, though it has a frame less than its length asks for', () => {
    const camera = source('1', { count: countNamed('48'), files: [{ path: '1-1.mov', start: 1, frames: 5 }, { path: '1-2.mov', start: 6, frames: 900 }] });
    const log = rows('0 start | 0 cut 2 | 2 cut 1 | 60 stop');
    const list = placeOnRecordings(build(log, {}, [camera, source('2')]).lists[0] as CutList, () => undefined);
    const shot = list.shots[1] as Shot;
    // The file ends on frame 6. Two frames at 25 are 3.84 at 48.
    expect(shot).toMatchObject({ source: '1', file: 0, in: 2, out: 4, sourceIn: 4, sourceOut: 7 });
    expect(follower(list)(shot, 0, 4)).toMatchObject({ sourceIn: 0, sourceOut: 8 });
    // Two frames behind the end no file of a placed list ends: what uses as little there plays slower.
    expect(follower(list)({ ...shot, sourceIn: 5, sourceOut: 8 }, 0, 4)).toMatchObject({ sourceIn: 2, sourceOut: 8 });
  });
});
