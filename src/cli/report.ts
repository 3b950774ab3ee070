/** What is told of a log when its job is done: problems and summary for people, an object for scripts. */
import { problem, problemLine, type Problem } from '../problems.js';
import { visible } from '../visible.js';
import type { Io } from './io.js';
import type { JobResult } from './job.js';
import { spokenName } from './names.js';
import { coloredLine, mayColor, summary } from './summary.js';

export interface Talk {
  readonly quiet: boolean;
  readonly json: boolean;
}

/** Says on standard error what was found; with `json` prints the log's object on standard output. */
export async function tell(result: JobResult, talk: Talk, io: Io): Promise<void> {
  await tellProblems(result, talk, io);
  if (!talk.quiet && result.current === true) await io.err.write(printable(`${spokenName(result.log)}: current, nothing to do\n`));
  if (!talk.quiet && result.facts !== undefined) await io.err.write(summary(spokenName(result.log), result.facts, result.outputs.map(({ path }) => path)));
  if (talk.json) await io.out.write(`${JSON.stringify(objectOf(result))}\n`);
}

/** The problems of a log, a line each; with `quiet` only errors. */
export async function tellProblems(result: JobResult, talk: Talk, io: Io): Promise<void> {
  const color = mayColor(io);
  let text = '';
  for (const found of result.problems) {
    if (!talk.quiet || found.severity === 'error') text += `${coloredLine(found, color)}\n`;
  }
  for (const more of result.dropped) {
    if (!talk.quiet || more.severity === 'error') text += `${problemLine(moreOf(result.log, more))}\n`;
  }
  await io.err.write(text);
}

/** One line of text, with or without its end, as a terminal may have it: see `visible`. */
export const printable = (line: string): string => (line.endsWith('\n') ? `${visible(line.slice(0, -1))}\n` : visible(line));

/** One problem for the many of a code that are counted and not kept. */
const moreOf = (log: string, { code, severity, count }: JobResult['dropped'][number]): Problem => problem(code, `${String(count)} more of these`, { file: spokenName(log) }, severity);

/** The object of `--json`; what is not known is null. A log that was passed over has `current`: its problems were told by the run that made its lists. */
export function objectOf({ log, outputs, facts, problems, dropped, current }: JobResult): object {
  return {
    log: spokenName(log),
    ...(current === true ? { current } : {}),
    outputs,
    rate: facts?.rate ?? null,
    dropFrame: facts?.dropFrame ?? null,
    shots: facts?.shots ?? null,
    frames: facts?.frames ?? null,
    seconds: facts?.seconds ?? null,
    sources: facts?.sources ?? [],
    problems: [...problems, ...dropped.map((more) => moreOf(log, more))].map(problemObject),
  };
}

/** A problem as scripts get it; what is not known is null. */
export function problemObject({ code, severity, message, place }: Problem): object {
  return {
    code,
    severity,
    file: place?.file ?? null,
    line: place?.line ?? null,
    column: place?.column ?? null,
    message: place?.option === undefined ? message : `${place.option}: ${message}`,
  };
}

/** One line each, for problems of the call itself. */
export async function complain(problems: readonly Problem[], io: Io): Promise<void> {
  for (const found of problems) await io.err.write(`${problemLine(found)}\n`);
}
