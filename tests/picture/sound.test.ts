/** Sound under the lanes: nothing lies on anything else. */
import { describe, expect, it } from 'vitest';
import { BLACK } from '../../src/cutlist/model.js';
import { soundRows } from '../../src/picture/sound.js';
import { cli, folderWith } from '../support/cli.js';
import { steadyList } from '../support/steady.js';

const EDL = `TITLE: Sound
FCM: NON-DROP FRAME

001  CAM1     B     C        10:00:00:00 10:00:10:00 01:00:00:00 01:00:10:00
002  DESK     A2    C        10:00:00:00 10:00:04:00 01:00:00:00 01:00:04:00
003  CAM2     A2    C        10:00:04:00 10:00:10:00 01:00:04:00 01:00:10:00
`;

const piece = (tracks: number[], [from, to]: [number, number], source = '1'): Parameters<typeof soundRows>[0]['audio'][number] =>
  ({ source, in: from, out: to, sourceIn: from, sourceOut: to, tracks, channels: tracks, take: 0, withPicture: false });

const rowsOf = (...audio: ReturnType<typeof piece>[]): [string, number][] => soundRows({ ...steadyList(1), audio }).map(({ name, bars }) => [name, bars.length]);

describe('sound', () => {
  it('of a channel that plays something else has a row of its own, with its name', async () => {
    const { out } = await cli(['picture', 'snd.edl', '--rate', '25', '-o', '-'], { cwd: folderWith({ 'snd.edl': EDL }) });
    const sound = /<g class="sound">[\s\S]*?<\/g><\/g>/.exec(out)?.[0] ?? '';
    const bars = [...sound.matchAll(/<title>([^<]*)<\/title><rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)"/g)].map(([, title, x, y, width]) => ({ title, from: Number(x), to: Number(x) + Number(width), y }));
    expect(bars.map(({ title }) => title)).toEqual(['Sound A1 from CAM1', 'Sound A2 from DESK', 'Sound A2 from CAM2']);
    for (const [index, one] of bars.entries()) for (const other of bars.slice(index + 1)) expect(one.y === other.y && one.from < other.to - 0.1 && other.from < one.to - 0.1).toBe(false);
    expect(sound).toMatch(/>Sound A1<[\s\S]*>Sound A2</);
  });

  it('that is the same in several channels stands once', () => {
    expect(rowsOf(piece([1, 2], [0, 10]), piece([1, 2], [10, 20], '2'))).toEqual([['Sound A1–A2', 2]]);
    expect(rowsOf(piece([1, 2, 4], [0, 10]), piece([3], [0, 10], '2'))).toEqual([['Sound A1–A2, A4', 1], ['Sound A3', 1]]);
    expect(rowsOf(piece([1, 2], [0, 10]), piece([1], [10, 20]))).toEqual([['Sound A1', 1], ['Sound A2', 1]]);
    expect(rowsOf()).toEqual([]);
  });

  it('is the same where the same is heard, however it was cut', () => {
    const late = { ...piece([1], [10, 20]), sourceIn: 90_000, sourceOut: 90_010 };
    expect(rowsOf(piece([1, 2], [0, 10]), late, piece([2], [10, 20]))).toEqual([['Sound A1', 2], ['Sound A2', 1]]);
    expect(rowsOf(piece([1], [0, 10]), piece([2], [0, 20]), piece([1], [10, 20]))).toEqual([['Sound A1–A2', 1]]);
  });

  it('that is silence has no bar', () => {
    const fade = { ...piece([1, 2], [10, 20], BLACK), transition: { kind: 'dissolve', frames: 5, inOffset: 0 } } as const;
    expect(rowsOf(piece([1, 2], [0, 10]), fade)).toEqual([['Sound A1–A2', 1]]);
    expect(rowsOf(piece([1], [0, 10]), piece([2], [0, 10], BLACK))).toEqual([['Sound A1', 1]]);
    expect(rowsOf(fade)).toEqual([]);
  });
});
