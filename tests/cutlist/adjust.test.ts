import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustList, readSourceFrames, type AdjustOptions } from '../../src/cutlist/adjust.js';
import { BLACK, type CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { isFault, ProblemList } from '../../src/problems.js';
import { listOf, textOf } from '../support/small.js';
import { anyList, synced as resynced } from '../support/synced.js';

function adjusted(list: CutList, options: AdjustOptions): { list: CutList; said: string[] } {
  const problems = new ProblemList();
  const out = adjustList(list, options, problems.add);
  return { list: out, said: problems.problems.map(({ code, message, place }) => `${place?.option ?? ''} ${message} [${code}]`) };
}

/** The same list with the black at the end of its takes behind them, as `--takes gaps` has it. */
const withGaps = (list: CutList): CutList => ({
  ...list,
  takes: list.takes.map((take, index) => {
    const shots = list.shots.filter((shot) => shot.take === index);
    const last = shots.at(-1);
    return last?.source === BLACK && last.transition === undefined && shots.length > 1 ? { ...take, out: last.in } : take;
  }),
});

const inSync = (list: CutList): boolean => list.shots.every((shot) => shot.source === BLACK || shot.sourceIn === 90_000 + shot.in);

describe('sound that comes on with the picture and leaves it early', () => {
  const mix = { kind: 'dissolve', frames: 20, inOffset: 0 } as const;
  const plain = listOf('1:100 2:100');
  const shots = plain.shots.map((shot, index) => (index === 1 ? { ...shot, transition: mix } : shot));
  const [first, second] = shots;
  if (first === undefined || second === undefined) throw new Error('two shots');
  const tracks = { tracks: [1, 2], channels: [1, 2] };
  const list: CutList = {
    ...plain,
    shots,
    audio: [
      { ...tracks, source: '1', in: 0, out: 100, sourceIn: first.sourceIn, sourceOut: first.sourceOut, take: 0, withPicture: true },
      { ...tracks, source: '2', in: 100, out: 150, sourceIn: second.sourceIn, sourceOut: second.sourceIn + 50, take: 0, withPicture: false, transition: mix },
    ],
  };
  const after = (options: AdjustOptions): string => {
    const out = adjusted(list, options).list;
    expect(listFaults(out)).toEqual([]);
    return out.audio.map((piece) => `${piece.source} ${String(piece.in)}-${String(piece.out)} D${String(piece.transition?.frames ?? 0)}`).join(', ');
  };
  it('begins where its shot does, with its mix, and ends where it did', () => {
    expect(listFaults(list)).toEqual([]);
    expect(after({ lead: { all: 10 } })).toBe('1 0-90 D0, 2 90-150 D20');
    expect(after({ lag: { all: 10 } })).toBe('1 0-110 D0, 2 110-150 D20');
    expect(after({ lag: { all: 40 } })).toBe('1 0-140 D0, 2 140-150 D0');
    expect(after({ cutsOnly: true })).toBe('1 0-100 D0, 2 100-150 D0');
    expect(after({ dissolveAll: 30 })).toBe('1 0-100 D0, 2 100-150 D30');
    expect(after({ dissolveAll: 60 })).toBe('1 0-100 D0, 2 100-150 D0');
  });
});

describe('lead and lag', () => {
  it('moves every switch but the first of a take, and the in-points with them', () => {
    const { list, said } = adjusted(listOf('1:50 2:50 / 3:50 1:50'), { lead: { all: 6 } });
    expect(textOf(list)).toBe('1:44 2:56 / 3:44 1:56');
    expect(inSync(list)).toBe(true);
    expect(said).toEqual(['--lead 2 switches moved earlier [adjusted]']);
    expect(textOf(adjusted(list, { lag: { all: 6 } }).list)).toBe('1:50 2:50 / 3:50 1:50');
  });

  it('moves the switches to one source only', () => {
    expect(textOf(adjusted(listOf('1:50 4:50 2:50 4:50'), { lead: { of: { 4: 6 } } }).list)).toBe('1:44 4:56 2:44 4:56');
    expect(textOf(adjusted(listOf('1:50 4:50 2:50 4:50'), { lag: { all: 2, of: { 'camera 4': 0 } } }).list)).toBe('1:50 4:52 2:48 4:50');
  });

  it('stops one frame after the switch before, and says so', () => {
    const early = adjusted(listOf('1:3 2:2 3:2 1:50'), { lead: { all: 10 } });
    expect(textOf(early.list)).toBe('1:1 2:1 3:1 1:54');
    expect(early.said[0]).toContain('3 switches moved earlier, 3 by less than asked');
    expect(textOf(adjusted(listOf('1:50 2:2 3:2 1:3'), { lag: { all: 10 } }).list)).toBe('1:54 2:1 3:1 1:1');
  });

  it('does not push a switch that nobody asked to move', () => {
    expect(textOf(adjusted(listOf('1:50 4:5 2:50'), { lag: { of: { 4: 20 } } }).list)).toBe('1:54 4:1 2:50');
  });

  it('shortens a mix to what is left of its shot, with the sound that follows', () => {
    const { list, said } = adjusted(listOf('1:50 2:12d10 3:50', 'follow'), { lead: { of: { 3: 5 } } });
    expect(textOf(list)).toBe('1:50 2:7d7 3:55');
    expect(list.audio.map(({ in: into, out, transition }) => [into, out, transition?.frames])).toEqual([[0, 50, undefined], [50, 57, 7], [57, 112, undefined]]);
    expect(said[0]).toContain('1 transition shortened');
  });

  it('reports a source that is not there, with the nearest one, and changes nothing', () => {
    const list = listOf('1:50 2:50');
    const got = adjusted(list, { lead: { of: { blak: 6 } } });
    expect(got.list).toBe(list);
    expect(got.said).toEqual(["--lead source 'blak' is not known; did you mean 'black'?; the list has 1, 2, 3, 4, black [unknown-source]"]);
  });

  it('reads the values of the options', () => {
    expect(readSourceFrames(['6', '4=2', 'Stage = wide=3'], '--lead')).toEqual({ all: 6, of: { 4: 2, 'Stage = wide': 3 } });
    for (const bad of ['', 'x', '4=', '=4', '1.5', '-3', '4=-3', '4=x']) expect(isFault(readSourceFrames([bad], '--lead')), bad).toBe(true);
    expect(readSourceFrames(['-3'], '--lead')).toMatchObject({ fault: 'bad-option', message: expect.stringContaining('use --lag') as string });
    expect(readSourceFrames(['4=1', '4=2'], '--lag')).toMatchObject({ fault: 'bad-option' });
  });
});

describe('min-shot', () => {
  const absorb = (text: string, minShot: number, to?: AdjustOptions['absorb']): string =>
    textOf(adjusted(listOf(text), { minShot, ...(to === undefined ? {} : { absorb: to }) }).list);

  it('gives a double tap to its neighbour, and joins what it parted', () => {
    expect(absorb('1:50 2:3 1:50', 5)).toBe('1:103');
    expect(absorb('1:50 2:3 1:50', 5, 'next')).toBe('1:103');
    expect(absorb('1:50 2:3 3:50', 5)).toBe('1:53 3:50');
    expect(absorb('1:50 2:3 3:60', 5, 'next')).toBe('1:50 3:63');
    expect(absorb('1:50 2:3 3:60', 5, 'longer')).toBe('1:50 3:63');
    expect(absorb('1:60 2:3 3:60', 5, 'longer')).toBe('1:63 3:60');
  });

  it('stays in the take', () => {
    expect(absorb('1:50 / 2:3 3:50 1:2 / 4:50', 5)).toBe('1:50 / 3:55 / 4:50');
    expect(adjusted(listOf('1:50 / 2:3 / 3:50'), { minShot: 5 }).said).toEqual(
      ['--min-shot 0 shots under 5 frames went to a neighbour (0 to the previous one, 0 to the next), 1 stay, alone in their take [adjusted]']);
  });

  it('takes lengths as they have become', () => {
    expect(absorb('1:50 2:3 3:3 4:50', 5, 'next')).toBe('1:50 3:6 4:50');
    expect(absorb('1:50 2:3 3:3 4:50', 5)).toBe('1:56 4:50');
  });

  it('keeps the mix of a neighbour that grows, and drops one of a source with itself', () => {
    expect(absorb('1:50 2:3 3:50d10', 5, 'next')).toBe('1:50 3:53d10');
    expect(absorb('1:50 2:3 1:50d10', 5)).toBe('1:103');
    expect(inSync(adjusted(listOf('1:50 2:3 3:50d10'), { minShot: 5, absorb: 'next' }).list)).toBe(true);
  });

  it('makes a mix a cut when what it came from was the first shot of its take', () => {
    expect(absorb('1:3 2:50d10 3:50d10', 5)).toBe('2:53 3:50d10');
    expect(absorb('1:3 2:3d2 3:50d10 1:50d10', 7)).toBe('3:56 1:50d10');
    expect(absorb('1:50 / 2:3 3:50d10', 5)).toBe('1:50 / 3:53');
    const { list, said } = adjusted(listOf('1:3 2:50d10', 'follow'), { minShot: 5 });
    expect(listFaults(list)).toEqual([]);
    expect(list.audio.map(({ transition }) => transition)).toEqual([undefined]);
    expect(said[0]).toContain('1 to the next), 1 transition became a cut, because what mixed there is gone');
    // Black at the end of a take that is gone: the take before would mix in, with frames behind its stop.
    expect(absorb('1:50 black:3 / 2:50d10', 5)).toBe('1:53 / 2:50');
    expect(absorb('1:50 black:9 / 2:50d10', 5)).toBe('1:50 black:9 / 2:50d10');
    expect(absorb('1:50 3:3 / 2:50d10', 5)).toBe('1:53 / 2:50d10');
    // One that was there before comes from black still.
    expect(absorb('1:50d10 2:3', 5)).toBe('1:53d10');
  });
});

describe('the black between takes', () => {
  const list = withGaps(listOf('1:100 2:50 black:3 / 3:50 black:300 / 1:50'));
  const said = (options: AdjustOptions): string[] => adjusted(list, options).said;

  it('is no switch, and no shot', () => {
    expect(listFaults(list)).toEqual([]);
    expect(textOf(adjusted(list, { lead: { all: 10 } }).list)).toBe('1:90 2:60 black:3 / 3:50 black:300 / 1:50');
    expect(textOf(adjusted(list, { lag: { all: 10 } }).list)).toBe('1:110 2:40 black:3 / 3:50 black:300 / 1:50');
    expect(textOf(adjusted(list, { dissolveAll: 12 }).list)).toBe('1:100 2:50d12 black:3 / 3:50 black:300 / 1:50');
    for (const absorb of ['previous', 'next', 'longer'] as const) expect(textOf(adjusted(list, { minShot: 60, absorb }).list)).toBe('1:150 black:3 / 3:50 black:300 / 1:50');
    expect(said({ lead: { all: 10 } })).toEqual(['--lead 1 switch moved earlier [adjusted]']);
    expect(said({ minShot: 60 })[0]).toContain('2 stay, alone in their take');
  });

  it('stays as long as it is beside black that was switched to', () => {
    const dark = withGaps(listOf('1:100 black:3 2:50 black:4 / 3:50'));
    expect(textOf(adjusted(dark, { minShot: 5 }).list)).toBe('1:103 2:50 black:4 / 3:50');
    const end = listOf('1:100 2:2 black:50 black:40 / 3:50');
    const [first, second] = end.takes;
    if (first === undefined || second === undefined) throw new Error('two takes');
    const ends = { ...end, takes: [{ ...first, out: 152 }, second] };
    expect(textOf(adjusted(ends, { minShot: 5, absorb: 'next' }).list)).toBe('1:100 black:52 black:40 / 3:50');
    expect(textOf(adjusted(ends, { lag: { all: 60 } }).list)).toBe('1:150 2:1 black:1 black:40 / 3:50');
  });
});

describe('dissolve-all and cuts-only', () => {
  it('make no mix of black and black', () => {
    expect(textOf(adjusted(listOf('1:50 black:20 black:30 2:50'), { dissolveAll: 12 }).list)).toBe('1:50 black:20d12 black:30 2:50d12');
  });

  it('makes every switch a dissolve, none longer than its shot, and no take\'s first', () => {
    const { list, said } = adjusted(listOf('1:50 2:8 3:50d10 / 4:50 1:50d12', 'follow'), { dissolveAll: 12, dissolveAt: 'center' });
    expect(textOf(list)).toBe('1:50 2:8d8 3:50d12 / 4:50 1:50d12');
    expect(list.shots[1]?.transition?.inOffset).toBe(4);
    expect(list.audio[1]?.transition).toEqual(list.shots[1]?.transition);
    expect(said).toEqual(['--dissolve-all 1 cut became dissolves of 12 frames, 1 other transition was changed, 1 is shorter, because its shot is [adjusted]']);
  });

  it('makes every transition a cut', () => {
    const { list, said } = adjusted(listOf('1:50d5 2:8 3:50d10', 'follow'), { cutsOnly: true });
    expect(textOf(list)).toBe('1:50 2:8 3:50');
    expect(list.audio.some(({ transition }) => transition !== undefined)).toBe(false);
    expect(said).toEqual(['--cuts-only 2 transitions became cuts [adjusted]']);
    // Wipes too.
    expect(textOf(adjusted(listOf('1:5d3 2:5d5 3:10w5'), { cutsOnly: true }).list)).toBe('1:5 2:5 3:10');
  });
});

const frames = fc.oneof({ weight: 3, arbitrary: fc.integer({ min: 0, max: 12 }) }, fc.integer({ min: 0, max: 700 }));
const shift = fc.record({ all: frames, of: fc.dictionary(fc.constantFrom('1', '2', 'black'), frames) }, { requiredKeys: [] });
const options: fc.Arbitrary<AdjustOptions> = fc.record({
  lead: shift, lag: shift, minShot: frames, absorb: fc.constantFrom('previous', 'next', 'longer'),
  dissolveAll: fc.integer({ min: 1, max: 40 }), cutsOnly: fc.boolean(), dissolveAt: fc.constantFrom('start', 'center', 'end'),
}, { requiredKeys: [] });

describe('laws', () => {
  it('no rule makes a hole, an overlap or a negative shot, moves a take, a marker, sound of its own or the running time', () => {
    fc.assert(fc.property(anyList(), options, (list, given) => {
      const known = { ...given };
      // A list may lack source 2: that is an error of its own.
      for (const key of ['lead', 'lag'] as const) {
        const of = given[key]?.of;
        if (of !== undefined) known[key] = { ...given[key], of: Object.fromEntries(Object.entries(of).filter(([id]) => id === BLACK || list.sources.some((one) => one.id === id))) };
      }
      const { list: out } = adjusted(list, known);
      expect(listFaults(out)).toEqual([]);
      expect(out.frames).toBe(list.frames);
      expect(out.takes).toEqual(list.takes);
      expect(out.markers).toEqual(list.markers);
      expect(out.audio.filter(({ withPicture }) => !withPicture)).toEqual(list.audio.filter(({ withPicture }) => !withPicture));
      const firsts = (one: CutList): number[] => one.takes.map((_, take) => one.shots.find((shot) => shot.take === take)?.in ?? -1);
      expect(firsts(out)).toEqual(firsts(list));
    }), { numRuns: 1500 });
  });

  it('the black between takes stays as it is', () => {
    let gaps = 0;
    fc.assert(fc.property(anyList({ audio: ['none', 'follow'] }).map(withGaps), options, (list, { lead, lag, ...given }) => {
      const moves = { ...(lead?.all === undefined ? {} : { lead: { all: lead.all } }), ...(lag?.all === undefined ? {} : { lag: { all: lag.all } }) };
      const { list: out } = adjusted(list, { ...moves, ...given });
      expect(listFaults(out)).toEqual([]);
      const outside = (one: CutList): unknown => one.shots.filter((shot) => shot.in >= (one.takes[shot.take]?.out ?? 0));
      expect(outside(out)).toEqual(outside(list));
      gaps += list.takes.filter((take, index) => take.out !== (list.takes[index + 1]?.in ?? list.frames)).length;
    }), { numRuns: 800 });
    expect(gaps).toBeGreaterThan(50);
  });

  it('lead N and then lag N is the list again, away from the ends of the takes', () => {
    fc.assert(fc.property(anyList({ maxShotFrames: 300 }), fc.integer({ min: 0, max: 20 }), (list, n) => {
      const { list: there } = adjusted(list, { lead: { all: n } });
      const { list: back } = adjusted(there, { lag: { all: n } });
      const longestChain = n + 2;
      let compared = 0;
      list.shots.forEach((shot, index) => {
        const take = list.takes[shot.take];
        if (take === undefined || shot.in - take.in < n + longestChain || take.out - shot.out < n + longestChain) return;
        compared += 1;
        expect(back.shots[index]).toEqual(shot);
      });
      fc.pre(compared > 0);
    }), { numRuns: 600 });
  });

  it('a lead for one source keeps every frame of shots that lie beside no switch to it', () => {
    fc.assert(fc.property(anyList(), frames, (list, n) => {
      const { list: out } = adjusted(list, { lead: { of: { 1: n } } });
      list.shots.forEach((shot, index) => {
        if (shot.source !== '1' && list.shots[index + 1]?.source !== '1') expect(out.shots[index]).toBe(shot);
        if (shot.source !== '1') expect(out.shots[index]?.in).toBe(shot.in);
      });
    }), { numRuns: 500 });
  });

  it('what lay in sync with its log stays in sync', () => {
    fc.assert(fc.property(anyList(), options, (list, given) => {
      fc.pre(list.takes.every(({ origin }) => origin !== undefined));
      const { list: out } = adjusted(list, { ...given, lead: { all: given.lead?.all ?? 3 }, lag: { all: given.lag?.all ?? 0 } });
      const again = resynced(out);
      expect(out.shots).toEqual(again.shots);
    }), { numRuns: 500 });
  });
});
