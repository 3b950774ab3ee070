/** Where check puts what it says of a shot: on the line of its event, and on its record frame. */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/check/finding.js';
import type { CutList, Source } from '../../src/cutlist/model.js';
import { camera, listOf } from '../support/small.js';
import { showOf } from './planted.js';
import { checkAll, edlOf, otioOf } from './written.js';

/** The lines of an EDL, from 1, on which its events bring something on: of an event that mixes, the second one. */
function eventLines(text: string): number[] {
  return text.split('\r\n').flatMap((line, index) => {
    const [, from, to] = /^\d{3} .* (\S{11}) (\S{11})$/.exec(line) ?? [];
    return from === to ? [] : [index + 1];
  });
}

interface Told {
  readonly edl: readonly Finding[];
  readonly otio: readonly Finding[];
  /** Lines of the EDL's events. */
  readonly events: readonly number[];
}

/** What is found in both lists, with a show file that says `more` of each source. */
async function foundIn(list: CutList, more: (source: Source) => object): Promise<Told> {
  const [written] = edlOf(list);
  if (written === undefined) throw new Error('no EDL');
  const show = showOf(list, more);
  const [edl, otio] = await Promise.all([{ ...written, ...show }, { ...otioOf(list), ...show }].map(async (file) => (await checkAll([file]))[0]?.findings.sorted ?? []));
  return { edl: edl ?? [], otio: otio ?? [], events: eventLines(written.text) };
}

/** A recording of one file. */
const file = (start: string, frames: number): object => ({ files: [{ path: 'a.mov', start, frames }] });

/** Where something was said of a shot, by its index. */
function expectOn(code: Finding['code'], list: CutList, { edl, otio, events }: Told, shots: readonly number[]): void {
  const frames = shots.map((index) => list.shots[index]?.in);
  const placed = (found: readonly Finding[]): unknown => found.filter((one) => one.code === code).map(({ place, at }) => [place, at]);
  expect(placed(edl)).toEqual(shots.map((index, nr) => [{ file: 'show.edl', line: events[index], column: 1 }, frames[nr]]));
  // An OTIO has no lines.
  expect(placed(otio)).toEqual(frames.map((frame) => [{ file: 'show.otio' }, frame]));
}

describe('what is said of a shot', () => {
  it.each(['Camera 2', 'Cam at 01:00:00:00'])('stands with its event, also where a source is called %s', async (name) => {
    const list = listOf('1:50 2:200 3:50', 'none', { sources: [camera('1'), camera('2', { name }), camera('3')] });
    const told = await foundIn(list, ({ id }) => (id === '2' ? file('01:00:02:00', 50) : {}));
    expectOn('beyond-recording', list, told, [1]);
  });

  it('stands with its event where it was not recorded at all', async () => {
    const list = listOf('1:50 2:40 1:50 2:40 3:20');
    expectOn('not-recorded', list, await foundIn(list, ({ id }) => ({ recorded: id !== '2' })), [1, 3]);
  });

  it('stands with its event where a file ends before the mix does', async () => {
    const list = listOf('1:50 2:40 3:50d12');
    expectOn('short-handle', list, await foundIn(list, ({ id }) => (id === '2' ? file('01:00:02:00', 40) : {})), [2]);
  });

  it('stands with its event where frames are missing between two files', async () => {
    const list = listOf('1:50 2:100 3:50');
    const files = [{ path: 'a.mov', start: '01:00:00:00', frames: 75 }, { path: 'b.mov', start: '01:00:05:00', frames: 200 }];
    expectOn('recording-hole', list, await foundIn(list, ({ id }) => (id === '2' ? { files } : {})), [1]);
  });

  it('stands with the event in whose file frames are missing that another file has', async () => {
    const files = [{ path: 'a.mov', start: 90_000, frames: 75 }, { path: 'b.mov', start: 90_075, frames: 200 }];
    const list = listOf('1:50 2:100 3:50', 'none', { sources: [camera('1'), camera('2', { files }), camera('3')] });
    const [, wrong] = list.shots;
    const shots = list.shots.map((shot) => (shot === wrong ? { ...shot, file: 0 } : shot));
    const [otio] = await checkAll([otioOf({ ...list, shots })]);
    expect(otio?.findings.sorted.map(({ code, at }) => [code, at])).toEqual([['beyond-recording', 50]]);
  });

  it('has the frame of its own day, where labels repeat', async () => {
    // The third shot begins 24 h after the first one, on the same label.
    const list = listOf('1:1000000 2:1160000 3:100 2:100');
    for (const [index, id] of ['1', '2', '3'].entries()) {
      const { edl, otio } = await foundIn(list, (source) => ({ recorded: source.id !== id }));
      const first = list.shots[index]?.in;
      for (const found of [edl, otio]) expect(found.find(({ code }) => code === 'not-recorded')?.at).toBe(first);
    }
  });
});

describe('what is said of sound', () => {
  const list = listOf('1:50 2:50', 'none', { audio: [{ source: '3', in: 20, out: 100, sourceIn: 90_020, sourceOut: 90_100, take: 0, tracks: [1, 2], channels: [1, 2], withPicture: false }] });

  it('has its record frame, and no line where no shot begins with it', async () => {
    const { edl, otio } = await foundIn(list, ({ id }) => ({ recorded: id !== '3' }));
    expect([edl, otio].map((found) => found.map(({ code, place, at }) => [code, place, at]))).toEqual([
      [['not-recorded', { file: 'show.edl' }, 20]], [['not-recorded', { file: 'show.otio' }, 20]],
    ]);
  });
});

it('has row and frame in a log, of sound the frame', async () => {
  const list = listOf('1:50 2:50');
  const log = ['time,action,source', '01:00:00:00,start,', '01:00:00:00,cut,1', '01:00:02:00,cut,2', '01:00:02:10,audio,3', '01:00:04:00,stop,', ''].join('\n');
  const show = showOf(list, ({ id }) => (id === '2' ? file('01:00:02:00', 20) : { recorded: id !== '3' }));
  const [checked] = await checkAll([{ name: 'show.csv', text: log, ...show }]);
  const found = checked?.findings.sorted.filter(({ severity }) => severity === 'warning').map(({ code, place, at }) => [code, place?.line, at]);
  expect(found).toEqual([['not-recorded', undefined, 60], ['beyond-recording', 4, 50]]);
});

it('has no frame and no line where it concerns no shot', async () => {
  const list = listOf('1:50 2:50', 'none', { sources: [camera('1'), camera('2', { name: 'Cam at 01:00:00:00' })] });
  const { edl } = await foundIn(list, ({ id }) => (id === '2' ? { files: [{ path: 'a.mov', frames: 60 }, { path: 'b.mov' }] } : {}));
  expect(edl.map(({ code, place, at }) => [code, place, at])).toEqual([['unplaced-file', { file: 'show.edl' }, undefined]]);
});
