/** What a file is that may become a list. */
import { withoutMark } from '../byte-order-mark.js';

/** A log (CSV or XML), or a list in a format that is read. */
export type Form = 'log' | 'edl' | 'otio';

/** Characters at the beginning of a file that say what it is. */
const HEAD = 4096;

/**
 * What a file is, by its content: OTIO is a JSON object; an EDL has numbered events, or a count line, or a title with nothing behind it
 * but lines of an EDL (the preamble of a log may have a title too); anything else is a log.
 */
export function formOf(text: string): Form {
  const start = withoutMark(text.slice(0, HEAD)).trimStart();
  if (start.startsWith('{')) return 'otio';
  const word = start.slice(0, 6).toUpperCase();
  const events = /^\s*\d{1,6}\s+\S+\s+\S+\s+(?:C|D|W\d{1,3}|K\S*)\s.*\d\d[:;.,]\d\d[:;.,]\d\d[:;.,]\d\d/m;
  const titled = /^TITLE:[^\r\n]*(?:[\r\n]\s*(?:FCM:|\*|>>>|\d{1,6}\s)|\s*$)/i;
  return word.startsWith('FCM:') || (word === 'TITLE:' && titled.test(start)) || events.test(start) ? 'edl' : 'log';
}
