/** Recordings at another rate of which nothing but their speed lines tells. */
import { relabel } from '../../cutlist/corrections-list.js';
import { problem, type Report } from '../../problems.js';
import { hasDropFrame, type Count } from '../../timecode/rate.js';
import { countOf } from '../../timecode/timecode.js';
import { isBlackReel } from './columns.js';
import { explains, knownRates } from './speed.js';
import type { PlacedEvent } from './unwrap.js';

/**
 * The events, with the source side of such recordings in frames of their own rate. A reel is one where each of its events has a
 * speed line with one known rate, labels that count so make real time, and no table of reels says how it counts; a note says so. Where
 * only some events have such a line, it is a change of speed.
 */
export function atOwnRates(placed: PlacedEvent[], report: Report): PlacedEvent[] {
  if (!placed.some(({ event }) => event.speed !== undefined)) return placed;
  const counts = new Map<string, Count | undefined>();
  for (const one of placed) {
    const { reel } = one.event;
    if (isBlackReel(reel)) continue;
    const count = ownCount(one);
    if (!counts.has(reel)) counts.set(reel, count);
    else if (counts.get(reel)?.rate !== count?.rate) counts.set(reel, undefined);
  }
  const said = new Set<string>();
  return placed.map((one) => {
    const { event, document } = one;
    const count = counts.get(event.reel);
    if (count === undefined) return one;
    if (!said.has(event.reel)) report(problem('found', message(event.reel, count), { file: document.file, line: event.line, column: 1 }));
    said.add(event.reel);
    const { sourceIn, sourceOut, sourceCount } = event;
    return { ...one, event: { ...event, sourceCount: count, sourceIn: relabel(sourceIn, sourceCount, count), sourceOut: relabel(sourceOut, sourceCount, count) } };
  });
}

const message = (reel: string, { rate }: Count): string =>
  `${reel}: all speed lines have the rate of a recording with such labels; read as one at ${rate.name}, at real speed; a comment '* REEL ${reel}: name=${reel}' makes it a change of speed`;

/** The count of a recording at another rate whose labels an event may show, going by its speed line. */
function ownCount({ event, document }: PlacedEvent): Count | undefined {
  const { speed, reel, sourceCount, sourceIn, sourceOut } = event;
  const list = document.count.rate;
  if (speed === undefined || document.reels.has(reel)) return undefined;
  const known = knownRates(speed);
  // 24.0 and 30.0 are two rates each: that which keeps time with the list is likelier.
  const rate = known.find(({ den }) => den === list.den) ?? known[0];
  if (rate === undefined || rate.nominal === list.nominal) return undefined;
  const count = countOf(rate, sourceCount.dropFrame && hasDropFrame(rate));
  return explains(event, speed, document, relabel(sourceOut, sourceCount, count) - relabel(sourceIn, sourceCount, count), 1) ? count : undefined;
}
