/** Which rate a timeline is at: every time carries its own, and they may differ. */
import { isFault } from '../../problems.js';
import { countName, hasDropFrame, noRate, parseRate, rateNear, type Count, type Rate, type RateSpec } from '../../timecode/rate.js';
import { countOf } from '../../timecode/timecode.js';
import { metadataAt, objectAt, objectsAt, schemaOf, type At, type Document } from './document.js';
import { mediaOf } from './media.js';
import { AUDIO, OURS } from './schema.js';
import { timeAt } from './times.js';

/**
 * The list's count: the timeline's `global_start_time` says the rate, unless it is zero and the first clip says another; then
 * the first clip. A `given` rate must be that one; where the file has none of ST 12-1's, it is taken. OpenTimelineIO
 * does not say how labels are written: `given` decides, else what we noted, else non-drop, with a note.
 */
export function whichRate(document: Document, timeline: At, given: RateSpec | undefined): Count | undefined {
  const rate = fileRate(document, timeline);
  if (rate === undefined && given === undefined) {
    const first = firstTime(objectAt(timeline, 'tracks') ?? timeline, 0);
    document.add('bad-rate', timeline.where, first === undefined ? `the file has no time that says a rate; ${noRate().message}` : `the file counts ${String(first)} frames a second, which is no rate; ${noRate().message}`);
    return undefined;
  }
  if (rate !== undefined && given !== undefined && given.rate !== rate) {
    document.add('bad-rate', timeline.where, `the file is at ${rate.name}, not at ${given.rate.name}`);
    return undefined;
  }
  const used = rate ?? (given as RateSpec).rate;
  if (!hasDropFrame(used)) return countOf(used, false);
  const noted = metadataAt(timeline, OURS)?.['rate'];
  const own = typeof noted === 'string' ? parseRate(noted) : undefined;
  const known = given?.dropFrame ?? (own !== undefined && !isFault(own) && own.rate === used ? own.dropFrame ?? false : undefined);
  const count = countOf(used, known ?? false);
  if (known === undefined) document.note(`rate ${countName(count)}: an OpenTimelineIO file does not say whether labels are drop-frame; say --rate ${used.name}df if they are`);
  return count;
}

function fileRate(document: Document, timeline: At): Rate | undefined {
  const first = firstTime(objectAt(timeline, 'tracks') ?? timeline, 0);
  const clip = first === undefined ? undefined : rateNear(first);
  const start = timeAt(document, timeline, 'global_start_time');
  return start?.rate !== undefined && (start.value !== 0 || clip === undefined) ? start.rate : clip;
}

/** Frames a second of the first clip's or gap's range, picture before sound. */
function firstTime(at: At, depth: number): number | undefined {
  if (depth > 16) return undefined;
  return firstOf(at, depth, false) ?? firstOf(at, depth, true);
}

function firstOf(at: At, depth: number, sound: boolean): number | undefined {
  for (const child of objectsAt(at, 'children')) {
    if ((child.members['kind'] === AUDIO) !== sound) continue;
    const media = mediaOf(child);
    const range = objectAt(child, 'source_range') ?? (media === undefined ? undefined : objectAt(media, 'available_range'));
    const duration = range === undefined ? undefined : objectAt(range, 'duration');
    const rate = duration?.members['rate'];
    if (typeof rate === 'number' && ['Clip', 'Gap', 'Filler'].includes(schemaOf(child))) return rate;
    const deeper = firstTime(child, depth + 1);
    if (deeper !== undefined) return deeper;
  }
  return undefined;
}
