/** Our reader on EDLs that a program we did not write has written: otio-cmx3600-adapter 1.0.0. */
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

/**
 * Cuts only, picture only: of mixes the adapter writes other points than it read, and sound it does not write at all
 * (`write_to_string` takes the first track). At 29.97 and 59.94 its labels are always drop-frame (`to_timecode(time, rate)` infers it), so lists
 * in non-drop would come back with other labels. Its markers have source labels, so they are only looked for, not placed.
 */
const SHAPE = { counts: COUNTS.filter(({ rate, dropFrame }) => dropFrame || !hasDropFrame(rate)), transitions: false, midnight: false, black: false, audio: ['none'], markers: false } as const;

it('reads what the adapter writes: labels in its own marks, wide columns, blank lines, its comments', () => {
  const seed = Number(process.env['LINECUT_SEED'] ?? 20260);
  const folder = workFolder('edl-read');
  const sampled = fc.sample(arbitraryList(SHAPE), { numRuns: Number(process.env['LINECUT_CASES'] ?? 300), seed }).map(withoutFiles);
  const lists = sampled.filter(isEarly);
  expect(lists.length).toBeGreaterThan(sampled.length / 2);
  const cases = lists.map((list, index) => {
    const file = join(folder, `${String(index)}.edl`);
    writeChunks(file, writeEdl(list, {}, () => undefined)[0]?.chunks ?? []);
    return { file, rate: list.count.rate.num / list.count.rate.den };
  });
  const { texts, late } = python('edl_rewrite.py', { cases }) as { texts: string[]; late: string };
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
const withoutFiles = (list: CutList): CutList => ({ ...list, shots: list.shots.map(({ source, in: from, out, sourceIn, sourceOut, take }) => ({ source, in: from, out, sourceIn, sourceOut, take })) });

/** Before 86,400 s of real time. */
function isEarly({ shots: all, recordStart, frames, count: { rate, dropFrame } }: CutList): boolean {
  const end = dropFrame ? Infinity : (86_400 * rate.num) / rate.den;
  return recordStart + frames < end && all.every(({ sourceOut }) => sourceOut < end);
}

function shots(list: CutList): unknown[] {
  const reels = reelNames(list.sources, 8, () => undefined);
  const names = new Map(list.sources.map(({ id, name }) => [id, asciiText(name)]));
  return list.shots.map((shot) => ({ reel: reels?.get(shot.source), name: shot.clipName ?? names.get(shot.source), record: [list.recordStart + shot.in, list.recordStart + shot.out], source: [shot.sourceIn, shot.sourceOut] }));
}
