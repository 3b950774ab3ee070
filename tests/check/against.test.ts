/** A list against its log: nothing is said of what the log gives, and of what is not so in picture, sound or markers it is said what. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AudioPiece, CutList } from '../../src/cutlist/model.js';
import { arbitraryList } from '../support/lists.js';
import { listOf } from '../support/small.js';
import { checkAll, edlOf, otioOf, said } from './written.js';

const RUNS = Number(process.env['LINECUT_RUNS'] ?? 150);

const against = async (list: CutList, logged: CutList): Promise<string[]> =>
  said(await checkAll([...edlOf(list), otioOf(list)], {}, logged)).filter((line) => !line.includes('[rate-differs]'));

describe('what the log gives', () => {
  it('is as logged, as EDL and as OTIO', async () => {
    await fc.assert(fc.asyncProperty(fc.boolean().chain((otherRates) => arbitraryList({ otherRates, maxShots: 14 })), async (list) => {
      expect(await against(list, list)).toEqual([]);
    }), { numRuns: RUNS });
  });
});

describe('what sounds otherwise than the log says', () => {
  const desk: AudioPiece = { source: '3', in: 0, out: 200, sourceIn: 90_000, sourceOut: 90_200, take: 0, tracks: [1, 2], channels: [1, 2], withPicture: false };
  const logged = listOf('1:100 2:100', 'none', { audio: [desk] });
  const withSound = (...audio: AudioPiece[]): CutList => ({ ...logged, audio });

  it.each<[string, CutList, string]>([
    ['a second late', withSound({ ...desk, sourceIn: 90_025, sourceOut: 90_225 }), 'from 01:00:00:00, for 200 frames, on channels 1 2: the log has Camera 3 (3) channel 1 from 01:00:00:00, the list Camera 3 (3) channel 1 from 01:00:01:00 [sound-not-as-logged]'],
    ['silence', withSound(), 'for 200 frames, on channels 1 2: the log has Camera 3 (3) channel 1 from 01:00:00:00, the list silence [sound-not-as-logged]'],
    ['another source from a frame on', withSound({ ...desk, out: 150, sourceOut: 90_150 }, { ...desk, source: '1', in: 150, sourceIn: 90_150 }), 'from 01:00:06:00, for 50 frames, on channels 1 2: the log has Camera 3 (3) channel 1 from 01:00:06:00, the list Camera 1 (1) channel 1 from 01:00:06:00 [sound-not-as-logged]'],
    ['another channel', withSound({ ...desk, tracks: [1], channels: [2] }, { ...desk, tracks: [2], channels: [2] }), 'from 01:00:00:00, for 200 frames, on channel 1: the log has Camera 3 (3) channel 1 from 01:00:00:00, the list Camera 3 (3) channel 2 from 01:00:00:00 [sound-not-as-logged]'],
    ['a hole of one frame', withSound({ ...desk, out: 120, sourceOut: 90_120 }, { ...desk, in: 121, sourceIn: 90_121 }), 'from 01:00:04:20, for 1 frame, on channels 1 2: the log has Camera 3 (3) channel 1 from 01:00:04:20, the list silence [sound-not-as-logged]'],
  ])('is told: %s', async (_what, list, expected) => {
    const lines = await against(list, logged);
    expect(lines.length).toBe(2);
    for (const line of lines) expect(line).toContain(expected);
  });

  it('is told at its event, in its part of a divided EDL, with its frame there', async () => {
    const shots = Array.from({ length: 1200 }, (_, index) => `${String(1 + (index % 2))}:10`).join(' ');
    const long = listOf(shots, 'none', { audio: [{ ...desk, out: 12_000, sourceOut: 102_000 }] });
    const parts = edlOf({ ...long, audio: [{ ...desk, out: 11_000, sourceOut: 101_000 }, { ...desk, in: 11_000, out: 12_000, sourceIn: 101_001, sourceOut: 102_001 }] });
    const checked = await checkAll(parts, {}, long);
    const [first, second] = checked.map(({ findings }) => findings.sorted);
    expect(first).toEqual([]);
    const line = (parts[1]?.text ?? '').split('\r\n').findIndex((text) => /^\d+ .* AA .* 01:07:20:00 \S+$/.test(text)) + 1;
    expect(second?.map(({ code, place }) => [code, place?.file, place?.line])).toEqual([['sound-not-as-logged', 'show-2.edl', line]]);
  });

  it('is not told where the picture differs as well and nothing else does', async () => {
    const right = listOf('1:100 2:100', 'follow');
    const wrong = listOf('1:100 3:100', 'follow');
    expect((await against(wrong, right)).map((line) => line.replace(/^.*\[/, '['))).toEqual(['[not-as-logged]', '[not-as-logged]']);
  });

  it('is not looked for where nothing says what the log sounds like, which is said', async () => {
    const lines = await against(logged, withSound());
    expect(lines.map((line) => line.includes('note: the list has sound, and nothing says what sound the log gives it: --audio does'))).toEqual([true, true]);
  });
});

describe('markers', () => {
  const marked = (...markers: [number, string][]): CutList => listOf('1:100 2:100', 'none', { markers: markers.map(([at, note]) => ({ at, note })) });
  const logged = marked([10, 'Opening'], [60, 'The stock']);

  it.each<[string, CutList, string]>([
    ['one that was moved', marked([10, 'Opening'], [75, 'The stock']), "marker 'The stock' lies at 01:00:03:00, in the log at 01:00:02:10 [markers-not-as-logged]"],
    ['one of another name', marked([10, 'Opening'], [60, 'The soup']), "the marker at 01:00:02:10 is called 'The soup', in the log 'The stock' [markers-not-as-logged]"],
    ['one too many', marked([10, 'Opening'], [60, 'The stock'], [110, 'Applause']), "the log has no marker 'Applause' at 01:00:04:10 [markers-not-as-logged]"],
    ['one too few', marked([10, 'Opening']), "the marker 'The stock' of the log is missing at 01:00:02:10 [markers-not-as-logged]"],
  ])('are told of: %s', async (_what, list, expected) => {
    const lines = await against(list, logged);
    expect(lines.length).toBe(2);
    for (const line of lines) expect(line).toContain(`warning: ${expected}`);
  });

  it('are not looked for in an EDL that has none at all', async () => {
    expect(said(await checkAll(edlOf(marked()), {}, logged))).toEqual([]);
  });
});
