import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { correctionsFor } from '../../src/compare/corrections.js';
import { adjustList, type AdjustOptions } from '../../src/cutlist/adjust.js';
import { applyCorrections } from '../../src/corrections/apply.js';
import { BLACK, type CutList, type Shot } from '../../src/cutlist/model.js';
import { placeChanged, placeOnRecordings } from '../../src/cutlist/place.js';
import { listFaults } from '../../src/cutlist/validate.js';
import type { Problem } from '../../src/problems.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryCase, holds, listOf, type Case } from './recorded.js';
import { heard as soundText, points, shown as shotText } from './rows.js';

const RUNS = Number(process.env.LINECUT_RUNS ?? 120);
const silent = (): void => undefined;

const rules: fc.Arbitrary<AdjustOptions> = fc.record({
  lead: fc.oneof(fc.constant({ all: 0 }), fc.record({ all: fc.integer({ min: 1, max: 80 }) })),
  lag: fc.oneof(fc.constant({ all: 0 }), fc.record({ all: fc.integer({ min: 1, max: 80 }) })),
  minShot: fc.constantFrom(0, 0, 10, 40, 90),
  absorb: fc.constantFrom('previous' as const, 'next' as const, 'longer' as const),
});

/** What a list shows: source, file and label of every frame. */
function shown(list: CutList): string[] {
  return list.shots.flatMap((shot) => {
    const day = framesPerDay(list.sources.find(({ id }) => id === shot.source)?.count ?? list.count);
    const frames = Array.from({ length: shot.out - shot.in }, (_, index) => (((shot.sourceIn + index) % day) + day) % day);
    return frames.map((frame) => (shot.source === BLACK ? BLACK : `${shot.source} f${String(shot.file)} ${String(frame)}`));
  });
}

/** What is heard, by track and frame. */
function heard(list: CutList): string[] {
  return list.audio.flatMap(({ source, in: into, out, sourceIn, tracks, channels, file }) => {
    const day = framesPerDay(list.sources.find(({ id }) => id === source)?.count ?? list.count);
    return tracks.flatMap((track, index) => Array.from({ length: out - into }, (_, frame) =>
      `${String(track)} ${String(into + frame).padStart(6, '0')} ${source === BLACK ? BLACK : `${source} f${String(file)} ${String((((sourceIn + frame) % day) + day) % day)} from ${String(channels[index])}`}`));
  }).sort();
}

/** Every event of picture and sound. */
const events = (list: CutList): string[] => [shotText(list), points(list.shots), soundText(list), points(list.audio)];

/** A case of cuts (a mix that a recording shortens stays shorter), its recordings with holes and without overlaps, its sound none or the picture's own. */
function cutsOf(given: Case): CutList | undefined {
  const spans = given.spans.map((one) => ({ ...one, files: one.files.map(({ frames, hole }) => ({ frames, hole: Math.max(hole, 0) })) }));
  const list = listOf({ ...given, spans, from: given.from === 'none' ? 'none' : 'follow' });
  return list === undefined ? undefined : adjustList(list, { cutsOnly: true }, silent);
}

/** Whether something stands in a list for frames that a recording lacks. */
const isLacking = ({ shots }: CutList): boolean => shots.some(({ instead }) => instead !== undefined);

const changed = (list: CutList, options: AdjustOptions): { list: CutList; before: CutList; problems: Problem[] } => {
  const before = placeOnRecordings(list, silent);
  const problems: Problem[] = [];
  const after = placeChanged(adjustList(before, options, silent, { uncover: true }), before, (found) => problems.push(found));
  expect(listFaults(after)).toEqual([]);
  return { list: after, before, problems };
};

describe('a list that is on its recordings, and changed then', () => {
  it('shows what its log shows with the same rules, wherever a file ends and the next one goes on', () => {
    const seen = { seams: 0, moved: 0 };
    fc.assert(fc.property(arbitraryCase(false), rules, (given, options) => {
      // All is recorded, in files without a hole, so that nothing has to stand for anything.
      const whole = given.spans.map(({ files }) => ({ known: true, lead: -20_000, files: [{ frames: 19_990, hole: 0 }, ...files.map(({ frames }) => ({ frames, hole: 0 })), { frames: 20_000, hole: 0 }] }));
      const list = listOf({ ...given, spans: whole, recorded: [true, true, true], program: false });
      if (list === undefined) return;
      const ofLog = placeOnRecordings(adjustList(list, options, silent), silent);
      const { list: ofList, before } = changed(list, options);
      const [is, was] = [shown(ofList), shown(before)];
      expect(is).toEqual(shown(ofLog));
      expect(heard(ofList)).toEqual(heard(ofLog));
      seen.seams += before.shots.filter(({ continues }) => continues === true).length;
      seen.moved += is.filter((frame, index) => frame !== was[index]).length;
    }), { numRuns: 4 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('plays every frame that is new from a file that holds it, and says what is missing', () => {
    const seen = { moved: 0, missing: 0, kept: 0 };
    fc.assert(fc.property(arbitraryCase(false), rules, (given, options) => {
      const list = listOf(given);
      if (list === undefined) return;
      const { list: after, before, problems } = changed(list, options);
      const kept = new Set<Shot>(before.shots);
      for (const shot of after.shots) {
        if (kept.has(shot)) seen.kept += 1;
        const one = list.sources.find(({ id }) => id === shot.source);
        if (one === undefined || shot.file === undefined) continue;
        for (let frame = 0; frame < shot.out - shot.in; frame += 1) {
          expect(holds(one, shot.sourceIn + frame, shot.file), `${shot.source} ${String(shot.in + frame)}`).toBe(true);
          seen.moved += kept.has(shot) ? 0 : 1;
        }
      }
      if (problems.some(({ code }) => code === 'beyond-recording' || code === 'recording-hole')) seen.missing += 1;
      // Nothing to change: the very same list.
      if (after.shots.every((shot) => kept.has(shot))) expect(after.audio).toEqual(before.audio);
    }), { numRuns: 4 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('has the events of its log with the same rules, where frames are missing and something stands for them', () => {
    const seen = { lacking: 0, uncovered: 0 };
    fc.assert(fc.property(arbitraryCase(false), rules, (given, options) => {
      const list = cutsOf(given);
      if (list === undefined) return;
      const { list: ofList, before } = changed(list, options);
      expect(events(ofList)).toEqual(events(placeOnRecordings(adjustList(list, options, silent), silent)));
      if (!isLacking(before)) return;
      seen.lacking += 1;
      const [is, was] = [shown(ofList), shown(before)];
      if (is.some((frame, index) => frame !== was[index])) seen.uncovered += 1;
    }), { numRuns: 2 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });

  it('becomes what compare wrote corrections for, placed as convert does it', () => {
    const seen = { changed: 0, lacking: 0, blackened: 0 };
    fc.assert(fc.property(arbitraryCase(false), rules, fc.option(fc.nat({ max: 20 })), (given, options, place) => {
      const list = cutsOf(given);
      if (list === undefined) return;
      const a = placeOnRecordings(list, silent);
      const b = placeOnRecordings(blackened(adjustList(list, options, silent, { uncover: true }), place), silent);
      const corrected = applyCorrections(a, correctionsFor(a, b), silent);
      for (const ready of [placeOnRecordings(corrected as CutList, silent), placeChanged(corrected as CutList, a, silent)]) {
        // Frame by frame: where program stands for two shots in a row, the cut between them may go.
        expect(shown(ready)).toEqual(shown(b));
      }
      if (corrected !== a) seen.changed += 1;
      if (isLacking(a) || isLacking(b)) seen.lacking += 1;
      if (place !== null) seen.blackened += 1;
    }), { numRuns: 2 * RUNS });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
  });
});

/** A list with one shot in black. */
function blackened(list: CutList, place: number | null): CutList {
  if (place === null) return list;
  const index = place % list.shots.length;
  return { ...list, shots: list.shots.map((shot, at) => (at === index ? { ...shot, source: BLACK, sourceIn: 0, sourceOut: shot.out - shot.in } : shot)) };
}
