/** What the files of a list that was read hold: what it says of them, and whatever it plays from them. */
import { nearestRepeat } from '../timecode/day.js';
import { convertFrames } from '../timecode/rate.js';
import { framesPerDay } from '../timecode/timecode.js';
import type { CutList, MediaFile, Source } from './model.js';
import { toSource } from './recording.js';
import { runsAhead, sourceLength } from './sync.js';

/** Source frames of one file that a list plays, [from, to). */
interface Played {
  readonly from: number;
  readonly to: number;
}

/**
 * The sources of a list, with files that hold all that it plays from them, mixes out of a shot included. A list may go beyond what it
 * says of a file; what it plays there is then there, for whatever is changed in it. Files without a known start and length stay as they are.
 */
export function withPlayed(list: CutList): Source[] {
  const played = playedOf(list);
  return list.sources.map((source) => {
    const { files } = source;
    const own = played.get(source.id);
    return own === undefined || files.length === 0 ? source : { ...source, files: files.map((file, index) => holding(file, own.get(index) ?? [], source, list)) };
  });
}

/** By source and file. */
function playedOf({ shots, audio, sources, count }: CutList): Map<string, Map<number, Played[]>> {
  const counts = new Map(sources.map((source) => [source.id, source.count]));
  const played = new Map<string, Map<number, Played[]>>();
  const add = ({ source, file, in: into, out, sourceIn, sourceOut }: CutList['shots'][number] | CutList['audio'][number], mix: number): void => {
    if (file === undefined) return;
    const own = played.get(source) ?? new Map<number, Played[]>();
    played.set(source, own);
    const { rate } = counts.get(source) ?? count;
    const real = runsAhead(rate, count.rate) ? sourceIn + convertFrames(out + mix - into, count.rate, rate, 'floor') : sourceOut;
    const stretch = { from: sourceIn, to: Math.max(real, sourceOut + sourceLength(mix, count, counts.get(source) ?? count)) };
    if (own.get(file)?.push(stretch) === undefined) own.set(file, [stretch]);
  };
  shots.forEach((shot, index) => { add(shot, shots[index + 1]?.transition?.frames ?? 0); });
  for (const piece of audio) add(piece, 0);
  return played;
}

function holding(file: MediaFile, played: readonly Played[], source: Source, list: CutList): MediaFile {
  if (file.start === undefined || file.frames === undefined) return file;
  const start = toSource(file.start, file, source);
  const frames = toSource(file.frames, file, source);
  // At another rate a stretch may end within the frame of the list in which its file ends and the next one goes on.
  const isSeam = source.files.some((other) => other.start !== undefined && toSource(other.start, other, source) === start + frames);
  const slack = source.count.rate.nominal === list.count.rate.nominal || !isSeam ? 0 : Math.max(1, sourceLength(1, list.count, source.count));
  let [first, end] = [start, start + frames];
  for (const { from, to } of played) {
    const near = nearestRepeat(from, framesPerDay(source.count), start + Math.floor(frames / 2));
    first = Math.min(first, near);
    if (near + to - from > start + frames + slack) end = Math.max(end, near + to - from);
  }
  if (first === start && end === start + frames) return file;
  const { count, ...rest } = file;
  return { ...rest, start: first, frames: end - first, ...(count === undefined ? {} : { count: source.count }) };
}
