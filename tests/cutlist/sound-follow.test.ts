import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { correctionsFor } from '../../src/compare/corrections.js';
import { adjustList, type AdjustOptions } from '../../src/cutlist/adjust.js';
import { followsOf, soundPieces, type SoundFrom } from '../../src/cutlist/audio.js';
import { applyCorrections } from '../../src/corrections/apply.js';
import type { Correction } from '../../src/corrections/model.js';
import { readCorrections } from '../../src/corrections/read.js';
import { FOLLOW, NONE, type CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import type { Count } from '../../src/timecode/rate.js';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { without } from '../../src/without.js';
import { arbitraryEdits } from '../support/edits.js';
import { arbitraryList } from '../support/lists.js';
import { likenesses } from '../support/same.js';
import { camera, listOf } from '../support/small.js';
import { anyList } from '../support/synced.js';
import { build, countNamed, heard as heardText, rows, source } from './rows.js';

/** The list with the sound that rows of a log give it (`0 follow, 125 mix`), as the log gives it. */
function sounding(list: CutList, changes: readonly SoundFrom[]): CutList {
  const sources = [camera('mix', { name: 'Sound desk', picture: false, count: list.count }), ...list.sources];
  const audio = soundPieces({ ...list, sources: new Map(sources.map((source) => [source.id, source])) }, changes, () => [1, 2]);
  const hasFile = new Set(sources.filter(({ files }) => files.length > 0).map(({ id }) => id));
  return { ...list, sources, follows: followsOf(changes, list.frames, () => [1, 2]), audio: audio.map((piece) => (hasFile.has(piece.source) ? { ...piece, file: 0 } : piece)) };
}

/** The same list as it is read from an EDL or OTIO: nothing says why it sounds as it does. */
const asRead = (list: CutList): CutList => without(list, 'follows');

const heard = (text: string, ...changes: readonly [number, string][]): CutList => sounding(listOf(text), changes.map(([at, from]) => ({ at, from })));

/** Source, record range, mix, slip; `+` behind what was cut with the picture. */
function soundOf(list: CutList | undefined): string {
  expect(list === undefined ? ['nothing'] : listFaults(list)).toEqual([]);
  return (list?.audio ?? []).map(({ source, in: into, out, sourceIn, transition, withPicture }) => {
    const slip = sourceIn - 90_000 - into;
    return `${source} ${String(into)}-${String(out)}${transition === undefined ? '' : `d${String(transition.frames)}`}${slip === 0 ? '' : `@${String(slip)}`}${withPicture ? '+' : ''}`;
  }).join(', ');
}

const after = (list: CutList, options: AdjustOptions): string => soundOf(adjustList(list, options, () => undefined));

function fixed(list: CutList, ...rows: readonly string[]): string {
  const corrections = readCorrections(['do,at,expect,to,source,frames', ...rows].join('\n'), 'fix.csv', () => undefined) ?? [];
  return soundOf(applyCorrections(list, corrections, () => undefined));
}

describe('sound that follows a part of its shot', () => {
  const show = heard('1:100 2:100', [0, FOLLOW], [125, 'mix']);
  const tap = heard('1:100 2:4 1:96', [0, FOLLOW], [102, 'mix']);

  it('goes with the switch, and the change to other sound stays', () => {
    expect(soundOf(show)).toBe('1 0-100+, 2 100-125, mix 125-200');
    expect(after(show, { lag: { all: 10 } })).toBe('1 0-110+, 2 110-125, mix 125-200');
    expect(after(show, { lead: { all: 10 } })).toBe('1 0-90+, 2 90-125, mix 125-200');
    expect(fixed(show, 'start,01:00:04:00,2,10 later,,')).toBe('1 0-110+, 2 110-125, mix 125-200');
    expect(fixed(show, 'start,01:00:04:00,2,10 earlier,,')).toBe('1 0-90+, 2 90-125, mix 125-200');
  });

  it('gives way to other sound where a shot grows over it', () => {
    expect(after(show, { lag: { all: 40 } })).toBe('1 0-125, mix 125-200');
    expect(fixed(show, 'remove,01:00:04:00,2,,,')).toBe('1 0-125, mix 125-200');
    expect(after(tap, { minShot: 5 })).toBe('1 0-102, mix 102-200');
    expect(after(tap, { minShot: 5, absorb: 'next' })).toBe('1 0-102, mix 102-200');
    expect(fixed(tap, 'remove,01:00:04:00,2,,,')).toBe('1 0-102, mix 102-200');
  });

  it('is heard again behind other sound, from the shot that is on air there now', () => {
    const twice = heard('1:100 2:100 3:50', [0, FOLLOW], [90, 'mix'], [120, FOLLOW]);
    expect(soundOf(twice)).toBe('1 0-90, mix 90-120, 2 120-200, 3 200-250+');
    expect(after(twice, { lag: { all: 30 } })).toBe('1 0-90, mix 90-120, 1 120-130, 2 130-230, 3 230-250+');
    expect(after(twice, { lead: { all: 30 } })).toBe('1 0-70, 2 70-90, mix 90-120, 2 120-170, 3 170-250+');
    expect(fixed(twice, 'remove,01:00:04:00,2,,,')).toBe('1 0-90, mix 90-120, 1 120-200, 3 200-250+');
  });

  it('begins where a row brings it back on the frame of a switch, whichever shot is on air then', () => {
    const back = heard('1:100 2:100', [0, 'mix'], [100, FOLLOW]);
    expect(soundOf(back)).toBe('mix 0-100, 2 100-200+');
    expect(after(back, { lead: { all: 10 } })).toBe('mix 0-100, 2 100-200');
    expect(after(back, { lag: { all: 10 } })).toBe('mix 0-100, 1 100-110, 2 110-200+');
  });

  it('keeps its mix as long as both begin together', () => {
    const mixed = heard('1:100 2:100d20 3:50', [0, FOLLOW], [125, 'mix']);
    expect(soundOf(mixed)).toBe('1 0-100+, 2 100-125d20, mix 125-250');
    expect(after(mixed, { lag: { all: 5 } })).toBe('1 0-105+, 2 105-125d20, mix 125-250');
    expect(after(mixed, { lag: { all: 10 } })).toBe('1 0-110+, 2 110-125, mix 125-250');
    const grown = heard('1:100 2:100d20 3:50', [0, FOLLOW], [200, 'mix']);
    expect(after(grown, { lag: { all: 10 } })).toBe('1 0-110+, 2 110-200d20, mix 200-250');
  });

  it('is cut on the channels where other sound is heard, and only there', () => {
    const list = listOf('1:100 2:100 3:50', 'follow');
    const [first, second] = list.audio;
    if (first === undefined || second === undefined) throw new Error('two pieces');
    const desk = { ...first, in: 200, out: 250, source: '4', sourceIn: 500, sourceOut: 550, tracks: [2], channels: [1], withPicture: false };
    const third = { ...first, in: 200, out: 250, source: '3', sourceIn: 90_200, sourceOut: 90_250, tracks: [1], channels: [1] };
    const out = adjustList({ ...list, audio: [first, second, third, desk] }, { lag: { all: 10 } }, () => undefined);
    expect(listFaults(out)).toEqual([]);
    expect(out.audio.map((piece) => `${piece.source} ${String(piece.in)}-${String(piece.out)} on ${piece.tracks.join(' ')}`)).toEqual(
      ['1 0-110 on 1 2', '2 110-210 on 1', '2 110-200 on 2', '4 200-250 on 2', '3 210-250 on 1']);
  });

  it('gives way to silence that was chosen, as to other sound', () => {
    const inside = heard('1:100 2:100', [0, FOLLOW], [125, NONE]);
    const tapped = heard('1:100 2:4 1:96', [0, FOLLOW], [102, NONE]);
    const back = heard('1:100 2:100', [0, FOLLOW], [90, NONE], [130, FOLLOW]);
    for (const made of [(list: CutList) => list, asRead]) {
      expect(after(made(inside), { lag: { all: 10 } })).toBe('1 0-110+, 2 110-125');
      expect(after(made(inside), { lag: { all: 40 } })).toBe('1 0-125');
      expect(fixed(made(inside), 'remove,01:00:04:00,2,,,')).toBe('1 0-125');
      expect(fixed(made(inside), 'start,01:00:04:00,2,40 later,,')).toBe('1 0-125');
      expect(after(made(tapped), { minShot: 5 })).toBe('1 0-102');
      expect(after(made(back), { lag: { all: 40 } })).toBe('1 0-90, 1 130-140, 2 140-200');
      expect(after(made(back), { lead: { all: 20 } })).toBe('1 0-80, 2 80-90, 2 130-200');
    }
  });

  it('gives way to silence that a log asked for on the frame of a switch; in a list that was read this goes with its shot, which may have none', () => {
    const quiet = heard('1:100 2:100 3:50', [0, FOLLOW], [100, NONE], [200, FOLLOW]);
    expect(soundOf(quiet)).toBe('1 0-100+, 3 200-250+');
    expect(after(quiet, { lag: { all: 10 } })).toBe('1 0-100, 2 200-210, 3 210-250+');
    expect(after(quiet, { lead: { all: 10 } })).toBe('1 0-90+, 2 90-100, 3 200-250');
    expect(fixed(quiet, 'remove,01:00:04:00,2,,,')).toBe('1 0-100, 3 200-250+');
    expect(after(asRead(quiet), { lag: { all: 10 } })).toBe('1 0-110+, 3 210-250+');
    expect(after(asRead(quiet), { lead: { all: 10 } })).toBe('1 0-90+, 3 190-250+');
    expect(fixed(asRead(quiet), 'remove,01:00:04:00,2,,,')).toBe('1 0-200+, 3 200-250+');
  });

  it('does not give way to silence where a recording has no sound', () => {
    const log = heard('1:100 2:100 3:50', [0, FOLLOW]);
    const mute = { ...log, audio: log.audio.filter(({ source }) => source !== '2') };
    for (const list of [mute, asRead(mute)]) {
      expect(after(list, { lag: { all: 10 } })).toBe('1 0-110+, 3 210-250+');
      expect(fixed(list, 'remove,01:00:04:00,2,,,')).toBe('1 0-200+, 3 200-250+');
    }
  });

  it('keeps silence where it was behind a change of length', () => {
    const quiet = heard('1:100 2:100 3:50', [0, FOLLOW], [100, NONE], [225, FOLLOW]);
    expect(fixed(quiet, 'length,01:00:00:00,1,10 longer,,', 'start,01:00:08:00,3,5 earlier,,')).toBe('1 0-110+, 3 235-260@-10');
    expect(fixed(quiet, 'length,01:00:00:00,1,10 longer,,', 'start,01:00:04:00,2,5 later,,')).toBe('1 0-110, 3 235-260@-10');
    expect(fixed(quiet, 'length,01:00:08:00,3,10 longer,,', 'remove,01:00:04:00,2,,,')).toBe('1 0-100, 3 225-260');
  });

  it('leaves sound of its own alone, also where that is the sound of the shot', () => {
    const own = heard('1:100 2:100 1:50', [0, '2']);
    expect(after(own, { lag: { all: 10 }, dissolveAll: 5 })).toBe('2 0-250');
    expect(fixed(own, 'remove,01:00:04:00,2,,,')).toBe('2 0-250');
  });
});

describe('sound that begins inside a shot at another rate', () => {
  const [count, faster, slower] = [countNamed('29.97df'), countNamed('30'), countNamed('25')];

  /** An hour on 4, then on 1; sound follows from the middle of the first on. */
  function hour(own: Count): CutList {
    const sources = [source('1', { count }), source('4', { count: own }), source('desk', { count, picture: false })];
    return build(rows('0 start | 0 cut 4 | 53946 audio follow | 107892 cut 1 | 110000 stop'), { audio: { from: 'desk' }, count }, sources).lists[0] as CutList;
  }
  const read = (list: CutList): CutList => asRead({ ...list, takes: list.takes.map(({ in: into, out, logIn }) => ({ in: into, out, logIn })) });

  it.each([['30', faster, 54_000], ['25', slower, 45_000]])('%s in 29.97: goes with the switch, and with the points of its shot, from where real time has it', (_rate, own, at) => {
    for (const list of [hour(own), read(hour(own))]) {
      expect(heardText(list)).toBe(`desk 0-53946@0, 4 53946-107892@${String(at)}, 1 107892-110000@107892 V`);
      expect(heardText(adjustList(list, { lag: { all: 10 } }, () => undefined))).toBe(`desk 0-53946@0, 4 53946-107902@${String(at)}, 1 107902-110000@107902 V`);
      const corrections = readCorrections('do,at,expect,sourceIn\npoints,01:00:00;00,4,100', 'fix.csv', () => undefined) ?? [];
      const later = applyCorrections({ ...list, recordStart: 107_892 }, corrections, () => undefined);
      expect(heardText(later)).toBe(`desk 0-53946@0, 4 53946-107892@${String(at + 100)}, 1 107892-110000@107892 V`);
    }
  });
});

const change = fc.record({ at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), from: fc.constantFrom(FOLLOW, FOLLOW, 'mix', '1'), onSwitch: fc.boolean() });
/** The rows of a log for a list: now sound from the shot, now from elsewhere. */
const rowsOf = (list: CutList, changes: readonly { at: number; from: string; onSwitch: boolean }[]): SoundFrom[] => [
  { at: 0, from: FOLLOW },
  ...changes.map(({ at, from, onSwitch }) => ({ at: onSwitch ? (list.shots[Math.floor(at * list.shots.length)]?.in ?? 0) : Math.floor(at * list.frames), from })).sort((a, b) => a.at - b.at),
];
const plainList = anyList({ audio: ['none'], black: false, maxShots: 12, maxShotFrames: 120, openWithTransition: false });
/** Lists with sound as rows give it: heard on every frame, now from the shot, now from elsewhere. */
const soundingList = fc.tuple(plainList, fc.array(change, { minLength: 1, maxLength: 8 }), fc.boolean())
  .map(([list, changes, read]) => (read ? asRead : (one: CutList) => one)(sounding(list, rowsOf(list, changes))));
/** The same, now and then silent, as the log gives them, and their rows. */
const silentAtTimes = fc.tuple(plainList, fc.array(fc.oneof(change, change.map((one) => ({ ...one, from: NONE }))), { minLength: 1, maxLength: 8 }))
  .map(([list, changes]) => ({ list: sounding(list, rowsOf(list, changes)), rows: rowsOf(list, changes) }));

const frames = fc.integer({ min: 0, max: 40 });
const options: fc.Arbitrary<AdjustOptions> = fc.record({
  lead: fc.record({ all: frames }), lag: fc.record({ all: frames }), minShot: frames, absorb: fc.constantFrom('previous', 'next', 'longer'),
  dissolveAll: fc.integer({ min: 1, max: 40 }), cutsOnly: fc.boolean(),
}, { requiredKeys: [] });

const pick = fc.record({ index: fc.nat(), by: fc.integer({ min: -30, max: 30 }), do: fc.constantFrom('start', 'remove', 'insert') });

function correctionsOf(list: CutList, picks: readonly { index: number; by: number; do: 'start' | 'remove' | 'insert' }[]): Correction[] {
  return [...new Map(picks.map((one) => [one.index % list.shots.length, one]))].map(([index, one]): Correction => {
    const shot = list.shots[index] as CutList['shots'][number];
    const base = { at: formatTimecode(list.recordStart + shot.in, list.count), expect: shot.source, place: {} };
    if (one.do === 'insert') return { ...base, do: 'insert', source: '1', frames: 1 + Math.abs(one.by) };
    return one.do === 'remove' ? { ...base, do: 'remove' } : { ...base, do: 'start', to: `${String(Math.abs(one.by))} ${one.by < 0 ? 'earlier' : 'later'}` };
  });
}

/** No rule broken, sound on every frame still, and the desk's where it was. */
function expectWhole(out: CutList, list: CutList): void {
  expect(listFaults(out)).toEqual([]);
  let end = 0;
  for (const piece of out.audio) {
    expect(piece.in).toBe(end);
    end = piece.out;
  }
  expect(end).toBe(list.frames);
  const desk = (one: CutList): unknown => one.audio.filter(({ source }) => source === 'mix').map((piece) => ({ ...piece, take: 0 }));
  expect(desk(out)).toEqual(desk(list));
}

/** On every frame the rows' sound: that of the shot on air now, one source's, or none. */
function expectAsRows(out: CutList, rows: readonly SoundFrom[]): void {
  expect(listFaults(out)).toEqual([]);
  const at = (pieces: readonly { in: number; out: number; source: string }[], frame: number): string => pieces.find((piece) => piece.in <= frame && frame < piece.out)?.source ?? NONE;
  for (let frame = 0; frame < out.frames; frame += 1) {
    const { from } = rows.findLast((row) => row.at <= frame) ?? { from: FOLLOW };
    const is = at(out.audio, frame);
    if (is !== (from === FOLLOW ? at(out.shots, frame) : from)) expect.fail(`on frame ${String(frame)} ${is} is heard, and the log says ${from}`);
  }
}

describe('laws', () => {
  it('a list from a log sounds as its rows say, silence and all, whatever became of its shots', () => {
    fc.assert(fc.property(silentAtTimes, options, fc.array(pick, { maxLength: 3 }), ({ list, rows }, given, picks) => {
      expectAsRows(list, rows);
      expectAsRows(adjustList(list, given, () => undefined), rows);
      const out = applyCorrections(list, correctionsOf(list, picks), () => undefined);
      if (out !== undefined) expectAsRows(out, rows);
    }), { numRuns: 300 });
  });


  it('rules make no hole and no overlap in sound, and leave other sound where it was', () => {
    fc.assert(fc.property(soundingList, options, (list, given) => {
      expect(listFaults(list)).toEqual([]);
      expectWhole(adjustList(list, given, () => undefined), list);
    }), { numRuns: 600 });
  });

  it('corrections make none either', () => {
    let done = 0;
    fc.assert(fc.property(soundingList, fc.array(pick, { minLength: 1, maxLength: 3 }), (list, picks) => {
      const out = applyCorrections(list, correctionsOf(list, picks), () => undefined);
      if (out === undefined) return;
      done += 1;
      expectWhole(out, list);
    }), { numRuns: 600 });
    expect(done).toBeGreaterThan(150);
  });

  it('sound that leaves its shot early, or is silent for a while, never overlaps', () => {
    let done = 0;
    fc.assert(fc.property(arbitraryList({ audio: ['early'], otherRates: true, maxShots: 12, maxShotFrames: 120 }), options, fc.array(pick, { maxLength: 3 }), (list, given, picks) => {
      expect(listFaults(list)).toEqual([]);
      expect(listFaults(adjustList(list, given, () => undefined))).toEqual([]);
      const out = applyCorrections(list, correctionsOf(list, picks), () => undefined);
      if (out === undefined) return;
      done += 1;
      expect(listFaults(out)).toEqual([]);
    }), { numRuns: 600 });
    expect(done).toBeGreaterThan(150);
  });

  it('what is written about the differences of two such lists leads from one to the other', () => {
    fc.assert(fc.property(soundingList, arbitraryEdits, (given, edits) => {
      // An edit may put any source on air.
      const list = { ...given, sources: given.sources.map((source) => ({ ...source, picture: true, files: [{ path: `media/${source.id}.mov` }] })) };
      const b = asRead(edits(list));
      expect(listFaults(b)).toEqual([]);
      const out = applyCorrections(list, correctionsFor(list, b), () => undefined);
      expect(out).toBeDefined();
      if (out === undefined) return;
      expect(listFaults(out)).toEqual([]);
      const [one, other] = likenesses(out, b);
      expect(one).toEqual(other);
    }), { numRuns: 100 });
  });
});
