import { describe, expect, it } from 'vitest';
import { anglesOf } from '../../src/cutlist/angles.js';
import { PROGRAM, type Angle, type CutList } from '../../src/cutlist/model.js';
import { placeOnRecordings } from '../../src/cutlist/place.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { build, countNamed, rows, source } from './rows.js';

const text = (angles: readonly Angle[] | undefined): string[] =>
  (angles ?? []).map((angle) => `${angle.source}: ${angle.pieces.map((piece) => `${String(piece.in)}-${String(piece.out)}@${String(piece.sourceIn)}${piece.file === undefined ? '' : ` f${String(piece.file)}`}`).join(', ')}`);

const LOG = '100 start | 100 cut 1 | 150 cut 2 | 200 stop | 300 start | 350 cut 1 | 400 stop';

describe('angles', () => {
  it('have every recorded source over all takes, sound-only ones too, the program last', () => {
    const sources = [source('1'), source('2', { offset: 3 }), source('3', { recorded: false }), source('desk', { picture: false }), source(PROGRAM)];
    const list = build(rows(LOG), { angles: true }, sources).lists[0];
    expect(text(list?.angles)).toEqual(['1: 0-100@100, 100-200@300', '2: 0-100@103, 100-200@303', 'desk: 0-100@100, 100-200@300', 'program: 0-100@100, 100-200@300']);
    expect(listFaults(list as CutList)).toEqual([]);
  });
  it('are there only when asked for', () => {
    expect(build(rows(LOG)).lists[0]?.angles).toBeUndefined();
  });
  it('have gaps where nothing was recorded, and a piece a file', () => {
    const files = [{ path: 'a', start: 120, frames: 40 }, { path: 'b', start: 160, frames: 20 }, { path: 'c', start: 310, frames: 50 }];
    const list = build(rows(LOG), { angles: true }, [source('1', { files }), source('2')]).lists[0] as CutList;
    const expected = '1: 20-60@120 f0, 60-80@160 f1, 110-160@310 f2';
    expect(text(list.angles)[0]).toBe(expected);
    expect(text(placeOnRecordings(list, () => undefined).angles)[0]).toBe(expected);
  });
  it('keep their distance with gaps between takes', () => {
    expect(text(build(rows(LOG), { angles: true, takes: 'gaps' }, [source('1')].concat(source('2'))).lists[0]?.angles)[0]).toBe('1: 0-100@100, 200-300@300');
  });
  it('have a take\'s own start', () => {
    const list = build(rows(LOG), { origin: 'recording', angles: true }, [source('1', { starts: [1000, 5000] }), source('2')]).lists[0];
    expect(text(list?.angles)).toEqual(['1: 0-100@1000, 100-200@5000', '2: 0-100@0, 100-200@200']);
  });
  it('begin anew with each shot, where a source is played frame for frame at another rate', () => {
    // 30 beside 29.97 gains a frame each 33.37 s: 107,892 frames of the list are 108,000 of the source.
    const df = countNamed('29.97df');
    const log = '0 start | 0 cut 1 | 53946 cut 2 | 107892 cut 1 | 200000 stop';
    const list = build(rows(log), { count: df, angles: true }, [source('1', { count: df }), source('2', { count: countNamed('30') })]).lists[0];
    expect(text(list?.angles)).toEqual(['1: 0-200000@0', '2: 0-53946@0, 53946-107892@54000, 107892-200000@108000']);
    // There it is in sync, as the cut is.
    expect(list?.shots[1]).toMatchObject({ source: '2', in: 53_946, sourceIn: 54_000 });
  });
  it('are not known for lists without a log', () => {
    const list = build(rows(LOG)).lists[0] as CutList;
    expect(text(anglesOf({ ...list, takes: list.takes.map(({ in: into, out, logIn }) => ({ in: into, out, logIn })) }))).toEqual(['1: ', '2: ', '3: ', 'desk: ']);
  });
});
