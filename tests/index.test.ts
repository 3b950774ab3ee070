/** The library: what it exports is described, can be named by who uses it, and throws for no input. */
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { isFault, loadLists, parseRate, ProblemList, readEdl, readLog, readMapping, readOtio, checkFile, type Fault, type RateSpec, type Report } from '../src/index.js';

const root = fileURLToPath(new URL('..', import.meta.url));
const index = `${root}src/index.ts`;

/** What a module exports, each as it is declared. */
function exported(): { readonly checker: ts.TypeChecker; readonly symbols: ReadonlyMap<string, ts.Symbol> } {
  const { options } = ts.parseJsonConfigFileContent(ts.readConfigFile(`${root}tsconfig.json`, (path) => ts.sys.readFile(path)).config, ts.sys, root);
  const program = ts.createProgram([index], options);
  const checker = program.getTypeChecker();
  const module = checker.getSymbolAtLocation(program.getSourceFile(index) as ts.SourceFile) as ts.Symbol;
  const declared = (symbol: ts.Symbol): ts.Symbol => ((symbol.flags & ts.SymbolFlags.Alias) === 0 ? symbol : checker.getAliasedSymbol(symbol));
  return { checker, symbols: new Map(checker.getExportsOfModule(module).map((symbol) => [symbol.name, declared(symbol)])) };
}

it('everything that is exported has a docstring', () => {
  const { checker, symbols } = exported();
  expect(symbols.size).toBeGreaterThan(100);
  expect([...symbols].filter(([, symbol]) => symbol.getDocumentationComment(checker).length === 0).map(([name]) => name)).toEqual([]);
});

describe('what no type lets through', () => {
  const wrong = parseRate('29.79df') as unknown as RateSpec;
  const csv = 'frame,source\n0,1\n50,2\n';

  it.each<[string, (report: Report) => unknown]>([
    ['readLog', (report) => readLog(csv, { file: 'a.csv', rate: wrong }, report)],
    ['readLog, labels', (report) => readLog(csv, { file: 'a.csv', logRate: wrong }, report)],
    ['readEdl', (report) => readEdl('001  A V C 00:00:00:00 00:00:01:00 00:00:00:00 00:00:01:00\n', { file: 'a.edl', rate: wrong }, report)],
    ['readOtio', (report) => readOtio('{}', { file: 'a.otio', rate: wrong }, report)],
    ['loadLists', (report) => loadLists({ name: 'a.csv', bytes: csv, title: 'a' }, { rate: wrong, end: '100' }, report)],
  ])('a fault in place of a rate is reported: %s', async (_, read) => {
    const found = new ProblemList();
    expect(await read(found.add)).toBeUndefined();
    expect(found.problems).toEqual([{ code: 'bad-rate', severity: 'error', message: (wrong as unknown as Fault).message }]);
  });

  it('a fault in place of a rate is reported: checkFile', async () => {
    expect(isFault(wrong)).toBe(true);
    for (const bytes of [csv, '{ "sources": [{ "id": "1" }] }']) {
      expect((await checkFile({ name: 'a', bytes }, { load: { rate: wrong } })).findings.sorted.map(({ code }) => code)).toEqual(['bad-rate']);
    }
  });

  it('a zone for which nothing is loaded yet', () => {
    const found = new ProblemList();
    const map = readMapping('{ "zone": "Europe/Lisbon" }', 'a.map.json', found.add);
    expect(readLog('time,source\n10:00:00.000,1\n', { file: 'a.csv', rate: parseRate('25') as RateSpec, ...(map === undefined ? {} : { map }) }, found.add)).toBeUndefined();
    expect(found.problems.map(({ code, message }) => `${code} ${message}`)).toEqual(['bad-option its mapping has clockFormat or zone; await loadClock(map) before readLog']);
  });
});
