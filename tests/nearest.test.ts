import { describe, expect, it } from 'vitest';
import { nearest } from '../src/nearest.js';

describe('the nearest right word', () => {
  it('is found through a slip or two', () => {
    expect(nearest('disolve', ['cut', 'dissolve'])).toBe('dissolve');
    expect(nearest('raet', ['map', 'rate'])).toBe('rate');
    expect(nearest('row', ['rows', 'fields'])).toBe('rows');
    expect(nearest('JOIN', ['joined', 'gaps'])).toBe('joined');
  });

  it('is not one that shares next to nothing with it', () => {
    expect(nearest('--bogus', ['--out', '--to', '--map'])).toBeUndefined();
    expect(nearest('zzzzzz', ['a', 'cut', 'dissolve'])).toBeUndefined();
  });

  it('is not another digit or letter: that is another source, not a slip', () => {
    expect(nearest('9', ['1', '2', 'black'])).toBeUndefined();
    expect(nearest('9', ['1', '10'])).toBeUndefined();
    expect(nearest('A', ['b', 'a'])).toBe('a');
  });
});
