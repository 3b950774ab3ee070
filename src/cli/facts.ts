/** What there is to say about a list that was made: for the summary people read and the object scripts read. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { goesOn } from '../cutlist/goes-on.js';
import { countName, realSeconds } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';

export interface SourceFacts {
  readonly id: string;
  readonly name: string;
  /** Times it came on; a shot that goes on in the next file is one, and one that goes on after frames of a replacement came on there. */
  readonly shots: number;
  /** Frames on program, at the list's rate. */
  readonly frames: number;
}

/** What there is to say of each list. */
export interface OneList {
  readonly title: string;
  readonly shots: number;
  readonly frames: number;
  /** Real time. */
  readonly seconds: number;
  /** Labels of the first frame and of the frame after the last. */
  readonly from: string;
  readonly to: string;
  readonly markers: number;
}

/** Plain data: what one conversion tells, whoever prints it. Counts are of all its lists together. */
export interface ListFacts {
  readonly rate: string;
  readonly dropFrame: boolean;
  readonly count: string;
  readonly shots: number;
  readonly frames: number;
  /** Real time. */
  readonly seconds: number;
  /** Every source with a picture, in the list's order, and black where it was seen. */
  readonly sources: readonly SourceFacts[];
  /** One, or one a take. */
  readonly lists: readonly OneList[];
}

/** Facts of the lists that one log gave (several only when its takes are separate), added up. */
export function listFacts(lists: readonly CutList[]): ListFacts | undefined {
  const [first] = lists;
  if (first === undefined) return undefined;
  const sources = new Map<string, { id: string; name: string; shots: number; frames: number }>();
  for (const { id, name, picture } of first.sources) {
    if (picture) sources.set(id, { id, name, shots: 0, frames: 0 });
  }
  const ones: OneList[] = [];
  for (const list of lists) {
    let shots = 0;
    for (const [index, shot] of list.shots.entries()) {
      let facts = sources.get(shot.source);
      if (facts === undefined) sources.set(shot.source, (facts = { id: shot.source, name: shot.source === BLACK ? 'Black' : shot.source, shots: 0, frames: 0 }));
      facts.frames += shot.out - shot.in;
      if (goesOn(list.shots[index - 1], shot)) continue;
      facts.shots += 1;
      shots += 1;
    }
    ones.push(oneList(list, shots));
  }
  const sum = (key: 'shots' | 'frames'): number => ones.reduce((total, one) => total + one[key], 0);
  const { count } = first;
  return {
    rate: count.rate.name,
    dropFrame: count.dropFrame,
    count: countName(count),
    shots: sum('shots'),
    frames: sum('frames'),
    seconds: realSeconds(sum('frames'), count.rate),
    sources: [...sources.values()],
    lists: ones,
  };
}

const oneList = ({ title, frames, count, recordStart, markers }: CutList, shots: number): OneList => ({
  title,
  shots,
  frames,
  seconds: realSeconds(frames, count.rate),
  from: formatTimecode(recordStart, count),
  to: formatTimecode(recordStart + frames, count),
  markers: markers.length,
});
