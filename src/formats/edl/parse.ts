/** EDL text → document: every line read, every doubt reported with its place. */
import { isFault, problem, reportFaults, type Code, type Place, type Report } from '../../problems.js';
import type { RateSpec } from '../../timecode/rate.js';
import { hasDropMark } from '../../timecode/timecode.js';
import { shorten } from '../../visible.js';
import { isChannel, readAud, readFcm, readSpeed } from './columns.js';
import { readComment, type ReelFacts } from './comments.js';
import type { EdlDocument, EdlEvent, EdlMarker } from './document.js';
import { addComment, addSpeed, hasNoLength, joinFirst, openEvent, readMarker, settleDirection, type Mutable, type OpenEvent, type Say } from './open-event.js';
import { fieldColumn, linesOf, readFields, type EventFields } from './tokens.js';
import { whichRate, type RateSigns } from './which-rate.js';

/** How an EDL is read. */
export interface ParseOptions {
  /** The file's name, for messages and for the title of a list without one. */
  readonly file: string;
  /** As `--rate` gives it. Where it is missing the list has to say or show it. */
  readonly rate?: RateSpec;
  /** For a part of a divided list: what all parts say of the rate. */
  readonly signs?: RateSigns;
}

interface OpenDocument extends Mutable<EdlDocument> {
  readonly reels: Map<string, ReelFacts>;
  readonly head: string[];
  readonly events: EdlEvent[];
}

/** What goes on from line to line. */
interface State {
  readonly document: OpenDocument;
  readonly say: Say;
  /** As `say`, for what would hold for every line: only the first case, as a warning. */
  readonly sayOnce: (key: string, code: Code, message: string, place: Place) => void;
  /** What the latest FCM line says. */
  fcm?: boolean;
  /** Whether the first record label has a drop-frame mark. */
  marked?: boolean;
  /** The event that later lines belong to. */
  open?: OpenEvent | undefined;
  /** The first line of an event of two, until the second comes. */
  first?: OpenEvent | undefined;
  /** Lines that follow belong to an event that could not be read. */
  lost: boolean;
  /** The number on the event line before. */
  number?: number;
  /** Markers before the first event. */
  readonly early: EdlMarker[];
}

/**
 * Reads the lines of an EDL, tolerantly: any line ends, tabs, short columns, any number of digits, `:` `;` `,` `.` in labels,
 * lower case, FCM lines between events, unknown comments, all parts of a divided list in one text. Reports `bad-rate`, `no-events`
 * (undefined then), `bad-event`, `bad-time`, `dropped-label`, `event-number`, with line and column. An event that cannot be read is left out; the rest is kept.
 */
export function parseEdl(text: string, options: ParseOptions, report: Report): EdlDocument | undefined {
  const { file, rate } = options;
  if (reportFaults(report, rate)) return undefined;
  const lines = linesOf(text);
  if (!lines.some((line) => /^\s*\d+\s/.test(line))) {
    report(problem('no-events', 'no line looks like an event of an EDL; check that this is the right file', { file }));
    return undefined;
  }
  const found = whichRate(lines, options, report);
  if (found === undefined) return undefined;
  const said = new Set<string>();
  const say: Say = (code, message, place, severity) => { report(problem(code, message, { file, ...place }, severity)); };
  const state: State = {
    document: { file, ...found, reels: reelsOf(lines), head: [], events: [] },
    say,
    sayOnce: (key, code, message, place) => {
      if (!said.has(key)) say(code, message, place, 'warning');
      said.add(key);
    },
    lost: false,
    early: [],
  };
  for (let index = 0; index < lines.length; index += 1) readLine(state, lines[index] as string, index + 1);
  dropFirst(state);
  close(state);
  if (state.document.events.length === 0) {
    say('no-events', 'no event of the list could be read', {});
    return undefined;
  }
  return state.document;
}

/** The table of reels is read first: it says how the source columns of the events before it count. */
function reelsOf(lines: readonly string[]): Map<string, ReelFacts> {
  const reels = new Map<string, ReelFacts>();
  for (const line of lines) {
    if (!/^\s*\*\s*REEL /i.test(line)) continue;
    const comment = readComment(line.replace(/^\s*\*\s*/, ''));
    if (comment.kind === 'reel') reels.set(comment.reel.toUpperCase(), comment.facts);
  }
  return reels;
}

function readLine(state: State, line: string, at: number): void {
  const text = line.trim();
  const code = text.charCodeAt(0);
  if (code >= 48 && code <= 57) readEvent(state, line, at);
  else if (text === '' || text === '\x1a') return; // the second ends a file on some old disks
  else if (code === 42) readNote(state, text.slice(1).trim(), at);
  else if (/^TITLE:/i.test(text)) readTitle(state, text.slice(6).trim());
  else if (/^FCM\b/i.test(text)) readCount(state, text.slice(3).replace(/^[\s:]+/, ''), at);
  else {
    const tracks = readAud(text);
    const speed = tracks === undefined ? readSpeed(text) : undefined;
    if (tracks === undefined && speed === undefined) readNote(state, text, at);
    const target = state.first ?? state.open;
    if (state.lost || target === undefined) return;
    const wrong = tracks?.find((track) => !isChannel(track));
    if (wrong !== undefined) state.say('bad-event', `there is no sound channel ${String(wrong)}; an AUD line names channels 1 to 4`, { line: at, column: 1 });
    for (const track of tracks ?? []) if (isChannel(track) && !target.tracks.includes(track)) target.tracks.push(track);
    if (speed !== undefined) addSpeed(target, speed.reel.toUpperCase(), speed.label, speed.rate);
  }
}

/** The title again, between events, begins the next part of a list whose parts were put into one file: numbers begin again. */
function readTitle(state: State, title: string): void {
  const { document } = state;
  if (document.title === title) delete state.number;
  document.title ??= title;
}

function readCount(state: State, text: string, line: number): void {
  const dropFrame = readFcm(text);
  if (dropFrame === undefined) state.sayOnce('fcm', 'bad-event', `'FCM: ${shorten(text)}' is neither DROP FRAME nor NON-DROP FRAME`, { line, column: 1 });
  else state.fcm = dropFrame;
}

function readNote(state: State, text: string, line: number): void {
  const comment = readComment(text);
  if (state.lost || comment.kind === 'reel' || comment.kind === 'rate') return;
  const open = state.first ?? state.open;
  if (open !== undefined) addComment(open, comment, text, line, state.document, state.say);
  else if (comment.kind === 'marker') {
    const marker = readMarker(comment, line, state.document, state.say);
    if (marker !== undefined) state.early.push(marker);
  } else if (comment.kind === 'other') state.document.head.push(text);
}

function readEvent(state: State, text: string, line: number): void {
  const fields = readFields(text);
  if (isFault(fields)) {
    state.say(fields.fault, fields.message, { line, column: fields.column });
    lose(state, /^\s*\d{1,9}(?=\s)/.test(text) ? parseInt(text, 10) : undefined);
    return;
  }
  if (fields.kind === 'key') {
    state.say('bad-event', 'a cut list has no keys; the line is left out', { line, column: fieldColumn(text, 'number') }, 'warning');
    lose(state, fields.number);
    return;
  }
  const open = openEvent(state.document, fields, state.fcm, text, line, state.say);
  if (open !== undefined && open.recordIn === open.recordOut && !hasNoLength(open)) {
    state.say('bad-event', `event ${String(open.number)} has no length on the record side; left out`, { line, column: fieldColumn(text, 'record-in') });
    lose(state, fields.number);
    return;
  }
  if (open === undefined) {
    lose(state, fields.number);
    return;
  }
  warnOfMarks(state, fields, text, line);
  // One number, two lines: what a mix comes from, and what it goes to. The first may have a length of its own.
  const second = fields.kind !== 'cut' && state.number === fields.number && (state.first ?? state.open)?.kind === 'cut';
  if (second && state.first !== undefined) {
    joinFirst(open, state.first);
    state.first = undefined;
  } else {
    dropFirst(state);
    if (!second) checkNumber(state, fields.number, text, line);
  }
  close(state);
  state.lost = false;
  state.number = fields.number;
  if (hasNoLength(open)) state.first = open;
  else state.open = open;
}

/** Goes on after an event that could not be read. */
function lose(state: State, number: number | undefined): void {
  if (number !== undefined) {
    if (state.number === number) state.first = undefined;
    state.number = number;
  }
  state.lost = true;
}

/** Marks and FCM lines that contradict one another: the mark counts, and the first case is reported. */
function warnOfMarks(state: State, { labels }: EventFields, text: string, line: number): void {
  const { document } = state;
  const { fcm } = document;
  const [source = '', , recordIn = '', recordOut = ''] = labels;
  state.marked ??= hasDropMark(recordIn);
  for (const record of [recordIn, recordOut]) {
    const marked = hasDropMark(record);
    const column = fieldColumn(text, record === recordIn ? 'record-in' : 'record-out');
    if (fcm === false && marked) {
      const message = `${record} is marked drop-frame, but the list says FCM: NON-DROP FRAME; the mark counts`;
      state.sayOnce('record', 'bad-event', message, { line, column });
    } else if (fcm !== false && marked !== state.marked) {
      // Without a mark a label counts as the list does, so that in a drop-frame list the mixture changes nothing.
      const read = document.plainDrops ? 'all are read as drop-frame' : 'each is read as its mark says';
      const message = `${record} is ${marked ? '' : 'not '}marked drop-frame, other than the labels before it; ${read}`;
      state.sayOnce('mixed', 'bad-event', message, { line, column });
    }
  }
  if (state.fcm === false && hasDropMark(source)) {
    const message = `${source} is marked drop-frame, but the FCM line before it says NON-DROP FRAME; the mark counts`;
    state.sayOnce('source', 'bad-event', message, { line, column: fieldColumn(text, 'source-in') });
  }
}

function checkNumber(state: State, number: number, text: string, line: number): void {
  const before = state.number;
  if (before === undefined ? number <= 1 : number === before + 1) return;
  const message =
    before === undefined ? `the first event is ${String(number)}, expected 1`
    : number === before ? `event ${String(number)} is there twice`
    : `event ${String(number)} follows event ${String(before)}, expected ${String(before + 1)}`;
  state.say('event-number', message, { line, column: fieldColumn(text, 'number') });
}

/** A line without length that no mix followed is no event. */
function dropFirst(state: State): void {
  const { first } = state;
  if (first === undefined) return;
  state.first = undefined;
  state.say('bad-event', `event ${String(first.number)} has no length; left out`, { line: first.line, column: fieldColumn(first.text, 'record-in') }, 'warning');
  (state.open?.comments ?? state.document.head).push(...first.comments);
}

function close(state: State): void {
  const { open } = state;
  if (open === undefined) return;
  settleDirection(open);
  open.tracks.sort((a, b) => a - b);
  open.markers.unshift(...state.early.splice(0));
  state.document.events.push(open);
  state.open = undefined;
}
