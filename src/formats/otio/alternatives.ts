/** The other recordings of a moment: what an editor may switch to instead, written beside each clip. */
import type { CutList } from '../../cutlist/model.js';
import { sourceLength } from '../../cutlist/sync.js';
import type { Json } from './json.js';
import { countsOf } from './schema.js';

/**
 * Asks, clip by clip in record order, for the recordings in sync with record frames [from, to), the clip's own source
 * left out: `source`, `sourceIn` (in the source's own frames), `file` where known; `at` and `frames`, counted in record
 * frames from the clip's first, where a recording does not cover the whole clip. Linear over a whole track.
 */
export function alternativesOf(list: CutList): ((from: number, to: number, own: string) => Json[]) | undefined {
  if (list.angles === undefined || list.angles.length === 0) return undefined;
  const countOf = countsOf(list);
  const angles = list.angles.map(({ source, pieces }) => ({ source, pieces, next: 0, count: countOf(source) }));
  return (from, to, own) => {
    const found: Json[] = [];
    for (const angle of angles) {
      while (angle.next < angle.pieces.length && (angle.pieces[angle.next]?.out ?? 0) <= from) angle.next += 1;
      if (angle.source === own) continue;
      for (let index = angle.next; index < angle.pieces.length; index += 1) {
        const piece = angle.pieces[index];
        if (piece === undefined || piece.in >= to) break;
        const start = Math.max(from, piece.in);
        const end = Math.min(to, piece.out);
        found.push({
          source: angle.source,
          sourceIn: piece.sourceIn + sourceLength(start - piece.in, list.count, angle.count),
          file: piece.file,
          ...(start === from && end === to ? {} : { at: start - from, frames: end - start }),
        });
      }
    }
    return found;
  };
}
