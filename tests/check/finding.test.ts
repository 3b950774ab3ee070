/** Findings of one file: how many are kept, and how the others are counted. */
import { describe, expect, it } from 'vitest';
import { Findings } from '../../src/check/finding.js';
import { problem, type Code, type Severity } from '../../src/problems.js';

describe('the findings of a file', () => {
  const say = (findings: Findings, times: number, code: Code, severity?: Severity): void => {
    for (let line = 1; line <= times; line += 1) findings.add(problem(code, `nr ${String(line)}`, { file: 'a.edl', line }, severity));
  };

  it('keep the first 200 of each code and severity, and count the others', () => {
    const findings = new Findings();
    say(findings, 203, 'hole');
    say(findings, 200, 'overlap');
    say(findings, 201, 'overlap', 'note');
    const kept = (code: Code, severity: Severity): string[] => findings.sorted.filter((one) => one.code === code && one.severity === severity).map(({ message }) => message);
    const first = Array.from({ length: 200 }, (_, index) => `nr ${String(index + 1)}`);
    expect([kept('hole', 'error'), kept('overlap', 'error'), kept('overlap', 'note')]).toEqual([first, first, first]);
    expect(findings.dropped).toEqual([{ code: 'hole', count: 3 }, { code: 'overlap', count: 1 }]);
    expect(findings.counts).toEqual({ error: 403, warning: 0, note: 201 });
  });
});
