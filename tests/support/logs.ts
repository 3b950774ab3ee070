/** Reading logs in tests: problems as lines, events in short. */
import type { LogEvent } from '../../src/cutlist/event.js';
import { readLog } from '../../src/log/read.js';
import type { LogOptions, LogReading } from '../../src/log/reading.js';
import { isFault, problemLine, type Problem } from '../../src/problems.js';
import { parseRate, type RateSpec } from '../../src/timecode/rate.js';

export interface Read {
  readonly reading: LogReading | undefined;
  readonly problems: readonly Problem[];
  /** As the command line prints them. */
  readonly lines: readonly string[];
  /** Those that are no notes. */
  readonly loud: readonly string[];
  /** The events, one short text each. */
  readonly events: readonly string[];
}

export function rateSpec(text: string): RateSpec {
  const spec = parseRate(text);
  if (isFault(spec)) throw new Error(spec.message);
  return spec;
}

/** Reads a log; `rate` as people write it (default 25). */
export function read(text: string | Uint8Array, options: Omit<Partial<LogOptions>, 'rate'> & { readonly rate?: string | undefined } = {}): Read {
  const problems: Problem[] = [];
  const { rate, ...others } = options;
  const spec = 'rate' in options ? (rate === undefined ? {} : { rate: rateSpec(rate) }) : { rate: rateSpec('25') };
  const reading = readLog(text, { file: 'log', ...spec, ...others }, (found) => problems.push(found));
  return {
    reading,
    problems,
    lines: problems.map(problemLine),
    loud: problems.filter(({ severity }) => severity !== 'note').map(problemLine),
    events: reading?.events.map(short) ?? [],
  };
}

/** `120 dissolve 2 +30 'note'`: frame, action, source, `+` duration or `→` end, wipe code, note. */
export function short({ at, action, source, duration, end, wipe, note }: LogEvent): string {
  const parts = [String(at), action];
  if (source !== undefined) parts.push(source);
  if (duration !== undefined) parts.push(`+${String(duration)}`);
  if (end !== undefined) parts.push(`→${String(end)}`);
  if (wipe !== undefined) parts.push(`W${String(wipe)}`);
  if (note !== undefined) parts.push(`'${note}'`);
  return parts.join(' ');
}

/** What of an event does not depend on how its log was written; times from `zero`. */
export function essence({ at, action, source, duration, end, wipe, note }: LogEvent, zero: number): string {
  const frames = duration ?? (end === undefined ? undefined : end - at);
  return JSON.stringify([at - zero, action, source, frames, wipe, note]);
}
