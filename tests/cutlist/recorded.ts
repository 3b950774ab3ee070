/** Random lists, and recordings of their sources that hold, lack or divide what they show. */
import fc from 'fast-check';
import { PROGRAM, type CutList, type MediaFile, type Source } from '../../src/cutlist/model.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { arbitraryLog, type RandomLog } from './logs.js';
import { build, source } from './rows.js';

/** What a recording is made of: a distance to the first frame, then files and holes (negative: overlaps) by turns. */
const spans = fc.record({
  known: fc.constantFrom(true, true, true, false),
  lead: fc.integer({ min: -60, max: 60 }),
  files: fc.array(fc.record({ frames: fc.integer({ min: 1, max: 150 }), hole: fc.oneof(fc.constant(0), fc.integer({ min: -20, max: 30 })) }), { minLength: 1, maxLength: 5 }),
});

type Spans = typeof spans extends fc.Arbitrary<infer T> ? T : never;

export interface Case {
  readonly log: RandomLog;
  readonly recorded: readonly boolean[];
  readonly spans: readonly Spans[];
  readonly program: boolean;
  readonly from: string;
}

export const arbitraryCase = (otherRates: boolean): fc.Arbitrary<Case> =>
  fc.record({
    log: arbitraryLog({ cues: true, ends: true, otherRates }),
    recorded: fc.array(fc.constantFrom(true, true, true, false), { minLength: 3, maxLength: 3 }),
    spans: fc.array(spans, { minLength: 4, maxLength: 4 }),
    program: fc.boolean(),
    from: fc.constantFrom('none', 'follow', '1', '2'),
  });

/** The list of a case, its sources recorded around the frames that the list needs of them. */
export function listOf({ log, recorded, spans: given, program, from }: Case): CutList | undefined {
  const pgm: Source[] = program ? [source(PROGRAM, { count: log.count, starts: log.origin === 'recording' ? [5000] : [], offset: 2 })] : [];
  const { count, origin, endAt } = log;
  const sources = [...log.sources.map((one, index) => ({ ...one, recorded: recorded[index] === true })), ...pgm];
  const logical = build(log.events, { count, origin, audio: { from }, ...(endAt === undefined ? {} : { endAt }) }, sources).lists[0];
  if (logical === undefined) return undefined;
  const first = logical.takes[0]?.logIn ?? 0;
  const withFiles = sources.map((one, index) => ({ ...one, files: filesOf(one, given[index] as Spans, first, logical) }));
  return { ...logical, sources: withFiles, angles: [] };
}

function filesOf(one: Source, { known, lead, files }: Spans, first: number, list: CutList): MediaFile[] {
  if (!known) return [{ path: `${one.id}.mov` }];
  const day = framesPerDay(one.count);
  const near = list.shots.find((shot) => shot.source === one.id)?.sourceIn ?? (one.starts[0] ?? first);
  let at = near + lead;
  return files.map(({ frames, hole }, index) => {
    // Labels wrap at 24 h.
    const file = { path: `${one.id}-${String(index)}.mov`, start: ((at % day) + day) % day, frames };
    at = Math.max(at + 1, at + frames + hole);
    return file;
  });
}

/** Whether a recording holds the source frame, in any file, labels modulo 24 h; known files only. */
export function holds(one: Source, frame: number, file?: number): boolean {
  const day = framesPerDay(one.count);
  // A file without a start begins where the source does; where nothing is known, all is there.
  const inFile = ({ start = one.starts[0], frames = Infinity }: MediaFile): boolean =>
    start === undefined || (frames === Infinity ? frame >= start : ((((frame - start) % day) + day) % day) < frames);
  if (file !== undefined) return inFile(one.files[file] as MediaFile);
  return one.files.some(inFile);
}
