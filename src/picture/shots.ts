/** What a picture says of each shot, in words. */
import { realSeconds } from '../timecode/rate.js';
import { BLACK, type CutList } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import { goesOn } from '../cutlist/goes-on.js';
import { transitionText } from '../cutlist/transitions.js';
import { formatTimecode } from '../timecode/timecode.js';

/** One row of the table of shots: text only, in the columns of SHOT_COLUMNS. */
export interface ShotRow {
  readonly number: number;
  readonly cells: readonly string[];
  /** The same as one sentence, for a bar's title. */
  readonly sentence: string;
}

export const SHOT_COLUMNS = ['Shot', 'Source', 'Record in', 'Record out', 'Source in', 'Frames', 'Seconds', 'Comes on by', 'Remarks'] as const;

/** The table of a list's shots, in record order. `remarks` are what findings and changes say at each shot's place. */
export function shotRows(list: CutList, remarks: ReadonlyMap<number, string>): ShotRow[] {
  const sources = new Map(list.sources.map((source) => [source.id, source]));
  return list.shots.map((shot, index) => {
    const source = sources.get(shot.source);
    const name = shot.source === BLACK ? 'Black' : (source?.name ?? shot.source);
    const record = (frame: number): string => recordLabel(list, frame);
    const frames = shot.out - shot.in;
    const remark = [
      ...(shot.instead === undefined ? [] : [`instead of ${sources.get(shot.instead)?.name ?? shot.instead}`]),
      ...(goesOn(list.shots[index - 1], shot) ? ['goes on in the next file'] : []),
      ...(remarks.has(index) ? [remarks.get(index) as string] : []),
    ].join('; ');
    const cells = [
      String(index + 1),
      name,
      record(shot.in),
      record(shot.out),
      shot.source === BLACK ? '–' : formatTimecode(shot.sourceIn, source?.count ?? list.count),
      String(frames),
      realSeconds(frames, list.count.rate).toFixed(2),
      transitionText(shot.transition),
      remark,
    ];
    return { number: index + 1, cells, sentence: `Shot ${cells[0] ?? ''}, ${name}, ${cells[2] ?? ''} to ${cells[3] ?? ''}, ${cells[6] ?? ''} s, ${cells[7] ?? ''}${remark === '' ? '' : `; ${remark}`}` };
  });
}

/** Lengths in frames of what was seen: a shot that goes on in the next file counts once, frames of a replacement count for that. */
export function operatorShots(list: CutList): { readonly source: string; readonly frames: number }[] {
  const out: { source: string; frames: number }[] = [];
  for (const [index, shot] of list.shots.entries()) {
    const last = out.at(-1);
    if (last !== undefined && goesOn(list.shots[index - 1], shot)) last.frames += shot.out - shot.in;
    else out.push({ source: shot.source, frames: shot.out - shot.in });
  }
  return out;
}
