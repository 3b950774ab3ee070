/** What kind of file something is, by its content; its name only decides between JSON files that say nothing. */
import { withoutMark } from '../byte-order-mark.js';
import { isCorrectionsTable } from '../corrections/kind.js';
import type { ChapterForm } from '../formats/chapters/forms.js';
import { chapterFormOf, formatOf } from '../formats/endings.js';
import { formOf } from '../formats/form.js';
import { MAPPING_KEYS, SHOW_KEYS } from '../schema/compiled.js';

export type Kind = 'log' | 'edl' | 'otio' | 'chapters' | 'show file' | 'mapping file' | 'corrections';

export function kindOf(text: string, name: string): Kind {
  const body = withoutMark(text);
  if (/^\s*[[{]/.test(body)) return jsonKind(body, name);
  if (chapterKind(body, name) !== undefined) return 'chapters';
  return isCorrectionsTable(body) ? 'corrections' : formOf(body);
}

/** Which form of chapters a text is, or undefined when it is none. */
export function chapterKind(text: string, name: string): ChapterForm | undefined {
  const body = withoutMark(text);
  const start = body.slice(0, 4096);
  if (/^WEBVTT(?:[ \t]|\r?\n|$)/.test(start)) return 'webvtt';
  if (/^;FFMETADATA/.test(start)) return 'ffmetadata';
  if (/^\s*(?:<\?xml[^>]*>\s*)?(?:<!--[\s\S]*?-->\s*|<!DOCTYPE[^>]*>\s*)*<Chapters[\s/>]/.test(start)) return 'matroska';
  if (chapterFormOf(name) === 'text') return 'text';
  const first = start.split(/\r\n|\r|\n/).find((line) => line.trim() !== '' && !line.trimStart().startsWith('#'));
  // A time and a title with a blank between; a log has a header row, and labels of four parts.
  return first !== undefined && /^\s*(?:\d{1,3}:)?\d{1,2}:\d\d(?:[.,]\d{1,3})?\s+[^\d\s,;|]/.test(first) && !/[\t;|]/.test(first) ? 'text' : undefined;
}

/** Keys that one of the two has and the other lacks; both have a rate. */
const ONLY_SHOW = SHOW_KEYS.filter((key) => !MAPPING_KEYS.includes(key));
const ONLY_MAPPING = MAPPING_KEYS.filter((key) => !SHOW_KEYS.includes(key));

function jsonKind(text: string, name: string): Kind {
  const value = parsed(text);
  if (Array.isArray(value)) return 'corrections';
  if (typeof value === 'object' && value !== null) {
    const has = (key: string): boolean => Object.hasOwn(value, key);
    const { sources } = value as { readonly sources?: unknown };
    if (has('OTIO_SCHEMA')) return 'otio';
    if (has('corrections')) return 'corrections';
    if (Array.isArray(sources) || ONLY_SHOW.some(has)) return 'show file';
    if (ONLY_MAPPING.some(has) || sources !== undefined) return 'mapping file';
  } else if (text.slice(0, 4096).includes('"OTIO_SCHEMA"')) {
    return 'otio';
  }
  if (formatOf(name) === 'otio') return 'otio';
  return /\.map\.json$/i.test(name) ? 'mapping file' : 'show file';
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    // Whatever it is, its reader says what is wrong with it.
    return undefined;
  }
}
