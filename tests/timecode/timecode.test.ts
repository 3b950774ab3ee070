import { describe, expect, it } from 'vitest';
import { formatTimecode, parseTimecode } from '../../src/timecode/timecode.js';
import { COUNTS } from '../support/lists.js';
import { framesPerDay } from '../../src/timecode/timecode.js';

describe('labels', () => {
  it.each(COUNTS.map((count) => [`${count.rate.name} ${count.dropFrame ? 'df' : 'ndf'}`, count] as const))(
    'every label of 24 h at %s goes frame → label → frame unchanged',
    (_, count) => {
      const day = framesPerDay(count);
      let wrong = 0;
      for (let frame = 0; frame < day; frame += 1) {
        if (parseTimecode(formatTimecode(frame, count), count) !== frame) wrong += 1;
      }
      expect(wrong).toBe(0);
    },
  );
});
