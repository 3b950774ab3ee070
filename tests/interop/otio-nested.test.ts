import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { BLACK } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { readOtio } from '../../src/formats/otio/read.js';
import { problemLine, type Problem } from '../../src/problems.js';
import { python, workFolder } from './support.js';

type Seen = [name: string, from: number, to: number, source: number];

// opentimelineio 0.18.1 builds the timelines and says, by transformed_time_range, where each clip is seen.
it('nested and trimmed compositions are read as the reference library sees them', () => {
  const folder = workFolder('otio-nested');
  const told = python('otio_nested.py', { seed: Number(process.env['LINECUT_SEED'] ?? 20260), cases: 300, folder }) as { frames: number; seen: Seen[] }[];
  for (const [index, { frames, seen }] of told.entries()) {
    const problems: Problem[] = [];
    const list = readOtio(readFileSync(join(folder, `${String(index)}.otio`), 'utf8'), { file: `${String(index)}.otio` }, (problem) => problems.push(problem));
    expect({ index, problems: problems.filter(({ severity }) => severity !== 'note').map(problemLine) }).toEqual({ index, problems: [] });
    if (list === undefined) throw new Error(`case ${String(index)} was not read`);
    expect(listFaults(list)).toEqual([]);
    const ours = list.shots.filter(({ source }) => source !== BLACK).map(({ source, in: from, out, sourceIn }): Seen => [source, from, out, sourceIn]);
    expect({ index, frames: list.frames, seen: ours }).toEqual({ index, frames, seen });
  }
});
