/** Where a source is at a moment of the list, for corrections that name a source and no source point. */
import { fault, problem, type Fault, type Report } from '../problems.js';
import { formatTimecode } from '../timecode/timecode.js';
import type { Correction } from './model.js';
import { BLACK, type CutList, type Shot, type Source } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { shotIndexAt } from '../cutlist/record.js';
import { sourceStep } from '../cutlist/shift.js';
import { numberedTake, sourceFrame, sourceLength } from '../cutlist/sync.js';

/** When on the record side, and in which take. */
export type Moment = Pick<Shot, 'in' | 'take'>;

/** A shot of the list, and its number, from 1. */
interface Seen {
  readonly in: number;
  readonly shot: Shot;
  readonly number: number;
}

/**
 * The frame of a source at `moment.in`: by the log where the list has one, else by the nearest shots of that source in the
 * same take, when those on both sides agree (note `found`). Fault `bad-corrections` where nothing says it.
 */
export function pointOf(list: CutList, id: string, moment: Moment, report: Report, by: Correction): number | Fault {
  if (id === BLACK) return 0;
  const source = list.sources.find((one) => one.id === id);
  const take = numberedTake(list.takes, moment.take);
  if (source !== undefined && take?.origin !== undefined) return sourceFrame(source, take, take.logIn + moment.in - take.in, list.count);
  const near = source === undefined ? [] : inSync(list, source, moment);
  const [first, second] = near;
  const tolerance = list.count.rate === source?.count.rate ? 0 : 1;
  if (source === undefined || first === undefined || Math.abs(first.point - (second ?? first).point) > tolerance) {
    return fault('bad-corrections', `nothing says where ${sourceText(list.sources, id)} was at that moment; give sourceIn, the source timecode of its first frame`);
  }
  const seen = near.map(({ number }) => `shot ${String(number)}`).join(' and ');
  const label = formatTimecode(first.point, source.count);
  report(problem('found', `${by.do}: ${sourceText(list.sources, id)} is at ${label} there, going by ${seen}; give sourceIn to say otherwise`, by.place));
  return first.point;
}

/** The nearest shots of a source at real speed, one on each side, and the source frame on which each says that it is at a moment. */
export const inSync = (list: CutList, source: Source, moment: Moment): (Seen & { readonly point: number })[] =>
  neighbours(list, source.id, moment)
    .filter(({ shot }) => shot.sourceOut - shot.sourceIn === sourceLength(shot.out - shot.in, list.count, source.count))
    .map((seen) => ({ ...seen, point: seen.shot.sourceIn + sourceStep(moment.in - seen.shot.in, list.count, source.count) }));

const indexes = new WeakMap<readonly Shot[], Map<string, Seen[]>>();

/** The last shot of a source that begins before or at a moment and the first after it, in the same take. */
function neighbours({ shots }: CutList, id: string, { in: at, take }: Moment): Seen[] {
  let index = indexes.get(shots);
  if (index === undefined) {
    index = new Map();
    for (const [place, shot] of shots.entries()) {
      const key = `${String(shot.take)} ${shot.source}`;
      const seen: Seen = { in: shot.in, shot, number: place + 1 };
      if (index.get(key)?.push(seen) === undefined) index.set(key, [seen]);
    }
    indexes.set(shots, index);
  }
  const own = index.get(`${String(take)} ${id}`) ?? [];
  const before = shotIndexAt(own, at);
  return own.slice(before, before + 2);
}
