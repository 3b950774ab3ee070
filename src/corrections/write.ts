/** Writing corrections as a file that `readCorrections` takes back unchanged. */
import type { Correction } from './model.js';
import { KEYS } from './read.js';

type Column = Exclude<keyof typeof KEYS, 'remark'>;

const COLUMNS = Object.keys(KEYS).filter((key): key is Column => key !== 'remark');

/** As CSV (RFC 4180, only the columns that are used) or as JSON, one correction a line. Ends with a line end. */
export function writeCorrections(corrections: readonly Correction[], form: 'csv' | 'json'): string {
  if (form === 'json') {
    const lines = corrections.map((correction) => `    ${JSON.stringify(Object.fromEntries(COLUMNS.flatMap((key) => (correction[key] === undefined ? [] : [[key, correction[key]]]))))}`);
    return lines.length === 0 ? '{ "corrections": [] }\n' : `{\n  "corrections": [\n${lines.join(',\n')}\n  ]\n}\n`;
  }
  const used = COLUMNS.filter((key) => ['do', 'at', 'expect'].includes(key) || corrections.some((correction) => correction[key] !== undefined));
  const rows = corrections.map((correction) => used.map((key) => cell(correction[key])).join(','));
  return [used.join(','), ...rows].map((row) => `${row}\r\n`).join('');
}

function cell(value: Correction[Column]): string {
  const text = Array.isArray(value) ? value.join(' ') : String(value ?? '');
  return /[",;\t|\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
