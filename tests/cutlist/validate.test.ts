import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PROGRAM, type CutList, type Shot } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { rateOf } from '../../src/timecode/rate.js';
import { countOf } from '../../src/timecode/timecode.js';
import { arbitraryList } from '../support/lists.js';

describe('listFaults', () => {
  it('finds nothing in sound random lists', () => {
    fc.assert(fc.property(arbitraryList({ otherRates: true }), (list) => {
      expect(listFaults(list)).toEqual([]);
    }), { numRuns: 300 });
  });

  const rate = rateOf(25, 1);
  if (rate === undefined) throw new Error('25 is a rate');
  const count = countOf(rate, false);
  const source = (id: string) => ({ id, name: id, aliases: [], picture: true, recorded: true, count, starts: [], offset: 0, files: [{ path: `${id}.mov` }] });
  const shot = (id: string, from: number, to: number, more: Partial<Shot> = {}): Shot => ({ source: id, in: from, out: to, sourceIn: from, sourceOut: to, take: 0, ...more });
  const sound: CutList = {
    title: 'Harbour Kitchen', count, recordStart: 0, frames: 30,
    sources: [source('1'), source('2'), { ...source('desk'), picture: false }, source(PROGRAM)],
    takes: [{ in: 0, out: 30, logIn: 0 }],
    shots: [shot('1', 0, 10), shot('2', 10, 20), shot('1', 20, 30)],
    audio: [{ source: 'desk', in: 0, out: 30, sourceIn: 0, sourceOut: 30, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false }],
    markers: [{ at: 5, note: 'a' }, { at: 30, note: 'b' }],
  };
  const second = (more: Partial<Shot>): CutList => ({ ...sound, shots: sound.shots.map((item, index) => (index === 1 ? { ...item, ...more } : item)) });
  const heard = (...more: Partial<CutList['audio'][number]>[]): CutList => ({ ...sound, audio: more.map((part) => ({ ...(sound.audio[0] as CutList['audio'][number]), ...part })) });
  const take = (from: number, to: number) => ({ in: from, out: to, logIn: from });

  it('finds nothing in the list that the cases below break', () => {
    expect(listFaults(sound)).toEqual([]);
  });

  it.each<[string, CutList, RegExp]>([
    ['a hole', second({ in: 11 }), /shot 2 begins on 11/],
    ['an overlap', second({ in: 9 }), /shot 2 begins on 9/],
    ['a missing end', { ...sound, frames: 31 }, /shots end on 30/],
    ['an empty shot', second({ in: 10, out: 10 }), /goes from 10 to 10/],
    ['half a frame', second({ sourceIn: 10.5 }), /source points 10.5/],
    ['source points that run backwards', second({ sourceIn: 20, sourceOut: 19 }), /source points 20 and 19/],
    ['an unknown source', second({ source: '9' }), /'9', which is not known/],
    ['a sound-only recording on air', second({ source: 'desk' }), /has no picture/],
    ['black with source points', second({ source: 'black' }), /is black, with source points/],
    ['a file that is not there', second({ file: 1 }), /file 2 of '2'/],
    ['a take that is not there', second({ take: 1 }), /in take 2, which is not there/],
    ['a transition longer than its shot', second({ transition: { kind: 'dissolve', frames: 11, inOffset: 0 } }), /transition of 11/],
    ['a transition without frames', second({ transition: { kind: 'dissolve', frames: 0, inOffset: 0 } }), /transition of 0/],
    ['a boundary outside its transition', second({ transition: { kind: 'dissolve', frames: 5, inOffset: 6 } }), /boundary on 6/],
    ['a dissolve with a wipe code', second({ transition: { kind: 'dissolve', frames: 5, inOffset: 0, wipe: 1 } }), /wipe code 1/],
    ['a wipe code past 999', second({ transition: { kind: 'wipe', frames: 5, inOffset: 0, wipe: 1000 } }), /wipe code 1000/],
    ['a camera instead of another', second({ instead: '1' }), /shows '2' instead of '1'/],
    ['black instead of black', second({ source: 'black', sourceIn: 0, sourceOut: 10, instead: 'black' }), /shows 'black' instead of itself/],
    ['a shot that continues another source', second({ continues: true }), /continues '2', and before it '1'/],
    ['a shot that crosses a take', { ...sound, takes: [take(0, 15), take(15, 30)] }, /shot 2 reaches out of take 1/],
    ['a take that ends inside a shot', { ...sound, takes: [take(0, 5)] }, /a bound of take 1, 5, lies inside a shot/],
    ['black that reaches from a take into the next one', { ...sound, takes: [take(0, 10), take(15, 30)], shots: [shot('1', 0, 10), shot('black', 10, 20, { sourceIn: 0, sourceOut: 10 }), shot('1', 20, 30, { take: 1 })] }, /a bound of take 2, 15, lies inside a shot/],
    ['black of another take than the one it lies in', { ...sound, takes: [take(0, 10), take(10, 30)], shots: [shot('1', 0, 10), shot('black', 10, 20, { sourceIn: 0, sourceOut: 10 }), shot('1', 20, 30, { take: 1 })] }, /shot 2 reaches out of take 1/],
    ['overlapping takes', { ...sound, takes: [take(0, 30), take(20, 30)] }, /before the take before it ends/],
    ['two sources with one id', { ...sound, sources: [...sound.sources.slice(0, 1), ...sound.sources] }, /there twice/],
    ['a program recording in the middle', { ...sound, sources: [source(PROGRAM), ...sound.sources.slice(0, 3)] }, /not the last source/],
    ['sound past the end', heard({ out: 31, sourceOut: 31 }), /after the list/],
    ['sound that overlaps on one track', heard({ out: 20, tracks: [1], channels: [1] }, { in: 19, tracks: [1], channels: [1] }), /before the sound before it ends on track 1/],
    ['tracks that are not ascending', heard({ tracks: [2, 1] }), /tracks 2, 1/],
    ['tracks without channels', heard({ channels: [1] }), /1 channels for 2 tracks/],
    ['sound that claims a shot it is not of', heard({ withPicture: true }), /no shot has its points/],
    ['sound that mixes in where no shot does', heard({ source: '2', in: 10, out: 15, sourceIn: 10, sourceOut: 15, transition: { kind: 'dissolve', frames: 3, inOffset: 0 } }), /has a transition, and no shot begins with it/],
    ['markers out of order', { ...sound, markers: [{ at: 5, note: 'a' }, { at: 4, note: 'b' }] }, /before the one before/],
    ['a marker past the end', { ...sound, markers: [{ at: 31, note: 'a' }] }, /outside the list/],
    ['an angle that overlaps itself', { ...sound, angles: [{ source: '1', pieces: [{ in: 0, out: 20, sourceIn: 0, sourceOut: 20, take: 0 }, { in: 10, out: 20, sourceIn: 0, sourceOut: 10, take: 0 }] }] }, /before the one before it ends/],
  ])('finds %s', (_name, list, expected) => {
    expect(listFaults(list).join('\n')).toMatch(expected);
  });
});
