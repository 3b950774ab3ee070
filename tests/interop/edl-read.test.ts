/** Our reader on EDLs that a program we did not write has written: otio-cmx3600-adapter 1.0.0. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { CutList } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { asciiText } from '../../src/formats/edl/ascii.js';
import { readEdl } from '../../src/formats/edl/read.js';
import { reelNames } from '../../src/formats/edl/reels.js';
import { writeEdl } from '../../src/formats/edl/write.js';
import { problemLine, type Problem } from '../../src/problems.js';
import { countName, hasDropFrame } from '../../src/timecode/rate.js';
import { arbitraryList, COUNTS } from '../support/lists.js';
import { python, workFolder, writeChunks } from './support.js';

/** One shot of two seconds, of 25 or 30 frames. */
const SHOT = '001  A        V     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00';

/** Why the lists below have no sound, no non-drop labels at 29.97 and 59.94, and of wipes and markers less is compared: what the adapter writes of a few lines. */
const HABITS = [
  { what: 'of several tracks the first alone', rate: 25, lines: [SHOT, '002  B        A     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00'], has: /^001 {2}A {8}V /m, lacks: /^002/m },
  { what: 'labels at 29.97 in drop-frame', rate: 30000 / 1001, lines: ['FCM: NON-DROP FRAME', SHOT], has: /01:00:03;18 01:00:05;18$/m, lacks: /01:00:00/ },
  { what: 'a wipe as a dissolve', rate: 25, lines: [SHOT, SHOT.replace('001', '002').replace('00:00 10:00:02', '02:00 10:00:02').replace('00:00 01:00:02', '02:00 01:00:02'), '002  B        V     W017 010 11:00:00:00 11:00:02:00 01:00:02:00 01:00:04:00'], has: /^002 {2}B {8}V {5}D 010 {4}11:00:00:00/m, lacks: /W017/ },
  { what: 'a marker with a label of the source', rate: 25, lines: [SHOT], has: /^\* LOC: 10:00:00:00 GREEN/m, lacks: /^\* LOC: 01:/m },
] as const;

/** What is left out is what HABITS show; and the adapter cannot read a source or record side that crosses midnight, nor a list that opens with a mix (LIMITS in edl-limits.ts). */
const SHAPE = { counts: COUNTS.filter(({ rate, dropFrame }) => dropFrame || !hasDropFrame(rate)), openWithTransition: false, midnight: false, audio: ['none'], markers: false } as const;

it('reads what the adapter writes: labels in its own marks, wide columns, mixes, black, blank lines, its comments', () => {
  const seed = Number(process.env['LINECUT_SEED'] ?? 20260);
  const folder = workFolder('edl-read');
  const sampled = fc.sample(arbitraryList(SHAPE), { numRuns: Number(process.env['LINECUT_CASES'] ?? 300), seed }).map(withoutFiles);
  const lists = sampled.filter(isEarly);
  expect(lists.length).toBeGreaterThan(sampled.length / 2);
  expect(lists.filter(({ shots: all }) => all.some(({ transition }) => transition !== undefined)).length).toBeGreaterThan(lists.length / 4);
  const cases = lists.map((list, index) => {
    const file = join(folder, `${String(index)}.edl`);
    writeChunks(file, writeEdl(list, {}, () => undefined)[0]?.chunks ?? []);
    return { file, rate: list.count.rate.num / list.count.rate.den };
  });
  const shown = HABITS.map(({ rate, lines }, index) => {
    const file = join(folder, `habit-${String(index)}.edl`);
    writeFileSync(file, ['TITLE: x', ...lines, ''].join('\n'));
    return { file, rate };
  });
  const { texts, late } = python('edl_rewrite.py', { cases: [...cases, ...shown] }) as { texts: string[]; late: string };
  for (const [index, { what, has, lacks }] of HABITS.entries()) {
    const text = texts[cases.length + index] ?? '';
    expect({ what, text, has: has.test(text), lacks: !lacks.test(text) }).toEqual({ what, text, has: true, lacks: true });
  }
  // 4,144,797 frames of 48 a second are 23:59:09:45. The library (opentimelineio 0.18.1) begins again at zero after 86,400 s of
  // real time, not after 24 h of labels; lists that reach that far are left out.
  expect(late).toBe('00:00:36:21');
  for (const [index, list] of lists.entries()) {
    const name = `list ${String(index)} (seed ${String(seed)}, ${countName(list.count)})`;
    const problems: Problem[] = [];
    const read = readEdl(texts[index] ?? '', { file: 'adapter.edl', rate: { rate: list.count.rate, dropFrame: undefined } }, (problem) => problems.push(problem));
    if (read === undefined) throw new Error(`${name}: ${problems.map(problemLine).join('\n')}`);
    // Nothing but what its markers are: source labels, outside the record side more often than not.
    expect({ name, problems: problems.filter(({ message }) => !message.startsWith("the marker 'LID OFF'")).map(problemLine) }).toEqual({ name, problems: [] });
    expect(listFaults(read)).toEqual([]);
    expect({ name, shots: shots(read) }).toEqual({ name, shots: shots(list) });
    expect(read.sources.map(({ files }) => files.map(({ path }) => path))).toEqual(read.sources.map(({ reel }) => [`media/${reel ?? ''}.mov`]));
  }
});

/** So that the files are those that the adapter writes. */
const withoutFiles = (list: CutList): CutList => ({ ...list, shots: list.shots.map(({ source, in: from, out, sourceIn, sourceOut, take, transition }) => ({ source, in: from, out, sourceIn, sourceOut, take, ...(transition === undefined ? {} : { transition }) })) });

/** Before 86,400 s of real time. */
function isEarly({ shots: all, recordStart, frames, count: { rate, dropFrame } }: CutList): boolean {
  const end = dropFrame ? Infinity : (86_400 * rate.num) / rate.den;
  return recordStart + frames < end && all.every(({ sourceOut }) => sourceOut < end);
}

function shots(list: CutList): unknown[] {
  const reels = reelNames(list.sources, 8, () => undefined);
  const names = new Map(list.sources.map(({ id, name }) => [id, asciiText(name)]));
  return list.shots.map((shot) => ({ reel: reels?.get(shot.source), name: shot.clipName ?? names.get(shot.source), record: [list.recordStart + shot.in, list.recordStart + shot.out], source: [shot.sourceIn, shot.sourceOut], mix: shot.transition?.frames }));
}
