/** What a mapping must obey beyond its schema: encodings, zones, formats, rates and paths that exist. */
import type { JsonPath } from '../json.js';
import { isFault } from '../problems.js';
import { parseRate } from '../timecode/rate.js';
import { FIELDS, FILL_IN, type Mapping } from './mapping.js';
import { isName } from './xml-text.js';

/** Takes what is wrong, in words, and the path of its key in the mapping. */
export type MappingComplaint = (message: string, path: JsonPath) => void;

/** Says everything that a mapping gets wrong although its schema is kept: of a mapping file, and of `log` in a show file. */
export function checkMapping(map: Mapping, complain: MappingComplaint): void {
  const { delimiter, encoding, zone, clockFormat, rate, rows, timeAs } = map;
  const say = (key: keyof Mapping, message: string | undefined): void => {
    if (message !== undefined) complain(`${key} ${message}`, [key]);
  };
  if (delimiter !== undefined && /[\p{L}\p{N}"\r\n]/u.test(delimiter)) say('delimiter', `is ${JSON.stringify(delimiter)}; expected a sign such as , ; | or "\\t"`);
  if (encoding !== undefined && !isEncoding(encoding)) say('encoding', `is '${encoding}', which is not known; expected utf-8, utf-16le, utf-16be, windows-1252 or another label of the WHATWG Encoding Standard`);
  if (zone !== undefined && !isZone(zone)) say('zone', `is '${zone}', which is no time zone; expected a name such as Europe/Lisbon or UTC`);
  if (clockFormat !== undefined) {
    say('clockFormat', wrongFormat(clockFormat));
    if (timeAs !== undefined && timeAs !== 'clock') say('clockFormat', `is for clock times, and timeAs is '${timeAs}'; leave one of them out`);
  }
  const parsed = rate === undefined ? undefined : parseRate(rate);
  if (isFault(parsed)) complain(`rate: ${parsed.message}`, ['rate']);
  if (rows !== undefined) say('rows', wrongRows(rows));
  for (const field of FIELDS) {
    const place = map.fields?.[field];
    if (typeof place === 'string' && place.startsWith(FILL_IN)) {
      complain(`fields.${field} is still to be filled in; write ${rows === undefined ? "the column's name or number" : 'the path below the row'}${field === 'time' ? '' : ', or null where the log has none'}`, ['fields', field]);
      continue;
    }
    if (rows !== undefined && place !== undefined && place !== null) fieldFault(place, (message) => complain(`fields.${field} ${message}`, ['fields', field]));
  }
  for (const key of ['actions', 'sources'] as const) checkWords(map[key] ?? {}, key, complain);
}

function isEncoding(label: string): boolean {
  try {
    new TextDecoder(label);
    return true;
  } catch {
    return false;
  }
}

/** The platform's time-zone database knows the name (ECMA-402, IANA time zones). */
function isZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** The letters that luxon 3 reads in a format; those that depend on a language's habits (D, t, f) are left out. */
const TOKENS: ReadonlySet<string> = new Set(
  'y yy yyyy M MM MMM MMMM L LL LLL LLLL d dd o ooo H HH h hh a m mm s ss S SSS u uu uuu E EEE EEEE c ccc cccc kkkk kk W WW q Z ZZ ZZZ z'.split(' '),
);

/** Other letters that people write, and what they mean. */
const MEANT: Readonly<Record<string, string>> = { Y: 'yyyy', D: 'dd', f: 'SSS', F: 'SSS', n: 'mm', i: 'mm', A: 'a', T: "'T'" };

function wrongFormat(format: string): string | undefined {
  const bare = format.replace(/'[^']*'/g, ' ');
  if (bare.includes("'")) return `'${format}' opens a quote and does not close it`;
  const tokens = bare.match(/([A-Za-z])\1*/g) ?? [];
  const wrong = tokens.find((token) => !TOKENS.has(token));
  if (wrong !== undefined) {
    const meant = MEANT[wrong.charAt(0)];
    return `'${format}' has the letters ${wrong}, which mean nothing there${meant === undefined ? '; put plain words in single quotes' : `; is ${meant} meant?`}`;
  }
  return tokens.some((token) => /^[Hh]/.test(token)) ? undefined : `'${format}' has no hours; expected letters such as dd.MM.yyyy HH:mm:ss.SSS`;
}

function wrongRows(rows: string): string | undefined {
  const expected = `expected a path of element names from the outermost one, such as /session/list/item`;
  if (!rows.startsWith('/')) return `is '${rows}'; ${expected}`;
  const wrong = rows.slice(1).split('/').find((name) => !isName(name.trim()));
  if (wrong === undefined) return undefined;
  return `is '${rows}': ${wrong.trim() === '' ? 'a name is missing' : `'${wrong}' is not the name of an element`}; ${expected}`;
}

/** A place below the rows of XML is a path. */
function fieldFault(place: string | number, say: (message: string) => void): void {
  if (typeof place === 'number') {
    say(`is the number ${String(place)}, and rows says that the log is XML; expected a path such as '@time' or 'what/@kind'`);
    return;
  }
  const parts = place.split('/');
  const wrong = parts.find((part, index) => {
    const name = index === parts.length - 1 ? part.trim().replace(/^@/, '') : part.trim();
    return !isName(name) && !(name === '.' && parts.length === 1);
  });
  if (wrong !== undefined) say(`is '${place}': ${wrong.trim() === '' ? 'a name is missing' : `'${wrong}' is not a name there`}; expected a path such as '@time' or 'what/@kind', the attribute last`);
}

/** Words are compared without case: two that differ in case alone must mean the same. A row may lack its action, and a blank word says what that means; one without a source takes the cued one. */
function checkWords(words: Readonly<Record<string, string>>, key: 'actions' | 'sources', complain: MappingComplaint): void {
  const seen = new Map<string, string>();
  for (const [word, meaning] of Object.entries(words)) {
    const plain = word.trim().toLowerCase();
    if (key === 'sources' && plain === '') complain('sources: a blank word names no source; a row without a source takes the cued one; leave it out', [key, word]);
    const before = seen.get(plain);
    if (before !== undefined && before !== meaning) complain(`${key}: '${word}' is there twice, as '${before}' and as '${meaning}'; case makes no difference`, [key, word]);
    seen.set(plain, meaning);
  }
}
