/** Corrections of sound and markers, for a list whose shots are corrected already. */
import { byTrack, heardAt } from '../cutlist/heard.js';
import { BLACK, NONE, type CutList } from '../cutlist/model.js';
import type { Carried } from './carried.js';
import { textAs } from './carried.js';
import type { PictureCorrections } from './corrections.js';
import { applied, type Draft } from './draft.js';
import { points } from './corrections-shots.js';
import { markerChanges } from './markers.js';
import type { Matched } from './match.js';
import { soundDifferences, type SoundDifference } from './sound.js';
import { spotsOf, timeText } from './spots.js';

/** A after its changes of length alone: the list in which corrections of sound look for what they expect, and in which markers lie. */
function rippledOf({ a }: Matched, { drafts }: PictureCorrections): CutList {
  const lengths = drafts.filter((draft) => draft.do === 'length');
  return lengths.length === 0 ? a : (applied(a, lengths) ?? a);
}

/** What is heard differently when sound has followed the corrected shots, as stretches to lay over it. */
export function soundCorrections(matched: Matched, picture: PictureCorrections, carried: Carried): Draft[] {
  const { names, lengths } = picture;
  const differences = soundDifferences(names.pair(picture.list), carried);
  if (differences.length === 0) return [];
  const was = byTrack(rippledOf(matched, picture).audio);
  const spots = spotsOf(matched.a, lengths);
  return differences.flatMap((difference) => {
    const { b } = difference;
    const plain = b !== undefined && b.source !== BLACK && b.transition === undefined && b.sourceOut - b.sourceIn === b.out - b.in;
    const range = b === undefined || plain ? difference : b;
    const sourceIn = b === undefined ? 0 : b.sourceIn + range.in - b.in;
    const heard = b === undefined ? undefined : { source: b.source, in: range.in, out: range.out, sourceIn, sourceOut: plain ? sourceIn + range.out - range.in : b.sourceOut };
    const mix = b?.transition;
    return byExpectation(difference, (track) => heardAt(was.get(track) ?? [], range.in)?.piece.source ?? NONE).map(({ expect, tracks, sourceChannels }): Draft => ({
      do: 'sound', at: spots.name(range.in), expect, source: heard === undefined ? NONE : names.idOf(heard.source), frames: range.out - range.in,
      ...(heard === undefined ? {} : points(matched.a, heard, names)),
      ...(mix === undefined ? {} : { mix: mix.frames }), ...(mix?.kind === 'wipe' ? { wipe: mix.wipe ?? 0 } : {}),
      tracks, ...(heard === undefined ? {} : { channels: sourceChannels }),
    }));
  });
}

/** One correction for all tracks on which the same is heard now. */
function byExpectation(difference: SoundDifference, heardOn: (track: number) => string): { expect: string; tracks: number[]; sourceChannels: number[] }[] {
  const groups = new Map<string, { expect: string; tracks: number[]; sourceChannels: number[] }>();
  difference.tracks.forEach((track, index) => {
    const expect = heardOn(track);
    const group = groups.get(expect) ?? { expect, tracks: [], sourceChannels: [] };
    group.tracks.push(track);
    group.sourceChannels.push(difference.channels[index] ?? track);
    groups.set(expect, group);
  });
  return [...groups.values()];
}

/** What became of the markers. */
export function markerCorrections(matched: Matched, picture: PictureCorrections, carried: Carried): Draft[] {
  if (!carried.markers) return [];
  const { a, b } = matched;
  const now = rippledOf(matched, picture).markers;
  const spots = spotsOf(a, picture.lengths);
  return markerChanges(now, b.markers, 0, (note) => textAs(note, carried)).map((change): Draft => {
    const [old, wanted] = [a.markers[change.a ?? -1], b.markers[change.b ?? -1]];
    const ref = old === undefined ? {} : { at: timeText(a, old.at), expect: old.note };
    const color = wanted?.color === undefined ? {} : { color: wanted.color };
    switch (change.what) {
      case 'removed': return { do: 'remove-marker', ...ref };
      case 'moved': return { do: 'move-marker', ...ref, to: spots.name(wanted?.at ?? 0) };
      case 'renamed': return { do: 'rename-marker', ...ref, note: wanted?.note ?? '', ...color };
      case 'added': return { do: 'add-marker', at: spots.name(wanted?.at ?? 0), note: wanted?.note ?? '', ...color };
    }
  });
}
