/** What has to be the same in two lists for one to be the other, worked out apart from src/compare. */
import { BLACK, type AudioPiece, type CutList, type Source } from '../../src/cutlist/model.js';
import { countName } from '../../src/timecode/rate.js';
import { formatTimecode } from '../../src/timecode/timecode.js';

/** Everything that a list shows and sounds like, as text; names stand for sources, so that ids may differ. */
export function likeness(list: CutList, nameOf: (source: Source) => string = ({ name }) => name): unknown {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  const named = (id: string): string => (sources.has(id) ? nameOf(sources.get(id) as Source) : id);
  // Without its mark: an EDL does not say how a source counts.
  const label = (id: string, frame: number): string => formatTimecode(frame, sources.get(id)?.count ?? list.count).replace(';', ':');
  return {
    title: list.title.trim(),
    count: countName(list.count),
    recordStart: formatTimecode(list.recordStart, list.count),
    frames: list.frames,
    shots: list.shots.map((shot) => ({
      source: named(shot.source),
      in: shot.in,
      out: shot.out,
      points: shot.source === BLACK ? '' : `${label(shot.source, shot.sourceIn)} +${String(shot.sourceOut - shot.sourceIn)}`,
      mix: shot.transition === undefined ? 'cut' : `${shot.transition.kind} ${String(shot.transition.frames)} ${String(shot.transition.wipe ?? 0)}`,
    })),
    markers: list.markers.map(({ at, note }) => `${String(at).padStart(12)} ${note}`).sort(),
    sound: soundOf(list, named, label),
  };
}

/** Frame by frame, at the seams: what is heard on each track from each seam on. */
function soundOf(list: CutList, named: (id: string) => string, label: (id: string, frame: number) => string): string[] {
  const pieces = list.audio.filter(({ source, transition }) => source !== BLACK || transition !== undefined);
  const lines: string[] = [];
  for (const track of new Set(pieces.flatMap(({ tracks }) => tracks))) {
    let open: { piece: AudioPiece; channel: number; out: number; sourceOut: number; text: string } | undefined;
    const close = (): void => {
      if (open !== undefined) lines.push(`${String(track)} ${open.text} ${String(open.out)} +${String(open.sourceOut - open.piece.sourceIn)}`);
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
