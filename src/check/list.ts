/** What can be wrong with a cut list, whatever format it came in. */
import { BLACK, type CutList, type Shot } from '../cutlist/model.js';
import { sourceText } from '../cutlist/naming.js';
import { recordLabel } from '../cutlist/record.js';
import { framesText } from '../frames-text.js';
import { bounds, wholeShots } from '../cutlist/whole-shots.js';
import { problem, type Place, type Report } from '../problems.js';
import { formatTimecode } from '../timecode/timecode.js';

/** A list, and where its shots stand in its file. */
export interface PlacedList {
  readonly list: CutList;
  readonly placeOf: (shot: number) => Place;
  /** Where the sound stands that begins on a record frame; undefined where none does, or where it has no place of its own. */
  readonly soundAt?: (frame: number) => Place | undefined;
}

/** Shots of fewer than `least` frames; a shot that goes on in the next file counts as one. */
export function checkShortShots({ list, placeOf }: PlacedList, least: number, report: Report): void {
  for (const whole of wholeShots(list.shots)) {
    const [{ shot, from: index }] = whole;
    const frames = bounds(whole).out - shot.in;
    if (frames >= least) continue;
    const message = `shot ${String(index + 1)}, ${sourceText(list.sources, shot.source)} at ${recordLabel(list, shot.in)}, has ${framesText(frames)}, fewer than ${String(least)}`;
    report({ ...problem('short-shot', message, placeOf(index)), at: shot.in });
  }
}

/** Two sources with one explicit reel; and one reel that shows two clips at one source time, which no recording can. */
export function checkReels({ list, placeOf }: PlacedList, report: Report): void {
  const byReel = new Map<string, string>();
  for (const source of list.sources) {
    const reel = source.reel?.trim().toUpperCase();
    if (reel === undefined || reel === '') continue;
    const other = byReel.get(reel);
    if (other === undefined) byReel.set(reel, source.id);
    else report(problem('reel-taken', `reel ${reel} belongs to ${sourceText(list.sources, other)} and to ${sourceText(list.sources, source.id)}`, placeOf(list.shots.findIndex((shot) => shot.source === source.id))));
  }
  const clips = new Map<string, { readonly shot: Shot; readonly index: number; readonly name: string }[]>();
  list.shots.forEach((shot, index) => {
    if (shot.source === BLACK) return;
    const name = shot.clipName ?? list.sources.find(({ id }) => id === shot.source)?.name ?? '';
    const clip = { shot, index, name };
    if (clips.get(shot.source)?.push(clip) === undefined) clips.set(shot.source, [clip]);
  });
  for (const [id, all] of clips) {
    if (new Set(all.map(({ name }) => name)).size < 2) continue;
    const said = new Set<string>();
    // The one that reaches furthest, and the one of another name that does.
    let [far, second]: (typeof all[number] | undefined)[] = [];
    for (const clip of [...all].sort((a, b) => a.shot.sourceIn - b.shot.sourceIn)) {
      const other = far?.name === clip.name ? second : far;
      const pair = [clip.name, other?.name ?? ''].sort().join('\n');
      if (other !== undefined && other.shot.sourceOut > clip.shot.sourceIn && !said.has(pair)) {
        said.add(pair);
        const source = list.sources.find((one) => one.id === id);
        const at = formatTimecode(clip.shot.sourceIn, source?.count ?? list.count);
        const message = `reel ${source?.reel ?? id} shows '${clip.name}' and '${other.name}' at one source time, ${at}; two sources share it`;
        report({ ...problem('reel-taken', message, placeOf(clip.index)), at: clip.shot.in });
      }
      if (far === undefined || clip.shot.sourceOut >= far.shot.sourceOut) {
        if (far !== undefined && far.name !== clip.name) second = far;
        far = clip;
      } else if (clip.name !== far.name && clip.shot.sourceOut >= (second?.shot.sourceOut ?? 0)) second = clip;
    }
  }
}
