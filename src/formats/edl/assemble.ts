/** Document → cut list: events put in order, holes filled, what contradicts itself reported. */
import { BLACK, type CutList, type Marker, type Shot, type Transition } from '../../cutlist/model.js';
import { problem, type Place, type Report } from '../../problems.js';
import { scale } from '../../timecode/exact.js';
import { convertFrames, type Count } from '../../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../timecode/timecode.js';
import { BLACK_REEL } from './columns.js';
import type { EdlDocument, EdlEvent, EdlFrom } from './document.js';
import { fileNameOf, SourceBook } from './gather.js';
import { Picture, Sound, type SayAt, type Span } from './lanes.js';
import { playedOut, speedOf } from './speed.js';
import { fieldColumn, shortenPath } from './tokens.js';
import { placeEvents, type PlacedEvent } from './unwrap.js';

/** A list, and the events that it was made of. */
export interface Assembled {
  readonly list: CutList;
  /** All of them, in order of time. */
  readonly events: readonly PlacedEvent[];
  /** The list's first frame on the line of time of `events`. */
  readonly start: number;
  /** For each shot the event that brings it on; for black in a hole the one before it, and before the first picture the first of all. */
  readonly begun: readonly PlacedEvent[];
}

/**
 * Makes a cut list of the documents: the parts of one list, in order. Reports `hole` (a warning: the picture is black there),
 * `overlap` (the later event wins), `length-differs`, `transition-cut-short` and `bad-event`, each with line and column.
 */
export function assembleEdl(documents: readonly [EdlDocument, ...EdlDocument[]], report: Report): Assembled {
  const [first] = documents;
  const placed = withOutgoingFiles(placeEvents(documents), report);
  const start = placed.reduce((least, { at }) => Math.min(least, at), Infinity);
  const frames = placed.reduce((most, { at, event }) => Math.max(most, at + event.recordOut - event.recordIn), -Infinity) - start;
  const book = new SourceBook(new Map(documents.flatMap(({ reels }) => [...reels])), first.count);
  const label = (frame: number): string => formatTimecode(start + frame, first.count);
  const picture = new Picture();
  const sound = new Sound();
  const strays: { readonly at: number; readonly comments: readonly string[] }[] = [];
  const told = new Set<string>();
  for (const one of placed) {
    const say = speaker(one, report);
    const span = spanOf(one, sourceOutOf(one, say, told), start, book, say);
    if (one.event.picture) picture.add(span, fromOf(one.event, book), label, say);
    else if (one.event.comments.length > 0) strays.push({ at: span.in, comments: one.event.comments });
    if (one.event.tracks.length > 0) sound.add(span, one.event, label, say);
  }
  const shown = picture.close(frames, label, speaker(placed.at(-1) as PlacedEvent, report));
  const shots = shown.shots.map((shot, index, all) => goingOn(shot, all[index - 1], first.count));
  strays.unshift({ at: 0, comments: documents.flatMap(({ head }) => head) });
  const list: CutList = {
    title: first.title === undefined || first.title === '' ? titleOf(first.file) : first.title,
    count: first.count,
    recordStart: start % framesPerDay(first.labels),
    frames,
    sources: book.sources(),
    takes: [{ in: 0, out: frames, logIn: 0 }],
    shots: withComments(shots, strays),
    audio: sound.close(shots),
    markers: markersOf(placed, start, frames, report),
  };
  let last = placed[0] as PlacedEvent;
  return { list, events: placed, start, begun: shown.begun.map((by) => (last = by ?? last)) };
}

function speaker({ event, document }: PlacedEvent, report: Report): SayAt {
  return (code, field, message, severity) => {
    const place: Place = { file: document.file, line: event.line, column: fieldColumn(event.text, field) };
    report(problem(code, message, place, severity));
  };
}

const fromOf = ({ from }: EdlEvent, book: SourceBook): (EdlFrom & { readonly source: string }) | undefined => {
  const source = from === undefined ? undefined : book.idOfReel(from.reel);
  return from === undefined || source === undefined ? undefined : { ...from, source };
};

/**
 * A file that only the mix out of a clip names is that of the clip: it goes to the picture event that ends where the mix
 * begins. Where that has another one, its own counts, reported.
 */
function withOutgoingFiles(placed: PlacedEvent[], report: Report): PlacedEvent[] {
  let before = -1;
  placed.forEach((one, index) => {
    const { event, at } = one;
    if (!event.picture) return;
    const previous = before;
    const last = placed[previous];
    before = index;
    const file = event.fromFile;
    if (last === undefined || event.from === undefined || file === undefined) return;
    if (last.event.reel !== event.from.reel || last.at + last.event.recordOut - last.event.recordIn !== at) return;
    const own = fileNameOf(last.event);
    if (own === undefined) placed[previous] = { ...last, event: { ...last.event, toFile: file } };
    else if (own !== file) speaker(one, report)('bad-event', 'record-in', `the mix comes from ${shortenPath(file)}, and the event before it plays ${shortenPath(own)}; that counts`, 'warning');
  });
  return placed;
}

/** Where an event ends on the source side, which is not always what its columns say. `told`: reels of which was said what is said once. */
function sourceOutOf({ event, document }: PlacedEvent, say: SayAt, told: Set<string>): number {
  const { sourceIn, sourceOut, recordIn, recordOut, sourceCount, speed, reel } = event;
  const [source, record] = [sourceOut - sourceIn, recordOut - recordIn];
  if (speed !== undefined && speed < 0) say('bad-event', 'source-in', `${reel} plays backwards, which a cut list cannot hold; read as forwards`, 'warning');
  if (reel === BLACK_REEL) return sourceOut;
  const sayOfReel = (message: string): void => {
    if (!told.has(reel)) say('found', 'source-in', message, 'note');
    told.add(reel);
  };
  if (speed !== undefined) return playedOut(event, Math.abs(speed), document, say, sayOfReel);
  if (source === record) return sourceOut;
  const list = document.count.rate;
  if (sourceCount.rate.nominal !== list.nominal && Math.abs(convertFrames(record, list, sourceCount.rate) - source) <= 1) return sourceOut;
  say('length-differs', 'source-in', `the source side has ${String(source)} frames, the record side ${String(record)}, and there is no speed line`);
  return sourceOut;
}

function spanOf(placed: PlacedEvent, sourceOut: number, start: number, book: SourceBook, say: SayAt): Span {
  const { event, at, document: { count } } = placed;
  const { reel, sourceIn, recordIn, recordOut, continued } = event;
  const length = recordOut - recordIn;
  const { source, file, clipName } = book.play(event);
  const black = reel === BLACK_REEL;
  return {
    source,
    file,
    clipName,
    in: at - start,
    out: at - start + length,
    // Black has no labels of its own, whatever a list writes there.
    sourceIn: black ? 0 : sourceIn,
    sourceOut: black ? length : sourceOut,
    transition: transitionOf(event, length, say),
    speed: black ? undefined : speedOf(event, sourceOut - sourceIn, count),
    continued,
    comments: event.comments,
    placed,
  };
}

function transitionOf({ kind, frames, wipe }: EdlEvent, length: number, say: SayAt): Transition | undefined {
  if (kind === 'cut') return undefined;
  if (frames > length) {
    say('transition-cut-short', 'record-in', `the ${kind} takes ${String(frames)} frames, its event only ${String(length)}; cut short to that`);
  }
  const mix = { frames: Math.min(frames, length), inOffset: 0 };
  return kind === 'wipe' ? { kind, wipe: wipe ?? 0, ...mix } : { kind, ...mix };
}

/** Whether a shot plays frame for frame. At another rate, where one file ends and the next one goes on is a matter of rounding, and the first may be a frame or two short. */
const isEven = ({ in: into, out, sourceIn, sourceOut }: Shot): boolean => sourceOut - sourceIn === out - into;

/**
 * A shot that goes on in the next file of its source is two events; nobody switched between them. The second begins in real time, which is ahead of the
 * frames gone by where the source runs at 30 in a list at 29.97: labels do not tell one rate from the other.
 */
function goingOn(shot: Shot, before: Shot | undefined, { rate }: Count): Shot {
  if (before === undefined || shot.source === BLACK || before.source !== shot.source || shot.transition !== undefined) return shot;
  if (before.file === undefined || shot.file === undefined || before.file === shot.file) return shot;
  const off = shot.sourceIn - before.sourceOut;
  const ahead = scale(before.out - before.in, rate.nominal * rate.den - rate.num, rate.num);
  const isSeam = isEven(before) && isEven(shot) ? off === 0 || (ahead > 0 && Math.abs(off - ahead) <= 1) : Math.abs(off) <= 2;
  return isSeam ? { ...shot, continues: true } : shot;
}

/** Comments of events that record no picture go to the shot that is on there. Both are in order of time. */
function withComments(shots: readonly Shot[], strays: readonly { readonly at: number; readonly comments: readonly string[] }[]): readonly Shot[] {
  if (strays.every(({ comments }) => comments.length === 0)) return shots;
  const out = [...shots];
  let index = 0;
  for (const { at, comments } of strays) {
    while (index < out.length - 1 && (out[index] as Shot).out <= at) index += 1;
    const shot = out[index];
    if (shot !== undefined && comments.length > 0) out[index] = { ...shot, comments: at === 0 && index === 0 ? [...comments, ...(shot.comments ?? [])] : [...(shot.comments ?? []), ...comments] };
  }
  return out;
}

function markersOf(placed: readonly PlacedEvent[], start: number, frames: number, report: Report): Marker[] {
  const markers: Marker[] = [];
  for (const { event, document, at } of placed) {
    const day = framesPerDay(document.labels);
    for (const { at: given, note, color, line } of event.markers) {
      const away = given - event.recordIn;
      const frame = at + away - day * Math.round(away / day) - start;
      if (frame >= 0 && frame <= frames) markers.push({ at: frame, note, ...(color === undefined ? {} : { color }) });
      else report(problem('bad-event', `the marker '${note}' lies outside the list; left out`, { file: document.file, line, column: 1 }, 'warning'));
    }
  }
  return markers.sort((a, b) => a.at - b.at);
}

/** A list without title is called as its file is. */
const titleOf = (file: string): string => file.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
