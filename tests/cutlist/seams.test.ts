import { describe, expect, it } from 'vitest';
import { applyCorrections } from '../../src/corrections/apply.js';
import type { Correction } from '../../src/corrections/model.js';
import { adjustList } from '../../src/cutlist/adjust.js';
import type { AudioPiece, CutList, Shot } from '../../src/cutlist/model.js';
import { placeChanged, placeOnRecordings } from '../../src/cutlist/place.js';
import { withoutSeams } from '../../src/cutlist/seams.js';
import { build, heard, rows, shown, source } from './rows.js';

const silent = (): void => undefined;
/** Camera 1 in two files that meet on frame 150. */
const CAMERAS = [source('1', { files: [{ path: '1-1.mov', start: 0, frames: 150 }, { path: '1-2.mov', start: 150, frames: 250 }] }), source('2', { files: [{ path: '2.mov', start: 0, frames: 400 }] })];
const list = (text: string): CutList => placeOnRecordings(build(rows(text), { audio: { from: 'follow' } }, CAMERAS).lists[0] as CutList, silent);
const SHOW = list('0 start | 0 cut 2 | 100 cut 1 | 200 cut 2 | 300 stop');

/** Two pieces, of a shot or of its sound, where there was one. */
function divided<T extends Shot | AudioPiece>(pieces: readonly T[], at: number): T[] {
  return pieces.flatMap((one): T[] => {
    if (one.in >= at || one.out <= at) return [one];
    const middle = one.sourceIn + at - one.in;
    return [{ ...one, out: at, sourceOut: middle }, { ...one, in: at, sourceIn: middle, continues: true }];
  });
}

const at = (frame: number): CutList => ({ ...SHOW, shots: divided(SHOW.shots, frame), audio: divided(SHOW.audio, frame) });

describe('a seam at which one file plays straight on', () => {
  it('goes, with that of the sound, when a change made it', () => {
    const { shots, audio } = withoutSeams(at(120), SHOW);
    expect({ shots, audio }).toEqual({ shots: SHOW.shots, audio: SHOW.audio });
    expect(withoutSeams(SHOW)).toBe(SHOW);
  });

  it('stays when it was read, whatever changes beside it', () => {
    const read = at(120);
    expect(withoutSeams(read, read)).toMatchObject({ shots: read.shots, audio: read.audio });
    const moved = placeChanged(adjustList(read, { lag: { all: 7 } }, silent, { uncover: true }), read, silent);
    expect(shown(moved)).toBe('2 0-107 f0, 1 107-120 f0, 1 120-150 f0 +, 1 150-207 f1 +, 2 207-300 f0');
  });

  it('stays where sound that was cut with the picture has none', () => {
    const half = { ...at(120), audio: SHOW.audio.map((piece) => (piece.in === 100 ? { ...piece, out: 120, sourceOut: piece.sourceIn + 20 } : piece)) };
    expect(shown(withoutSeams(half, SHOW))).toBe(shown(half));
  });

  it('keeps the comments of both', () => {
    const { shots } = at(120);
    const said = { ...at(120), shots: shots.map((shot) => (shot.source === '1' ? { ...shot, comments: [String(shot.in)] } : shot)) };
    expect(withoutSeams(said, SHOW).shots.map(({ comments }) => comments)).toEqual([undefined, ['100', '120'], ['150'], undefined]);
  });

  it('is none after a correction that takes a file beyond where it begins, in the log and in what was read', () => {
    const later: Correction = { do: 'start', shot: 3, was: 50, expect: '1', to: '10 earlier', place: {} };
    const corrected = applyCorrections(SHOW, [later], silent) as CutList;
    for (const ready of [placeOnRecordings(corrected, silent), placeChanged(corrected, SHOW, silent)]) {
      expect(shown(ready)).toBe(shown(SHOW));
      expect(heard(ready)).toBe(heard(SHOW));
    }
  });
});

describe('black beside black', () => {
  it('is one where a correction adds to what stands for missing frames', () => {
    const before = placeOnRecordings(build(rows('0 start | 0 cut 2 | 100 cut 1 | 200 cut 2 | 300 stop'), {}, [source('1', { files: [{ path: '1.mov', start: 0, frames: 150 }] }), CAMERAS[1] ?? source('2')]).lists[0] as CutList, silent);
    expect(shown(before)).toBe('2 0-100 f0, 1 100-150 f0, black 150-200 + for 1, 2 200-300 f0');
    const later: Correction = { do: 'start', shot: 3, was: 50, expect: '1', to: '10 later', place: {} };
    const corrected = applyCorrections(before, [later], silent) as CutList;
    for (const ready of [placeOnRecordings(corrected, silent), placeChanged(corrected, before, silent)]) expect(shown(ready)).toBe(shown(before));
  });
});
