/** Cut list → EDL (CMX3600 layout; SMPTE 258M), in parts of at most 999 events, made line by line. */
import { BLACK, type CutList, type Marker } from '../../cutlist/model.js';
import { recordLabel } from '../../cutlist/record.js';
import { problem, type Report } from '../../problems.js';
import { countName } from '../../timecode/rate.js';
import { framesPerDay } from '../../timecode/timecode.js';
import { ENDINGS, partEnding } from '../endings.js';
import { CHUNK, type Output } from '../output.js';
import { arrange, clip, type Arranged, type PictureStretch, type SoundStretch } from './arrange.js';
import { edlTitle } from './ascii.js';
import { CLASSIC_MIX, fcmLine, LONGEST_MIX, MAX_EVENTS, REEL_LENGTH, type EVENT_ORDERS, type NEWLINES, type REEL_LENGTHS } from './columns.js';
import { markerComment, rateComment, reelComment } from './comments.js';
import { EventText } from './event-text.js';
import { reelNames } from './reels.js';
import { splitParts, type ListPart } from './split.js';

/** How an EDL is written. */
export interface EdlOptions {
  /** Width of the reel column, and longest reel: 8 (default), or 32 for systems that take it. */
  readonly reelLength?: (typeof REEL_LENGTHS)[number];
  /** Line ends: `crlf` (default) or `lf`. */
  readonly newline?: (typeof NEWLINES)[number];
  /** Order of events: by record in-point (default), or by reel and source in-point. */
  readonly order?: (typeof EVENT_ORDERS)[number];
  /** Most events a part, for systems that take fewer: up to 999, the default. */
  readonly maxEvents?: number;
}

/** An event to be written; picture events carry the index of their shot. */
type Edit = { readonly shot: number; readonly stretch: PictureStretch } | { readonly shot?: undefined; readonly stretch: SoundStretch };

/**
 * The list as one EDL (`.edl`), or in parts (`-1.edl`, `-2.edl`, …; record labels run on) above 999 events. Text is made while it is read, a
 * chunk of some hundred events at a time. Reports `reel-taken`, `long-transition` (over 255 frames a warning, over 999 an
 * error), `left-out`, `part-in-mix`; empty when the list cannot be an EDL, the reason being reported as an error.
 */
export function writeEdl(list: CutList, options: EdlOptions, report: Report): Output[] {
  const width = options.reelLength ?? REEL_LENGTH;
  const limit = Math.min(MAX_EVENTS, options.maxEvents ?? MAX_EVENTS);
  const reels = reelNames(list.sources, width, report);
  const mixesFit = checkMixes(list, report);
  const orderFits = checkOrder(list, options, report);
  if (reels === undefined || !mixesFit || !orderFits) return [];
  const arranged = arrange(list, report);
  const writing: Writing = {
    list,
    arranged,
    text: new EventText(list, reels, width),
    head: [`TITLE: ${edlTitle(list.title)}`, fcmLine(list.count.dropFrame)],
    table: [rateComment(countName(list.count)), ...tableOf(list, arranged, reels)],
    newline: options.newline === 'lf' ? '\n' : '\r\n',
  };
  if (options.order === 'source') {
    const edits = inSourceOrder(arranged, reels);
    const starts = Array.from({ length: Math.ceil(edits.length / limit) }, (_, part) => part * limit);
    return named(starts.map((start) => lazily(() => chunks(edits.slice(start, start + limit), writing))));
  }
  const parts = splitParts(arranged, list.frames, limit, report);
  return parts === undefined ? [] : named(parts.map((part) => lazily(() => chunks(inRecordOrder(arranged, part), writing))));
}

/** What the text of every part is made of. */
interface Writing {
  readonly list: CutList;
  readonly arranged: Arranged;
  readonly text: EventText;
  readonly head: readonly string[];
  readonly table: readonly string[];
  readonly newline: string;
}

/** Text that is made when somebody reads it, afresh each time. */
const lazily = (make: () => Iterator<string>): Iterable<string> => ({ [Symbol.iterator]: make });

const named = (parts: readonly Iterable<string>[]): Output[] =>
  parts.map((part, index) => ({ format: 'edl', suffix: `${parts.length === 1 ? '' : partEnding(index + 1)}${ENDINGS.edl}`, chunks: part }));

/** The events of a part, picture before sound on one in-point. What reaches over its ends is divided there. */
function* inRecordOrder({ shots, sounds }: Arranged, { from, to, shot: first, sound, carried }: ListPart): Generator<Edit> {
  let next = sound;
  for (let index = first; index < shots.length; index += 1) {
    const shot = shots[index] as PictureStretch;
    if (shot.in >= to) return;
    yield { shot: index, stretch: clip(shot, from, to) };
    if (index === first) for (const piece of carried) yield { stretch: clip(sounds[piece] as SoundStretch, from, to) };
    const end = Math.min(shot.out, to);
    for (; next < sounds.length && (sounds[next] as SoundStretch).in < end; next += 1) yield { stretch: clip(sounds[next] as SoundStretch, from, to) };
  }
}

/** All events by reel (black last), then source in-point, then record in-point, picture before sound. */
function inSourceOrder({ shots, sounds }: Arranged, reels: ReadonlyMap<string, string>): Edit[] {
  const edits: Edit[] = [...shots.map((stretch, shot) => ({ shot, stretch })), ...sounds.map((stretch) => ({ stretch }))];
  const rank = new Map([...reels].sort(([a, one], [b, other]) => Number(a === BLACK) - Number(b === BLACK) || (one < other ? -1 : 1)).map(([id], index) => [id, index]));
  const keyed = edits.map((edit, index) => ({ edit, index, rank: rank.get(edit.stretch.source) ?? rank.size, at: edit.stretch.source === BLACK ? 0 : edit.stretch.sourceIn }));
  keyed.sort((a, b) => a.rank - b.rank || a.at - b.at || a.edit.stretch.in - b.edit.stretch.in || a.index - b.index);
  return keyed.map(({ edit }) => edit);
}

function* chunks(edits: Iterable<Edit>, { list, arranged, text, head, table, newline }: Writing): Generator<string> {
  const { shots, withPicture } = arranged;
  let lines = [...head];
  let number = 0;
  for (const edit of edits) {
    number += 1;
    if (edit.shot === undefined) text.sound(lines, number, edit.stretch);
    else text.picture(lines, number, edit.stretch, withPicture[edit.shot], shots[edit.shot - 1], markersIn(list, edit.stretch, text));
    // Some readers refuse comments before the first event, so the table stands behind it.
    if (number === 1) lines.push(...table);
    if (lines.length < LINES) continue;
    lines.push('');
    yield lines.join(newline);
    lines = [];
  }
  lines.push('');
  if (lines.length > 1) yield lines.join(newline);
}

/** So many lines of some seventy characters are about a chunk. */
const LINES = Math.floor(CHUNK / 72);

/** The comments of the markers that fall on a shot; one at the list's very end stands with the last. */
function markersIn({ markers, frames }: CutList, shot: PictureStretch, text: EventText): readonly string[] {
  if (markers.length === 0) return NONE;
  const out: string[] = [];
  let low = 0;
  let high = markers.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((markers[middle] as Marker).at < shot.in) low = middle + 1;
    else high = middle;
  }
  for (let index = low; index < markers.length; index += 1) {
    const { at, note } = markers[index] as Marker;
    if (at >= shot.out && !(at === frames && shot.out === frames)) break;
    out.push(markerComment(text.label(at), note));
  }
  return out;
}

const NONE: readonly string[] = [];

/** The table reel → source, of the sources that are seen or heard, in the list's order. */
function tableOf(list: CutList, { shots }: Arranged, reels: ReadonlyMap<string, string>): string[] {
  const used = new Set<string>();
  for (const { source } of shots) used.add(source);
  for (const { source } of list.audio) used.add(source);
  const own = countName(list.count);
  return list.sources
    .filter(({ id }) => used.has(id))
    .map(({ id, name, count, picture }) => reelComment(reels.get(id) ?? '', { id, picture, name, ...(countName(count) === own ? {} : { rate: countName(count) }) }));
}

function checkMixes(list: CutList, report: Report): boolean {
  let fit = true;
  const names = new Map(list.sources.map(({ id, name }) => [id, name]));
  for (const shot of list.shots) {
    const { transition } = shot;
    if (transition === undefined || transition.frames <= CLASSIC_MIX) continue;
    const label = recordLabel(list, shot.in);
    const what = `the ${transition.kind} to ${names.get(shot.source) ?? shot.source} at ${label} takes ${String(transition.frames)} frames`;
    if (transition.frames <= LONGEST_MIX) report(problem('long-transition', `${what}; the classic field of an EDL holds ${String(CLASSIC_MIX)}`));
    else {
      fit = false;
      report(problem('long-transition', `${what}; an EDL has room for ${String(LONGEST_MIX)} at most`, undefined, 'error'));
    }
  }
  return fit;
}

/** In source order nothing but the label tells the day. */
function checkOrder(list: CutList, { order }: EdlOptions, report: Report): boolean {
  if (order !== 'source' || list.frames < framesPerDay(list.count)) return true;
  report(problem('bad-option', 'a list of 24 h or more cannot be in source order, for its record labels repeat', { option: '--edl-order' }));
  return false;
}
