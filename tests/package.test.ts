/** What is packed: installed from the tarball into an empty folder, run, imported, compiled against. Needs a build (`npm test` makes it). */
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { helpOf } from '../src/cli/help.js';
import { COMMANDS } from '../src/cli/program.js';
import { cli, filesIn, folderWith, runOf } from './support/cli.js';

const root = fileURLToPath(new URL('..', import.meta.url));
const MINUTES = 60_000;
const TSC = join(root, 'node_modules/typescript/bin/tsc');
const STRICT = ['--noEmit', '--strict', '--module', 'nodenext', '--moduleResolution', 'nodenext', '--target', 'es2022'];

let packed: string[] = [];
let home = '';

beforeAll(() => {
  home = folderWith({ 'package.json': '{ "name": "kitchen", "private": true, "type": "module" }' });
  const report = execFileSync('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', home], { cwd: root, encoding: 'utf8' });
  const [about] = Object.values(JSON.parse(report) as Record<string, { readonly filename: string; readonly files: readonly { readonly path: string }[] }>);
  packed = about?.files.map(({ path }) => path) ?? [];
  execFileSync('npm', ['install', '--prefer-offline', '--no-audit', '--no-fund', '--ignore-scripts', join(home, about?.filename ?? '')], { cwd: home, stdio: ['ignore', 'ignore', 'inherit'] });
  const demo = join(root, 'fixtures/demo');
  for (const name of filesIn(demo).filter((one) => !one.endsWith('.ts'))) cpSync(join(demo, name), join(home, name));
}, 5 * MINUTES);

describe('the package', () => {
  it('holds what a run needs and nothing else', () => {
    const wrong = packed.filter((path) => !/^(?:bin\/(?:linecut\.js|package\.json)|dist\/.+|fixtures\/pictures\/\w+\.svg|package\.json|README\.md|CHANGELOG\.md|LICENSE)$/.test(path));
    expect(wrong).toEqual([]);
    expect(packed.filter((path) => /\.map$|\.test\.|fixtures(?!\/pictures\/)|\.ts$/.test(path) && !path.endsWith('.d.ts'))).toEqual([]);
    for (const needed of ['bin/linecut.js', 'dist/start.cjs', 'dist/index.js', 'dist/types/index.d.ts', 'dist/show.schema.json', 'dist/linecut.1', 'dist/THIRD-PARTY-NOTICES.txt', 'LICENSE', 'README.md']) {
      expect(packed).toContain(needed);
    }
  });

  it('names no folder of the machine that built it', () => {
    const folder = join(dirname(root), '/');
    const naming = packed.filter((path) => readFileSync(join(root, path), 'latin1').includes(folder));
    expect(naming).toEqual([]);
  });

  it('ships the licence of every library that it bundles', () => {
    const notices = readFileSync(join(home, 'node_modules/linecut/dist/THIRD-PARTY-NOTICES.txt'), 'utf8');
    for (const name of ['commander', 'csv-parse', 'fast-xml-parser', 'jsonc-parser', 'luxon', 'xmlbuilder2']) expect(notices).toMatch(new RegExp(`^${name} \\d`, 'm'));
  });
});

describe('npx linecut', () => {
  const npx = (...args: string[]): ReturnType<typeof spawnSync> => spawnSync('npx', ['--no-install', 'linecut', ...args], { cwd: home, encoding: 'utf8' });

  it('converts the demo show', () => {
    const done = npx('convert', 'harbour-kitchen-14.csv', '-o', 'lists', '--to', 'edl,otio,chapters,cutlog');
    expect(done.status).toBe(0);
    expect(done.stderr).toContain('157 shots');
    expect(filesIn(join(home, 'lists'))).toHaveLength(4);
  }, MINUTES);

  it('gives the same from XML, and from standard input to standard output', () => {
    const edl = readFileSync(join(home, 'lists/harbour-kitchen-14.edl'), 'utf8');
    const args = ['--no-install', 'linecut', 'convert', '-', '--show', 'harbour-kitchen-14.show.json', '--to', 'edl', '-o', '-'];
    for (const form of ['xml', 'csv']) {
      const log = readFileSync(join(home, `harbour-kitchen-14.${form}`));
      expect(execFileSync('npx', args, { cwd: home, input: log, encoding: 'utf8', stdio: ['pipe', 'pipe', 'ignore'] })).toBe(edl);
    }
  }, MINUTES);

  it('reads characters beyond ASCII as the sources do', () => {
    writeFileSync(join(home, 'seconds.csv'), 'seconds;action;source;note\n0;start;;\n0;cut;Zür;\n1\u2019000,5;marker;;Grüße \u2013 \u{1F373}\n1\u2019200,5;stop;;\n');
    const log = npx('convert', 'seconds.csv', '--rate', '25', '--to', 'chapters', '-o', '-', '-q');
    expect([log.status, log.stderr, log.stdout]).toEqual([0, '', '00:00 seconds\n16:40 Grüße \u2013 \u{1F373}\n']);
    writeFileSync(join(home, 'marks.chapters.txt'), '\u2022 00:00 \u2014 Welcome\n\u2022 01:30 \u2013 The stock\n');
    expect(npx('check', 'marks.chapters.txt')).toMatchObject({ status: 0 });
  }, MINUTES);

  it.each([40, 80, 120])('lays its help out as the sources do, in %d columns', async (columns) => {
    const run = runOf(join(home, 'node_modules/linecut/dist/start.cjs'));
    for (const { name, load } of COMMANDS) {
      const { out } = await cli([name, '--help'], { columns, run });
      expect(out).toBe(helpOf(await load(), columns));
    }
  }, MINUTES);

  it('ends with the status of what went wrong', () => {
    expect(npx('convert', 'gone.csv').status).toBe(2);
    expect(npx('--version').stdout).toBe(`linecut ${(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }).version}\n`);
  }, MINUTES);

  it('says nothing when its reader goes away', () => {
    const done = spawnSync('sh', ['-c', 'npx --no-install linecut convert harbour-kitchen-14.csv --to otio -o - -q | head -c 10; exit "${PIPESTATUS:-0}"'], { cwd: home, encoding: 'utf8' });
    expect([done.stdout.length, done.stderr]).toEqual([10, '']);
  }, MINUTES);
});

describe('import from linecut', () => {
  it('works by name, step by step', () => {
    writeFileSync(join(home, 'use.js'), `
      import * as linecut from 'linecut';
      import { readFileSync } from 'node:fs';
      const { ProblemList, readShowFile, readLog, showSources, buildCutLists, placeOnRecordings, writeEdl, writeOtio, readOtio, convertLog, problemLine } = linecut;
      const found = new ProblemList();
      const text = (name) => readFileSync('harbour-kitchen-14.' + name, 'utf8');
      const show = readShowFile(text('show.json'), 'show.json', found.add);
      const log = readLog(text('csv'), { file: 'log.csv', rate: linecut.parseRate(show.rate), sources: showSources(show, { rate: linecut.RATES[3], dropFrame: true }, 'show.json', found.add) }, found.add);
      const sources = showSources(show, log.count, 'show.json', found.add);
      const [built] = buildCutLists(log.events, sources, { title: show.title, count: log.count, recordStart: linecut.parseTimecode(show.recordStart, log.count), origin: log.origin, audio: show.audio, file: 'log.csv' }, found.add);
      const list = placeOnRecordings(built, found.add);
      const steps = [...writeEdl(list, {}, found.add)[0].chunks].join('');
      const back = readOtio([...writeOtio(list, { base: '/' }).chunks].join(''), { file: 'x.otio' }, found.add);
      const [once] = await convertLog({ name: 'log.csv', bytes: text('csv'), title: 'log', show: { file: 'show.json', show } }, { to: ['edl'], otio: { base: '/' } }, found.add);
      if (found.hasErrors) throw new Error(found.problems.map(problemLine).join('\\n'));
      console.log(JSON.stringify({ same: steps === [...once.outputs[0].chunks].join(''), shots: list.shots.length, back: back.shots.length }));
    `);
    expect(JSON.parse(execFileSync(process.execPath, ['use.js'], { cwd: home, encoding: 'utf8' }))).toEqual({ same: true, shots: 157, back: 157 });
  });

  it('has the schema of show files', () => {
    writeFileSync(join(home, 'schema.js'), "import schema from 'linecut/show.schema.json' with { type: 'json' }; console.log(schema.title, schema.$defs.mapping.title);");
    expect(execFileSync(process.execPath, ['schema.js'], { cwd: home, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })).toBe('linecut show file linecut mapping file\n');
  });

  it('has types that stand on their own', () => {
    mkdirSync(join(home, 'types'), { recursive: true });
    writeFileSync(join(home, 'types/use.ts'), `
      import { convertLog, ProblemList, type ConvertOptions, type CutList, type Problem } from 'linecut';
      const found = new ProblemList();
      const options: ConvertOptions = { to: ['edl'], otio: { base: '/' } };
      export const lists: Promise<CutList[]> = convertLog({ name: 'a', bytes: '', title: 'a' }, options, found.add).then((made) => made.map(({ list }) => list));
      export const problems: readonly Problem[] = found.problems;
      // @ts-expect-error: there is no such format
      export const wrong: ConvertOptions = { to: ['pdf'], otio: { base: '/' } };
    `);
    const done = spawnSync(process.execPath, [TSC, ...STRICT, '--typeRoots', 'none', 'types/use.ts'], { cwd: home, encoding: 'utf8' });
    expect(done.stdout).toBe('');
    expect(done.status).toBe(0);
  }, MINUTES);

  it('is used by the script of the README, which compiles and runs', () => {
    const [, script = ''] = /## In your own scripts\n\n```ts\n([^]*?)```/.exec(readFileSync(join(root, 'README.md'), 'utf8')) ?? [];
    mkdirSync(join(home, 'script'), { recursive: true });
    writeFileSync(join(home, 'script/use.ts'), script);
    writeFileSync(join(home, 'script/show.csv'), 'time,action,source\n10:00:00;00,cut,1\n10:00:02;00,cut,2\n10:00:04;00,stop,\n');
    const done = spawnSync(process.execPath, [TSC, ...STRICT, '--skipLibCheck', '--exactOptionalPropertyTypes', '--noUncheckedIndexedAccess', '--typeRoots', join(root, 'node_modules/@types'), '--types', 'node', '--noEmit', 'false', 'script/use.ts'], { cwd: home, encoding: 'utf8' });
    expect([done.stdout, done.status]).toEqual(['', 0]);
    expect(execFileSync(process.execPath, ['use.js'], { cwd: join(home, 'script'), encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })).toBe('2 shots\n');
    expect(filesIn(join(home, 'script'))).toEqual(['show.csv', 'show.edl', 'show.otio', 'use.js', 'use.ts']);
  }, 2 * MINUTES);
});
