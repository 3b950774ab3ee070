import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anglesOf } from '../../src/cutlist/angles.js';
import { BLACK, PROGRAM, type CutList, type Shot, type Source } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import { sourceLength } from '../../src/cutlist/sync.js';
import { listFaults } from '../../src/cutlist/validate.js';
import type { Problem } from '../../src/problems.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryCount, arbitraryList } from '../support/lists.js';
import { arbitraryCase, holds, listOf } from './recorded.js';
import { build, countNamed, rows, source } from './rows.js';

const RUNS = Number(process.env.LINECUT_RUNS ?? 120);

/** Source frames of `frames` record frames, not rounded; one for one where the nominal counts are the same. */
function exactLength(frames: number, { count: { rate } }: CutList, { count: { rate: own } }: Source): number {
  return own.nominal === rate.nominal ? frames : (frames * own.num * rate.den) / (own.den * rate.num);
}

/** Cheaper than `expect`, for what is asked on every frame. */
function must(holdsTrue: boolean, text: string): void {
  if (!holdsTrue) throw new Error(text);
}

/** Whether two labels are the same: frames modulo 24 h. */
const sameLabel = (a: number, b: number, one: Pick<Source, 'count'>): boolean => (a - b) % framesPerDay(one.count) === 0;

/** The frame of the log on record frame `frame` of a take. */
function onLog(list: CutList, index: number, frame: number): number {
  const take = list.takes[index];
  return (take?.logIn ?? NaN) + frame - (take?.in ?? NaN);
}

const at = (shots: readonly Shot[]): ((frame: number) => Shot) => {
  let index = 0;
  return (frame) => {
    while ((shots[index] as Shot).out <= frame) index += 1;
    return shots[index] as Shot;
  };
};

function place(list: CutList): { placed: CutList; problems: Problem[] } {
  const problems: Problem[] = [];
  const placed = placeOnRecordings(list, (found) => problems.push(found));
  expect(listFaults(placed)).toEqual([]);
  return { placed, problems };
}

describe('a list on its recordings', () => {
  it('shows on every frame the recorded frame of that moment, or program, or black that was reported', () => {
    const seen = { own: 0, program: 0, black: 0, extended: 0 };
    fc.assert(fc.property(arbitraryCase(false), (given) => {
      const list = listOf(given);
      if (list === undefined) return;
      const { placed, problems } = place(list);
      const sources = new Map(list.sources.map((one) => [one.id, one]));
      const program = sources.get(PROGRAM);
      const [asked, shown] = [at(list.shots), at(placed.shots)];
      const codes = new Set<string>(problems.map(({ code }) => code));
      for (let frame = 0; frame < list.frames; frame += 1) {
        const [was, is] = [asked(frame), shown(frame)];
        // What a mix to black shows is told of all mixes below.
        if (was.source === BLACK && frame < was.in + (was.transition?.frames ?? 0)) continue;
        if (was.source === BLACK) {
          must(is.source === BLACK && is.instead === undefined, 'black shows a picture, or stands for one');
          continue;
        }
        const one = sources.get(was.source) as Source;
        const wanted = was.sourceIn + frame - was.in;
        const exists = one.recorded && holds(one, wanted);
        const inMix = frame < was.in + (was.transition?.frames ?? 0);
        const shownFrame = is.sourceIn + frame - is.in;
        if (is.source === was.source && is.source !== PROGRAM) {
          must(exists, 'a frame is shown that was not recorded');
          must(sameLabel(shownFrame, wanted, one), 'the frame of another moment is shown');
          must(is.file === undefined || holds(one, shownFrame, is.file), 'the file does not hold the frame');
          seen.own += 1;
        } else if (is.source === PROGRAM) {
          must(is.instead === was.source, 'program does not say what it stands for');
          must(!exists || inMix, 'program is shown though the source was recorded');
          // The program recording is two frames late, and starts on its own label in logs counted from the recording.
          must(given.log.origin !== 'timecode' || sameLabel(shownFrame - 2, onLog(list, was.take, frame), list), 'program is out of sync');
          must(program !== undefined && holds(program, shownFrame), 'the program recording does not hold the frame');
          must(['not-recorded', 'beyond-recording', 'recording-hole'].some((code) => codes.has(code)), 'program was not reported');
          seen.program += 1;
        } else if (is.source === BLACK) {
          must(!exists || (inMix && program !== undefined), 'black is shown though the source was recorded');
          must(is.instead === was.source, 'black does not say what it stands for');
          must(['not-recorded', 'beyond-recording', 'recording-hole', 'short-handle'].some((code) => codes.has(code)), 'black was not reported');
          seen.black += 1;
        } else {
          // The shot before goes on into the mix, where the incoming recording begins late, and the program does not have it either.
          const programHas = program !== undefined && given.log.origin === 'timecode' && holds(program, onLog(list, was.take, frame) + 2);
          must(inMix && !exists && !programHas && codes.has('short-handle'), 'another source is shown');
          seen.extended += 1;
        }
      }
      // A shot that goes on into a mix is one list in a hundred: so many lists that none of the four is missed by chance.
    }), { numRuns: 16 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('has every mix that touches the program from there, from its first frame to its completion', () => {
    const seen = { program: 0, lacking: 0, own: 0, toBlack: 0 };
    fc.assert(fc.property(arbitraryCase(false), (given) => {
      const list = listOf({ ...given, program: true });
      if (list === undefined) return;
      const { placed } = place(list);
      const program = list.sources.at(-1) as Source;
      const frames = placed.shots.flatMap((shot) => Array.from({ length: shot.out - shot.in }, () => shot));
      for (const shot of list.shots) {
        if (shot.transition === undefined) continue;
        const end = shot.in + shot.transition.frames;
        const mix = frames.slice(shot.in, end);
        const touches = [frames[shot.in - 1], ...mix].some((one) => one?.source === PROGRAM);
        if (!touches) {
          seen.own += 1;
          must(shot.source !== BLACK || mix.every(({ source: on, instead }) => on === BLACK && instead === undefined), 'a fade to black shows a picture');
          continue;
        }
        seen.toBlack += shot.source === BLACK ? 1 : 0;
        for (const [index, is] of mix.entries()) {
          const frame = shot.in + index;
          must(is.transition === undefined, 'the mix is made twice');
          must(is.instead === (is.source === shot.source ? undefined : shot.source), 'it does not say what it stands for');
          if (is.source === PROGRAM) {
            const shownFrame = is.sourceIn + frame - is.in;
            must(holds(program, shownFrame, is.file), 'the program recording does not hold the frame');
            // The program recording is two frames late.
            must(given.log.origin !== 'timecode' || sameLabel(shownFrame - 2, onLog(list, shot.take, frame), list), 'program is out of sync');
            seen.program += 1;
          } else {
            must(is.source === BLACK, 'a frame of the mix comes from elsewhere');
            must(given.log.origin !== 'timecode' || !holds(program, onLog(list, shot.take, frame) + 2), 'the program has a frame that is black');
            seen.lacking += 1;
          }
        }
        // Where black is left of the mix, it is one with the black that it leads to.
        const last = frames[end - 1];
        must(shot.source !== BLACK || last?.source !== BLACK || last.out === shot.out, 'black is divided');
      }
    }), { numRuns: 4 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('has the handles that its transitions need', () => {
    let mixes = 0;
    fc.assert(fc.property(arbitraryCase(false), (given) => {
      const list = listOf(given);
      if (list === undefined) return;
      const { placed } = place(list);
      placed.shots.forEach((shot, index) => {
        const before = placed.shots[index - 1];
        if (shot.transition === undefined || before === undefined) return;
        expect(shot.source === PROGRAM || before.source === PROGRAM).toBe(false);
        if (before.source === BLACK || before.file === undefined) return;
        const one = list.sources.find(({ id }) => id === before.source) as Source;
        expect(holds(one, before.sourceOut + shot.transition.frames - 1, before.file)).toBe(true);
        mixes += 1;
      });
    }), { numRuns: RUNS });
    expect(mixes).toBeGreaterThan(0);
  });

  it('stays within its files at any rate, as long on the source side as on the record side, and is the same when placed again', () => {
    let [partFrames, seams] = [0, 0];
    fc.assert(fc.property(arbitraryCase(true), (given) => {
      const list = listOf(given);
      if (list === undefined) return;
      const { placed } = place(list);
      const sources = new Map(list.sources.map((one) => [one.id, one]));
      for (const piece of [...placed.shots, ...placed.audio, ...(placed.angles ?? []).flatMap(({ source: id, pieces }) => pieces.map((one) => ({ ...one, source: id })))]) {
        const one = sources.get(piece.source);
        const file = piece.file === undefined ? undefined : one?.files[piece.file];
        if (file?.start === undefined || one === undefined || one.files.length === 0) continue;
        expect(holds(one, piece.sourceIn, piece.file)).toBe(true);
        const day = framesPerDay(one.count);
        const [used, length] = [piece.sourceOut - piece.sourceIn, piece.out - piece.in];
        // Where the next file begins, or has begun, where this one ends, a part goes up to the record frame in which that is, so that the next one is in sync.
        const isSeam = file.frames !== undefined && holds(one, file.start + file.frames);
        const past = ((((piece.sourceIn - file.start) % day) + day) % day) + used - (file.frames ?? Infinity);
        if (past > 0) seams += 1;
        expect(past).toBeLessThan(isSeam ? Math.max(1, exactLength(1, list, one) + 0.5) : 1);
        expect(Math.abs(used - exactLength(length, list, one))).toBeLessThanOrEqual((isSeam ? 2 : 1) + 1e-9);
        if (used !== sourceLength(length, list.count, one.count)) partFrames += 1;
      }
      expect(placeOnRecordings(placed, () => undefined)).toEqual(placed);
    }), { numRuns: 2 * RUNS });
    expect(partFrames).toBeGreaterThan(0);
    expect(seams).toBeGreaterThan(0);
  });

  it('never shows what lies before the first frame of a recording, however near that is to label zero, whether its end is known or not', () => {
    const seen = { own: 0, early: 0 };
    const begins = fc.record({
      count: arbitraryCount,
      origin: fc.constantFrom('timecode' as const, 'recording' as const),
      at: fc.nat({ max: 40 }),
      lengths: fc.tuple(...[1, 2, 3].map(() => fc.integer({ min: 1, max: 40 }))),
      start: fc.nat({ max: 30 }),
      offset: fc.integer({ min: -60, max: 10 }),
      known: fc.constantFrom('start', 'file', 'frames', 'nothing'),
      program: fc.boolean(),
      from: fc.constantFrom('follow', '1'),
    });
    fc.assert(fc.property(begins, ({ count, origin, at: zero, lengths: [a = 1, b = 1, c = 1], start: given, offset, known, program, from }) => {
      // Nothing at all says where a recording begins only in a log of labels.
      if (known === 'nothing' && origin === 'timecode') return;
      const start = known === 'nothing' ? 0 : given;
      const file = { path: '1.mov', start, ...(known === 'frames' ? { frames: 1000 } : {}) };
      const one = source('1', { count, offset, ...(known === 'nothing' ? {} : known === 'start' ? { starts: [start] } : { files: [file] }) });
      const sources = [one, source('2', { count }), ...(program ? [source(PROGRAM, { count })] : [])];
      const log = rows(`${String(zero)} start | ${String(zero)} cut 1 | ${String(zero + a)} cut 2 | ${String(zero + a + b)} cut 1 | ${String(zero + a + b + c)} stop`);
      const list = build(log, { count, origin, audio: { from }, angles: true }, sources).lists[0] as CutList;
      const { placed, problems } = place(list);
      expect(placeOnRecordings(placed, () => undefined)).toEqual(placed);
      const [asked, shown] = [at(list.shots), at(placed.shots)];
      for (let frame = 0; frame < list.frames; frame += 1) {
        const [was, is] = [asked(frame), shown(frame)];
        const own = (origin === 'timecode' ? zero : start) + frame + offset;
        const exists = own >= start;
        const heard = placed.audio.find(({ in: into, out }) => into <= frame && frame < out);
        const other = program ? PROGRAM : BLACK;
        const angle = placed.angles?.[0]?.pieces.find(({ in: into, out }) => into <= frame && frame < out);
        must((angle !== undefined) === exists, 'an angle has what was not recorded, or lacks what was');
        must(from === 'follow' || (heard?.source ?? BLACK) === (exists ? '1' : other), 'what was not recorded is heard, or what was is not');
        if (was.source !== '1') continue;
        must(is.source === (exists ? '1' : other), 'a frame is shown that was not recorded, or one is left out');
        must(!exists || is.sourceIn + frame - is.in === own, 'the frame of another moment is shown');
        must(exists || problems.some(({ code }) => code === 'beyond-recording'), 'what is missing was not reported');
        seen[exists ? 'own' : 'early'] += 1;
      }
    }), { numRuns: 2 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('keeps lists whose recordings nobody knows', () => {
    fc.assert(fc.property(arbitraryList({ otherRates: true }), (list) => {
      const known = { ...list, shots: list.shots.map((shot) => shot) };
      expect(place(known).placed.shots).toEqual(list.shots);
      expect(place(known).placed.audio).toEqual(list.audio);
      // Something is known of a source that no shot shows: nothing is left out on the way, and it comes to the same.
      const spare: Source = { id: 'spare', name: 'Spare', aliases: [], picture: true, recorded: true, count: list.count, starts: [0], offset: 0, files: [] };
      const longWay = place({ ...known, sources: [spare, ...list.sources] }).placed;
      expect(longWay.shots).toEqual(list.shots);
      expect(longWay.audio).toEqual(list.audio);
    }), { numRuns: RUNS });
  });
});

describe('angles', () => {
  it('show every source on every frame of its takes in sync with the cut, where it was recorded', () => {
    let pieces = 0;
    fc.assert(fc.property(arbitraryCase(false), (given) => {
      const list = listOf(given);
      if (list === undefined) return;
      const angles = anglesOf(list);
      expect(listFaults({ ...list, angles })).toEqual([]);
      expect(angles.map((angle) => angle.source)).toEqual(list.sources.filter(({ recorded }) => recorded).map(({ id }) => id));
      for (const angle of angles) {
        const one = list.sources.find(({ id }) => id === angle.source) as Source;
        for (const shot of list.shots) {
          if (shot.source !== angle.source) continue;
          for (let frame = shot.in; frame < shot.out; frame += 1) {
            const wanted = shot.sourceIn + frame - shot.in;
            const piece = angle.pieces.find(({ in: into, out }) => into <= frame && frame < out);
            must((piece !== undefined) === holds(one, wanted), 'an angle shows what was not recorded, or lacks what was');
            if (piece === undefined) continue;
            must(sameLabel(piece.sourceIn + frame - piece.in, wanted, one), 'an angle is out of sync');
            pieces += 1;
          }
        }
      }
    }), { numRuns: RUNS });
    expect(pieces).toBeGreaterThan(0);
  });
});

describe('a recording in several files, faster than the list that plays it frame for frame', () => {
  const PAIRS: readonly (readonly [string, string])[] = [['23.976', '24'], ['29.97df', '30'], ['47.952', '48'], ['59.94', '60']];
  const arbitrary = fc.record({
    pair: fc.constantFrom(...PAIRS),
    first: fc.nat({ max: 5000 }),
    lead: fc.integer({ min: -300, max: 300 }),
    frames: fc.integer({ min: 1000, max: 400_000 }),
    sound: fc.constantFrom('1', 'follow'),
    files: fc.array(fc.record({ frames: fc.oneof(fc.integer({ min: 20, max: 900 }), fc.integer({ min: 20, max: 200_000 })), hole: fc.constantFrom(0, 0, 0, 30, 5000, -15) }), { minLength: 1, maxLength: 4 }),
    stops: fc.boolean(),
  });

  it('begins every piece in sync, and ends it where its file ends in real time', () => {
    const seen = { seams: 0, drifted: 0, ends: 0, open: 0 };
    fc.assert(fc.property(arbitrary, ({ pair: [list, own], first, lead, frames, sound, files, stops }) => {
      const [count, faster] = [countNamed(list), countNamed(own)];
      const real = (frame: number): number => (frame * faster.rate.num * count.rate.den) / (faster.rate.den * count.rate.num);
      let at = Math.max(0, Math.round(real(first)) + lead);
      const recorded = files.map((one) => {
        const file = { path: `${String(at)}.mov`, start: at, frames: one.frames };
        at += one.frames + Math.max(one.hole, 5 - one.frames);
        return file;
      });
      const one = source('1', { count: faster, files: recorded });
      const log = rows(`${String(first)} start | ${String(first)} cut 1${stops ? ` | ${String(first + frames)} stop` : ''}`);
      const built = build(log, { count, audio: { from: sound } }, [one]).lists[0];
      if (built === undefined) return;
      const { placed, problems } = place(built);
      expect(place(placed).placed).toEqual(placed);
      if (!stops) {
        // Rule 7: the list ends where the recording does, and lacks nothing there.
        seen.open += 1;
        must(placed.shots.at(-1)?.source === '1', 'the list ends behind the recording');
      }
      for (const pieces of [placed.shots, placed.audio]) {
        for (const [index, piece] of pieces.entries()) {
          if (piece.source === BLACK) continue;
          const media = one.files[piece.file ?? -1];
          if (media === undefined) throw new Error('no file');
          const end = (media.start ?? NaN) + (media.frames ?? NaN);
          const begins = real(first + piece.in);
          must(Math.abs(piece.sourceIn - begins) <= 1.01, `${String(piece.sourceIn)} is not ${String(begins)}`);
          must(piece.sourceIn >= (media.start ?? NaN) && piece.sourceOut <= end && piece.sourceOut - piece.sourceIn === piece.out - piece.in, 'frames that the file does not have');
          must(piece.sourceIn + real(piece.out - piece.in) <= end + 1.002, 'behind the end of the file in real time');
          if (piece.sourceOut - piece.sourceIn < real(piece.out - piece.in) - 1.5) seen.drifted += 1;
          const next = pieces[index + 1];
          if (next?.continues !== true || next.source === BLACK) continue;
          seen.seams += 1;
          // Nothing of the file is left over, up to where the next one begins.
          const until = Math.min(end, one.files[next.file ?? -1]?.start ?? NaN);
          must(piece.sourceIn + real(piece.out - piece.in) >= until - 1.502, 'a file is left early');
        }
      }
      if (problems.some(({ code }) => code === 'beyond-recording')) seen.ends += 1;
    }), { numRuns: 5 * RUNS });
    for (const number of Object.values(seen)) expect(number).toBeGreaterThan(0);
  });
});
