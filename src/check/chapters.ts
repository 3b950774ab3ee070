/** Chapters in any of the forms that are written: read, and held against their order and the end of the list. */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { withoutMark } from '../byte-order-mark.js';
import type { ChapterForm } from '../formats/chapters/forms.js';
import { readChapters } from '../formats/chapters/read.js';
import { problem, type Report } from '../problems.js';

/** One chapter. Real time in seconds; `end` where the form has one. */
interface Spot {
  readonly line: number;
  readonly start: number;
  readonly end?: number;
}

/**
 * Reports chapters that lie before the one above them or after `seconds`, the length of their list, that end before they
 * begin, and what cannot be read as chapters (`bad-time`, `malformed-xml`, `no-events`).
 */
export function checkChapters(text: string, kind: ChapterForm, file: string, seconds: number | undefined, report: Report): void {
  if (kind === 'text') {
    readChapters(text, { file, ...(seconds === undefined ? {} : { seconds }) }, report);
    return;
  }
  const body = withoutMark(text);
  const spots = kind === 'webvtt' ? webvtt(body, file, report) : kind === 'ffmetadata' ? ffmetadata(body, file, report) : matroska(body, file, report);
  if (spots === undefined) return;
  if (spots.length === 0) report(problem('no-events', 'the file has no chapters', { file }));
  let before: Spot | undefined;
  for (const spot of spots) {
    const say = (message: string): void => { report(problem('chapter-order', message, { file, line: spot.line, column: 1 })); };
    if (before !== undefined && spot.start < before.start) say(`a chapter lies before the one on line ${String(before.line)}`);
    if (spot.end !== undefined && spot.end <= spot.start) say('a chapter ends before it begins');
    // Times are rounded when they are written: to the millisecond at most.
    if (seconds !== undefined && Math.max(spot.start, spot.end ?? 0) > seconds + 0.0011) say(`a chapter reaches past the end, which is at ${seconds.toFixed(3)} s`);
    before = spot;
  }
}

const CLOCK = /^(?:(\d{2,}):)?([0-5]\d):([0-5]\d)[.,](\d{1,9})$/;

function clock(text: string): number | undefined {
  const parts = CLOCK.exec(text.trim());
  return parts === null ? undefined : Number(parts[1] ?? 0) * 3600 + Number(parts[2]) * 60 + Number(parts[3]) + Number(`0.${parts[4] ?? '0'}`);
}

/** Cue timings (W3C WebVTT, section 4.1). */
function webvtt(text: string, file: string, report: Report): Spot[] | undefined {
  let sound = true;
  const spots: Spot[] = [];
  text.split(/\r\n|\r|\n/).forEach((content, index) => {
    if (!content.includes('-->')) return;
    const [from = '', rest = ''] = content.split('-->');
    const [to = ''] = rest.trim().split(/\s/);
    const [start, end] = [clock(from), clock(to)];
    if (start !== undefined && end !== undefined) spots.push({ line: index + 1, start, end });
    else {
      sound = false;
      report(problem('bad-time', `'${content.trim().slice(0, 60)}' is not the timing of a cue; expected HH:MM:SS.mmm --> HH:MM:SS.mmm`, { file, line: index + 1, column: 1 }));
    }
  });
  return sound ? spots : undefined;
}

/** `[CHAPTER]` sections (FFmpeg Formats Documentation, "Metadata"): START and END count TIMEBASE seconds, nanoseconds by default. */
function ffmetadata(text: string, file: string, report: Report): Spot[] | undefined {
  const spots: Spot[] = [];
  let sound = true;
  let open: { line: number; start?: number; end?: number; unit: number } | undefined;
  const close = (): void => {
    if (open === undefined) return;
    if (open.start !== undefined && open.end !== undefined) spots.push({ line: open.line, start: open.start * open.unit, end: open.end * open.unit });
    else {
      sound = false;
      report(problem('bad-time', 'the chapter has no START and END that are whole numbers', { file, line: open.line, column: 1 }));
    }
    open = undefined;
  };
  text.split(/\r\n|\r|\n/).forEach((content, index) => {
    if (/^\[/.test(content)) {
      close();
      if (/^\[CHAPTER\]\s*$/i.test(content)) open = { line: index + 1, unit: 1e-9 };
      return;
    }
    const parts = open === undefined ? null : /^(TIMEBASE|START|END)=\s*(-?\d+)(?:\/(\d+))?\s*$/i.exec(content);
    if (parts === null || open === undefined) return;
    const value = Number(parts[2]);
    const key = parts[1]?.toUpperCase();
    if (key === 'TIMEBASE') open.unit = value / Number(parts[3] ?? 1);
    else if (key === 'START') open.start = value;
    else open.end = value;
  });
  close();
  return sound ? spots : undefined;
}

/** `ChapterAtom` elements (RFC 9559, section 5.1.7, in the XML form of mkvmerge), in document order. */
function matroska(text: string, file: string, report: Report): Spot[] | undefined {
  const valid = XMLValidator.validate(text);
  if (valid !== true) {
    report(problem('malformed-xml', valid.err.msg, { file, line: valid.err.line, column: valid.err.col }));
    return undefined;
  }
  const tree = new XMLParser({ preserveOrder: false, parseTagValue: false, processEntities: false, isArray: (name) => name === 'ChapterAtom' || name === 'EditionEntry' }).parse(text) as Tree;
  // Where each chapter stands: the parser does not say, but the order is that of the document.
  const lines = text.split(/\r\n|\r|\n/).flatMap((content, index) => Array.from(content.matchAll(/<ChapterAtom[\s>]/g), () => index + 1));
  const spots: Spot[] = [];
  let sound = true;
  let next = 0;
  const read = (atoms: readonly Atom[] | undefined, depth: number): void => {
    for (const atom of atoms ?? []) {
      const line = lines[next] ?? 1;
      next += 1;
      const [start, end] = [clock(String(atom.ChapterTimeStart)), atom.ChapterTimeEnd === undefined ? undefined : clock(String(atom.ChapterTimeEnd))];
      if (start === undefined || (atom.ChapterTimeEnd !== undefined && end === undefined)) {
        sound = false;
        report(problem('bad-time', 'the chapter has no time of the form HH:MM:SS.nnnnnnnnn', { file, line, column: 1 }));
      } else if (depth === 0) {
        spots.push({ line, start, ...(end === undefined ? {} : { end }) });
      }
      read(atom.ChapterAtom, depth + 1);
    }
  };
  for (const edition of tree.Chapters?.EditionEntry ?? []) read(edition.ChapterAtom, 0);
  return sound ? spots : undefined;
}

interface Atom {
  readonly ChapterTimeStart?: unknown;
  readonly ChapterTimeEnd?: unknown;
  readonly ChapterAtom?: readonly Atom[];
}

interface Tree {
  readonly Chapters?: { readonly EditionEntry?: readonly { readonly ChapterAtom?: readonly Atom[] }[] };
}
