/** What there is to say about a list that was made: for the summary people read and the object scripts read. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { goesOn } from '../cutlist/transitions.js';
import { countName, secondsOf, type Count } from '../timecode/rate.js';
import { formatTimecode } from '../timecode/timecode.js';

export interface SourceFacts {
  readonly id: string;
  readonly name: string;
  /** Times it came on; a shot that goes on in the next file is one, and one that goes on after frames of a replacement came on there. */
  readonly shots: number;
  /** Frames on program, at the list's rate. */
  readonly frames: number;
}

/** Plain data: what one conversion tells, whoever prints it. */
export interface ListFacts {
  readonly title: string;
  readonly rate: string;
  readonly dropFrame: boolean;
  readonly count: string;
  readonly shots: number;
  readonly frames: number;
  /** Real time. */
  readonly seconds: number;
  /** Labels of the first frame and of the frame after the last. */
  readonly from: string;
  readonly to: string;
  /** Every source with a picture, in the list's order, and black where it was seen. */
  readonly sources: readonly SourceFacts[];
  readonly markers: number;
}

/** Facts of the lists that one log gave (several only when its takes are separate), added up. */
export function listFacts(lists: readonly CutList[]): ListFacts | undefined {
  const [first] = lists;
  if (first === undefined) return undefined;
  const sources = new Map<string, { id: string; name: string; shots: number; frames: number }>();
  for (const { id, name, picture } of first.sources) {
    if (picture) sources.set(id, { id, name, shots: 0, frames: 0 });
  }
  let shots = 0;
  for (const list of lists) {
    for (const [index, shot] of list.shots.entries()) {
      let facts = sources.get(shot.source);
      if (facts === undefined) sources.set(shot.source, (facts = { id: shot.source, name: shot.source === BLACK ? 'Black' : shot.source, shots: 0, frames: 0 }));
      facts.frames += shot.out - shot.in;
      if (goesOn(list.shots[index - 1], shot)) continue;
      facts.shots += 1;
      shots += 1;
    }
  }
  const frames = lists.reduce((sum, list) => sum + list.frames, 0);
  const { count, recordStart, title } = first;
  return {
    title,
    rate: count.rate.name,
    dropFrame: count.dropFrame,
    count: countName(count),
    shots,
    frames,
    seconds: realSeconds(frames, count),
    from: formatTimecode(recordStart, count),
    to: formatTimecode(recordStart + frames, count),
    sources: [...sources.values()],
    markers: lists.reduce((sum, list) => sum + list.markers.length, 0),
  };
}

function realSeconds(frames: number, { rate }: Count): number {
  const { num, den } = secondsOf(frames, rate);
  return num / den;
}
