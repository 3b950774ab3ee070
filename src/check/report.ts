/** How findings are told: lines for people, JSON for scripts. */
import { problemLine } from '../problems.js';
import type { Checked } from './check.js';

/** `show.edl: EDL, 2 errors, 1 warning` */
export function verdict({ name, kind, findings, accounted }: Checked): string {
  const counts = findings.counts;
  const parts = (['error', 'warning', 'note'] as const).filter((severity) => counts[severity] > 0)
    .map((severity) => `${String(counts[severity])} ${severity}${counts[severity] === 1 ? '' : 's'}`);
  const log = accounted === undefined ? '' : `, ${String(accounted.found)} of ${String(accounted.switches)} shots as the log has them`;
  return `${name}: ${kind === undefined ? 'unreadable' : NAMES[kind]}, ${parts.length === 0 ? 'sound' : parts.join(', ')}${log}`;
}

const NAMES: Readonly<Record<NonNullable<Checked['kind']>, string>> = {
  'log': 'log', 'edl': 'EDL', 'otio': 'OTIO', 'chapters': 'chapters', 'show file': 'show file', 'mapping file': 'mapping file', 'corrections': 'corrections',
};

/** Everything about the files as text: a line a finding, with advice on the first of its code. */
export function* textReport(files: readonly Checked[]): Generator<string> {
  for (const file of files) {
    const advised = new Set<string>();
    for (const finding of file.findings.sorted) {
      yield `${problemLine(finding)}\n`;
      if (!advised.has(finding.code)) yield `    ${finding.advice}\n`;
      advised.add(finding.code);
    }
    for (const { code, count } of file.findings.dropped) yield `${file.name}: ${String(count)} more of these [${code}]\n`;
    yield `${verdict(file)}\n`;
  }
}

/** One JSON object a file; what is not known is null. */
export function jsonReport(files: readonly Checked[]): string {
  return `${JSON.stringify(files.map(({ name, kind, findings, accounted }) => ({
    file: name,
    kind: kind ?? null,
    findings: findings.sorted.map(({ code, severity, message, advice, place, at }) => ({
      code, severity, file: place?.file ?? name, line: place?.line ?? null, column: place?.column ?? null, frame: at ?? null, message, advice,
    })),
    more: findings.dropped,
    switches: accounted?.switches ?? null,
    accounted: accounted?.found ?? null,
  })), null, 2)}\n`;
}
