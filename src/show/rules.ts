/** What a show file must obey beyond its schema and before any rate is known: one id, one reel, one meaning. */
import { BLACK, FOLLOW, NONE, PROGRAM } from '../cutlist/model.js';
import { findSource, RESERVED_IDS, type Named } from '../cutlist/naming.js';
import type { JsonPath } from '../json.js';
import { didYouMean } from '../nearest.js';
import { isFault, type Code } from '../problems.js';
import { parseRate } from '../timecode/rate.js';
import type { ShowFile, ShowSource } from './show.js';

type Complain = (code: Code, message: string, path: JsonPath) => void;

/** Reels that every EDL keeps for itself (common practice, no source): black, and "auxiliary". */
const RESERVED_REELS: readonly string[] = ['BL', 'AX'];

const key = (word: string): string => word.trim().toLowerCase();

/** Reports every rule that a show breaks. The schema is taken as kept. */
export function checkShow(show: ShowFile, complain: Complain): void {
  if (show.rate !== undefined) checkRate(show.rate, ['rate'], complain);
  const words = new Map<string, string>();
  const reels = new Map<string, string>();
  (show.sources ?? []).forEach((source, index) => {
    const path = ['sources', index];
    checkWord(source.id, source.id, [...path, 'id'], words, complain);
    checkRest(source, source.id, path, words, reels, complain);
  });
  if (show.program !== undefined) checkRest(show.program, PROGRAM, ['program'], words, reels, complain);
  const from = show.audio?.from;
  if (from !== undefined && audioSource(namedIn(show), from) === undefined) {
    const known = [...namedIn(show).map(({ id }) => id), FOLLOW, NONE];
    complain('bad-show-file', `audio.from is '${from}', which is no source${didYouMean(from, known) || `; expected one of ${known.join(', ')}`}`, ['audio', 'from']);
  }
}

/** What a word means where sound is chosen (`audio.from`, `--audio`): a source's id, PROGRAM, `follow` or `none`; undefined when it means nothing. */
export function audioSource(sources: readonly Named[], word: string): string | undefined {
  const given = key(word);
  if (given === PROGRAM || given === FOLLOW || given === NONE) return given;
  const id = findSource(sources, word);
  return id === BLACK ? undefined : id;
}

/** Every source of a show, the program recording among them. */
const namedIn = (show: ShowFile): readonly Named[] => [...(show.sources ?? []), ...(show.program === undefined ? [] : [{ ...show.program, id: PROGRAM }])];

function checkRest(
  source: Omit<ShowSource, 'id'>, id: string, path: JsonPath, words: Map<string, string>, reels: Map<string, string>, complain: Complain,
): void {
  (source.aliases ?? []).forEach((alias, index) => { checkWord(alias, id, [...path, 'aliases', index], words, complain); });
  if (source.reel !== undefined) checkReel(source.reel, id, [...path, 'reel'], reels, complain);
  const rates = new Set<string>();
  (source.files ?? []).forEach((file, index) => {
    if (file.rate === undefined) return;
    const name = checkRate(file.rate, [...path, 'files', index, 'rate'], complain);
    if (name !== undefined && rates.size === 1 && !rates.has(name)) {
      complain('bad-show-file', `the files of source '${id}' run at ${[...rates].join()} and ${name}; give each rate a source of its own`, [...path, 'files', index, 'rate']);
    } else if (name !== undefined) rates.add(name);
  });
}

function checkWord(word: string, id: string, path: JsonPath, words: Map<string, string>, complain: Complain): void {
  const owner = words.get(key(word));
  if (owner !== undefined && owner !== id) {
    complain('duplicate-source', `'${word}' already means source '${owner}'; ids and aliases count in any case`, path);
  } else if (owner !== undefined && path.at(-1) === 'id') {
    complain('duplicate-source', `source '${word}' is there twice`, path);
  } else if (RESERVED_IDS.includes(key(word))) {
    const advice = key(word) === PROGRAM ? "describe the program recording under the key 'program'" : 'choose another word';
    complain('duplicate-source', `'${word}' cannot name a source: linecut uses it itself; ${advice}`, path);
  } else words.set(key(word), id);
}

function checkReel(reel: string, id: string, path: JsonPath, reels: Map<string, string>, complain: Complain): void {
  const name = reel.trim().toUpperCase();
  const owner = reels.get(name);
  if (owner !== undefined) complain('reel-taken', `reel '${reel}' is given to source '${owner}' and to source '${id}'; give each its own`, path);
  else if (RESERVED_REELS.includes(name)) complain('reel-taken', `reel '${reel}' is reserved: in an EDL it means ${name === 'BL' ? 'black' : 'a source without a reel'}`, path);
  else reels.set(name, id);
}

/** The rate's name; undefined when it was reported. */
function checkRate(text: string, path: JsonPath, complain: Complain): string | undefined {
  const spec = parseRate(text);
  if (!isFault(spec)) return spec.rate.name;
  complain(spec.fault, spec.message, path);
  return undefined;
}
