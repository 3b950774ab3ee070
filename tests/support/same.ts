/** What has to be the same in two lists for one to be the other, worked out apart from src/compare. */
import { BLACK, type AudioPiece, type CutList } from '../../src/cutlist/model.js';
import { countName } from '../../src/timecode/rate.js';
import { formatTimecode } from '../../src/timecode/timecode.js';

/** How a list says the length of what it uses of a source: in frames, or by the label behind the last. */
type Lengths = 'frames' | 'labels';

/**
 * Whether two lists are alike, as two values for `toEqual`. Where they count a source differently, frames of it are not the same
 * time: what has the same labels at both ends is the same then, as in compare.
 */
export function likenesses(a: CutList, b: CutList): [unknown, unknown] {
  const [byFrames, byLabels] = [[likeness(a), likeness(b)], [likeness(a, 'labels'), likeness(b, 'labels')]] as const;
  const same = (one: readonly [Likeness, Likeness], part: 'shots' | 'sound', index: number): boolean =>
    JSON.stringify(one[0][part][index]) === JSON.stringify(one[1][part][index]);
  const chosen = (side: 0 | 1): unknown => ({
    ...byFrames[side],
    shots: byFrames[side].shots.map((shot, index) => (!same(byFrames, 'shots', index) && same(byLabels, 'shots', index) ? byLabels[side].shots[index] : shot)),
    sound: byFrames[side].sound.map((line, index) => (!same(byFrames, 'sound', index) && same(byLabels, 'sound', index) ? byLabels[side].sound[index] : line)),
  });
  return [chosen(0), chosen(1)];
}

export interface Likeness {
  readonly shots: readonly unknown[];
  readonly sound: readonly string[];
}

/** Everything that a list shows and sounds like, as text; names stand for sources, so that ids may differ. */
export function likeness(list: CutList, lengths: Lengths = 'frames'): Likeness {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const named = (id: string): string => sources.get(id)?.name ?? id;
  // Without its mark: an EDL does not say how a source counts.
  const label = (id: string, frame: number): string => formatTimecode(frame, sources.get(id)?.count ?? list.count).replace(';', ':');
  const length = (id: string, from: number, to: number): string => (lengths === 'frames' ? `+${String(to - from)}` : `to ${label(id, to)}`);
  return {
    title: list.title.trim(),
    count: countName(list.count),
    recordStart: formatTimecode(list.recordStart, list.count),
    frames: list.frames,
    shots: list.shots.map((shot) => ({
      source: named(shot.source),
      in: shot.in,
      out: shot.out,
      points: shot.source === BLACK ? '' : `${label(shot.source, shot.sourceIn)} ${length(shot.source, shot.sourceIn, shot.sourceOut)}`,
      mix: shot.transition === undefined ? 'cut' : `${shot.transition.kind} ${String(shot.transition.frames)} ${String(shot.transition.wipe ?? 0)}`,
    })),
    markers: list.markers.map(({ at, note }) => `${String(at).padStart(12)} ${note}`).sort(),
    sound: soundOf(list, named, label, length),
  } as Likeness;
}

/** Frame by frame, at the seams: what is heard on each track from each seam on. */
function soundOf(list: CutList, named: (id: string) => string, label: (id: string, frame: number) => string, length: (id: string, from: number, to: number) => string): string[] {
  const pieces = list.audio.filter(({ source, transition }) => source !== BLACK || transition !== undefined);
  const lines: string[] = [];
  for (const track of new Set(pieces.flatMap(({ tracks }) => tracks))) {
    let open: { piece: AudioPiece; channel: number; out: number; sourceOut: number; text: string } | undefined;
    const close = (): void => {
      if (open !== undefined) lines.push(`${String(track)} ${open.text} ${String(open.out)} ${length(open.piece.source, open.piece.sourceIn, open.sourceOut)}`);
      open = undefined;
    };
    for (const piece of pieces.filter(({ tracks }) => tracks.includes(track))) {
      const channel = piece.channels[piece.tracks.indexOf(track)] ?? 0;
      const steady = (one: AudioPiece): boolean => one.sourceOut - one.sourceIn === one.out - one.in && one.transition === undefined;
      if (open !== undefined && open.piece.source === piece.source && open.channel === channel && open.out === piece.in && label(piece.source, open.sourceOut) === label(piece.source, piece.sourceIn) && steady(open.piece) && steady(piece)) {
        open = { ...open, out: piece.out, sourceOut: open.sourceOut + piece.out - piece.in };
        continue;
      }
      close();
      const { transition: mix } = piece;
      const text = `${named(piece.source)} ch ${String(channel)} ${String(piece.in)} ${piece.source === BLACK ? '' : label(piece.source, piece.sourceIn)} ${mix === undefined ? '' : `${mix.kind} ${String(mix.frames)} ${String(mix.wipe ?? 0)}`}`;
      open = { piece, channel, out: piece.out, sourceOut: piece.sourceOut, text };
    }
    close();
  }
  return lines.sort();
}
