/** What of a list besides its picture is held against its log: what is heard, and the markers. */
import { textAs, type Carried } from '../compare/carried.js';
import { markerChanges } from '../compare/markers.js';
import type { Pair } from '../compare/points.js';
import { heardText, soundDifferences } from '../compare/sound.js';
import type { FrameRange } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import { framesText } from '../frames-text.js';
import type { Code, Severity } from '../problems.js';

/** Log and list, and how their sources are called in messages. */
export interface Named extends Pair {
  readonly nameA: (id: string) => string;
  readonly nameB: (id: string) => string;
}

/** What is said of a record frame of the list. */
export interface Told {
  readonly code: Code;
  /** Where it is not the code's own. */
  readonly severity?: Severity;
  readonly message: string;
  readonly at: number;
}

/**
 * Every stretch of the record side that sounds other than the log's own list; where nothing says what the log sounds like (`hasSound`), only that. Where the picture was found to differ (`seen`, in order),
 * sound that differs there and nowhere else is not told as well: it mostly came along.
 */
export function* soundAgainst(pair: Named, carried: Carried, seen: readonly FrameRange[], hasSound: boolean): Generator<Told> {
  const { a: logged, b: list, nameA, nameB, countA, countB } = pair;
  const end = Math.min(logged.frames, list.frames);
  if (!hasSound) {
    if (list.audio.length > 0) yield { code: 'not-compared', severity: 'note', message: 'the list has sound, and nothing says what sound the log gives it: --audio does; the sound was not held against the log', at: 0 };
    return;
  }
  for (const one of soundDifferences(pair, carried)) {
    const out = Math.min(one.out, end);
    if (one.in >= out || seen.some((range) => range.in <= one.in && range.out >= out)) continue;
    const channels = `${one.tracks.length === 1 ? 'channel' : 'channels'} ${one.tracks.join(' ')}`;
    const [was, is] = [heardText(one.a, one.in, nameA, countA), heardText(one.b, one.in, nameB, countB)];
    yield { code: 'sound-not-as-logged', message: `from ${recordLabel(list, one.in)}, for ${framesText(out - one.in)}, on ${channels}: the log has ${was}, the list ${is}`, at: one.in };
  }
}

/** Markers that the log does not have, or has elsewhere or by another name, and those of the log that the list lacks. */
export function* markersAgainst({ a: logged, b: list }: Pair, carried: Carried): Generator<Told> {
  if (!carried.markers) return;
  for (const { what, a, b } of markerChanges(logged.markers, list.markers, 0, (note) => textAs(note, carried))) {
    const [was, is] = [logged.markers[a ?? -1], list.markers[b ?? -1]];
    const at = Math.min((is ?? was)?.at ?? 0, list.frames);
    const message = {
      moved: `marker '${is?.note ?? ''}' lies at ${recordLabel(list, at)}, in the log at ${recordLabel(logged, was?.at ?? 0)}`,
      renamed: `the marker at ${recordLabel(list, at)} is called '${is?.note ?? ''}', in the log '${was?.note ?? ''}'`,
      added: `the log has no marker '${is?.note ?? ''}' at ${recordLabel(list, at)}`,
      removed: `the marker '${was?.note ?? ''}' of the log is missing at ${recordLabel(logged, was?.at ?? 0)}`,
    }[what];
    yield { code: 'markers-not-as-logged', message, at };
  }
}
