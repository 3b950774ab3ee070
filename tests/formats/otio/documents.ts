/** Documents as other programs write them: only what a test is about, the rest left out. Frames count 25 a second. */
import { expect } from 'vitest';
import type { CutList } from '../../../src/cutlist/model.js';
import { listFaults } from '../../../src/cutlist/validate.js';
import { readOtio } from '../../../src/formats/otio/read.js';
import { problemLine, type Problem } from '../../../src/problems.js';
import { parseRate, type RateSpec } from '../../../src/timecode/rate.js';

export type Json = Record<string, unknown>;

export const time = (value: number, rate = 25): Json => ({ OTIO_SCHEMA: 'RationalTime.1', rate, value });
export const range = (start: number, duration: number, rate = 25): Json => ({ OTIO_SCHEMA: 'TimeRange.1', start_time: time(start, rate), duration: time(duration, rate) });
export const clip = (name: string, start: number, duration: number, more: Json = {}): Json => ({ OTIO_SCHEMA: 'Clip.2', name, source_range: range(start, duration), ...more });
export const gap = (duration: number): Json => ({ OTIO_SCHEMA: 'Gap.1', source_range: range(0, duration) });
export const mix = (before: number, after: number, more: Json = {}): Json => ({ OTIO_SCHEMA: 'Transition.1', in_offset: time(before), out_offset: time(after), transition_type: 'SMPTE_Dissolve', ...more });
export const track = (children: Json[], more: Json = {}): Json => ({ OTIO_SCHEMA: 'Track.1', kind: 'Video', children, ...more });
export const stack = (children: Json[], more: Json = {}): Json => ({ OTIO_SCHEMA: 'Stack.1', children, ...more });
export const timeline = (tracks: Json[], more: Json = {}): Json => ({ OTIO_SCHEMA: 'Timeline.1', name: 'T', tracks: { OTIO_SCHEMA: 'Stack.1', children: tracks }, ...more });
export const media = (url: string, more: Json = {}): Json => ({ media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'ExternalReference.1', target_url: url, ...more } }, active_media_reference_key: 'DEFAULT_MEDIA' });

/** Reads a document; the list has to be sound, and to be there unless errors were reported. */
export function read(document: unknown, rate?: string): { list: CutList | undefined; lines: string[] } {
  const problems: Problem[] = [];
  const text = typeof document === 'string' ? document : JSON.stringify(document);
  const list = readOtio(text, { file: 'cut.otio', ...(rate === undefined ? {} : { rate: parseRate(rate) as RateSpec }) }, (problem) => problems.push(problem));
  if (list !== undefined) expect(listFaults(list)).toEqual([]);
  expect(list === undefined).toBe(problems.some(({ severity }) => severity === 'error'));
  return { list, lines: problems.map(problemLine) };
}

/** Shots, short: `Stage wide 0-50 1000-1050 dissolve 10(5)`. */
export const shots = (list: CutList | undefined): string[] =>
  (list?.shots ?? []).map(({ source, in: from, out, sourceIn, sourceOut, transition: t }) =>
    `${source} ${String(from)}-${String(out)} ${String(sourceIn)}-${String(sourceOut)}${t === undefined ? '' : ` ${t.kind}${t.wipe === undefined ? '' : ` W${String(t.wipe)}`} ${String(t.frames)}(${String(t.inOffset)})`}`);
