import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expandLogs, expectedLogs } from '../../src/cli/inputs.js';

let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'linecut-inputs-'));
  for (const name of ['shows/b.csv', 'shows/a.csv', 'shows/day 2/a.csv', 'shows/day 2/a.show.json', 'shows/x.xml', 'shows/a.cutlog.xml', 'empty/readme.md', 'lists/a.edl', 'lists/a.chapters.txt', 'lists/a.chapters.vtt', 'lists/a.cutlog.xml', 'odd[1].csv']) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), '');
  }
});

afterAll(() => {
  rmSync(folder, { recursive: true });
});

const logs = async (...args: string[]): Promise<string[]> => (await expandLogs(args, folder)).logs.map(({ path, folder: below }) => `${path} → ${below}`);

describe('the logs of a call', () => {
  it('are the files that were named, in the order given, each once', async () => {
    expect(await logs('shows/b.csv', 'shows/a.csv', './shows/b.csv')).toEqual(['shows/b.csv → ', 'shows/a.csv → ']);
  });

  it('are those in a folder, by name, each with its place below it; what linecut wrote is not among them', async () => {
    expect(await logs('shows')).toEqual(['shows/a.csv → ', 'shows/b.csv → ', 'shows/day 2/a.csv → day 2', 'shows/x.xml → ']);
  });

  it('are those that a glob matches', async () => {
    expect(await logs('shows/**/*.csv')).toEqual(['shows/a.csv → ', 'shows/b.csv → ', 'shows/day 2/a.csv → day 2']);
    expect(await logs('*/a.csv')).toEqual(['shows/a.csv → shows']);
    expect(await logs(join(folder, 'shows/*.xml'))).toEqual([`${folder}/shows/x.xml → `]);
  });

  it('are not the chapters and cutlogs that a glob matches, unless it asks for them; an EDL may come from anybody', async () => {
    expect(await logs('lists/*')).toEqual(['lists/a.edl → ']);
    expect(await logs('lists/*.chapters.txt', 'lists/*.cutlog.xml')).toEqual(['lists/a.chapters.txt → ', 'lists/a.cutlog.xml → ']);
  });

  it('take a file whose name looks like a glob for that file', async () => {
    expect(await logs('odd[1].csv')).toEqual(['odd[1].csv → ']);
  });

  it('are guessed at before they are looked for: no fewer than named, those below folders left out', () => {
    expect(expectedLogs(['shows/b.csv'], folder)).toBe(1);
    expect(expectedLogs(['-'], folder)).toBe(1);
    expect(expectedLogs(['nowhere', 'shows/b.csv/c.csv'], folder)).toBe(2);
    expect(expectedLogs(['shows', 'empty'], folder)).toBe(2 + 3);
    expect(expectedLogs(['shows/**/*.csv'], folder)).toBe(1 + 3);
  });

  it('keep a path that nobody can look at: reading it says why; as a glob it is matched', async () => {
    symlinkSync('circle', join(folder, 'circle'));
    const long = 'x'.repeat(300);
    expect(await logs('circle', 'circle/a.csv', `${long}.csv`)).toEqual(['circle → ', 'circle/a.csv → ', `${long}.csv → `]);
    expect(await logs(`shows/{a,${long}}.csv`)).toEqual(['shows/a.csv → ']);
  });

  it('keep standard input', async () => {
    expect(await logs('-')).toEqual(['- → ']);
  });

  it.each([
    ['nothing.csv', 'nothing.csv: there is no such file or folder'],
    ['none/*.csv', 'none/*.csv: no file matches'],
    ['empty', 'empty: the folder holds no .csv, .tsv or .xml file'],
  ])('say what is wrong with %s', async (arg, message) => {
    const { problems } = await expandLogs([arg], folder);
    expect(problems.map((found) => `${found.place?.file ?? ''}: ${found.message}`)).toEqual([message]);
    expect(problems[0]?.code).toBe('unreadable');
  });
});
