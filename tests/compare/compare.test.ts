import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EVERYTHING } from '../../src/compare/carried.js';
import { compareLists, type CompareOptions } from '../../src/compare/compare.js';
import { correctionsFor } from '../../src/compare/corrections.js';
import { differenceLine } from '../../src/compare/difference.js';
import { adjustList } from '../../src/cutlist/adjust.js';
import type { CutList, Shot } from '../../src/cutlist/model.js';
import { isFault } from '../../src/problems.js';
import type { Count } from '../../src/timecode/rate.js';
import { framesPerDay, parseCount } from '../../src/timecode/timecode.js';
import { camera, listOf } from '../support/small.js';
import { anyList } from '../support/synced.js';

const lines = (a: CutList, b: CutList, options?: CompareOptions): string[] => compareLists(a, b, options).map(differenceLine);
const between = (a: string, b: string, options?: CompareOptions): string[] => lines(listOf(a), listOf(b), options);

describe('what is listed', () => {
  it('nothing for the same list', () => {
    expect(between('1:100 2:50d10 3:50', '1:100 2:50d10 3:50')).toEqual([]);
  });

  it('a start that moved, once', () => {
    expect(between('1:100 2:50 3:50', '1:105 2:45 3:50')).toEqual(['01:00:04:00>01:00:04:05  shot 2  Camera 2 begins 5 frames later']);
  });

  it('another source', () => {
    expect(between('1:100 2:50 3:50', '1:100 4:50 3:50')).toEqual(['01:00:04:00  shot 2  Camera 2 became Camera 4']);
  });

  it('another transition', () => {
    expect(between('1:100 2:50 3:50d10', '1:100 2:50d12 3:50w10')).toEqual([
      '01:00:04:00  shot 2  cut became dissolve of 12 frames', '01:00:06:00  shot 3  dissolve of 10 frames became wipe 17 of 10 frames']);
  });

  it('a shot that came or went inside others', () => {
    expect(between('1:100 2:50 3:50', '1:40 4:20 1:40 2:50 3:50')).toEqual([
      '01:00:01:15  shot ->2  Camera 4 added, 20 frames', '01:00:02:10  shot ->3  Camera 1 added, 40 frames']);
    expect(between('1:100 2:50 3:50', '1:150 3:50')).toEqual(['01:00:04:00  shot 2>-  Camera 2 removed, 50 frames']);
  });

  it('time that came or went, once, where it did; what follows is not listed', () => {
    expect(between('1:100 2:50 3:50 1:50 2:50 3:50', '1:100 2:60 3:50@-10 1:50@-10 2:50@-10 3:50@-10')).toEqual([
      'running time is 10 frames longer (350 became 360)', '01:00:04:00  shot 2  Camera 2 is 10 frames longer, and what follows later']);
    expect(between('1:100 2:50 3:50 1:50 2:50 3:50', '1:100 3:50@50 1:50@50 2:50@50 3:50@50')).toEqual([
      'running time is 50 frames shorter (350 became 300)', '01:00:04:00  shot 2>-  Camera 2 removed, 50 frames']);
    expect(between('1:100 2:50 3:50 1:50', '1:100 4:25 2:50@-25 3:50@-25 1:50@-25')).toEqual([
      'running time is 25 frames longer (250 became 275)', '01:00:04:00  shot ->2  Camera 4 added, 25 frames']);
    // A change that is made good later is no change of the whole.
    expect(between('1:100 2:50 3:50 1:50 2:50 3:50 1:50', '1:90 2:50@10 3:50@10 1:50@10 2:50@10 3:60@10 1:50')).toEqual([
      '01:00:00:00  shot 1  Camera 1 is 10 frames shorter, and what follows earlier', '01:00:12:00>01:00:11:15  shot 6  Camera 3 is 10 frames longer, and what follows later']);
  });

  it('of a shot whose length changed what is true of it, whatever came or went beside it', () => {
    expect(between('1:125 2:125', '1:125 2:75 3:100')).toEqual([
      'running time is 50 frames longer (250 became 300)', '01:00:05:00  shot 2  Camera 2 is 50 frames shorter', '01:00:08:00  shot ->3  Camera 3 added, 100 frames']);
    expect(between('1:125 2:75 3:100', '1:125 2:125')).toEqual([
      'running time is 50 frames shorter (300 became 250)', '01:00:05:00  shot 2  Camera 2 is 50 frames longer', '01:00:08:00  shot 3>-  Camera 3 removed, 100 frames']);
    expect(between('1:100 2:50 3:50 1:50 2:50', '1:80 4:30 2:50@-10 3:50@-10 1:50@-10 2:50@-10')).toEqual([
      'running time is 10 frames longer (300 became 310)', '01:00:00:00  shot 1  Camera 1 is 20 frames shorter, and what follows 10 frames later', '01:00:03:05  shot ->2  Camera 4 added, 30 frames']);
    // A start that moved has its part in it too.
    expect(between('1:100 2:50 3:50 1:50 2:50', '1:105 2:55 3:50@-10 1:50@-10 2:50@-10')).toEqual([
      'running time is 10 frames longer (300 became 310)', '01:00:04:00>01:00:04:05  shot 2  Camera 2 begins 5 frames later', '01:00:04:00>01:00:04:05  shot 2  Camera 2 is 5 frames longer, and what follows 10 frames later']);
    // Or there is no shot whose length it is.
    expect(between('1:100 2:100 3:50', '2:60@50 1:50@-10 4:40@-50')[1]).toBe('what follows the start lies 10 frames later');
  });

  it('lengths as the lists have them', () => {
    fc.assert(fc.property(anyList(), anyList(), (a, b) => {
      for (const { kind, a: from, b: to, frames } of compareLists(a, b)) {
        if (kind !== 'lengthened' && kind !== 'shortened') continue;
        const [was, is] = [a.shots[(from?.shot ?? 0) - 1] as Shot, b.shots[(to?.shot ?? 0) - 1] as Shot];
        expect(is.out - is.in - (was.out - was.in)).toBe(frames);
        expect(kind).toBe((frames ?? 0) > 0 ? 'lengthened' : 'shortened');
      }
    }), { numRuns: 300 });
  });

  it('other source points', () => {
    expect(between('1:100 2:50 3:50', '1:100 2:50@3 3:50')).toEqual(['01:00:04:00  shot 2  source point 01:00:04:00 became 01:00:04:03 (3 frames later than it would be)']);
  });

  it('title, record start, markers, sound', () => {
    const a = listOf('1:100 2:50', 'none', { markers: [{ at: 10, note: 'Boil' }, { at: 20, note: 'Stir' }, { at: 30, note: 'Serve' }] });
    const b: CutList = { ...a, title: 'Other', recordStart: 0, markers: [{ at: 12, note: 'Boil' }, { at: 20, note: 'Stir well' }, { at: 140, note: 'End' }],
      audio: [{ source: '4', in: 0, out: 150, sourceIn: 100, sourceOut: 250, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false }] };
    expect(lines(a, b)).toEqual([
      "title 'Harbour Kitchen 14' became 'Other'", 'record start 01:00:00:00 became 00:00:00:00',
      '00:00:00:00  sound on channels 1 2: silence became Camera 4 channel 1 from 00:00:04:00, for 150 frames',
      "01:00:00:10>00:00:00:12  marker 'Boil' lies 2 frames later", "01:00:00:20>00:00:00:20  marker 'Stir' became 'Stir well'", "01:00:01:05  marker 'Serve' removed", "00:00:05:15  marker 'End' added",
    ]);
    expect(lines(a, b, { carried: { ...EVERYTHING, markers: false } })).toHaveLength(3);
  });

  it('sound that follows the picture is not listed beside it', () => {
    expect(lines(listOf('1:100 2:50 3:50', 'follow'), listOf('1:105 2:45d5 3:50', 'follow'))).toHaveLength(2);
    expect(lines(listOf('1:100 2:50 3:50', 'follow'), listOf('1:105 2:45 3:50'))).toHaveLength(4);
  });

  it('a lead that moved every switch moves every switch', () => {
    const list = listOf(Array.from({ length: 40 }, (_, index) => `${String(1 + (index % 4))}:50`).join(' '));
    const moved = compareLists(list, adjustList(list, { lead: { all: 6 } }, () => undefined));
    expect(moved.map(({ kind, frames }) => `${kind} ${String(frames)}`)).toEqual(Array.from({ length: 39 }, () => 'moved -6'));
    expect(correctionsFor(list, adjustList(list, { lead: { all: 6 } }, () => undefined))).toHaveLength(39);
  });
});

describe('lists that count differently', () => {
  const at = (name: string): Count => { const count = parseCount(name); if (isFault(count)) throw new Error(name); return count; };
  /** The same shots and frame numbers at another rate; sources of a list count as it does, but for those in `counts`. */
  const counted = (text: string, rate: string, counts: Readonly<Record<string, string>> = {}): CutList => {
    const list = listOf(text);
    return { ...list, count: at(rate), sources: list.sources.map((source) => ({ ...source, count: at(counts[source.id] ?? rate) })) };
  };

  it('differ in rate, and else by number', () => {
    const [a, b] = [counted('1:100 2:100d25 3:100', '25'), counted('1:100 2:100d25 3:100', '50')];
    expect(lines(a, b)).toEqual(['rate 25 became 50; frames are compared by number', 'record start 01:00:00:00 became 00:30:00:00']);
    expect(lines(a, { ...b, recordStart: 180_000 })).toEqual(['rate 25 became 50; frames are compared by number']);
    expect(lines(a, { ...counted('1:100 2:100d25@3 3:100', '50'), recordStart: 180_000 }).slice(1)).toEqual(['01:00:04:00>01:00:02:00  shot 2  source point 01:00:04:00 became 00:30:02:03 (3 frames later than it would be)']);
  });

  it('are as far apart as their labels, where only the source is counted differently', () => {
    // Source 2 runs at 50, and a list that does not say so has its labels as if they were of 25.
    const a = counted('1:100 2:50', '25', { 2: '50' });
    const [wide, close] = a.shots as [Shot, Shot];
    const b = (later: number): CutList => ({ ...counted('1:100 2:50', '25'), shots: [wide, { ...close, sourceIn: 45_050 + later, sourceOut: 45_100 + later }] });
    const known = { ...a, shots: [wide, { ...close, sourceIn: 90_100, sourceOut: 90_200 }] };
    expect(lines(known, b(0))).toEqual([]);
    expect(lines(known, b(50))).toEqual(['01:00:04:00  shot 2  source point 00:30:02:00 became 00:30:04:00 (50 frames later than it would be)']);
    expect(lines(known, b(50), { within: 49 })).toHaveLength(1);
    expect(lines(known, b(1), { within: 1 })).toEqual([]);
    expect(lines(known, b(-1))).toEqual(['01:00:04:00  shot 2  source point 00:30:02:00 became 00:30:01:24 (1 frame earlier than it would be)']);
  });

  it('are as far apart as their labels with and without drop-frame', () => {
    const a = counted('1:100', '29.97ndf');
    const b = counted('1:100', '29.97df');
    // An hour of labels is 108 frames more without drop-frame; the numbers are the same, the labels are not.
    const [line = ''] = lines(a, b, { within: 3 }).filter((text) => text.includes('source point'));
    expect(line).toContain('source point 00:50:00:00 became 00:50:03;00 (90 frames later than it would be)');
  });
});

describe('what is no difference', () => {
  it('where a format keeps the boundary in a mix', () => {
    fc.assert(fc.property(anyList(), fc.constantFrom(0, 0.5, 1), (list, part) => {
      const place = <T extends { transition?: Shot['transition'] }>(shot: T): T => (shot.transition === undefined ? shot : { ...shot, transition: { ...shot.transition, inOffset: Math.floor(part * shot.transition.frames) } });
      expect(compareLists(list, { ...list, shots: list.shots.map(place), audio: list.audio.map(place) })).toEqual([]);
    }), { numRuns: 200 });
  });

  it('whole days of source points', () => {
    fc.assert(fc.property(anyList(), fc.integer({ min: -2, max: 3 }), (list, days) => {
      const counts = new Map(list.sources.map(({ id, count }) => [id, framesPerDay(count)]));
      const later = <T extends Pick<Shot, 'source' | 'sourceIn' | 'sourceOut'>>(one: T): T => {
        const by = days * (counts.get(one.source) ?? 0);
        return { ...one, sourceIn: one.sourceIn + by, sourceOut: one.sourceOut + by };
      };
      expect(compareLists(list, { ...list, shots: list.shots.map(later), audio: list.audio.map(later) })).toEqual([]);
    }), { numRuns: 200 });
  });

  it('ids, when sources match by reel, name or file', () => {
    const renamed = (list: CutList, change: (index: number) => object): CutList => ({
      ...list,
      sources: list.sources.map((source, index) => ({ ...source, id: `s${source.id}`, ...change(index) })),
      shots: list.shots.map((shot) => ({ ...shot, source: `s${shot.source}` })),
    });
    const a = listOf('1:100 2:50 3:50', 'none', { sources: ['1', '2', '3'].map((id) => camera(id, { reel: `CAM${id}`, files: [{ path: `media/cam ${id}.mov` }] })) });
    expect(lines(a, renamed(a, (index) => ({ name: `other ${String(index)}`, files: [] })))).toEqual([]);
    expect(lines(a, renamed(a, (index) => ({ reel: `X${String(index)}`, files: [] })))).toEqual([]);
    expect(lines(a, renamed(a, (index) => ({ reel: `X${String(index)}`, name: `other ${String(index)}`, files: [{ path: `file:///Volumes/raid/cam%20${String(index + 1)}.mov` }] })))).toEqual([]);
    expect(lines(a, renamed(a, (index) => ({ reel: `X${String(index)}`, name: `other ${String(index)}`, files: [] })))).toHaveLength(3);
    // Reel first: here the names say otherwise, and do not count.
    expect(lines(a, renamed(a, (index) => ({ name: `Camera ${String(3 - index)}` })))).toEqual([]);
    // A reel that an EDL made from the name.
    const unnamed = listOf('1:100 2:50', 'none', { sources: [camera('1', { name: 'Bühne total' }), camera('2', { name: 'Bühne total links' })] });
    expect(lines(unnamed, { ...unnamed, sources: [camera('1', { name: 'BUHNETOT', reel: 'BUHNETOT' }), camera('2', { name: 'BUHNETO2', reel: 'BUHNETO2' })] })).toEqual([]);
    // Reels of 8 and of 32: cut to 8, the second of the long ones would be the first of the short ones.
    const short = { ...unnamed, sources: [camera('1', { name: 'Bühne groß 1', reel: 'BUHNEGR2' }), camera('2', { name: 'Bühne groß 2', reel: 'BUHNEGR3' })] };
    const long = { ...unnamed, sources: [camera('1', { name: 'Bühne groß 1', reel: 'BUHNEGROSS1' }), camera('2', { name: 'Bühne groß 2', reel: 'BUHNEGROSS2' })] };
    expect([lines(short, long), lines(long, short)]).toEqual([[], []]);
  });

  it('what lies within a tolerance', () => {
    expect(between('1:100 2:50 3:50', '1:102 2:48d2 3:50@2', { within: 2 })).toEqual(['01:00:04:00>01:00:04:02  shot 2  cut became dissolve of 2 frames']);
    expect(between('1:100 2:50d10 3:50', '1:103 2:49d12 3:50', { within: 2 }).length).toBeGreaterThan(0);
    expect(between('1:100 2:50d10 3:50', '1:102 2:48d12 3:51', { within: 2 })).toEqual([]);
  });

  it('takes a list without a title for what an EDL makes of one, where one of the two is an EDL', () => {
    const [a, b] = [listOf('1:100', 'none', { title: ' ' }), listOf('1:100', 'none', { title: 'UNTITLED' })];
    expect(compareLists(a, b, { carried: { ...EVERYTHING, ascii: true } })).toEqual([]);
    expect(compareLists(a, b, { carried: EVERYTHING })).toHaveLength(1);
  });
  it('what an EDL cannot say', () => {
    const a = listOf('1:100 2:50', 'none', { title: 'Küche 14', markers: [{ at: 5, note: 'Über den Tisch' }] });
    const b = listOf('1:100 2:50', 'none', { title: 'Kuche 14', markers: [{ at: 5, note: 'Uber den Tisch' }] });
    expect(lines(a, b)).toHaveLength(2);
    expect(lines(a, b, { carried: { ...EVERYTHING, ascii: true } })).toEqual([]);
  });

  it('anything, for a list and itself', () => {
    fc.assert(fc.property(anyList(), (list) => {
      expect(compareLists(list, list)).toEqual([]);
    }), { numRuns: 300 });
  });
});

describe('speed', () => {
  const long = (sources: number, slip: (index: number) => number, frames: (index: number) => number): CutList =>
    listOf(Array.from({ length: 10_000 }, (_, index) => `${String(1 + (index % sources))}:${String(frames(index))}@${String(slip(index))}`).join(' '));
  const base = long(4, () => 0, (index) => 20 + ((index * 7919) % 97));

  it.each<[string, CutList, CutList]>([
    ['moved by a lead', base, adjustList(base, { lead: { all: 6 } }, () => undefined)],
    ['all source points differ, in no order', base, long(4, (index) => (index * 104_729) % 5000, (index) => 20 + ((index * 7919) % 97))],
    ['nothing alike', base, long(3, (index) => (index * 104_729) % 5000, (index) => 5 + ((index * 31) % 41))],
    ['all shots alike', long(1, (index) => -50 * index, () => 50), long(1, (index) => -50 * index + 1, () => 50)],
    ['two sources in turn, one shot gone', long(2, (index) => -50 * index, () => 50), ((list: CutList): CutList => ({ ...list, shots: list.shots.slice(1).map((shot) => ({ ...shot, in: shot.in - 50, out: shot.out - 50 })), frames: list.frames - 50 }))(long(2, (index) => -50 * index, () => 50))],
  ])('compares 10,000 shots: %s', (_, a, b) => {
    compareLists(a, b);
    correctionsFor(a, b);
  });

  it('compares 10,000 sources', () => {
    const each = (name: string): CutList => {
      const ids = Array.from({ length: 10_000 }, (_, index) => `${name}${String(index)}`);
      return listOf(ids.map((id) => `${id}:30`).join(' '), 'none', { sources: ids.map((id) => camera(id)) });
    };
    expect(compareLists(each('a'), each('b'))).toHaveLength(10_000);
    expect(compareLists(each('a'), each('a'))).toEqual([]);
  });
});
