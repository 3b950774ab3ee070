import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustList } from '../../src/cutlist/adjust.js';
import { soundAnew } from '../../src/cutlist/followed.js';
import { BLACK, FOLLOW, NONE, PROGRAM, type AudioPiece, type CutList, type MediaFile, type Shot, type Source } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryCount } from '../support/lists.js';
import { holds } from './recorded.js';
import { build, heard, rows, shown, source } from './rows.js';

const RUNS = Number(process.env.LINECUT_RUNS ?? 120);

const file = (start: number, frames = 1000): MediaFile => ({ path: 'a.mov', start, frames });
const on = (id: string, ...files: MediaFile[]): Source => source(id, { files });

/** A log on its recordings, without fault, and the same when placed again. */
function placed(log: string, sources: readonly Source[], from: string, change: (list: CutList) => CutList = (list) => list): CutList {
  const [list] = build(rows(log), { audio: { from } }, sources).lists;
  const out = placeOnRecordings(change(list as CutList), () => undefined);
  expect(listFaults(out)).toEqual([]);
  expect(placeOnRecordings(out, () => undefined)).toEqual(out);
  return out;
}

const text = (list: CutList): string => `${shown(list)} | ${heard(list)}`;

describe('sound that follows a shot that goes on until a late recording begins', () => {
  const sources = [on('1', file(0)), on('2', file(115)), on('desk', file(0))];
  const picture = '1 0-115 f0, 2 115-200 D10 f0';
  it.each([
    ['from its middle on', '5 audio follow', NONE, '1 5-115@5 f0, 2 115-200@115 V D10 f0'],
    ['behind sound of its own', '5 audio 1 | 40 audio follow', 'desk', 'desk 0-5@0 f0, 1 5-40@5 f0, 1 40-115@40 f0, 2 115-200@115 V D10 f0'],
    ['from the mix on', '100 audio follow', NONE, '1 100-115@100 f0, 2 115-200@115 V D10 f0'],
    ['from a frame of the mix on', '110 audio follow', 'desk', 'desk 0-110@0 f0, 1 110-115@110 f0, 2 115-200@115 V D10 f0'],
    ['from a frame on that the later mix has', '120 audio follow', 'desk', 'desk 0-120@0 f0, 2 120-200@120 f0'],
    ['up to the mix', '100 audio none', FOLLOW, '1 0-100@0 f0'],
    ['into the mix', '110 audio desk', FOLLOW, '1 0-110@0 f0, desk 110-200@110 f0'],
    ['into the later mix', '120 audio desk', FOLLOW, '1 0-115@0 V f0, 2 115-120@115 f0, desk 120-200@120 f0'],
    ['up to the end of the mix', '125 audio desk', FOLLOW, '1 0-115@0 V f0, 2 115-125@115 D10 f0, desk 125-200@125 f0'],
    ['only in the mix', '105 audio follow | 110 audio none', NONE, '1 105-110@105 f0'],
    ['all the time', '', FOLLOW, '1 0-115@0 V f0, 2 115-200@115 V D10 f0'],
  ])('%s', (_name, sound, from, expected) => {
    expect(text(placed(`0 start | 0 cut 1 | 100 dissolve 2 d25 | ${sound} | 200 stop`, sources, from))).toBe(`${picture} | ${expected}`);
  });
});

describe('sound that follows a mix from the program', () => {
  const sources = [source('1', { recorded: false }), on('2', file(0)), on('desk', file(0)), on(PROGRAM, file(0))];
  const program = 'program 0-100 f0 for 1, program 100-125 f0 for';
  it.each([
    ['from its first frame on', '2', '100 audio follow', 'desk', 'desk 0-100@0 f0, program 100-125@100 V f0, 2 125-200@125 V + f0'],
    ['from a frame before it on', '2', '99 audio follow', 'desk', 'desk 0-99@0 f0, program 99-100@99 f0, program 100-125@100 V f0, 2 125-200@125 V + f0'],
    ['from a frame in it on', '2', '110 audio follow', 'desk', 'desk 0-110@0 f0, program 110-125@110 f0, 2 125-200@125 V + f0'],
    ['from its completion on', '2', '125 audio follow', 'desk', 'desk 0-125@0 f0, 2 125-200@125 V f0'],
    ['up to a frame in it', '2', '110 audio desk', FOLLOW, 'program 0-100@0 V f0, program 100-110@100 f0, desk 110-200@110 f0'],
    ['to black, from its first frame on', BLACK, '100 audio follow', NONE, 'program 100-125@100 V f0, black 125-200@0 V +'],
    ['to black, from a frame in it on', BLACK, '110 audio follow', NONE, 'program 110-125@110 f0, black 125-200@0 V +'],
    ['to black, up to a frame in it', BLACK, '110 audio none', FOLLOW, 'program 0-100@0 V f0, program 100-110@100 f0'],
  ])('%s', (_name, to, sound, from, expected) => {
    const list = placed(`0 start | 0 cut 1 | 100 dissolve ${to} d25 | ${sound} | 200 stop`, sources, from);
    expect(text(list)).toBe(`${program} ${to}, ${to === BLACK ? 'black 125-200 +' : '2 125-200 f0 +'} | ${expected}`);
  });
});

describe('sound of a list whose switches were moved', () => {
  const moved = (sound: string, from: string, sources = [source('1'), source('2')]): string =>
    heard(placed(`0 start | 0 cut 1 | 100 cut 2 | ${sound} | 200 stop`, sources, from, (list) => adjustList(list, { lead: { all: 10 } }, () => undefined, { uncover: true })));
  it('follows from where a row says so, and is other sound up to where one says so', () => {
    expect(moved('100 audio follow', NONE)).toBe('2 100-200@100');
    expect(moved('100 audio 2', FOLLOW)).toBe('1 0-90@0 V, 2 90-100@90, 2 100-200@100');
    expect(moved('100 audio 2', '1')).toBe('1 0-100@0, 2 100-200@100');
    expect(moved('100 audio follow', NONE, [on('1', file(0)), on('2', file(0))])).toBe('2 100-200@100 f0');
  });
});

describe('channels that are not there', () => {
  it('are told once, however many pieces follow and stand apart', () => {
    const mono = source('1', { files: [{ ...file(0), channels: 1 }] });
    const [list] = build(rows('0 start | 0 cut 1 | 50 audio 1 | 70 audio follow | 100 stop'), { audio: { from: FOLLOW } }, [mono]).lists;
    const codes: string[] = [];
    placeOnRecordings(list as CutList, ({ code }) => codes.push(code));
    expect(codes).toEqual(['missing-channel']);
  });
});

/** Shots with and without mixes; recordings that begin late, end early, are missing; rows of sound near the switches. */
const arbitraryShow = fc.record({
  shots: fc.array(fc.record({
    source: fc.constantFrom('1', '2', '3', BLACK),
    frames: fc.integer({ min: 1, max: 40 }),
    action: fc.constantFrom('cut', 'dissolve', 'dissolve', 'wipe'),
    mix: fc.integer({ min: 1, max: 20 }),
    newTake: fc.constantFrom(false, false, false, true),
  }), { minLength: 2, maxLength: 6 }),
  sound: fc.array(fc.record({ shot: fc.nat({ max: 5 }), after: fc.integer({ min: -4, max: 24 }), from: fc.constantFrom(FOLLOW, FOLLOW, NONE, '1', 'desk') }), { maxLength: 5 }),
  from: fc.constantFrom(FOLLOW, NONE, 'desk'),
  /** Of 1, 2, 3, the desk and the program: not recorded, all, or files around the first frames of shots. */
  recorded: fc.array(fc.record({
    kind: fc.constantFrom('nothing', 'all', 'files', 'files', 'files'),
    files: fc.array(fc.record({ shot: fc.nat({ max: 5 }), after: fc.integer({ min: -6, max: 24 }), frames: fc.integer({ min: 1, max: 90 }) }), { minLength: 1, maxLength: 3 }),
  }), { minLength: 5, maxLength: 5 }),
  program: fc.boolean(),
  rule: fc.constantFrom({}, {}, {}, { lead: { all: 3 } }, { lag: { all: 4 } }, { dissolveAll: 8 }, { minShot: 5 }),
});

/** The list of such a show, and where its log has sound come from on each frame. */
function showOf({ shots, sound, from, recorded, program, rule }: typeof arbitraryShow extends fc.Arbitrary<infer T> ? T : never): { list: CutList; says: string[] } {
  const starts: number[] = [];
  let log = '';
  let end = 0;
  for (const { source: id, frames, action, mix, newTake } of shots) {
    if (newTake && end > 0) log += `${String(end)} stop | `;
    if (newTake || end === 0) log += `${String(end)} start | `;
    log += `${String(end)} ${action} ${id}${action === 'cut' ? '' : ` d${String(mix)}`} | `;
    starts.push(end);
    end += frames;
  }
  const near = ({ shot, after }: { shot: number; after: number }): number => Math.min(Math.max(0, (starts[shot % starts.length] ?? 0) + after), end - 1);
  for (const row of sound) log += `${String(near(row))} audio ${row.from} | `;
  const sources = ['1', '2', '3', 'desk', ...(program ? [PROGRAM] : [])].map((id, index) => {
    const { kind, files } = recorded[index] ?? { kind: 'all', files: [] };
    const some = files.map((one) => ({ ...file(near(one), one.frames), path: `${id}-${String(near(one))}.mov` }));
    return source(id, { picture: id !== 'desk', recorded: kind !== 'nothing', files: kind === 'files' ? some : [file(0)] });
  });
  const list = adjustList(build(rows(`${log}${String(end)} stop`), { audio: { from } }, sources).lists[0] as CutList, rule, () => undefined, { uncover: true });
  const says = Array.from({ length: end }, (): string => from);
  // The order of rows is that of time, and stable.
  for (const row of [...sound].sort((a, b) => near(a) - near(b))) says.fill(row.from, near(row));
  return { list, says };
}

const at = <T extends Pick<Shot, 'in' | 'out'>>(pieces: readonly T[], frame: number): T | undefined => pieces.find(({ in: into, out }) => into <= frame && frame < out);

/** `1@20`; black and silence are one. */
const frameOf = (piece: Shot | AudioPiece | undefined, frame: number): string =>
  piece === undefined || piece.source === BLACK ? BLACK : `${piece.source}@${String(piece.sourceIn + frame - piece.in)}`;

/** Cheaper than `expect`, for what is asked on every frame. */
function must(is: string, wanted: string, frame: number): void {
  if (is !== wanted) throw new Error(`${is} is heard on frame ${String(frame)}, not ${wanted}`);
}

describe('where sound follows the picture', () => {
  it('what is heard is what is seen, on every frame, wherever the row stands, and elsewhere what the log says', () => {
    const seen = { own: 0, program: 0, black: 0, late: 0, mix: 0, apart: 0 };
    fc.assert(fc.property(arbitraryShow, (given) => {
      const { list, says } = showOf(given);
      const out = placeOnRecordings(list, () => undefined);
      expect(listFaults(out)).toEqual([]);
      expect(placeOnRecordings(out, () => undefined)).toEqual(out);
      const sources = new Map(list.sources.map((one) => [one.id, one]));
      for (const [frame, from] of says.entries()) {
        const picture = at(out.shots, frame) as Shot;
        const sound = at(out.audio, frame);
        const isHeard = frameOf(sound, frame);
        if (from === FOLLOW) {
          must(isHeard, frameOf(picture, frame), frame);
          const { in: begins, transition } = picture;
          // A mix before which sound followed, and does until it is complete, is heard.
          if (transition !== undefined && frame === begins && says.slice(Math.max(0, begins - 1), begins + transition.frames).every((one) => one === FOLLOW)) {
            expect(sound?.transition).toEqual(transition);
            seen.mix += 1;
          }
          seen[picture.source === BLACK ? 'black' : picture.source === PROGRAM ? 'program' : 'own'] += 1;
          if (picture.source !== (at(list.shots, frame) as Shot).source && picture.source !== PROGRAM && picture.source !== BLACK) seen.late += 1;
          continue;
        }
        const has = (id: string): boolean => sources.get(id)?.recorded === true && holds(sources.get(id) as Source, frame);
        must(isHeard, from === NONE ? BLACK : has(from) ? `${from}@${String(frame)}` : has(PROGRAM) ? `${PROGRAM}@${String(frame)}` : BLACK, frame);
        seen.apart += 1;
      }
    }), { numRuns: 5 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('it is the same made anew', () => {
    fc.assert(fc.property(arbitraryShow, (given) => {
      const { list } = showOf({ ...given, rule: {} });
      expect(soundAnew(list, list.follows ?? [], list.shots)).toEqual(list.audio);
    }), { numRuns: RUNS });
  });
});

/** Long shots on sources at any rate: an hour of 30 in 29.97 is 108 frames away where it is played frame for frame. */
const arbitraryRates = fc.record({
  count: arbitraryCount,
  own: arbitraryCount,
  origin: fc.constantFrom('timecode' as const, 'recording' as const),
  first: fc.integer({ min: 0, max: 5000 }),
  shots: fc.array(fc.oneof(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 2, max: 200_000 })), { minLength: 1, maxLength: 4 }),
  sound: fc.record({ shot: fc.nat({ max: 3 }), into: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }) }),
  offset: fc.integer({ min: -200, max: 200 }),
  start: fc.nat({ max: 100_000 }),
  sync: fc.option(fc.record({ this: fc.nat({ max: 2_000_000 }), is: fc.nat({ max: 400_000 }) }), { nil: undefined }),
  newTake: fc.boolean(),
  /** Files from before the first frame of the list on: frames, and the hole or overlap behind each; none: everything is there. */
  files: fc.array(fc.record({ frames: fc.integer({ min: 200, max: 250_000 }), hole: fc.constantFrom(0, 0, 40, -60) }), { maxLength: 4 }),
  lead: fc.integer({ min: 0, max: 300 }),
  program: fc.boolean(),
});

describe('sound that begins to follow inside a shot', () => {
  it('is that of the source of the shot, named there, whatever its rate', () => {
    const seen = { inside: 0, drifted: 0, otherRate: 0, synced: 0, secondFile: 0 };
    fc.assert(fc.property(arbitraryRates, (given) => {
      const { count, own, origin, first, shots, sound, offset, start, sync, newTake, files, lead, program } = given;
      let log = `${String(first)} start | `;
      let end = first;
      const starts: number[] = [];
      for (const [index, frames] of shots.entries()) {
        if (newTake && index === 2) log += `${String(end)} stop | ${String((end += 50))} start | `;
        log += `${String(end)} cut ${index % 2 === 0 ? '4' : '1'} | `;
        starts.push(end);
        end += frames;
      }
      const nr = sound.shot % shots.length;
      const row = (starts[nr] as number) + Math.floor(sound.into * (shots[nr] as number));
      const ids = ['1', '4'].map((id) => source(id, { count: id === '4' ? own : count, offset, starts: origin === 'recording' ? [start] : [], ...(sync === undefined ? {} : { sync }) }));
      const all = [...ids, source('desk', { count }), ...(program ? [source(PROGRAM, { count: own, starts: origin === 'recording' ? [start] : [] })] : [])];
      const make = (from: string): CutList => {
        const list = build(rows(`${log}${String(row)} audio ${from} | ${String(end)} stop`), { audio: { from: 'desk' }, count, origin }, all).lists[0] as CutList;
        let next = Math.max(0, (list.shots.find((shot) => shot.source === '4')?.sourceIn ?? 0) - lead);
        const recorded = files.map(({ frames, hole }) => {
          const made = { ...file(next, frames), path: `4-${String(next)}.mov` };
          next += Math.max(1, frames + hole);
          return made;
        });
        return placeOnRecordings({ ...list, sources: list.sources.map((one) => (one.id === '4' ? { ...one, files: recorded } : one)) }, () => undefined);
      };
      const follows = make(FOLLOW);
      const frame = row - first - (newTake && nr >= 2 ? 50 : 0);
      const picture = at(follows.shots, frame) as Shot;
      const fixed = make(picture.instead ?? picture.source);
      expect(listFaults(follows)).toEqual([]);
      expect(placeOnRecordings(follows, () => undefined)).toEqual(follows);
      const begins = (list: CutList): unknown => {
        const piece = at(list.audio, frame);
        return piece === undefined || piece.source === BLACK ? undefined : [piece.source, piece.file, (piece.sourceIn + frame - piece.in) % framesPerDay((list.sources.find(({ id }) => id === piece.source) as Source).count)];
      };
      const heardThere = begins(follows);
      expect(heardThere).toEqual(begins(fixed));
      if (heardThere === undefined || frame === picture.in) return;
      seen.inside += 1;
      if (picture.source === '4' && own.rate.nominal !== count.rate.nominal) seen.otherRate += 1;
      if (picture.source === '4' && own.rate.nominal === count.rate.nominal && own.rate !== count.rate) seen.drifted += 1;
      if (sync !== undefined) seen.synced += 1;
      if (picture.continues === true && picture.source === '4') seen.secondFile += 1;
    }), { numRuns: 5 * RUNS });
    for (const number of Object.values(seen)) expect(number).toBeGreaterThan(0);
  });
});
