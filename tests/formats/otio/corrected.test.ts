import { describe, expect, it } from 'vitest';
import { applyCorrections } from '../../../src/corrections/apply.js';
import type { CutList } from '../../../src/cutlist/model.js';
import { readOtio } from '../../../src/formats/otio/read.js';
import { loadLists } from '../../../src/load.js';
import type { ShowFile } from '../../../src/show/show.js';
import { without } from '../../../src/without.js';
import { otioText } from './support.js';

/** Two takes, counted from the recording; its counter stood at 100 when the first began, at 400 when the second did. */
const LOG = 'frames,action,source\n100,start,\n100,cut,1\n200,cut,2\n300,stop,\n400,start,\n400,cut,2\n450,cut,1\n500,stop,\n';

const SHOW: ShowFile = {
  rate: '25',
  sources: [
    { id: '1', name: 'Wide', start: '10:00:00:00' },
    { id: '2', name: 'Close', start: '11:00:00:00' },
    { id: '3', name: 'Top', start: ['12:00:00:00', '13:00:00:00'] },
  ],
};

async function listsOf(takes: 'joined' | 'separate'): Promise<readonly CutList[]> {
  const input = { name: 'show.csv', bytes: LOG, title: 'Harbour Kitchen', show: { file: 'show.show.json', show: SHOW } };
  return (await loadLists(input, { takes }, () => undefined))?.lists ?? [];
}

const again = (list: CutList): CutList | undefined => readOtio(otioText(list), { file: 'show.otio' }, () => undefined);

/** Source in-points of the shots, where the last of them shows source 3. */
const withTop = (list: CutList | undefined): unknown => {
  const place = { file: 'fix.csv', line: 2 };
  const fix = { do: 'source', shot: list?.shots.length ?? 0, expect: list?.shots.at(-1)?.source ?? '', was: (list?.shots.at(-1)?.out ?? 0) - (list?.shots.at(-1)?.in ?? 0), source: '3', place } as const;
  return list === undefined ? undefined : applyCorrections(list, [fix], () => undefined)?.shots.map(({ sourceIn }) => sourceIn);
};

describe('a list that was read from its OTIO', () => {
  it('is the list that the log made, with all that says where its takes lie in the recordings', async () => {
    const lists = [...(await listsOf('joined')), ...(await listsOf('separate'))];
    expect(lists).toHaveLength(3);
    // Why it sounds as it does is what only the log says.
    for (const list of lists) expect(again(list)).toEqual(without(list, 'follows'));
  });

  it('takes corrections to the same frames: 50 frames into the second recording of source 3', async () => {
    const hour = 3600 * 25;
    const [joined] = await listsOf('joined');
    expect(withTop(joined)).toEqual([10 * hour, 11 * hour + 100, 11 * hour + 300, 13 * hour + 50]);
    expect(joined && withTop(again(joined))).toEqual([10 * hour, 11 * hour + 100, 11 * hour + 300, 13 * hour + 50]);
    const [, second] = await listsOf('separate');
    expect(second && withTop(again(second))).toEqual([11 * hour + 300, 13 * hour + 50]);
  });
});
