/** Sums over a list, for summaries. */
import { BLACK, type CutList } from './model.js';

/** How long a source is seen. */
export interface ScreenTime {
  readonly id: string;
  readonly name: string;
  /** Shots, those that go on in the next file counted once. */
  readonly shots: number;
  /** Frames of the list. All sources together have the list's length. */
  readonly frames: number;
}

/** Screen time of every source that is seen, in the list's order of sources, black last. */
export function screenTime(list: Pick<CutList, 'shots' | 'sources'>): ScreenTime[] {
  const sums = new Map<string, { shots: number; frames: number }>();
  let before: string | undefined;
  for (const shot of list.shots) {
    let sum = sums.get(shot.source);
    if (sum === undefined) sums.set(shot.source, (sum = { shots: 0, frames: 0 }));
    if (shot.continues !== true || before !== shot.source) sum.shots += 1;
    sum.frames += shot.out - shot.in;
    before = shot.source;
  }
  return [...list.sources, { id: BLACK, name: 'Black' }].flatMap(({ id, name }) => {
    const sum = sums.get(id);
    return sum === undefined ? [] : [{ id, name, ...sum }];
  });
}

/** Every source that a list shows or plays, black left out. */
export function usedSources({ shots, audio }: Pick<CutList, 'shots' | 'audio'>): Set<string> {
  const used = new Set<string>();
  let last = '';
  for (const pieces of [shots, audio]) {
    for (const { source } of pieces) {
      if (source !== last) used.add(source);
      last = source;
    }
  }
  used.delete(BLACK);
  return used;
}

/** How many switches a list has: its shots, without those that only go on in the next file or recording. */
export const shotCount = ({ shots }: Pick<CutList, 'shots'>): number => shots.reduce((count, { continues }) => (continues === true ? count : count + 1), 0);
