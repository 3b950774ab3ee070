/** Where check puts what it says of a shot: on the line of its event, and on its record frame. */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/check/finding.js';
import type { CutList, Source } from '../../src/cutlist/model.js';
import { camera, listOf, P25 } from '../support/small.js';
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

/** 24 h in three shots; then labels repeat: the fourth shot begins on that of the first. */
const DAY = '1:1000000 2:1000000 1:160000';
const DAYS = listOf(`${DAY} 3:100 2:100`);

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

  it.each([['1', [0, 2]], ['2', [1, 4]], ['3', [3]]])('stands with its own event where labels repeat: those on camera %s', async (unrecorded, shots) => {
    expectOn('not-recorded', DAYS, await foundIn(DAYS, ({ id }) => ({ recorded: id !== unrecorded })), shots);
  });

  it('stands with the event that counts, where two lie on one frame', async () => {
    const list = listOf('1:50 2:50 3:50');
    const [edl] = edlOf(list);
    const text = (edl?.text ?? '').replace('01:00:02:00 01:00:04:00 01:00:02:00 01:00:04:00', '01:00:02:00 01:00:04:00 01:00:00:00 01:00:02:00').replace('01:00:04:00 01:00:06:00 01:00:04:00 01:00:06:00', '01:00:04:00 01:00:06:00 01:00:02:00 01:00:04:00');
    const [checked] = await checkAll([{ name: 'show.edl', text, ...showOf(list, ({ id }) => ({ recorded: id !== '2' })) }]);
    expect(checked?.findings.sorted.map(({ code, place, at }) => [code, place?.line, at])).toEqual([['not-recorded', eventLines(text)[1], 0], ['overlap', eventLines(text)[1], 0]]);
  });
});

describe('what is said of an EDL', () => {
  const [{ text } = { text: '' }] = edlOf(DAYS);
  const lines = text.split('\r\n');
  const events = eventLines(text);

  it('has the frame of its line, also where labels repeat', async () => {
    const spoilt = text.replace(/^(004 .*) 01:00:04:00 (\S+ \S+)$/m, '$1 01:00:04:01 $2');
    const [checked] = await checkAll([{ name: 'show.edl', text: spoilt }]);
    expect(checked?.findings.sorted.map(({ code, place, at }) => [code, place?.line, at])).toEqual([['length-differs', events[3], 2_160_000]]);
  });

  it('stands in a hole with the event before it', async () => {
    const list = listOf('1:50 2:50 3:50');
    const [whole] = edlOf(list);
    const holed = (whole?.text ?? '').replace(/^002 .*\r\n\* .*\r\n/m, '');
    const [first, last] = eventLines(holed);
    const said = (await checkAll([{ name: 'show.edl', text: holed }], {}, list))[0]?.findings.sorted;
    expect(said?.filter(({ code }) => code !== 'event-number').map(({ code, place, at }) => [code, place?.line, at])).toEqual([['not-as-logged', first, 50], ['hole', last, 50]]);
  });

  it('stands in its part of a divided one, with its frame there, where labels repeat', async () => {
    const head = lines.slice(0, (events[0] ?? 1) - 1);
    const [from = 0] = events.slice(3).map((line) => line - 1);
    const parts = [{ name: 'show-1.edl', text: lines.slice(0, from).join('\r\n') }, { name: 'show-2.edl', text: [...head, ...lines.slice(from)].join('\r\n') }];
    const [, second] = parts;
    const logged = listOf(`${DAY} 3:100 4:100`);
    const checked = await checkAll(parts, { load: { rate: P25 } }, logged);
    expect(checked.map(({ accounted }) => accounted)).toEqual([{ switches: 3, found: 3 }, { switches: 2, found: 1 }]);
    const told = checked.map(({ findings }) => findings.sorted.filter(({ code }) => code === 'not-as-logged').map(({ place, at }) => [place, at]));
    expect(told).toEqual([[], [[{ file: 'show-2.edl', line: eventLines(second?.text ?? '')[1], column: 1 }, 100]]]);
  });
});

describe('what is said of sound', () => {
  const list = listOf('1:50 2:50', 'none', { audio: [{ source: '3', in: 20, out: 100, sourceIn: 90_020, sourceOut: 90_100, take: 0, tracks: [1, 2], channels: [1, 2], withPicture: false }] });

  it('has its record frame, and the line of its event where no shot begins with it', async () => {
    const { edl, otio, events } = await foundIn(list, ({ id }) => ({ recorded: id !== '3' }));
    expect([edl, otio].map((found) => found.map(({ code, place, at }) => [code, place, at]))).toEqual([
      [['not-recorded', { file: 'show.edl', line: events[1], column: 1 }, 20]], [['not-recorded', { file: 'show.otio' }, 20]],
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
