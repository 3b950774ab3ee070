/** From a file to a list: what is said on the way. */
import { describe, expect, it } from 'vitest';
import { readCorrections } from '../src/corrections/read.js';
import { loadList } from '../src/load.js';
import { problemLine, ProblemList } from '../src/problems.js';
import { readShowFile } from '../src/show/read.js';
import type { ShowFile } from '../src/show/show.js';

const LOG = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:10:00,cut,2\n10:00:20:00,cut,3\n10:00:30:00,stop,\n';

describe('a list that is corrected', () => {
  it('is put on its recordings twice, and what is said of them is said once', async () => {
    const found = new ProblemList();
    const show = readShowFile('{ "rate": "25", "audio": { "from": "none" }, "sources": [{ "id": "1" }, { "id": "2", "files": [{ "path": "2-1.mov", "start": "10:00:00:00", "frames": 600 }, { "path": "2-2.mov", "start": "10:00:30:00", "frames": 600 }] }, { "id": "3" }] }', 'show.json', found.add) as ShowFile;
    const corrections = readCorrections('do,at,expect,to\nstart,01:00:20:00,3,5 later\n', 'fix.csv', found.add) ?? [];
    const input = { name: 'log.csv', bytes: LOG, title: 'log', show: { file: 'show.json', show } };
    const said = async (more: { readonly corrections?: typeof corrections }): Promise<string[]> => {
      const problems = new ProblemList();
      expect(await loadList(input, more, problems.add)).toBeDefined();
      return problems.problems.filter(({ code }) => code === 'recording-hole').map(problemLine);
    };
    expect(found.problems).toEqual([]);
    const once = await said({});
    expect(once).toHaveLength(1);
    expect(await said({ corrections })).toEqual(once);
  });
});
