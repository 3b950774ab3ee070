/** An event while lines that belong to it may still follow: second lines, channels 3 and 4, speed, comments. */
import { isFault, type Code, type Place, type Severity } from '../../problems.js';
import { AUXILIARY_REEL, BLACK_REEL, isBlackReel } from './columns.js';
import type { Comment } from './comments.js';
import type { EdlDocument, EdlEvent, EdlMarker } from './document.js';
import { readLabel, readPoints, type Points } from './points.js';
import { fieldColumn, shortenPath, type EventFields } from './tokens.js';

export type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** Reports a problem in the file that is being read. */
export type Say = (code: Code, message: string, place: Place, severity?: Severity) => void;

export interface OpenEvent extends Mutable<EdlEvent> {
  readonly tracks: number[];
  readonly markers: EdlMarker[];
  readonly comments: string[];
  /** Source in-point as written, for speed lines. */
  readonly sourceLabel: string;
  backwards?: Points['backwards'];
  /** The clip that the latest comment with a name named: a file that follows is that clip's. */
  named?: 'from' | 'to';
}

/** The event of an event line, or undefined when a label of it cannot be read. `fcm` is what the latest FCM line says. */
export function openEvent(document: EdlDocument, fields: EventFields, fcm: boolean | undefined, text: string, line: number, say: Say): OpenEvent | undefined {
  const points = readPoints(document, fields, fcm, text, line, say);
  if (points === undefined) return undefined;
  let kind = fields.kind === 'key' ? 'cut' : fields.kind;
  if (kind !== 'cut' && fields.frames === 0) {
    say('bad-event', `a ${kind} needs its length in frames before the timecodes; read as a cut`, { line, column: fieldColumn(text, 'source-in') });
    kind = 'cut';
  }
  const reel = fields.reel.toUpperCase();
  if (reel === '') say('bad-event', `the event has no reel; read as ${AUXILIARY_REEL}`, { line, column: fieldColumn(text, 'number') }, 'warning');
  return {
    number: fields.number,
    line,
    text,
    reel: reel === '' ? AUXILIARY_REEL : isBlackReel(reel) ? BLACK_REEL : reel,
    picture: fields.channels.picture,
    tracks: [...fields.channels.tracks],
    kind,
    frames: kind === 'cut' ? 0 : fields.frames,
    ...(kind === 'wipe' ? { wipe: fields.wipe ?? 0 } : {}),
    ...points,
    sourceLabel: fields.labels[0] ?? '',
    continued: false,
    markers: [],
    comments: [],
  };
}

/** True for an event line that only says what a mix begins from: a cut without length. */
export const hasNoLength = ({ kind, sourceIn, sourceOut, recordIn, recordOut }: EdlEvent): boolean =>
  kind === 'cut' && recordIn === recordOut && sourceIn === sourceOut;

/** Joins the first of two lines, and the comments that stood between them, to the second. A file between them is that of the clip that the first shows. */
export function joinFirst(open: OpenEvent, first: OpenEvent): void {
  open.from = { reel: first.reel, line: first.line, sourceIn: first.sourceLabel, at: first.sourceIn, count: first.sourceCount };
  for (const key of ['fromName', 'toName', 'fromFile', 'toFile'] as const) {
    const value = first[key];
    if (value !== undefined) open[key] = value;
  }
  open.comments.push(...first.comments);
  open.markers.push(...first.markers);
}

/**
 * Takes a speed line. In an event of two lines it may be that of the first, the shot that a mix comes from, whose
 * own event has told its speed already; some writers name the clip instead of the reel, so a strange name is taken, too.
 */
export function addSpeed(open: OpenEvent, named: string, label: string | undefined, rate: number): void {
  const { from, reel, sourceLabel } = open;
  if (from !== undefined) {
    const digits = (given: string): string => given.replace(/\D/g, '');
    const byLabel = label !== undefined && digits(label) === digits(from.sourceIn) && digits(label) !== digits(sourceLabel);
    if (from.reel === reel ? byLabel : named === from.reel || (named !== reel && byLabel)) return;
  }
  open.speed = rate;
}

/** Settles a source side whose out-point lies before its in-point, when no speed line can follow any more: backwards it is right, and plays what lies between. */
export function settleDirection(open: OpenEvent): void {
  const { backwards, sourceIn, speed = 0 } = open;
  if (backwards === undefined) return;
  delete open.backwards;
  if (speed >= 0) {
    backwards.complain();
    return;
  }
  open.sourceIn = backwards.sourceOut;
  open.sourceOut = sourceIn;
}

/** Takes a comment; `text` is the whole of it, for those that nobody understands. */
export function addComment(open: OpenEvent, comment: Comment, text: string, line: number, document: EdlDocument, say: Say): void {
  switch (comment.kind) {
    case 'from':
      open.fromName ??= comment.text;
      open.named = 'from';
      return;
    case 'to':
      open.toName ??= comment.text;
      open.named = 'to';
      return;
    case 'file':
      addFile(open, comment.side ?? sideOf(open), comment.text, line, say);
      return;
    case 'continued':
      open.continued = true;
      return;
    case 'channels':
      open.channels = comment.channels;
      return;
    case 'marker': {
      const marker = readMarker(comment, line, document, say);
      if (marker === undefined) open.comments.push(text);
      else open.markers.push(marker);
      return;
    }
    default:
      open.comments.push(text);
  }
}

/**
 * Whose file a comment names that does not say it: of a mix the clip named before it, where none is named the one that its line
 * shows. A line without length shows what a mix comes from; a cut has one clip, whatever name it goes by.
 */
function sideOf(open: OpenEvent): 'from' | 'to' {
  if (hasNoLength(open)) return open.named ?? 'from';
  return open.kind === 'cut' ? 'to' : (open.named ?? 'to');
}

function addFile(open: OpenEvent, side: 'from' | 'to', path: string, line: number, say: Say): void {
  const key = side === 'from' ? 'fromFile' : 'toFile';
  const known = open[key];
  open[key] ??= path;
  if (known === undefined || known === path) return;
  const clip = open.kind === 'cut' && !hasNoLength(open) ? 'the clip' : side === 'from' ? 'the clip that the mix comes from' : 'the clip that the mix goes to';
  say('bad-event', `${clip} of event ${String(open.number)} has a second file, ${shortenPath(path)}; the first counts: ${shortenPath(known)}`, { line, column: 1 }, 'warning');
}

/** The marker of a comment, or undefined, with a warning, when its label cannot be read. */
export function readMarker(comment: Comment & { readonly kind: 'marker' }, line: number, document: EdlDocument, say: Say): EdlMarker | undefined {
  const at = readLabel(comment.label, document.count.rate, document.plainDrops);
  if (!isFault(at)) return { at: at.frame, note: comment.text, line, ...(comment.color === undefined ? {} : { color: comment.color }) };
  say(at.fault, `marker: ${at.message}; kept as a comment`, { line, column: 1 }, 'warning');
  return undefined;
}
